//! Big digits, three cells wide and five high, to be read from the other end of the bench.

/// The rows of one sign, the highest first; each bit a cell, the highest of three at the left.
const fn rows(sign: char) -> [u8; 5] {
    match sign {
        '0' => [7, 5, 5, 5, 7],
        '1' => [2, 6, 2, 2, 7],
        '2' => [7, 1, 7, 4, 7],
        '3' => [7, 1, 7, 1, 7],
        '4' => [5, 5, 7, 1, 1],
        '5' => [7, 4, 7, 1, 7],
        '6' => [7, 4, 7, 5, 7],
        '7' => [7, 1, 2, 2, 2],
        '8' => [7, 5, 7, 5, 7],
        '9' => [7, 5, 7, 1, 7],
        '.' => [0, 0, 0, 0, 2],
        ':' => [0, 2, 0, 2, 0],
        _ => [0; 5],
    }
}

/// A text of digits, dots and colons as five lines of full and empty cells, each cell two columns wide.
pub fn big(text: &str) -> [String; 5] {
    std::array::from_fn(|row| text.chars().map(|sign| cells(rows(sign)[row])).collect())
}

fn cells(bits: u8) -> String {
    let cell = |bit: u8| if bits & bit == 0 { "  " } else { "██" };
    [4, 2, 1].map(cell).concat() + "  "
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seven_has_a_bar_and_a_leg() {
        let lines = big("7");
        assert_eq!(lines[0], "██████  ");
        assert_eq!(lines[4], "  ██    ");
    }

    #[test]
    fn every_sign_is_as_wide_as_every_other() {
        for line in big("0123456789.:") {
            assert_eq!(line.chars().count(), 12 * 8);
        }
    }
}
