//! What a cost is asked of: a cup or a picture.

use crate::studio::Refusal;
use crate::studio::lookup::parse_mark;
use crate::trade::mark::Mark;

/// Of what a cost is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CostOf {
    /// The cup of a mark.
    Cup(Mark),
    /// The picture of a pour, by its number.
    Pour(i64),
}

impl CostOf {
    /// Reads a cup's mark or a pour's number: a mark holds a letter, a number does not.
    ///
    /// # Errors
    /// Neither.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        match text.trim().parse() {
            Ok(pour) => Ok(Self::Pour(pour)),
            Err(_) => parse_mark(text).map(Self::Cup),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_a_pour_and_what_holds_a_letter_a_cup() {
        assert_eq!(CostOf::read(" 12 ").unwrap(), CostOf::Pour(12));
        let cup = CostOf::read("k7").unwrap();
        assert_eq!(cup, CostOf::Cup(Mark::parse("K7").unwrap()));
        assert!(CostOf::read("").is_err() && CostOf::read("K 7 9").is_err());
    }
}
