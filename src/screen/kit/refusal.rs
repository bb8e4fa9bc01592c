//! The words of a refusal, and what to do next in this room's keys.

use crate::studio::{Refusal, StoreError, StudioError};
use crate::trade::text::inert;

/// The words of an error, and what to do next.
pub fn words(error: &StudioError) -> String {
    inert(&format!("{error}: {}", hint(error))).into_owned()
}

/// What to do next, in this room's keys where the studio's own hint names commands.
fn hint(error: &StudioError) -> String {
    let here = match error {
        StudioError::Refused(Refusal::TooMuch { .. }) => "take less; G pours it even so",
        StudioError::Refused(Refusal::NoLayers) => "a puts a cup on the stack",
        StudioError::Refused(Refusal::NotSeenDry(_)) => "judge it first: d",
        StudioError::Refused(Refusal::Varnished(_)) => "if that was a slip, u takes it back",
        StudioError::Refused(Refusal::PlanDone(_)) => "m on the Recipes mixes one more",
        StudioError::Refused(Refusal::NoRecipeYet) => "7 is where one is written down",
        StudioError::Refused(Refusal::NoVolume) => "say how much in ml",
        StudioError::Refused(Refusal::NoMarkLeft) => "end cups that are gone: e on the Bench",
        StudioError::Refused(Refusal::BeforeTheCup { .. }) => "say a later time",
        StudioError::Refused(Refusal::NoChange(_)) => "change a field, or leave it: Esc",
        StudioError::Refused(Refusal::NoPack(_)) => "say the amount in all",
        StudioError::Refused(Refusal::Run { .. }) => "8 has its runs",
        StudioError::Refused(Refusal::Future(_)) => "leave the time out for now",
        StudioError::Store(StoreError::Gone(_)) => {
            "what is typed stays here; put the file back, or bring a copy back: stillcup restore newest"
        }
        _ => return error.hint(),
    };
    here.to_owned()
}
