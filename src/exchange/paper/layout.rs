//! Where labels lie on a sheet, or that they come off a roll: read, and checked against the paper.

use crate::trade::amount::Measures;
use crate::trade::problem::ParseProblem;
use crate::trade::units::Millimetres;

/// The least side of a label that can be read, and the most of a roll (ours, no source).
const SIDES: std::ops::RangeInclusive<f64> = 10.0..=600.0;
/// Paper is cut so closely at best (common practice, no source): so much may stand over.
const CUT: f64 = 0.5;
/// More labels lie on no sheet.
const MOST_ON_A_SHEET: u32 = 2000;

/// Width and height.
pub type Size = (Millimetres, Millimetres);

/// The paper of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stock {
    /// 210 x 297 mm (ISO 216).
    A4,
    /// 8.5 x 11 in.
    Letter,
}

impl Stock {
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

    /// Its size.
    #[must_use]
    pub const fn size(self) -> Size {
        match self {
            Self::A4 => (Millimetres(210.0), Millimetres(297.0)),
            Self::Letter => (Millimetres(215.9), Millimetres(279.4)),
        }
    }
}

/// Where labels go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Layout {
    /// Rows on sheets.
    Sheet(Sheet),
    /// One after the other off a roll.
    Roll(Size),
}

/// Labels in rows on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// The paper.
    pub stock: Stock,
    /// How many stand side by side, and how many below each other.
    pub count: (u32, u32),
    /// One label.
    pub label: Size,
    /// From the paper's left and upper edge to the first label.
    pub margin: Size,
    /// Between labels, across and down.
    pub gap: Size,
    /// Which place the first label takes, counted from 1 along the rows; earlier ones are used up already.
    pub from: u32,
}

impl Sheet {
    /// Checks that the labels lie on the paper.
    ///
    /// # Errors
    /// Labels that are too small to read, more than the paper holds, or a first place that is none.
    pub fn checked(self) -> Result<Self, ParseProblem> {
        let (across, down) = self.count;
        let said = format!("{across}x{down}");
        readable(self.label)?;
        let count = across.saturating_mul(down);
        if count == 0 || count > MOST_ON_A_SHEET {
            return Err(ParseProblem::new(
                &said,
                "is no sheet of labels",
                "such as 3x8: three across, eight down",
            ));
        }
        let paper = self.stock.size();
        let wide = reach(across, self.label.0, self.margin.0, self.gap.0);
        let high = reach(down, self.label.1, self.margin.1, self.gap.1);
        if wide > paper.0.get() + CUT || high > paper.1.get() + CUT {
            let why = format!(
                "labels need {wide:.1} x {high:.1} mm, the paper has {} x {} mm",
                paper.0.get(),
                paper.1.get()
            );
            return Err(ParseProblem::new(
                &said,
                &why,
                "check --sheet, --label, --margin, --gap and --paper",
            ));
        }
        if self.from == 0 || self.from > count {
            let why = format!("is no place on a sheet of {count}");
            return Err(ParseProblem::new(
                &self.from.to_string(),
                &why,
                "places are counted from 1 along the rows",
            ));
        }
        Ok(self)
    }

    /// The upper left corner of a place, counted from 0 along the rows.
    #[must_use]
    pub fn corner(&self, place: u32) -> Size {
        let (column, row) = (place % self.count.0, place / self.count.0);
        let at = |nth: u32, margin: Millimetres, side: Millimetres, gap: Millimetres| {
            margin + (side + gap) * f64::from(nth)
        };
        (
            at(column, self.margin.0, self.label.0, self.gap.0),
            at(row, self.margin.1, self.label.1, self.gap.1),
        )
    }

    /// How many labels a whole sheet holds.
    #[must_use]
    pub const fn holds(&self) -> u32 {
        self.count.0 * self.count.1
    }
}

fn reach(count: u32, side: Millimetres, margin: Millimetres, gap: Millimetres) -> f64 {
    let gaps = count.saturating_sub(1);
    margin.get() + side.get() * f64::from(count) + gap.get() * f64::from(gaps)
}

/// Checks a label's size.
///
/// # Errors
/// Where it is too small to be read, or larger than a roll.
pub fn readable(label: Size) -> Result<Size, ParseProblem> {
    let (w, h) = (label.0.get(), label.1.get());
    if SIDES.contains(&w) && SIDES.contains(&h) {
        return Ok(label);
    }
    let why = "is no size of a label: a side has 10 to 600 mm";
    Err(ParseProblem::new(
        &format!("{w}x{h} mm"),
        why,
        "such as 70x37mm",
    ))
}

/// Reads `3x8`.
///
/// # Errors
/// Where it is no two whole numbers.
pub fn parse_count(text: &str) -> Result<(u32, u32), ParseProblem> {
    let hint = "such as 3x8: three across, eight down";
    let read = text.trim().to_lowercase();
    let (across, down) = read.split_once(['x', '×']).unwrap_or((&read, ""));
    match (across.trim().parse(), down.trim().parse()) {
        (Ok(across), Ok(down)) => Ok((across, down)),
        _ => Err(ParseProblem::new(
            text,
            "is no number of labels across and down",
            hint,
        )),
    }
}

/// Reads `70x37mm`, `2.6 x 1 in`; one number alone stands for both sides. A number without a unit is in millimetres.
///
/// # Errors
/// Where there is no number, an unknown unit, or one below nothing or over 2 m.
pub fn parse_size(text: &str) -> Result<Size, ParseProblem> {
    let hint = "such as 70x37mm or 2.6x1in";
    let wrong = |why: &str| ParseProblem::new(text, why, hint);
    let read = text.trim().to_lowercase();
    let (number, unit) = match read.strip_suffix("mm") {
        Some(number) => (number, 1.0),
        None => match (read.strip_suffix("cm"), read.strip_suffix("in")) {
            (Some(number), _) => (number, 10.0),
            (_, Some(number)) => (number, 25.4),
            _ => (read.as_str(), 1.0),
        },
    };
    let (w, h) = number.split_once(['x', '×']).unwrap_or((number, number));
    let side = |text: &str| -> Result<Millimetres, ParseProblem> {
        let number: f64 = text
            .trim()
            .replace(',', ".")
            .parse()
            .map_err(|_| wrong("is no size"))?;
        let side = Millimetres(number * unit);
        let fits = side.is_finite() && (0.0..=2000.0).contains(&side.get());
        fits.then_some(side)
            .ok_or_else(|| wrong("is no size of paper: 0 to 2000 mm"))
    };
    Ok((side(w)?, side(h)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(count: (u32, u32), label: &str, from: u32) -> Sheet {
        Sheet {
            stock: Stock::A4,
            count,
            label: parse_size(label).unwrap(),
            margin: parse_size("0").unwrap(),
            gap: parse_size("0").unwrap(),
            from,
        }
    }

    #[test]
    fn sizes_are_read_in_three_units() {
        let mm = |text: &str| parse_size(text).map(|(w, h)| (w.get(), h.get())).unwrap();
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
            assert!(parse_size(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_sheet_that_does_not_lie_on_its_paper_is_refused() {
        assert!(sheet((3, 8), "70x37mm", 1).checked().is_ok());
        for (count, label, from) in [
            ((4, 8), "70x37mm", 1),
            ((3, 9), "70x37mm", 1),
            ((0, 8), "70x37mm", 1),
            ((4_000_000_000, 4_000_000_000), "70x37mm", 1),
            ((3, 8), "70x5mm", 1),
            ((3, 8), "70x37mm", 0),
            ((3, 8), "70x37mm", 25),
        ] {
            assert!(
                sheet(count, label, from).checked().is_err(),
                "{count:?} {label} {from}"
            );
        }
    }

    // By hand: place 5 (from 0) of three across is the third of the second row.
    #[test]
    fn places_run_along_the_rows() {
        let (x, y) = sheet((3, 8), "70x37mm", 1).corner(5);
        assert_eq!((x.get(), y.get()), (140.0, 37.0));
    }
}
