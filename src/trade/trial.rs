//! A trial: a planned set of pours that varies chosen factors on purpose.

use super::number;
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
            Level::Middle => self.between(0.0).unwrap_or_else(|| "halfway".to_owned()),
            Level::High => self.high.clone(),
        }
    }

    /// A setting between the ends, at -1 the low and at 1 the high one: `18 h` halfway from `12 h` to `24 h`. None where
    /// the two are no numbers of one unit.
    #[must_use]
    pub fn between(&self, coded: f64) -> Option<String> {
        let (low, unit) = number::split_float(&self.low).ok()?;
        let (high, other) = number::split_float(&self.high).ok()?;
        if unit.trim() != other.trim() {
            return None;
        }
        let at = f64::midpoint(low, high) + 0.5 * coded * (high - low);
        let digits = (2.0 - (high - low).abs().log10().floor()).clamp(0.0, 4.0) as usize;
        let text = format!("{at:.digits$}");
        let text = match text.contains('.') {
            true => text.trim_end_matches('0').trim_end_matches('.'),
            false => text.as_str(),
        };
        let after = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
        Some(format!("{text}{}", self.low.trim_start_matches(after)))
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

#[cfg(test)]
mod tests {
    use super::*;

    fn halfway(low: &str, high: &str) -> String {
        let [low, high] = [low, high].map(str::to_owned);
        let name = "rest".to_owned();
        TrialFactor { name, low, high }.at(Level::Middle)
    }

    #[test]
    fn halfway_between_two_numbers_is_a_number() {
        assert_eq!(halfway("12 h", "24 h"), "18 h");
        assert_eq!(halfway("5%", "10%"), "7.5%");
        assert_eq!(halfway("1:1", "2:1"), "1.5:1");
        assert_eq!(halfway("400", "100"), "250");
        assert_eq!(halfway("12 h", "2 d"), "halfway");
        assert_eq!(halfway("dry", "damp"), "halfway");
    }
}
