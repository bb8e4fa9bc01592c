//! A cup and the entries that tell its life.

use crate::trade::colour::Colour;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::units::{Millilitres, Millimetres, Minutes, Seconds};
use crate::trade::words::word_enum;
use serde::{Deserialize, Serialize};

/// One mixed batch in one container.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cup {
    /// The store's number.
    pub id: i64,
    /// What is written on its lid.
    pub mark: Mark,
    /// The variant it was mixed by.
    pub variant: i64,
    /// When it was mixed: the end of its first stirring.
    pub mixed_at: Moment,
    /// What it held then.
    pub volume: Millilitres,
    /// How deep the paint stands.
    pub depth: Option<Millimetres>,
    /// How wide the container is.
    pub diameter: Option<Millimetres>,
    /// The colour of its lid tape.
    pub tape: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// Whether it was ended or emptied.
    pub spent: bool,
}

impl Cup {
    /// The colour that its tape's words stand for, where they are known.
    #[must_use]
    pub fn tape_colour(&self) -> Option<Colour> {
        self.tape.as_deref().and_then(Colour::of_tape)
    }
}

/// What was put into a cup.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Put {
    /// Where it came from.
    pub from: PutFrom,
    /// How much.
    pub ml: Millilitres,
}

/// Where paint came from: the shelf, or another cup.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PutFrom {
    /// A material, by number.
    Material(i64),
    /// Another cup, by number.
    Cup(i64),
}

impl PutFrom {
    /// The cup, where it is one.
    #[must_use]
    pub const fn cup(self) -> Option<i64> {
        match self {
            Self::Cup(cup) => Some(cup),
            Self::Material(_) => None,
        }
    }
}

word_enum! {
    /// What an eye sees in a standing cup.
    Seen {
        /// No bubbles left.
        Clear = "clear",
        /// Bubbles still.
        Bubbles = "bubbles",
        /// Its mound never fades: it has set to a gel.
        Gelled = "gelled",
    }
}

word_enum! {
    /// How a cup ended.
    End {
        /// All of it was used.
        Used = "used",
        /// The rest was thrown out.
        Binned = "binned",
        /// A skin grew over it.
        Skinned = "skinned",
    }
}

/// A measure of consistency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Reading {
    /// How long the drizzle mound stayed visible.
    Mound(Seconds),
    /// How long a standard cup took to run out.
    FlowCup {
        /// Which cup, as the standards name it.
        cup: String,
        /// Its efflux time.
        efflux: Seconds,
    },
}

impl Reading {
    /// The mound, where this is one. A flow-cup reading is never turned into a mound.
    #[must_use]
    pub fn mound(&self) -> Option<Seconds> {
        match self {
            Self::Mound(seconds) => Some(*seconds),
            Self::FlowCup { .. } => None,
        }
    }
}

/// Where drawn paint went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DrawnInto {
    /// Onto a panel, by the pour's number.
    Pour(i64),
    /// Into another cup, by number.
    Cup(i64),
}

impl DrawnInto {
    /// The cup, where it is one.
    #[must_use]
    pub const fn cup(self) -> Option<i64> {
        match self {
            Self::Cup(cup) => Some(cup),
            Self::Pour(_) => None,
        }
    }
}

word_enum! {
    /// The kind of an entry: what happened to a cup, without its quantities.
    EntryKind {
        /// It was mixed.
        Mixed = "mixed",
        /// It was stirred again.
        Stirred = "stirred",
        /// Its consistency was read.
        Read = "read",
        /// Thinner went in.
        Thinned = "thinned",
        /// Paint went in.
        Added = "added",
        /// It was looked at.
        Looked = "looked",
        /// Its lid went on.
        Capped = "capped",
        /// Its lid came off.
        Opened = "opened",
        /// Paint was taken out.
        Drawn = "drawn",
        /// It ended.
        Ended = "ended",
    }
}

/// What happened to a cup.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Happened {
    /// It was mixed, stirred so long, and perhaps read at once.
    Mixed {
        /// How long it was stirred.
        stirred: Option<Minutes>,
        /// Its first reading.
        reading: Option<Reading>,
    },
    /// It was stirred again: its rest starts anew.
    Stirred {
        /// How long.
        minutes: Minutes,
    },
    /// Its consistency was read.
    Read(Reading),
    /// Thinner went in.
    Thinned {
        /// How much.
        ml: Millilitres,
        /// Of which material.
        with: Option<i64>,
        /// Whether it was stirred hard, so that its rest starts anew.
        hard: bool,
        /// The reading after it.
        reading: Option<Reading>,
    },
    /// Paint went in, from the shelf or out of another cup.
    Added {
        /// How much.
        ml: Millilitres,
        /// Where it came from.
        from: PutFrom,
        /// How much of it is thinner.
        thinner: Millilitres,
        /// The reading after it.
        reading: Option<Reading>,
    },
    /// It was looked at.
    Looked(Seen),
    /// Its lid went on.
    Capped,
    /// Its lid came off.
    Opened,
    /// Paint was taken out.
    Drawn {
        /// How much.
        ml: Millilitres,
        /// Where it went.
        into: DrawnInto,
    },
    /// It ended.
    Ended(End),
}

impl Happened {
    /// Its kind.
    #[must_use]
    pub const fn kind(&self) -> EntryKind {
        match self {
            Self::Mixed { .. } => EntryKind::Mixed,
            Self::Stirred { .. } => EntryKind::Stirred,
            Self::Read(_) => EntryKind::Read,
            Self::Thinned { .. } => EntryKind::Thinned,
            Self::Added { .. } => EntryKind::Added,
            Self::Looked(_) => EntryKind::Looked,
            Self::Capped => EntryKind::Capped,
            Self::Opened => EntryKind::Opened,
            Self::Drawn { .. } => EntryKind::Drawn,
            Self::Ended(_) => EntryKind::Ended,
        }
    }

    /// The word an entry's kind is written as.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        self.kind().word()
    }

    /// Whether it puts the lid on or takes it off; `None` where it does neither.
    #[must_use]
    pub const fn lid(&self) -> Option<bool> {
        match self {
            Self::Capped => Some(true),
            Self::Opened => Some(false),
            Self::Mixed { .. }
            | Self::Stirred { .. }
            | Self::Read(_)
            | Self::Thinned { .. }
            | Self::Added { .. }
            | Self::Looked(_)
            | Self::Drawn { .. }
            | Self::Ended(_) => None,
        }
    }

    /// How much paint was added, and where it came from.
    #[must_use]
    pub const fn added(&self) -> Option<(Millilitres, PutFrom)> {
        match self {
            Self::Added { ml, from, .. } => Some((*ml, *from)),
            Self::Mixed { .. }
            | Self::Stirred { .. }
            | Self::Read(_)
            | Self::Thinned { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Drawn { .. }
            | Self::Ended(_) => None,
        }
    }

    /// Where paint that was taken out went, and how much of it.
    #[must_use]
    pub const fn drawn(&self) -> Option<(Millilitres, DrawnInto)> {
        match self {
            Self::Drawn { ml, into } => Some((*ml, *into)),
            Self::Mixed { .. }
            | Self::Stirred { .. }
            | Self::Read(_)
            | Self::Thinned { .. }
            | Self::Added { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Ended(_) => None,
        }
    }

    /// How much paint went to or came from another cup, and which; `None` where paint went from no cup to another.
    #[must_use]
    pub fn shared_with(&self) -> Option<(i64, Millilitres)> {
        let added = self.added().and_then(|(ml, from)| Some((from.cup()?, ml)));
        let drawn = self.drawn().and_then(|(ml, into)| Some((into.cup()?, ml)));
        added.or(drawn)
    }

    /// Whether it is the cup's mixing.
    #[must_use]
    pub const fn is_mixing(&self) -> bool {
        matches!(self, Self::Mixed { .. })
    }

    /// How much paint was given or taken; none where none was.
    #[must_use]
    pub fn amount(&self) -> Millilitres {
        let added = self.added().map(|(ml, _)| ml);
        let drawn = self.drawn().map(|(ml, _)| ml);
        added.or(drawn).unwrap_or(Millilitres::ZERO)
    }

    /// How much thinner went in, and which, where that has a name.
    #[must_use]
    pub const fn thinned(&self) -> Option<(Millilitres, Option<i64>)> {
        match self {
            Self::Thinned { ml, with, .. } => Some((*ml, *with)),
            Self::Mixed { .. }
            | Self::Stirred { .. }
            | Self::Read(_)
            | Self::Drawn { .. }
            | Self::Added { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Ended(_) => None,
        }
    }

    /// The same of another amount of paint that was given or taken; as it is where none was. Its thinner is the same share.
    #[must_use]
    pub fn with_amount(&self, ml: Millilitres) -> Self {
        let mut other = self.clone();
        match &mut other {
            Self::Drawn { ml: was, .. } => *was = ml,
            Self::Added {
                ml: was, thinner, ..
            } => {
                let share = if *was > Millilitres::ZERO {
                    ml / *was
                } else {
                    1.0
                };
                *thinner = (*thinner * share).stored();
                *was = ml;
            }
            Self::Mixed { .. }
            | Self::Stirred { .. }
            | Self::Read(_)
            | Self::Thinned { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Ended(_) => {}
        }
        other
    }

    /// Whether the cup ends with it.
    #[must_use]
    pub const fn is_end(&self) -> bool {
        matches!(self, Self::Ended(_))
    }

    /// Whether more than this cup hangs on it: a mixing is the cup's beginning, paint taken out lies in a pour or in
    /// another cup, and paint added may have come out of one.
    #[must_use]
    pub const fn is_shared(&self) -> bool {
        match self {
            Self::Mixed { .. } | Self::Drawn { .. } => true,
            Self::Added { from, .. } => matches!(from, PutFrom::Cup(_)),
            Self::Read(_)
            | Self::Stirred { .. }
            | Self::Thinned { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Ended(_) => false,
        }
    }

    /// Whether paint is thrown away.
    #[must_use]
    pub const fn is_waste(&self) -> bool {
        match self {
            Self::Ended(End::Binned | End::Skinned) => true,
            Self::Ended(End::Used)
            | Self::Mixed { .. }
            | Self::Read(_)
            | Self::Stirred { .. }
            | Self::Thinned { .. }
            | Self::Added { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Drawn { .. } => false,
        }
    }

    /// Whether it says how the paint is, for a while.
    #[must_use]
    pub const fn checks(&self) -> bool {
        match self {
            Self::Read(_) | Self::Thinned { .. } | Self::Looked(_) => true,
            Self::Added { reading, .. } => reading.is_some(),
            Self::Mixed { reading, .. } => reading.is_some(),
            Self::Stirred { .. } | Self::Capped | Self::Opened => false,
            Self::Drawn { .. } | Self::Ended(_) => false,
        }
    }

    /// The reading in it, if it carries one.
    #[must_use]
    pub const fn reading(&self) -> Option<&Reading> {
        match self {
            Self::Read(reading) => Some(reading),
            Self::Mixed { reading, .. }
            | Self::Thinned { reading, .. }
            | Self::Added { reading, .. } => reading.as_ref(),
            Self::Stirred { .. }
            | Self::Looked(_)
            | Self::Capped
            | Self::Opened
            | Self::Drawn { .. }
            | Self::Ended(_) => None,
        }
    }
}

/// One line of a cup's life.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The store's number: the order of entry.
    pub id: i64,
    /// When it happened, by the clock or as told.
    pub at: Moment,
    /// Whether a person gave the instant.
    pub backdated: bool,
    /// What happened.
    pub what: Happened,
}
