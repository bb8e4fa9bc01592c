//! How things are shown in text and in JSON. Unknown is `null` or a dash, never zero.

use crate::command::Desk;
use crate::command::bench_numbers::advice_json;
use crate::studio::{CupStatus, MixPart, Names, Remarks};
use crate::tell::{self, Told, views::Remarked};
use crate::trade::amount::{show_mass, show_volume};
use crate::trade::cup::{DrawnInto, Happened, Reading};
use crate::trade::length::show_length;
use crate::trade::moment::Moment;
use crate::trade::units::{Grams, Millilitres, Millimetres};
use chrono::SecondsFormat;
use serde_json::{Map, Value, json};

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

    /// A cup as it stands, in JSON.
    pub(crate) fn cup_json(&self, standing: &CupStatus) -> Value {
        let band = standing.outlook.mound.map(|mound| {
            let band = mound.band.map(|seconds| number(seconds.get()));
            [band.low, band.mid, band.high]
        });
        json!({
            "mark": standing.cup.mark,
            "recipe": standing.recipe.name,
            "variant": standing.variant.number,
            "layer": standing.recipe.layer,
            "state": standing.state,
            "volume_ml": ml(standing.life.left),
            "mixed_at": self.stamp(standing.cup.mixed_at),
            "clears_at": (!standing.life.gelled).then(|| self.stamp(standing.life.clears_at)),
            "mound_s": standing.life.mound().map(|mound| number(mound.get())),
            "mound_now_s": band,
            "flow_mm2_s": standing.flow_viscosity().map(|nu| number(nu.get())),
            "ready_until": standing.ready_until.map(|at| self.stamp(at)),
            "rest_from": standing.outlook.rest.from,
            "rest_h": rest_json(standing),
            "rest_looks": standing.outlook.rest.readings,
            "bubble_risen_mm": standing.bubble_risen(self.now.at).map(|band| {
                let band = band.map(|size| number(size.get()));
                [band.low, band.mid, band.high]
            }),
            "gelled": standing.life.gelled,
            "thinner": standing.outlook.advice.as_ref().map(advice_json),
            "capped": standing.life.capped,
            "tape": standing.cup.tape,
            "note": standing.cup.note,
            "why": standing.why,
        })
    }

    /// One line of what goes into a cup, in JSON.
    pub(crate) fn part_json(&self, part: &MixPart) -> Value {
        json!({
            "name": part.name,
            "ml": ml(part.ml),
            "g": part.g.map(|grams| number(grams.get())),
            "from": part.from,
        })
    }
}

/// How long a cup rests, with its band, in hours.
fn rest_json(standing: &CupStatus) -> Value {
    let band = standing.outlook.rest.band.map(|hours| number(hours.get()));
    json!([band.low, band.mid, band.high])
}

/// A reading's fields in JSON.
fn reading_json(reading: &Reading) -> Value {
    match reading {
        Reading::Mound(seconds) => json!({"mound_s": number(seconds.get())}),
        Reading::FlowCup { cup, efflux } => {
            json!({"flow_cup": cup, "efflux_s": number(efflux.get())})
        }
    }
}

/// A reading in words.
pub(crate) fn reading_words(reading: &Reading) -> String {
    match reading {
        Reading::Mound(seconds) => format!("mound {} s", number(seconds.get())),
        Reading::FlowCup { cup, efflux } => format!("{cup} {} s", number(efflux.get())),
    }
}

/// What happened to a cup, in JSON: its own fields beside `kind`.
pub(crate) fn happened_json(what: &Happened, names: &Names) -> Value {
    let own = match what {
        Happened::Mixed { stirred, .. } => {
            json!({"stirred_min": stirred.map(|minutes| number(minutes.get()))})
        }
        Happened::Stirred { minutes } => json!({"stirred_min": number(minutes.get())}),
        Happened::Thinned {
            ml: volume,
            with,
            hard,
            ..
        } => json!({
            "ml": ml(*volume), "with": with.and_then(|id| names.material(id)), "hard": hard,
        }),
        Happened::Looked(seen) => json!({"saw": seen}),
        Happened::Drawn { ml: volume, into } => {
            let (pour, cup) = match into {
                DrawnInto::Pour(pour) => (Some(*pour), None),
                DrawnInto::Cup(cup) => (None, names.mark(*cup)),
            };
            json!({"ml": ml(*volume), "pour": pour, "into": cup})
        }
        Happened::Ended(end) => json!({"end": end}),
        Happened::Read(_) | Happened::Capped | Happened::Opened => Value::Object(Map::new()),
    };
    let read = what.reading().map_or_else(|| json!({}), reading_json);
    with(with(json!({"kind": what.word()}), own), read)
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
