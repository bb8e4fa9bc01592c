//! Outside what a model of `numbers` holds for: each model's own error, as a refusal.

use crate::numbers::drying::DryingError;
use crate::numbers::film::FilmError;
use crate::numbers::flow_cup::FlowCupError;
use crate::numbers::mound::NoMound;
use crate::studio::{Refusal, StudioError};

/// Outside what which model holds for.
#[derive(Debug, Clone, PartialEq)]
pub enum OutOfModel {
    /// The film on a panel.
    Film(FilmError),
    /// Drying.
    Drying(DryingError),
    /// A flow cup.
    FlowCup(FlowCupError),
    /// The viscosity that a mound stands for.
    Mound(NoMound),
}

/// From each model's own error.
macro_rules! out_of_model {
    ($($error:ident => $kind:ident),+) => {
        $(impl From<$error> for Refusal {
            fn from(error: $error) -> Self {
                Self::OutOfModel(OutOfModel::$kind(error))
            }
        }

        impl From<$error> for StudioError {
            fn from(error: $error) -> Self {
                Self::Refused(error.into())
            }
        })+
    };
}
out_of_model!(FilmError => Film, DryingError => Drying, FlowCupError => FlowCup, NoMound => Mound);
