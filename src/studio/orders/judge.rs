//! To judge a picture: its cells, and what else was seen.

use super::field::{word, wrong};
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{JudgeOrder, Refusal, WordOf};
use crate::trade::amount::Measures;
use crate::trade::judgement::{CellSize, Fate};
use crate::trade::problem::{Misread, ParseProblem, Sought};

/// The fields of a judgement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JudgeField {
    /// The cells, 0 to 5.
    Cells,
    /// Whether the picture is wet or dry.
    Seen,
    /// How large the cells are.
    Size,
    /// How even they lie, 0 to 5; so of all grades below.
    Evenness,
    /// How much lacing.
    Lacing,
    /// How muddy.
    Muddy,
    /// How crazed.
    Crazed,
    /// How many pinholes.
    Pinholes,
    /// What became of it.
    Fate,
    /// What it is called.
    Title,
    /// Anything else.
    Note,
    /// When.
    When,
}

impl Field for JudgeField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Judge(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Cells => "cells",
            Self::Seen => "seen",
            Self::Size => "size",
            Self::Evenness => "evenness",
            Self::Lacing => "lacing",
            Self::Muddy => "muddy",
            Self::Crazed => "crazed",
            Self::Pinholes => "pinholes",
            Self::Fate => "fate",
            Self::Title => "title",
            Self::Note => "note",
            Self::When => "when",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Cells => "0 none, to 5, as good as they get",
            Self::Seen => "wet or dry",
            Self::Size => "fine, middling or large; empty where it was not looked at",
            Self::Evenness | Self::Lacing | Self::Muddy | Self::Crazed | Self::Pinholes => {
                "0 none, to 5, all over; empty where it was not looked at"
            }
            Self::Fate => "kept, scraped or sold; empty as long as it lies",
            Self::Title => "what the picture is called; empty leaves it",
            Self::Note => "anything else",
            Self::When => super::tend::WHEN,
        })
    }
}

impl JudgeField {
    /// How a picture is seen, the usual first.
    pub const SEEN: [&str; 2] = ["wet", Self::DRY];
    /// Seen dry.
    pub const DRY: &str = "dry";

    /// Every grade beside the cells.
    pub const GRADES: [Self; 5] = [
        Self::Evenness,
        Self::Lacing,
        Self::Muddy,
        Self::Crazed,
        Self::Pinholes,
    ];

    /// Reads what was typed of a picture.
    ///
    /// # Errors
    /// The first field that cannot be read, and no cells at all.
    pub fn order(typed: &Typed<Self>, given: &Given<'_>) -> Result<JudgeOrder, Wrong> {
        let missing = || Refusal::Grade(Self::Cells.label());
        let cells = typed.need(Self::Cells, missing(), |text| grade(Self::Cells, text))?;
        let one = |field| typed.read(field, |text| grade(field, text));
        Ok(JudgeOrder {
            cells,
            dry: seen_dry(typed)?,
            size: typed.read(Self::Size, |text| {
                word(WordOf::CellSize, text, CellSize::parse)
            })?,
            evenness: one(Self::Evenness)?,
            lacing: one(Self::Lacing)?,
            muddy: one(Self::Muddy)?,
            crazed: one(Self::Crazed)?,
            pinholes: one(Self::Pinholes)?,
            fate: typed.read(Self::Fate, |text| word(WordOf::Fate, text, Fate::parse))?,
            title: typed.note(Self::Title),
            note: typed.note(Self::Note),
            at: typed.read(Self::When, |text| given.past(text))?,
        })
    }
}

fn seen_dry(typed: &Typed<JudgeField>) -> Result<bool, Wrong> {
    let text = typed.text(JudgeField::Seen).unwrap_or_default().trim();
    match text {
        "" => Ok(false),
        text if JudgeField::SEEN.contains(&text) => Ok(text == JudgeField::DRY),
        text => {
            let why = ParseProblem::new(text, Sought::WetOrDry, Misread::NotOne);
            Err(wrong(JudgeField::Seen, why))
        }
    }
}

fn grade(field: JudgeField, text: &str) -> Result<u8, Refusal> {
    let grade = text.trim().parse::<u8>().ok().filter(|grade| *grade <= 5);
    grade.ok_or_else(|| Refusal::Grade(field.label()))
}
