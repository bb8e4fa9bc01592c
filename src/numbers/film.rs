//! How much paint a panel takes, how thick it dries, and how it splits into cups.
//!
//! Anchor, common practice, no source: one US fluid ounce for each 25 square inches of all that gets painted, top
//! and edges (1.83 mm wet). Dry film = wet film x volume solids / (1 + p), p the thinner as a share of the
//! paint's volume (ISO 3233, ASTM D2697; from memory). Spreading in m2/L = 1000 x solids / dry um.

use crate::trade::units::{
    INCH, Millilitres, Millimetres, Share, SquareMillimetres, US_FLUID_OUNCE,
};
use std::f64::consts::PI;
use thiserror::Error;

/// A panel's outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// Width and height.
    Rectangle(Millimetres, Millimetres),
    /// Diameter.
    Circle(Millimetres),
    /// The two diameters of an ellipse.
    Oval(Millimetres, Millimetres),
}

/// Panels of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panels {
    /// Their outline.
    pub outline: Outline,
    /// The depth of the edges that get painted; zero for none.
    pub edge: Millimetres,
    /// How many.
    pub count: u32,
}

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
    /// A base with colours and a little activator on it (common practice, no source). The studio's own medians
    /// take over from three pours.
    pub const SWIPE: Self = Self {
        base: Share(0.60),
        colours: Share(0.35),
        activator: Share(0.05),
    };
    /// Everything in one cup, no activator (common practice, no source).
    pub const CUP: Self = Self {
        base: Share(0.30),
        colours: Share(0.70),
        activator: Share(0.0),
    };
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

impl Panels {
    /// All that gets painted: tops and edges.
    ///
    /// # Errors
    /// A side that is not above zero, or an edge below it.
    pub fn area(&self) -> Result<SquareMillimetres, FilmError> {
        let (top, around) = self.outline.measure().ok_or(FilmError::Length)?;
        if !self.edge.is_finite() || self.edge.0 < 0.0 {
            return Err(FilmError::Length);
        }
        Ok(SquareMillimetres(
            (top + around * self.edge.0) * f64::from(self.count),
        ))
    }
}

impl Outline {
    /// Its area in mm2 and its circumference in mm.
    fn measure(self) -> Option<(f64, f64)> {
        let (a, b) = match self {
            Self::Rectangle(a, b) | Self::Oval(a, b) => (a.0, b.0),
            Self::Circle(d) => (d.0, d.0),
        };
        if !(a.is_finite() && b.is_finite() && a > 0.0 && b > 0.0) {
            return None;
        }
        Some(match self {
            Self::Rectangle(..) => (a * b, 2.0 * (a + b)),
            Self::Circle(_) | Self::Oval(..) => {
                (PI * a * b / 4.0, around_ellipse(a / 2.0, b / 2.0))
            }
        })
    }
}

/// Ramanujan's second formula (from memory), exact for a circle and within 0.05 % for any oval a panel is cut to.
fn around_ellipse(a: f64, b: f64) -> f64 {
    let h = ((a - b) / (a + b)).powi(2);
    PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()))
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
    use proptest::prelude::*;

    #[test]
    fn edges_count_and_a_circle_is_a_round_oval() {
        let panel = |outline| Panels {
            outline,
            edge: Millimetres(20.0),
            count: 2,
        };
        let square = panel(Outline::Rectangle(Millimetres(100.0), Millimetres(50.0)));
        assert_eq!(square.area(), Ok(SquareMillimetres(22_000.0)));
        let circle = panel(Outline::Circle(Millimetres(100.0))).area().unwrap();
        let oval = panel(Outline::Oval(Millimetres(100.0), Millimetres(100.0)))
            .area()
            .unwrap();
        assert!((circle.0 - oval.0).abs() < 1e-9);
        assert!((circle.0 - 2.0 * PI * (2500.0 + 2000.0)).abs() < 1e-6);
        assert_eq!(
            panel(Outline::Circle(Millimetres(0.0))).area(),
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
