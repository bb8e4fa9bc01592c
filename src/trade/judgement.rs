//! What was seen on a picture, wet or dry.

use crate::trade::moment::Moment;
use crate::trade::words::word_enum;
use serde::Serialize;

word_enum! {
    /// How large the cells are.
    CellSize {
        /// Small.
        Fine = "fine",
        /// In between.
        Middling = "middling",
        /// Large.
        Large = "large",
    }
}

word_enum! {
    /// What became of a picture.
    Fate {
        /// It was kept.
        Kept = "kept",
        /// It was scraped off.
        Scraped = "scraped",
        /// It was sold.
        Sold = "sold",
        /// It was varnished: it dries no more.
        Varnished = "varnished",
    }
}

/// One judgement of a pour. Beyond the cells, every grade is optional, 0 (none) to 5 (all over).
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Judgement {
    /// The store's number.
    pub id: i64,
    /// The pour's number.
    pub pour: i64,
    /// When it was judged.
    pub at: Moment,
    /// Whether the picture was dry.
    pub dry: bool,
    /// The cells, 0 to 5.
    pub cells: u8,
    /// Their size.
    pub size: Option<CellSize>,
    /// How even they lie.
    pub evenness: Option<u8>,
    /// How much lacing.
    pub lacing: Option<u8>,
    /// How muddy.
    pub muddy: Option<u8>,
    /// How crazed.
    pub crazed: Option<u8>,
    /// How many pinholes.
    pub pinholes: Option<u8>,
    /// What became of it.
    pub fate: Option<Fate>,
    /// Anything else.
    pub note: Option<String>,
}

/// The judgement that counts: the last dry one, else the last wet one. `all` is in order of entry.
#[must_use]
pub fn counting(all: &[Judgement]) -> Option<&Judgement> {
    all.iter().rev().find(|one| one.dry).or_else(|| all.last())
}
