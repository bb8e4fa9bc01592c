//! What happened to a cup: each kind with its own keys beside `kind`.

use super::{Telling, ml, number};
use crate::studio::Names;
use crate::trade::cup::{DrawnInto, End, Entry, Happened, PutFrom, Reading, Seen};
use schemars::JsonSchema;
use serde::Serialize;

/// An entry of a cup's life.
#[derive(Debug, Serialize, JsonSchema)]
pub struct EntryView {
    /// Its number, by which it is put right or struck.
    entry: i64,
    at: String,
    /// Whether a person gave the instant.
    told: bool,
    #[serde(flatten)]
    what: HappenedView,
}

#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum HappenedView {
    Mixed {
        stirred_min: Option<f64>,
        #[serde(flatten)]
        reading: ReadingView,
    },
    Stirred {
        stirred_min: f64,
    },
    Read {
        #[serde(flatten)]
        reading: ReadingView,
    },
    Thinned {
        ml: f64,
        with: Option<String>,
        hard: bool,
        #[serde(flatten)]
        reading: ReadingView,
    },
    Added {
        ml: f64,
        /// The material that it is, where it came from the shelf.
        material: Option<String>,
        /// The mark of the cup that it came out of.
        from: Option<String>,
        /// How much of it is thinner.
        thinner_ml: f64,
        #[serde(flatten)]
        reading: ReadingView,
    },
    Looked {
        saw: Seen,
    },
    Capped {},
    Opened {},
    Drawn {
        ml: f64,
        pour: Option<i64>,
        into: Option<String>,
    },
    Ended {
        end: End,
    },
}

/// A reading, where there is one: a mound, or a flow cup with its time.
#[derive(Debug, Default, Serialize, JsonSchema)]
struct ReadingView {
    #[serde(skip_serializing_if = "Option::is_none")]
    mound_s: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    flow_cup: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    efflux_s: Option<f64>,
}

impl EntryView {
    /// An entry, with the names that it leads to.
    #[must_use]
    pub fn of(entry: &Entry, names: &Names, telling: &Telling<'_>) -> Self {
        Self {
            entry: entry.id,
            at: telling.stamp(entry.at),
            told: entry.backdated,
            what: HappenedView::of(&entry.what, names),
        }
    }
}

impl HappenedView {
    fn of(what: &Happened, names: &Names) -> Self {
        match what {
            Happened::Mixed { stirred, reading } => Self::Mixed {
                stirred_min: stirred.map(|minutes| number(minutes.get())),
                reading: ReadingView::of(reading.as_ref()),
            },
            Happened::Stirred { minutes } => Self::Stirred {
                stirred_min: number(minutes.get()),
            },
            Happened::Read(reading) => Self::Read {
                reading: ReadingView::of(Some(reading)),
            },
            Happened::Thinned {
                ml: volume,
                with,
                hard,
                reading,
            } => Self::Thinned {
                ml: ml(*volume),
                with: with.and_then(|id| names.material(id)),
                hard: *hard,
                reading: ReadingView::of(reading.as_ref()),
            },
            Happened::Added {
                ml: volume,
                from,
                thinner,
                reading,
            } => {
                let (material, from) = match from {
                    PutFrom::Material(id) => (names.material(*id), None),
                    PutFrom::Cup(cup) => (None, names.mark(*cup)),
                };
                Self::Added {
                    ml: ml(*volume),
                    material,
                    from,
                    thinner_ml: ml(*thinner),
                    reading: ReadingView::of(reading.as_ref()),
                }
            }
            Happened::Looked(seen) => Self::Looked { saw: *seen },
            Happened::Capped => Self::Capped {},
            Happened::Opened => Self::Opened {},
            Happened::Drawn { ml: volume, into } => {
                let (pour, into) = match into {
                    DrawnInto::Pour(pour) => (Some(*pour), None),
                    DrawnInto::Cup(cup) => (None, names.mark(*cup)),
                };
                let ml = ml(*volume);
                Self::Drawn { ml, pour, into }
            }
            Happened::Ended(end) => Self::Ended { end: *end },
        }
    }
}

impl ReadingView {
    fn of(reading: Option<&Reading>) -> Self {
        match reading {
            None => Self::default(),
            Some(Reading::Mound(seconds)) => Self {
                mound_s: Some(number(seconds.get())),
                ..Self::default()
            },
            Some(Reading::FlowCup { cup, efflux }) => Self {
                flow_cup: Some(cup.clone()),
                efflux_s: Some(number(efflux.get())),
                ..Self::default()
            },
        }
    }
}
