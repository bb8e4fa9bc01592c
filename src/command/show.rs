//! How things are shown in text and in JSON. Unknown is `null` or a dash, never zero.

use crate::command::Desk;
use crate::studio::{Names, Remarks};
use crate::tell::{
    self, Told,
    views::{Remarked, Telling},
};
use crate::trade::amount::{show_mass, show_volume};
use crate::trade::cup::{DrawnInto, Happened, Reading};
use crate::trade::length::show_length;
use crate::trade::moment::Moment;
use crate::trade::units::{Grams, Millilitres, Millimetres};
use chrono::SecondsFormat;
use serde_json::Value;

/// What stands where nothing is known.
pub(crate) const UNKNOWN: &str = "-";

/// A text that may not be there.
pub(crate) fn or_dash(text: Option<String>) -> String {
    text.unwrap_or_else(|| UNKNOWN.to_owned())
}

/// A number without noise behind the third decimal.
pub(crate) fn number(value: f64) -> f64 {
    let rounded = (value * 1000.0).round() / 1000.0;
    if rounded.is_finite() { rounded } else { value }
}

/// An estimate to four figures: more were noise.
pub(crate) fn estimate(value: f64) -> f64 {
    format!("{value:.3e}").parse().unwrap_or(value)
}

/// A volume in JSON.
pub(crate) fn ml(volume: Millilitres) -> f64 {
    number(volume.get())
}

/// Adds fields to a JSON object.
pub(crate) fn with(mut object: Value, more: Value) -> Value {
    if let (Value::Object(fields), Value::Object(more)) = (&mut object, more) {
        fields.extend(more);
    }
    object
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

    /// An instant in JSON: RFC 3339 at the studio's offset, to the second.
    pub(crate) fn stamp(&self, at: Moment) -> String {
        let here = self.now.zone.tell(at);
        here.to_rfc3339_opts(SecondsFormat::Secs, false)
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

/// A reading in words.
pub(crate) fn reading_words(reading: &Reading) -> String {
    match reading {
        Reading::Mound(seconds) => format!("mound {} s", number(seconds.get())),
        Reading::FlowCup { cup, efflux } => format!("{cup} {} s", number(efflux.get())),
    }
}

/// What happened to a cup, in words.
pub(crate) fn happened_words(desk: &Desk<'_>, what: &Happened, names: &Names) -> String {
    let own = match what {
        Happened::Mixed { stirred, .. } => {
            let stirred = stirred.map(|minutes| format!("mixed, stirred {} min", minutes.get()));
            stirred.unwrap_or_else(|| "mixed".to_owned())
        }
        Happened::Stirred { minutes } => format!("stirred {} min", minutes.get()),
        Happened::Thinned { ml, with, hard, .. } => {
            let with = with
                .and_then(|id| names.material(id))
                .map(|name| format!(" {name}"));
            let hard = if *hard { ", stirred hard" } else { "" };
            format!(
                "thinned: {}{}{hard}",
                desk.volume(*ml),
                with.unwrap_or_default()
            )
        }
        Happened::Looked(seen) => format!("looked: {seen}"),
        Happened::Drawn { ml, into } => {
            let into = match into {
                DrawnInto::Pour(pour) => format!("pour {pour}"),
                DrawnInto::Cup(cup) => or_dash(names.mark(*cup)),
            };
            format!("drawn: {} into {into}", desk.volume(*ml))
        }
        Happened::Ended(end) => end.word().to_owned(),
        Happened::Read(_) => String::new(),
        Happened::Capped | Happened::Opened => what.word().to_owned(),
    };
    let read = what.reading().map(reading_words);
    let both: Vec<String> = [own]
        .into_iter()
        .filter(|text| !text.is_empty())
        .chain(read)
        .collect();
    both.join(", ")
}
