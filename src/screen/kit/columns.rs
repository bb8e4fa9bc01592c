//! Values over time as columns of eighths of a cell; what is only expected is drawn lighter, what is unknown is left out.

/// The eighths of a cell, from nothing to all of it.
const EIGHTHS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
/// That nothing was left.
const NOTHING: char = '_';
/// What is expected: whole cells alone, for it is no more exact.
const EXPECTED: char = '░';

/// One column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Column {
    /// It is not known.
    Unknown,
    /// So much there was.
    Was(f64),
    /// So much is expected.
    Expected(f64),
}

impl Column {
    /// Its value, where it has one.
    pub const fn value(self) -> Option<f64> {
        match self {
            Self::Unknown => None,
            Self::Was(value) | Self::Expected(value) => Some(value),
        }
    }

    /// What stands in its cell of a row, counted from the lowest; `top` is what all rows together stand for.
    fn sign(self, row: usize, rows: usize, top: f64) -> char {
        let share = self.value().unwrap_or(0.0) / top;
        let eighths = (share.clamp(0.0, 1.0) * (rows * 8) as f64).round() as usize;
        let here = eighths.saturating_sub(row * 8).min(8);
        match self {
            Self::Unknown => ' ',
            // What is there at all is seen.
            Self::Was(value) if row == 0 && value > 0.0 => EIGHTHS[here.max(1)],
            // Nothing is another thing than not known.
            Self::Was(0.0) if row == 0 => NOTHING,
            Self::Was(_) => EIGHTHS[here],
            Self::Expected(_) if here >= 4 => EXPECTED,
            Self::Expected(_) => ' ',
        }
    }
}

/// The columns in so many lines, the highest first.
pub fn lines(columns: &[Column], top: f64, rows: usize) -> Vec<String> {
    let line = |row: usize| columns.iter().map(|one| one.sign(row, rows, top)).collect();
    (0..rows).rev().map(line).collect()
}

/// The largest value there is; none where all are unknown or nothing.
pub fn top(columns: &[Column]) -> Option<f64> {
    let values = columns.iter().filter_map(|one| one.value());
    values
        .filter(|value| value.is_finite() && *value > 0.0)
        .reduce(f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_high_as_their_values() {
        let columns = [
            Column::Was(8.0),
            Column::Was(3.0),
            Column::Was(0.01),
            Column::Unknown,
            Column::Expected(4.0),
        ];
        assert_eq!(top(&columns), Some(8.0));
        // By hand: 8 fills both lines, 3 is 6 eighths of the lower, 4 the whole of it.
        assert_eq!(lines(&columns, 8.0, 2), ["█    ", "█▆▁ ░"]);
    }

    #[test]
    fn what_is_below_nothing_or_no_number_is_not_drawn_and_nothing_is_seen() {
        let columns = [Column::Was(-3.0), Column::Was(f64::NAN), Column::Was(0.0)];
        assert_eq!(top(&columns), None);
        assert_eq!(lines(&columns, 1.0, 1), ["  _"]);
    }
}
