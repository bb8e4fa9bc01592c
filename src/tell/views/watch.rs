//! A cup that turned, as `watch` tells it: one line each.

use super::{Telling, ml};
use crate::studio::Turn;
use crate::trade::life::State;
use schemars::JsonSchema;
use serde::Serialize;

/// A turn.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TurnView {
    /// When.
    pub at: String,
    /// The cup's mark.
    pub mark: String,
    /// What it was; null where it is new.
    pub was: Option<&'static str>,
    /// What it is.
    pub state: &'static str,
    /// Its recipe.
    pub recipe: String,
    /// Its variant's number.
    pub variant: i64,
    /// Where in the stack it goes.
    pub layer: &'static str,
    /// What is left of it.
    pub left_ml: f64,
    /// The mound that is expected of it; null where none is.
    pub mound_s: Option<f64>,
    /// What is so, and what to do.
    pub why: String,
}

impl TurnView {
    /// A turn just now.
    #[must_use]
    pub fn of(turn: &Turn, telling: &Telling<'_>) -> Self {
        let (cup, now) = (&turn.cup, telling.now);
        Self {
            at: now.zone.tell(now.at).to_rfc3339(),
            mark: cup.cup.mark.to_string(),
            was: turn.was.map(State::word),
            state: turn.is.word(),
            recipe: cup.recipe.name.clone(),
            variant: cup.variant.number,
            layer: cup.recipe.layer.word(),
            left_ml: ml(cup.life.left),
            mound_s: cup.outlook.mound_mid().map(|mound| mound.get()),
            why: match turn.is {
                State::Spent => "spent".to_owned(),
                _ => telling.words(cup),
            },
        }
    }
}
