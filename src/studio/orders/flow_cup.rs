//! A reading of a flow cup, and the films of a stack: what is computed from texts without a deed.

use super::{Field, Hint, Typed, Wrong};
use crate::numbers::flow_cup::FlowCup;
use crate::studio::Refusal;
use crate::trade::amount::Measures;
use crate::trade::length::parse_film;
use crate::trade::problem::{Misread, ParseProblem, Sought};
use crate::trade::range::parse_efflux;
use crate::trade::units::{Millimetres, Seconds};

/// The fields of a flow cup's reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FlowCupField {
    /// Which cup.
    Cup,
    /// How long it took to run out.
    Efflux,
}

impl Field for FlowCupField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::FlowCup(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Cup => "flow cup",
            Self::Efflux => "seconds",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::SuchAs(match self {
            Self::Cup => "iso4",
            Self::Efflux => "38s",
        })
    }
}

impl FlowCupField {
    /// Reads the cup and its efflux time; whether the cup can tell that is not asked here.
    ///
    /// # Errors
    /// No cup that is known, or no time.
    pub fn order(typed: &Typed<Self>) -> Result<(FlowCup, Seconds), Wrong> {
        let needed = |field: Self| Refusal::Needed(field.label());
        let cup = |text: &str| {
            let unknown = |_| ParseProblem::new(text, Sought::FlowCup, Misread::NotOne);
            text.parse().map_err(unknown)
        };
        Ok((
            typed.need(Self::Cup, needed(Self::Cup), cup)?,
            typed.need(Self::Efflux, needed(Self::Efflux), parse_efflux)?,
        ))
    }
}

/// The field of a stack's films.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmField {
    /// The wet film of a layer, said once for each, the lowest first.
    Film,
}

impl Field for FilmField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Film(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Film => "film",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        Hint::SuchAs(match measures {
            Measures::Metric => "1.0mm",
            Measures::UsCustomary => "0.04in",
        })
    }
}

impl FilmField {
    /// Reads the films.
    ///
    /// # Errors
    /// One that cannot be read.
    pub fn order(typed: &Typed<Self>) -> Result<Vec<Millimetres>, Wrong> {
        let films = typed.all(Self::Film).map(parse_film);
        let films: Result<_, ParseProblem> = films.collect();
        films.map_err(|why| super::wrong(Self::Film, why))
    }
}
