//! The wording of what the studio answers, once for both faces.
//!
//! Below this room go ids, quantities and facts; here they become sentences, in the studio's measures and by its wall
//! clock. A sentence is never read back.

mod air;
pub mod best;
pub mod checkup;
mod compare;
pub mod cost;

pub mod cups;
mod curves;
mod damage;
mod done;
pub mod drift;
pub mod drying;
mod entries;
mod exchanged;
mod file;
pub mod findings;
mod hints;
mod history;
mod imports;
mod known;
pub mod lists;
pub mod measured;
pub mod models;
mod moved;
mod naming;
pub mod next;
pub mod outgoing;
pub mod pair;
pub mod parse;
mod photo_files;
pub mod photos;
pub mod plans;
pub mod recipes;
mod refusals;
mod remarks;
pub mod reminders;
mod shelf;
pub mod stack;
mod store;
pub mod trials;
pub mod views;

pub use compare::{aspect, show_move};
pub use damage::newer_in_copy;
pub use done::{
    amended, corrected, judged, judgement_struck, money, photo_dropped, photo_refused, sold,
    starters, titled, varnished,
};
pub use entries::happened;
pub use hints::{Face, hint};
pub use history::change;
pub use imports::{contradictions, differing};
pub use naming::removed;
pub use remarks::{notes, warnings};
pub use shelf::{care, colour, lasts, metal_caution, price_each};
pub use store::store_hint;

use crate::trade::amount::Measures;
use crate::trade::instant::Now;

/// A fact that can be told.
pub trait Told {
    /// It as a sentence without its full stop.
    fn told(&self, measures: Measures, now: &Now) -> String;
}

/// The words of a fact, in some measures and by the wall clock.
pub fn words(fact: &impl Told, measures: Measures, now: &Now) -> String {
    fact.told(measures, now)
}
