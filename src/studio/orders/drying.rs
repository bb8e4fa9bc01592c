//! A film that dries in some air, on a table that may be out of level.

use super::{Field, Given, Hint, Typed, Wrong};
use crate::numbers::creep;
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::length::parse_film;
use crate::trade::number::parse_alone;
use crate::trade::pour::Air;
use crate::trade::problem::{Misread, ParseProblem, Sought};
use crate::trade::range::parse_mound;
use crate::trade::units::{Degrees, Millimetres, Seconds};

/// The fields of a film that dries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DryingField {
    /// The air of the room.
    Air,
    /// The wet film.
    Film,
    /// How far the table is out of level.
    Slope,
    /// The mound of what lies on top.
    Mound,
}

/// A film that dries, read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryingOrder {
    /// The air.
    pub air: Air,
    /// The wet film.
    pub film: Millimetres,
    /// The table's slope.
    pub slope: Option<Degrees>,
    /// The mound of what lies on top.
    pub mound: Option<Seconds>,
}

impl Field for DryingField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Drying(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Air => "air",
            Self::Film => "film",
            Self::Slope => "slope",
            Self::Mound => "mound",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        let (air, film) = match measures {
            Measures::Metric => ("18C,70%", "1.0mm"),
            Measures::UsCustomary => ("65F,70%", "0.04in"),
        };
        Hint::SuchAs(match self {
            Self::Air => air,
            Self::Film => film,
            Self::Slope => "0.5 or 1/500",
            Self::Mound => "2.4 s",
        })
    }
}

/// Degrees, or a fall over a run: `0.5`, `0,5`, `1/500`.
fn parse_slope(text: &str) -> Result<Degrees, ParseProblem> {
    let number = |text: &str| parse_alone(text.trim(), Sought::Slope);
    let slope = match text.split_once('/') {
        None => Degrees(number(text)?),
        Some((fall, run)) => {
            let (fall, run) = (number(fall)?, number(run)?);
            creep::slope(Millimetres(fall), Millimetres(run))
        }
    };
    let steepest = Degrees(90.0);
    match slope.is_finite() && slope <= steepest {
        true => Ok(slope),
        false => Err(ParseProblem::new(text, Sought::Slope, Misread::NotOne)),
    }
}

impl DryingField {
    /// Reads what was typed of a film.
    ///
    /// # Errors
    /// No air, no film, or a field that cannot be read.
    pub fn order(typed: &Typed<Self>, given: &Given<'_>) -> Result<DryingOrder, Wrong> {
        let needed = |field: Self| Refusal::Needed(field.label());
        Ok(DryingOrder {
            air: typed.need(Self::Air, needed(Self::Air), |text| given.air(text))?,
            film: typed.need(Self::Film, needed(Self::Film), parse_film)?,
            slope: typed.read(Self::Slope, parse_slope)?,
            mound: typed.read(Self::Mound, parse_mound)?,
        })
    }
}
