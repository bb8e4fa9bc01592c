//! How things are shown in text and in JSON. Unknown is `null` or a dash, never zero.

use crate::command::Desk;
use crate::studio::Remarks;
use crate::tell::{
    self, Told,
    views::{Remarked, Telling},
};
use crate::trade::amount::{show_mass, show_volume};
use crate::trade::length::show_length;
use crate::trade::moment::Moment;
use crate::trade::units::{Grams, Millilitres, Millimetres};

/// What stands where nothing is known.
pub(crate) const UNKNOWN: &str = "-";

/// A name, and whether it is no longer offered.
pub(crate) fn retired(name: &str, retired: bool) -> String {
    match retired {
        true => format!("{name} (retired)"),
        false => name.to_owned(),
    }
}

/// A text that may not be there.
pub(crate) fn or_dash(text: Option<String>) -> String {
    text.unwrap_or_else(|| UNKNOWN.to_owned())
}

/// A number without noise behind the third decimal.
pub(crate) fn number(value: f64) -> f64 {
    let rounded = (value * 1000.0).round() / 1000.0;
    if rounded.is_finite() { rounded } else { value }
}

impl Desk<'_> {
    /// How the answers are told.
    pub(crate) const fn telling(&self) -> Telling<'_> {
        Telling {
            measures: self.settings.measures,
            now: &self.now,
        }
    }

    /// What a deed's remarks say.
    pub(crate) fn remarked(&self, remarks: &Remarks) -> Remarked {
        Remarked::of(remarks, self.settings.measures, &self.now)
    }

    /// A fact in words.
    pub(crate) fn words(&self, fact: &impl Told) -> String {
        tell::words(fact, self.settings.measures, &self.now)
    }

    /// An instant on the studio's wall clock.
    pub(crate) fn clock(&self, at: Moment) -> String {
        crate::studio::local(at, &self.now)
    }

    /// A volume in the studio's measures.
    pub(crate) fn volume(&self, volume: Millilitres) -> String {
        show_volume(volume, self.settings.measures)
    }

    /// A mass in the studio's measures.
    pub(crate) fn mass(&self, mass: Grams) -> String {
        show_mass(mass, self.settings.measures)
    }

    /// A length in the studio's measures.
    pub(crate) fn length(&self, length: Millimetres) -> String {
        show_length(length, self.settings.measures)
    }
}
