//! How much paint a panel takes, how thick it dries, and how it splits into cups.
//!
//! Anchor, common practice, no source: one US fluid ounce for each 25 square inches of all that gets painted, top
//! and edges (1.83 mm wet). Dry film = wet film x volume solids / (1 + p), p the thinner as a share of the
//! paint's volume (ISO 3233, ASTM D2697; from memory). Spreading in m2/L = 1000 x solids / dry um.

use crate::trade::plan::Panels;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{
    INCH, Millilitres, Millimetres, Share, SquareMillimetres, US_FLUID_OUNCE,
};
use thiserror::Error;

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
    /// A base with colours and a little activator on it (our own choice, no source). The studio's own medians
    /// take over from three pours.
    pub const SWIPE: Self = Self {
        base: Share(0.60),
        colours: Share(0.35),
        activator: Share(0.05),
    };
    /// Everything in one cup, no activator (our own choice, no source).
    pub const CUP: Self = Self {
        base: Share(0.30),
        colours: Share(0.70),
        activator: Share(0.0),
    };
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum FilmError {
    /// A length is none.
    #[error("a panel's sides must be above 0 mm and its edge not below 0 mm; enter them again")]
    Length,
    /// A share is none, or they do not make a whole.
    #[error("the shares must lie between 0 and 1 and make a whole; enter them again")]
    Shares,
    /// A container holds nothing.
    #[error("the container holds nothing; enter its size in millilitres")]
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
        return Err(FilmError::Shares);
    }
    Ok(Millilitres(area.0 * film.0 / 1000.0 / (1.0 - runs_off.0)))
}

/// Splits an amount by layer.
///
/// # Errors
/// Shares outside 0 to 1, or that make no whole.
pub fn divide(whole: Millilitres, split: Split) -> Result<Amounts, FilmError> {
    let shares = [split.base, split.colours, split.activator];
    let sum: Share = shares.into_iter().sum();
    if shares.iter().any(|s| !(0.0..=1.0).contains(&s.0)) || (sum.0 - 1.0).abs() > 1e-6 {
        return Err(FilmError::Shares);
    }
    let part = |share: Share| whole * share.0;
    Ok(Amounts {
        base: part(split.base),
        colours: part(split.colours),
        activator: part(split.activator),
    })
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

/// The studio's own wet film of a technique: the median over its pours of what was poured on what area, run-off
/// included. `None` below three pours.
#[must_use]
pub fn usual_film(pours: &[(Millilitres, SquareMillimetres)]) -> Option<Millimetres> {
    let films = pours.iter().map(|(paint, area)| paint.0 * 1000.0 / area.0);
    median(films.filter(|f| f.is_finite() && *f > 0.0).collect()).map(Millimetres)
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

/// The wet film that dries to a given one.
#[must_use]
pub fn wet_film(dry: Millimetres, solids: Share, thinned: Share) -> Millimetres {
    dry * ((1.0 + thinned.0) / solids.0)
}

/// The area that a volume covers at a dry film.
#[must_use]
pub fn covers(volume: Millilitres, solids: Share, dry: Millimetres) -> SquareMillimetres {
    SquareMillimetres(volume.0 * 1000.0 * solids.0 / dry.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::panel::Panel;
    use proptest::prelude::*;
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
    fn shares_that_make_no_whole_are_an_error() {
        let short = Split {
            base: Share(0.2),
            ..Split::SWIPE
        };
        assert_eq!(divide(Millilitres(100.0), short), Err(FilmError::Shares));
        assert_eq!(
            volume(SquareMillimetres(1.0), Millimetres(1.0), Share(1.0)),
            Err(FilmError::Shares)
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
        assert!((usual_film(&films).unwrap().0 - 1.65).abs() < 1e-12);
        assert_eq!(usual_film(&films[..2]), None);
    }

    proptest! {
        #[test]
        fn layers_add_up_and_cups_hold_them(whole in 1.0..5000.0_f64, holds in 10.0..500.0_f64) {
            for split in [Split::SWIPE, Split::CUP] {
                let parts = divide(Millilitres(whole), split).unwrap();
                prop_assert!(((parts.base + parts.colours + parts.activator).0 - whole).abs() < 1e-9);
            }
            let (cups, each) = cups_for(Millilitres(whole), Millilitres(holds)).unwrap();
            prop_assert!(each.0 <= holds * (1.0 + 1e-8));
            prop_assert!((each.0 * f64::from(cups) - whole).abs() < 1e-6);
        }

        #[test]
        fn films_come_back(wet in 0.1..4.0_f64, solids in 0.1..0.9_f64, thinned in 0.0..0.5_f64) {
            let dry = dry_film(Millimetres(wet), Share(solids), Share(thinned));
            prop_assert!((wet_film(dry, Share(solids), Share(thinned)).0 - wet).abs() < 1e-12);
            prop_assert!(dry.0 <= wet);
        }
    }
}
