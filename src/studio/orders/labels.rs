//! To print labels: how many lie on a sheet, how large they are, or off which roll they come.

use super::{Field, Hint, Typed, Wrong, wrong};
use crate::studio::{Limit, Refusal};
use crate::trade::amount::Measures;
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
    /// How many of each.
    pub copies: u32,
}

/// The fields of labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LabelField {
    /// How many a sheet has across and down.
    Count,
    /// One label's width and height.
    Label,
    /// From the paper's edges to the first label.
    Margin,
    /// Between labels.
    Gap,
    /// The width of a roll, or of its labels with their height.
    Roll,
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
            Self::Count => "sheet",
            Self::Label => "label",
            Self::Margin => "margin",
            Self::Gap => "gap",
            Self::Roll => "roll",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::SuchAs(match self {
            Self::Count => "3x8",
            Self::Label => "70x37mm",
            Self::Margin => "0x0mm",
            Self::Gap => "0mm",
            Self::Roll => "62mm",
        })
    }
}

impl LabelOrder {
    /// Reads what was typed; what was left out is a sheet of three by eight labels without margin or gap.
    ///
    /// # Errors
    /// The first field that cannot be read, and more copies than anyone wants.
    pub fn read(typed: &Typed<LabelField>, copies: u32) -> Result<Self, Wrong> {
        let sides = |field| typed.read(field, sides);
        let (none, usual) = (Millimetres::ZERO, (Millimetres(70.0), Millimetres(37.0)));
        if !(1..=MOST_COPIES).contains(&copies) {
            return Err(wrong(LabelField::Count, Refusal::Range(Limit::Copies)));
        }
        Ok(Self {
            count: typed.read(LabelField::Count, count)?.unwrap_or((3, 8)),
            label: sides(LabelField::Label)?.unwrap_or(usual),
            margin: sides(LabelField::Margin)?.unwrap_or((none, none)),
            gap: sides(LabelField::Gap)?.unwrap_or((none, none)),
            roll: typed.read(LabelField::Roll, roll)?,
            copies,
        })
    }
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
        let number = text.trim().replace(',', ".").parse::<f64>();
        let side = Millimetres(number.map_err(|_| refused(Misread::NotOne))? * each);
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
        let order = LabelOrder::read(&Typed::default(), 1).unwrap();
        assert_eq!(order.count, (3, 8));
        assert!(LabelOrder::read(&Typed::default(), 0).is_err());
        let three = Typed::default().with(LabelField::Count, "3");
        assert!(LabelOrder::read(&three, 1).is_err());
    }
}
