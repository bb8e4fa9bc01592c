//! A list of one's own that is taken in from the screen: what its lines are, its file, how it is read.

use super::{ColumnOrder, Field, Hint, ListKind, Typed, Wrong};
use crate::studio::{DateOrder, Refusal};
use crate::trade::amount::Measures;

/// The fields of a list that comes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum IncomingField {
    /// What its lines are.
    Kind,
    /// Which of two numbers in a date is the day.
    Dates,
    /// What columns become where the guess is to be another.
    Columns,
    /// The file.
    File,
}

impl Field for IncomingField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Incoming(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Kind => "of",
            Self::Dates => "dates",
            Self::Columns => "columns",
            Self::File => "file",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        match self {
            Self::Kind => Hint::Says("what its lines are"),
            Self::Dates => Hint::Says("24/11 or 11/24; told by the whole column otherwise"),
            Self::Columns => Hint::Says("Canvas=panel; Mood=-: where the guess is to be another"),
            Self::File => Hint::Says("a CSV of your spreadsheet; ~ is your home"),
        }
    }
}

impl IncomingField {
    /// What lists are of, in their order.
    pub const KINDS: [ListKind; 5] = [
        ListKind::Pours,
        ListKind::Cups,
        ListKind::Judgements,
        ListKind::Materials,
        ListKind::Stock,
    ];
    /// How dates are read, in the order of not said, day first, month first.
    pub const DATES: [&'static str; 3] = ["found out", "day first", "month first"];

    /// Reads what its lines are; pours where nothing is said.
    #[must_use]
    pub fn kind(typed: &Typed<Self>) -> ListKind {
        let said = typed.text(Self::Kind).and_then(ListKind::parse);
        said.unwrap_or(ListKind::Pours)
    }

    /// Reads how its dates are written; none where that is to be found out.
    #[must_use]
    pub fn dates(typed: &Typed<Self>) -> Option<DateOrder> {
        match typed.text(Self::Dates) {
            Some(said) if said == Self::DATES[1] => Some(DateOrder::DayFirst),
            Some(said) if said == Self::DATES[2] => Some(DateOrder::MonthFirst),
            _ => None,
        }
    }

    /// Reads what columns become, parted by semicolons.
    ///
    /// # Errors
    /// As [`ColumnOrder::read`].
    pub fn columns(typed: &Typed<Self>) -> Result<Vec<ColumnOrder>, Wrong> {
        let kind = Self::kind(typed);
        let read = typed.read(Self::Columns, |text| -> Result<Vec<ColumnOrder>, Refusal> {
            let parts = text.split(';').filter(|part| !part.trim().is_empty());
            parts
                .map(|part| ColumnOrder::read(part.trim(), kind))
                .collect()
        })?;
        Ok(read.unwrap_or_default())
    }

    /// The path of the file, as it was typed.
    ///
    /// # Errors
    /// Where none is typed.
    pub fn file(typed: &Typed<Self>) -> Result<String, Wrong> {
        let missing = Refusal::Needed(Self::File.label());
        typed.need(Self::File, missing, |text| -> Result<String, Refusal> {
            Ok(text.trim().to_owned())
        })
    }
}
