//! The words of an error, and what to do next in this room's keys.

use crate::studio::StudioError;
use crate::tell::{self, Face};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;

/// The words of an error, and what to do next in this room's keys.
pub fn words(error: &StudioError, measures: Measures, now: &Now) -> String {
    let said = tell::words(error, measures, now);
    let hint = tell::hint(error, Face::Screen);
    inert(&format!("{said}: {hint}")).into_owned()
}
