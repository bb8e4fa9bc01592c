//! Where labels lie on a sheet, or that they come off a roll, checked against the paper.

use crate::studio::LabelFault;
use crate::studio::orders::Sides as Size;
use crate::trade::paper::PaperSize;
use crate::trade::units::Millimetres;

/// The least side of a label that can be read, and the most of a roll (ours, no source).
const SIDES: std::ops::RangeInclusive<f64> = 10.0..=600.0;
/// Paper is cut so closely at best (common practice, no source): so much may stand over.
const CUT: f64 = 0.5;
/// More labels lie on no sheet.
const MOST_ON_A_SHEET: u32 = 2000;

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
    pub paper: PaperSize,
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
    pub fn checked(self) -> Result<Self, LabelFault> {
        let (across, down) = self.count;
        readable(self.label)?;
        let count = across.saturating_mul(down);
        if count == 0 || count > MOST_ON_A_SHEET {
            return Err(LabelFault::Count(across, down));
        }
        let paper = self.paper.sides();
        let wide = reach(across, self.label.0, self.margin.0, self.gap.0);
        let high = reach(down, self.label.1, self.margin.1, self.gap.1);
        if wide > paper.0.get() + CUT || high > paper.1.get() + CUT {
            return Err(LabelFault::Paper {
                count: (across, down),
                needs: (wide, high),
                has: (paper.0.get(), paper.1.get()),
            });
        }
        if self.from == 0 || self.from > count {
            return Err(LabelFault::Place(self.from, count));
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
pub fn readable(label: Size) -> Result<Size, LabelFault> {
    let (w, h) = (label.0.get(), label.1.get());
    if SIDES.contains(&w) && SIDES.contains(&h) {
        return Ok(label);
    }
    Err(LabelFault::Size(w, h))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(count: (u32, u32), label: (f64, f64), from: u32) -> Sheet {
        let none = (Millimetres::ZERO, Millimetres::ZERO);
        Sheet {
            paper: PaperSize::A4,
            count,
            label: (Millimetres(label.0), Millimetres(label.1)),
            margin: none,
            gap: none,
            from,
        }
    }

    #[test]
    fn a_sheet_that_does_not_lie_on_its_paper_is_refused() {
        assert!(sheet((3, 8), (70.0, 37.0), 1).checked().is_ok());
        for (count, label, from) in [
            ((4, 8), (70.0, 37.0), 1),
            ((3, 9), (70.0, 37.0), 1),
            ((0, 8), (70.0, 37.0), 1),
            ((4_000_000_000, 4_000_000_000), (70.0, 37.0), 1),
            ((3, 8), (70.0, 5.0), 1),
            ((3, 8), (70.0, 37.0), 0),
            ((3, 8), (70.0, 37.0), 25),
        ] {
            assert!(
                sheet(count, label, from).checked().is_err(),
                "{count:?} {label:?} {from}"
            );
        }
    }

    // By hand: place 5 (from 0) of three across is the third of the second row.
    #[test]
    fn places_run_along_the_rows() {
        let (x, y) = sheet((3, 8), (70.0, 37.0), 1).corner(5);
        assert_eq!((x.get(), y.get()), (140.0, 37.0));
    }
}
