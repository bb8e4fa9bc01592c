//! Why something typed could not be read: what was typed, what was to be read of it, and what is wrong. `tell` words it.

use super::text::inert;
use chrono::{DateTime, FixedOffset};

/// The longest text, in bytes, that any reader here looks at; all of them read one short field.
const LONGEST: usize = 120;
/// How many characters of what was said are said back.
const SAID_BACK: usize = 40;

/// What could not be read, and why.
///
/// ```
/// use stillcup::trade::amount::Amount;
/// use stillcup::trade::problem::{Misread, Sought};
/// let problem = Amount::parse("5").unwrap_err();
/// assert_eq!((problem.said.as_str(), problem.of), ("5", Sought::Amount));
/// assert_eq!(problem.why, Misread::NoUnit);
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseProblem {
    /// What was typed, shortened, and safe to show.
    pub said: String,
    /// What was to be read of it.
    pub of: Sought,
    /// What is wrong.
    pub why: Misread,
}

/// What a text was to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sought {
    /// A volume or a mass, its unit not known yet.
    Amount,
    /// A volume.
    Volume,
    /// A mass.
    Mass,
    /// A length of time.
    Duration,
    /// How long a cup was stirred.
    Stirring,
    /// How long a flow cup took to run out.
    Efflux,
    /// How long a mound stays visible.
    Mound,
    /// The low and the high mound of a layer.
    Window,
    /// How many parts.
    Parts,
    /// How many packs.
    Packs,
    /// A density.
    Density,
    /// The colour of a paint.
    Colour,
    /// A part of a whole.
    Share,
    /// The depth or width of a cup.
    Length,
    /// A wet film.
    Film,
    /// The diameter of a cell.
    Cell,
    /// A price.
    Price,
    /// A currency's sign.
    Currency,
    /// What is poured on.
    Panel,
    /// An instant.
    Instant,
    /// A day of the calendar.
    Date,
    /// A month of the calendar.
    Month,
    /// A year of the calendar.
    Year,
    /// The instant at which a clock stands.
    ClockInstant,
    /// The slope of a panel.
    Slope,
    /// A layer of a pour: its cup and how much.
    Layer,
    /// The number of a picture.
    Picture,
    /// The number of a plan.
    Plan,
    /// The path of a file, and not of a folder.
    File,
    /// Whether a film is wet or dry.
    WetOrDry,
    /// A flow cup.
    FlowCup,
    /// The four corners of a panel in a photo.
    Corners,
    /// How many labels a sheet has across and down.
    LabelCount,
    /// The sides of a label.
    LabelSize,
}

/// What is wrong with a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Misread {
    /// It holds nothing.
    Empty,
    /// It is longer than any such thing.
    TooLong,
    /// It does not begin with a number.
    NoNumber,
    /// Its number is negative.
    Negative,
    /// It can be read as thousands and as decimals.
    Thousands,
    /// Something follows its number.
    Trailing,
    /// Its number has no unit.
    NoUnit,
    /// Its unit, shortened and safe to show, is not known.
    UnknownUnit(String),
    /// It is not of the form of what was sought, or of none that is known.
    NotOne,
    /// It is nothing at all.
    Zero,
    /// It is under the least there is.
    TooSmall,
    /// It is over the most there is.
    TooLarge,
    /// It is outside the range of what was sought.
    OutOfRange,
    /// Its number has more digits than can be held.
    TooManyDigits,
    /// Its number has more decimals than are kept.
    TooManyDecimals,
    /// A bare number that may have been meant in per cent.
    MaybePerCent,
    /// A clock of no hours and minutes.
    NoClock,
    /// A clock of more than hours, minutes and seconds.
    TooManyColons,
    /// A clock with more than 59 minutes or seconds.
    Over59,
    /// A smaller unit before a larger one.
    UnitOrder,
    /// A unit that may be months or years, which differ in length.
    MonthsOrYears,
    /// A day without a time of day.
    NoTimeOfDay,
    /// A time of a day that cannot be read.
    UnknownDay,
    /// A day that does not exist.
    NoSuchDay,
    /// A time that the clock was put forward over.
    SkippedHour,
    /// A time that comes within hours, where one that is over was sought.
    StillToCome {
        /// When it was last.
        last: DateTime<FixedOffset>,
        /// Whether that was yesterday.
        yesterday: bool,
    },
    /// An instant beyond the calendar.
    BeyondCalendar,
    /// A shape that does not have its two sides.
    NotTwoSides,
    /// A round shape of more than one size.
    RoundTwoSides,
    /// A range without its low and its high end.
    NotTwoEnds,
    /// A range whose high end is not above its low one.
    NotRising,
    /// Points that are no pairs of numbers.
    NotPairs,
    /// Points that are not four.
    NotFour,
}

impl ParseProblem {
    /// A problem with `said`, which is shortened and made safe to show.
    #[must_use]
    pub fn new(said: &str, of: Sought, why: Misread) -> Self {
        let said = said_back(said);
        Self { said, of, why }
    }
}

/// The first characters of what was said, safe to show.
#[must_use]
pub fn said_back(said: &str) -> String {
    let mut head: String = said.chars().take(SAID_BACK).collect();
    if head.len() < said.len() {
        head.push('…');
    }
    inert(&head).into_owned()
}

/// The text without the blanks around it, refused where it is empty or too long to be one field.
///
/// # Errors
/// A [`ParseProblem`] of what was sought.
pub(super) fn one_field(text: &str, of: Sought) -> Result<&str, ParseProblem> {
    let text = text.trim();
    match text.len() {
        0 => Err(ParseProblem::new(text, of, Misread::Empty)),
        1..=LONGEST => Ok(text),
        _ => Err(ParseProblem::new(text, of, Misread::TooLong)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_said_is_shortened_and_inert() {
        let long = "\u{1b}[2J".repeat(1000);
        let problem = ParseProblem::new(&long, Sought::Amount, Misread::TooLong);
        assert_eq!(problem.said.chars().count(), SAID_BACK + 1);
        assert!(!problem.said.contains('\u{1b}'));
    }

    #[test]
    fn a_field_is_short_and_not_empty() {
        let why = |text: &str| one_field(text, Sought::Amount).unwrap_err().why;
        assert_eq!(one_field("  5 ml\t", Sought::Amount).unwrap(), "5 ml");
        assert_eq!(why(" \n "), Misread::Empty);
        assert_eq!(why(&"9".repeat(1_000_000)), Misread::TooLong);
    }
}
