//! To print labels: how many lie on a sheet, how large they are, or off which roll they come.

use super::{Field, Hint, Typed, Wrong};
use crate::studio::{Lids, Limit, Refusal};
use crate::trade::amount::Measures;
use crate::trade::number::parse_alone;
use crate::trade::problem::{Misread, ParseProblem, Sought};
use crate::trade::units::{INCH, Millimetres};

/// More copies of one label are a slip of the finger.
const MOST_COPIES: u32 = 100;
/// The longest side of paper.
const LONGEST: Millimetres = Millimetres(2000.0);

/// A width and a height.
pub type Sides = (Millimetres, Millimetres);

/// Labels to be printed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelOrder {
    /// How many stand side by side, and how many below each other.
    pub count: (u32, u32),
    /// One label.
    pub label: Sides,
    /// From the paper's left and upper edge to the first label.
    pub margin: Sides,
    /// Between labels, across and down.
    pub gap: Sides,
    /// The width of a roll, and the height of its labels where that is said, in place of sheets.
    pub roll: Option<(Millimetres, Option<Millimetres>)>,
    /// Which place the first label takes, counted from 1 along the rows; earlier ones are used up already.
    pub from: u32,
    /// How many of each.
    pub copies: u32,
}

/// The fields of labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LabelField {
    /// Whose lids.
    Whose,
    /// How many a sheet has across and down.
    Count,
    /// One label's width and height.
    Label,
    /// From the paper's edges to the first label.
    Margin,
    /// Between labels.
    Gap,
    /// The place of the first label.
    From,
    /// The width of a roll, or of its labels with their height.
    Roll,
    /// How many of each.
    Copies,
}

impl Field for LabelField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Label(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Whose => "cups",
            Self::Count => "sheet",
            Self::Label => "label",
            Self::Margin => "margin",
            Self::Gap => "gap",
            Self::From => "first place",
            Self::Roll => "roll",
            Self::Copies => "copies",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::SuchAs(match self {
            Self::Whose => return Hint::Says("marks such as K7 A3; living; plan 3"),
            Self::From => return Hint::Says("1, or further on where the sheet was begun"),
            Self::Roll => return Hint::Says("62mm, or 62x29mm, in place of a sheet"),
            Self::Copies => "1",
            Self::Count => "3x8",
            Self::Label => "70x37mm",
            Self::Margin => "0x0mm",
            Self::Gap => "0mm",
        })
    }
}

impl LabelOrder {
    /// Reads what was typed; what was left out is a sheet of three by eight labels without margin or gap.
    ///
    /// # Errors
    /// The first field that cannot be read, and more copies than anyone wants.
    pub fn read(typed: &Typed<LabelField>) -> Result<Self, Wrong> {
        let sides = |field| typed.read(field, sides);
        let (none, usual) = (Millimetres::ZERO, (Millimetres(70.0), Millimetres(37.0)));
        Ok(Self {
            count: typed.read(LabelField::Count, count)?.unwrap_or((3, 8)),
            label: sides(LabelField::Label)?.unwrap_or(usual),
            margin: sides(LabelField::Margin)?.unwrap_or((none, none)),
            gap: sides(LabelField::Gap)?.unwrap_or((none, none)),
            from: typed.read(LabelField::From, place)?.unwrap_or(1),
            roll: typed.read(LabelField::Roll, roll)?,
            copies: typed.read(LabelField::Copies, copies)?.unwrap_or(1),
        })
    }
}

impl LabelField {
    /// Whose lids: those of some marks, of every living cup, or of a plan's cups.
    ///
    /// # Errors
    /// Where nothing is typed.
    pub fn whose(typed: &Typed<Self>) -> Result<Lids, Wrong> {
        let missing = Refusal::Needed(Self::Whose.label());
        typed.need(Self::Whose, missing, |text| Ok::<_, Refusal>(lids(text)))
    }
}

/// The word for every living cup.
const LIVING: &str = "living";

fn lids(text: &str) -> Lids {
    let words = text.split([' ', ',']).filter(|word| !word.is_empty());
    let words: Vec<&str> = words.collect();
    match words.as_slice() {
        [word] if word.eq_ignore_ascii_case(LIVING) => Lids::Living,
        [word, number] if word.eq_ignore_ascii_case("plan") => {
            number.parse().map_or_else(|_| marked(&words), Lids::Plan)
        }
        words => marked(words),
    }
}

fn marked(marks: &[&str]) -> Lids {
    Lids::Marked(marks.iter().map(|mark| (*mark).to_owned()).collect())
}

fn copies(text: &str) -> Result<u32, Refusal> {
    let copies = text.trim().parse().ok();
    let fits = copies.filter(|copies| (1..=MOST_COPIES).contains(copies));
    fits.ok_or(Refusal::Range(Limit::Copies))
}

/// Reads `5`; whether a sheet has that place is known with the sheet.
fn place(text: &str) -> Result<u32, ParseProblem> {
    let place = text.trim().parse();
    place.map_err(|_| ParseProblem::new(text, Sought::LabelCount, Misread::NotOne))
}

/// Reads `3x8`.
fn count(text: &str) -> Result<(u32, u32), ParseProblem> {
    let read = text.trim().to_lowercase();
    let (across, down) = read.split_once(CROSS).unwrap_or((&read, ""));
    match (across.trim().parse(), down.trim().parse()) {
        (Ok(across), Ok(down)) => Ok((across, down)),
        _ => Err(ParseProblem::new(text, Sought::LabelCount, Misread::NotOne)),
    }
}

/// What stands between two sides.
const CROSS: [char; 2] = ['x', '×'];

/// Reads the width of a roll, with or without the height of its labels.
fn roll(text: &str) -> Result<(Millimetres, Option<Millimetres>), ParseProblem> {
    let (width, height) = sides(text)?;
    let is_whole = text.to_lowercase().contains(CROSS);
    Ok((width, is_whole.then_some(height)))
}

/// Reads `70x37mm`, `2.6 x 1 in`; one number alone stands for both sides. A number without a unit is in millimetres.
fn sides(text: &str) -> Result<Sides, ParseProblem> {
    let refused = |why| ParseProblem::new(text, Sought::LabelSize, why);
    let read = text.trim().to_lowercase();
    let units = [("mm", 1.0), ("cm", 10.0), ("in", INCH.get())];
    let of = |(unit, each)| Some((read.strip_suffix(unit)?, each));
    let (numbers, each) = units.into_iter().find_map(of).unwrap_or((&read, 1.0));
    let (width, height) = numbers.split_once(CROSS).unwrap_or((numbers, numbers));
    let side = |text: &str| {
        let side = Millimetres(parse_alone(text, Sought::LabelSize)? * each);
        let fits = side >= Millimetres::ZERO && side <= LONGEST;
        fits.then_some(side)
            .ok_or_else(|| refused(Misread::TooLarge))
    };
    Ok((side(width)?, side(height)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_in_three_units() {
        let mm = |text: &str| sides(text).map(|(w, h)| (w.get(), h.get())).unwrap();
        assert_eq!(mm("70x37mm"), (70.0, 37.0));
        assert_eq!(mm(" 7 x 3,7 cm"), (70.0, 37.0));
        assert_eq!(mm("62"), (62.0, 62.0));
        assert!((mm("1x2in").1 - 50.8).abs() < 1e-9);
        for bad in [
            "",
            "x",
            "70x",
            "-1x3mm",
            "NaNxNaN",
            "infx3",
            "3x8furlongs",
            "1e9x3",
            "1,000x3mm",
        ] {
            assert!(sides(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_roll_has_a_width_and_may_have_a_height() {
        let width = Millimetres(62.0);
        assert_eq!(roll("62mm").unwrap(), (width, None));
        assert_eq!(roll("62x29").unwrap(), (width, Some(Millimetres(29.0))));
    }

    #[test]
    fn what_is_left_out_is_the_usual_sheet() {
        let order = LabelOrder::read(&Typed::default()).unwrap();
        assert_eq!((order.count, order.from, order.copies), ((3, 8), 1, 1));
        for copies in ["0", "101", "many"] {
            let typed = Typed::default().with(LabelField::Copies, copies);
            assert!(LabelOrder::read(&typed).is_err(), "{copies}");
        }
        let three = Typed::default().with(LabelField::Count, "3");
        assert!(LabelOrder::read(&three).is_err());
    }

    #[test]
    fn whose_lids_is_marks_the_living_or_a_plan() {
        let of = |text: &str| LabelField::whose(&Typed::default().with(LabelField::Whose, text));
        let marked =
            |marks: &[&str]| Lids::Marked(marks.iter().map(|&mark| mark.to_owned()).collect());
        assert_eq!(of("K7, A3").unwrap(), marked(&["K7", "A3"]));
        assert_eq!(of(" living ").unwrap(), Lids::Living);
        assert_eq!(of("plan 3").unwrap(), Lids::Plan(3));
        assert_eq!(of("plan").unwrap(), marked(&["plan"]));
        assert!(of("").is_err());
    }
}
