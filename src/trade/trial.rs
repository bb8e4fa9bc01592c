//! A trial: a planned set of pours that varies chosen factors on purpose.

use crate::trade::moment::Moment;

/// A trial with its runs in the random order they are to be poured in.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The store's number.
    pub id: i64,
    /// When it was designed.
    pub at: Moment,
    /// What its order was drawn with.
    pub seed: u64,
    /// Whether settings are hidden until a run is judged.
    pub blind: bool,
    /// What is varied.
    pub factors: Vec<TrialFactor>,
    /// What is to be poured, in order.
    pub runs: Vec<TrialRun>,
    /// What it is to find out.
    pub note: Option<String>,
}

/// One factor of a trial.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrialFactor {
    /// What is varied.
    pub name: String,
    /// Its low setting, in the painter's words.
    pub low: String,
    /// Its high setting.
    pub high: String,
}

impl TrialFactor {
    /// A setting in the painter's words.
    #[must_use]
    pub fn at(&self, level: Level) -> String {
        match level {
            Level::Low => self.low.clone(),
            Level::Middle => "halfway".to_owned(),
            Level::High => self.high.clone(),
        }
    }
}

/// One run of a trial.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrialRun {
    /// The day's block it belongs to, from 1.
    pub block: u32,
    /// One level a factor.
    pub levels: Vec<Level>,
    /// The pour it was done with.
    pub pour: Option<i64>,
    /// Why it was given up, if it was.
    pub given_up: Option<String>,
}

/// Where a factor is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// At its low setting.
    Low,
    /// Halfway between.
    Middle,
    /// At its high setting.
    High,
}

impl Level {
    /// Its sign in a design table.
    #[must_use]
    pub const fn sign(self) -> char {
        match self {
            Self::Low => '-',
            Self::Middle => '0',
            Self::High => '+',
        }
    }

    /// The level of a sign.
    #[must_use]
    pub const fn of_sign(sign: char) -> Option<Self> {
        match sign {
            '-' => Some(Self::Low),
            '0' => Some(Self::Middle),
            '+' => Some(Self::High),
            _ => None,
        }
    }
}
