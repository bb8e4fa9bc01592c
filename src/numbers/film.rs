//! How much paint a panel takes, how thick it dries, and how it splits into cups.
//!
//! Anchor, common practice, no source: one US fluid ounce for each 25 square inches of all that gets painted, top
//! and edges (1.83 mm wet). How a technique splits it stands in `super::technique`. Dry film = wet film x volume solids / (1 + p), p the thinner as a share of the
//! paint's volume (ISO 3233, ASTM D2697; from memory). Spreading in m2/L = 1000 x solids / dry um.

use crate::trade::plan::Panels;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{
    Backing, Band, Estimate, INCH, Millilitres, Millimetres, Share, SquareMillimetres,
    US_FLUID_OUNCE,
};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// How a pour's paint splits, each a share of the whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// The base that is spread first.
    pub base: Share,
    /// The colours.
    pub colours: Share,
    /// The activator.
    pub activator: Share,
}

impl Split {
    /// The share of one kind of layer; a medium has none of its own.
    #[must_use]
    pub const fn of(&self, layer: LayerKind) -> Share {
        match layer {
            LayerKind::Base => self.base,
            LayerKind::Colour => self.colours,
            LayerKind::Activator => self.activator,
            LayerKind::Medium => Share(0.0),
        }
    }
}

/// The millilitres of each layer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amounts {
    /// The base.
    pub base: Millilitres,
    /// The colours together.
    pub colours: Millilitres,
    /// The activator.
    pub activator: Millilitres,
}

/// Why no amount is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmError {
    /// A length is none.
    Length,
    /// All that is poured would run off.
    RunOff,
    /// A container holds nothing.
    Container,
}

/// The wet film of the anchor: one fluid ounce on 25 square inches.
#[must_use]
pub fn anchor_film() -> Millimetres {
    Millimetres(US_FLUID_OUNCE.0 * 1000.0 / (25.0 * INCH.0 * INCH.0))
}

/// All that gets painted: tops and edges.
///
/// # Errors
/// An edge that is below zero.
pub fn painted_area(panels: &Panels) -> Result<SquareMillimetres, FilmError> {
    if !panels.edge.is_finite() || panels.edge.0 < 0.0 {
        return Err(FilmError::Length);
    }
    let around = panels.panel.perimeter().0 * panels.edge.0;
    Ok((panels.panel.area() + SquareMillimetres(around)) * f64::from(panels.count))
}

/// The paint to mix: the wet film on an area, and the share of the whole that runs off.
///
/// # Errors
/// A film that is not above zero, or a run-off that is not below the whole.
pub fn volume(
    area: SquareMillimetres,
    film: Millimetres,
    runs_off: Share,
) -> Result<Millilitres, FilmError> {
    if !film.is_finite() || film.0 <= 0.0 {
        return Err(FilmError::Length);
    }
    if !(0.0..1.0).contains(&runs_off.0) {
        return Err(FilmError::RunOff);
    }
    Ok(Millilitres(area.0 * film.0 / 1000.0 / (1.0 - runs_off.0)))
}

/// How many pours of a technique the studio's own medians need.
const ENOUGH: usize = 3;

/// The studio's own split of a technique: the medians over its pours, made a whole again. `None` below three pours
/// whose amounts are known.
#[must_use]
pub fn usual_split(pours: &[Amounts]) -> Option<Split> {
    let layer = |of: fn(&Amounts) -> Millilitres| {
        let shares = pours.iter().filter_map(|pour| {
            let share = of(pour) / (pour.base + pour.colours + pour.activator);
            (0.0..=1.0).contains(&share).then_some(share)
        });
        median(shares.collect())
    };
    let (base, colours) = (layer(|p| p.base)?, layer(|p| p.colours)?);
    let activator = layer(|p| p.activator)?;
    let whole = base + colours + activator;
    (whole > 0.0).then(|| Split {
        base: Share(base / whole),
        colours: Share(colours / whole),
        activator: Share(activator / whole),
    })
}

/// The wet film of practice: the anchor, a quarter more or less (the band is ours, no source).
#[must_use]
pub fn practice_film() -> Estimate<Millimetres> {
    let mid = anchor_film();
    Estimate {
        band: Band {
            low: mid / 1.25,
            mid,
            high: mid * 1.25,
        },
        from: Backing::Practice,
        readings: 0,
    }
}

/// The studio's own wet film of a technique, run-off included: the median over its pours of what was poured on what
/// area, and where four of five next pours will lie (Student's t on the log scale). `None` below three pours.
#[must_use]
pub fn usual_film(pours: &[(Millilitres, SquareMillimetres)]) -> Option<Estimate<Millimetres>> {
    let films = pours.iter().map(|(paint, area)| paint.0 * 1000.0 / area.0);
    let films: Vec<f64> = films.filter(|f| f.is_finite() && *f > 0.0).collect();
    let readings = films.len();
    let logs: Vec<f64> = films.iter().map(|film| film.ln()).collect();
    let mid = median(films)?;
    let n = readings as f64;
    let mean = logs.iter().sum::<f64>() / n;
    let variance = logs.iter().map(|log| (log - mean).powi(2)).sum::<f64>() / (n - 1.0);
    let t = StudentsT::new(0.0, 1.0, n - 1.0).ok()?.inverse_cdf(0.9);
    let reach = t * (variance * (1.0 + 1.0 / n)).sqrt();
    let band = Band {
        low: (mean - reach).exp().min(mid),
        mid,
        high: (mean + reach).exp().max(mid),
    };
    Some(Estimate {
        band: band.map(Millimetres),
        from: Backing::Yours,
        readings,
    })
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    if values.len() < ENOUGH {
        return None;
    }
    values.sort_by(f64::total_cmp);
    let half = values.len() / 2;
    let lower = (values.len() - 1) / 2;
    Some(f64::midpoint(values[lower], values[half]))
}

/// How many cups hold an amount, and how much goes into each.
///
/// # Errors
/// A container that holds nothing.
pub fn cups_for(amount: Millilitres, holds: Millilitres) -> Result<(u32, Millilitres), FilmError> {
    if !holds.is_finite() || holds.is_nothing() || !amount.is_finite() {
        return Err(FilmError::Container);
    }
    if amount.is_nothing() {
        return Ok((0, Millilitres::ZERO));
    }
    let cups = (amount / holds - 1e-9).ceil().max(1.0);
    Ok((cups as u32, amount / cups))
}

/// The dry film of a wet one; `thinned` is the thinner as a share of the paint's own volume.
#[must_use]
pub fn dry_film(wet: Millimetres, solids: Share, thinned: Share) -> Millimetres {
    wet * (solids.0 / (1.0 + thinned.0))
}

/// The share of thinned, poured paint that stays when it has dried, by volume: 0.25 to 0.45 (from memory, no source).
const SOLIDS: [Share; 3] = [Share(0.25), Share(0.35), Share(0.45)];

/// What a wet film of poured paint dries to: an estimate, for no label says its solids by volume.
#[must_use]
pub fn dries_to(wet: Millimetres) -> Band<Millimetres> {
    let [low, mid, high] = SOLIDS.map(|solids| dry_film(wet, solids, Share(0.0)));
    Band { low, mid, high }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::panel::Panel;
    use proptest::prelude::*;
    use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
    use rand_distr::{Distribution, Normal};
    use std::f64::consts::PI;

    #[test]
    fn edges_count_and_a_circle_is_a_round_oval() {
        let panels = |shape: &str, edge: f64| Panels {
            panel: Panel::parse(shape).unwrap(),
            edge: Millimetres(edge),
            count: 2,
        };
        let square = painted_area(&panels("100x50mm", 20.0));
        assert_eq!(square, Ok(SquareMillimetres(22_000.0)));
        let circle = painted_area(&panels("round 100mm", 20.0)).unwrap();
        let oval = painted_area(&panels("oval 100x100mm", 20.0)).unwrap();
        assert!((circle.0 - oval.0).abs() < 1e-9);
        assert!((circle.0 - 2.0 * PI * (2500.0 + 2000.0)).abs() < 1e-6);
        assert_eq!(
            painted_area(&panels("100x50mm", -1.0)),
            Err(FilmError::Length)
        );
    }

    #[test]
    fn paint_that_all_runs_off_is_an_error() {
        assert_eq!(
            volume(SquareMillimetres(1.0), Millimetres(1.0), Share(1.0)),
            Err(FilmError::RunOff)
        );
    }

    #[test]
    fn medians_take_over_from_three_pours() {
        let pour = |base, colours, activator| Amounts {
            base: Millilitres(base),
            colours: Millilitres(colours),
            activator: Millilitres(activator),
        };
        let mut pours = vec![pour(50.0, 45.0, 5.0), pour(60.0, 35.0, 5.0)];
        assert_eq!(usual_split(&pours), None);
        pours.push(pour(140.0, 50.0, 10.0));
        let split = usual_split(&pours).unwrap();
        // Medians 0.60, 0.35 and 0.05 make a whole as they are.
        assert!((split.base.0 - 0.60).abs() < 1e-12 && (split.activator.0 - 0.05).abs() < 1e-12);
        let area = SquareMillimetres(100_000.0);
        let films = [150.0, 190.0, 170.0, 160.0].map(|ml| (Millilitres(ml), area));
        let film = usual_film(&films).unwrap();
        assert!((film.band.mid.0 - 1.65).abs() < 1e-12);
        assert!(film.band.low < film.band.mid && film.band.mid < film.band.high);
        assert_eq!((film.from, film.readings), (Backing::Yours, 4));
        assert_eq!(usual_film(&films[..2]), None);
    }

    /// Simulated techniques, log-normal about a film of their own: the next pour lies within the band four times in five.
    #[test]
    fn the_next_pour_s_film_lies_in_its_band() {
        let mut rng = ChaCha8Rng::seed_from_u64(11);
        let unit = Normal::new(0.0, 1.0).unwrap();
        let area = SquareMillimetres(200_000.0);
        let mut inside = 0;
        for _ in 0..4000 {
            let own = (1.8_f64.ln() + 0.3 * unit.sample(&mut rng)).exp();
            let spread = rng.random_range(0.05..0.4);
            let mut film = || own * (spread * unit.sample(&mut rng)).exp();
            let next = film();
            let count = 3 + (next * 1e6) as usize % 12;
            let pours: Vec<_> = (0..count)
                .map(|_| (Millilitres(film() * area.0 / 1000.0), area))
                .collect();
            let band = usual_film(&pours).unwrap().band;
            inside += usize::from(band.low.0 <= next && next <= band.high.0);
        }
        let held = inside as f64 / 4000.0;
        assert!((0.75..=0.85).contains(&held), "held {held}");
    }

    proptest! {
        #[test]
        fn cups_hold_all_of_it(whole in 1.0..5000.0_f64, holds in 10.0..500.0_f64) {
            let (cups, each) = cups_for(Millilitres(whole), Millilitres(holds)).unwrap();
            prop_assert!(each.0 <= holds * (1.0 + 1e-8));
            prop_assert!((each.0 * f64::from(cups) - whole).abs() < 1e-6);
        }

        #[test]
        fn films_come_back(wet in 0.1..4.0_f64, solids in 0.1..0.9_f64, thinned in 0.0..0.5_f64) {
            let dry = dry_film(Millimetres(wet), Share(solids), Share(thinned));
            let back = dry.0 * (1.0 + thinned) / solids;
            prop_assert!((back - wet).abs() < 1e-12);
            prop_assert!(dry.0 <= wet);
            let band = dries_to(Millimetres(wet));
            prop_assert!(band.low < band.mid && band.mid < band.high && band.high.0 < wet);
        }
    }
}
