//! The paper that is printed on.

use super::amount::Measures;
use super::units::Millimetres;

/// The size of a sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 x 297 mm (ISO 216).
    A4,
    /// 8.5 x 11 in.
    Letter,
}

impl PaperSize {
    /// Each.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// What studios with these measures print on.
    #[must_use]
    pub const fn usual(measures: Measures) -> Self {
        match measures {
            Measures::Metric => Self::A4,
            Measures::UsCustomary => Self::Letter,
        }
    }

    /// Its name.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }

    /// The paper of a name.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        let mut all = Self::ALL.into_iter();
        all.find(|one| one.word().eq_ignore_ascii_case(word.trim()))
    }

    /// Its width and height.
    #[must_use]
    pub const fn sides(self) -> (Millimetres, Millimetres) {
        match self {
            Self::A4 => (Millimetres(210.0), Millimetres(297.0)),
            Self::Letter => (Millimetres(215.9), Millimetres(279.4)),
        }
    }
}
