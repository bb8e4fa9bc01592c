//! What happened to a cup, in words: one place for every kind of entry.

use crate::studio::Names;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::{DrawnInto, Happened, PutFrom, Reading};
use crate::trade::number::trimmed;
use crate::trade::text::inert;

/// What happened to a cup: `thinned with 3 ml Water, stirred hard, mound 2.6 s`.
#[must_use]
pub fn happened(what: &Happened, names: &Names, measures: Measures) -> String {
    let own = own_words(what, names, measures);
    match what {
        Happened::Read(_) => own,
        other => other.reading().map_or_else(
            || own.clone(),
            |reading| format!("{own}, {}", of_reading(reading)),
        ),
    }
}

fn own_words(what: &Happened, names: &Names, measures: Measures) -> String {
    match what {
        Happened::Mixed { stirred, .. } => {
            let stirred = stirred.map(|one| format!(", stirred {} min", trimmed(one.get(), 1)));
            format!("mixed{}", stirred.unwrap_or_default())
        }
        Happened::Stirred { minutes } => format!("stirred {} min", trimmed(minutes.get(), 1)),
        Happened::Read(reading) => of_reading(reading),
        Happened::Thinned { ml, with, hard, .. } => {
            let with = with.and_then(|id| names.material(id));
            let with = with.map(|name| format!(" {}", inert(&name)));
            let hard = if *hard { ", stirred hard" } else { "" };
            let ml = show_volume(*ml, measures);
            format!("thinned with {ml}{}{hard}", with.unwrap_or_default())
        }
        Happened::Added { ml, from, .. } => {
            let ml = show_volume(*ml, measures);
            match from {
                PutFrom::Material(id) => {
                    let name = names.material(*id).unwrap_or_else(|| "paint".to_owned());
                    format!("{ml} {} added", inert(&name))
                }
                PutFrom::Cup(cup) => match names.mark(*cup) {
                    Some(mark) => format!("{ml} added from {mark}"),
                    None => format!("{ml} added from another cup"),
                },
            }
        }
        Happened::Looked(seen) => format!("looked: {seen}"),
        Happened::Capped => "lid on".to_owned(),
        Happened::Opened => "lid off".to_owned(),
        Happened::Drawn { ml, into } => {
            let into = match into {
                DrawnInto::Pour(pour) => format!("onto pour {pour}"),
                DrawnInto::Cup(cup) => match names.mark(*cup) {
                    Some(mark) => format!("into {mark}"),
                    None => "into another cup".to_owned(),
                },
            };
            format!("{} {into}", show_volume(*ml, measures))
        }
        Happened::Ended(end) => format!("ended: {end}"),
    }
}

/// A reading: `mound 2.6 s`, `iso4 38 s`.
fn of_reading(reading: &Reading) -> String {
    match reading {
        Reading::Mound(seconds) => format!("mound {} s", trimmed(seconds.get(), 3)),
        Reading::FlowCup { cup, efflux } => {
            format!("{} {} s", inert(cup), trimmed(efflux.get(), 3))
        }
    }
}
