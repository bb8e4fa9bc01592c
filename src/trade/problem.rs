//! Why something typed could not be read, said in one sentence with what to do next.

use super::text::inert;

/// The longest text, in bytes, that any reader here looks at; all of them read one short field.
const LONGEST: usize = 120;
/// How many characters of what was said are said back.
const SAID_BACK: usize = 40;

/// What could not be read, why, and what to type instead.
///
/// ```
/// use stillcup::trade::problem::ParseProblem;
/// let problem = ParseProblem::new("5", "has no unit", "say 5 ml or 5 g");
/// assert_eq!(problem.to_string(), "\"5\" has no unit (say 5 ml or 5 g)");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{said}\" {why} ({hint})")]
pub struct ParseProblem {
    /// What was typed, shortened, and safe to show.
    pub said: String,
    /// What is wrong, as the rest of a sentence that begins with `said`.
    pub why: String,
    /// What to do next.
    pub hint: String,
}

impl ParseProblem {
    /// A problem with `said`, which is shortened and made safe to show; so must be whatever of it
    /// stands in `why` (see [`said_back`]).
    #[must_use]
    pub fn new(said: &str, why: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            said: said_back(said),
            why: why.into(),
            hint: hint.into(),
        }
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
/// A [`ParseProblem`] with the given hint.
pub(super) fn one_field<'a>(text: &'a str, hint: &str) -> Result<&'a str, ParseProblem> {
    let text = text.trim();
    match text.len() {
        0 => Err(ParseProblem::new(text, "is empty", hint)),
        1..=LONGEST => Ok(text),
        _ => Err(ParseProblem::new(text, "is too long", hint)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_said_is_shortened_and_inert() {
        let problem = ParseProblem::new(&"\u{1b}[2J".repeat(1000), "is too long", "say less");
        assert_eq!(problem.said.chars().count(), SAID_BACK + 1);
        assert!(!problem.to_string().contains('\u{1b}'));
    }

    #[test]
    fn a_field_is_short_and_not_empty() {
        assert_eq!(one_field("  5 ml\t", "h").unwrap(), "5 ml");
        assert_eq!(one_field(" \n ", "h").unwrap_err().why, "is empty");
        let long = "9".repeat(1_000_000);
        assert_eq!(one_field(&long, "h").unwrap_err().why, "is too long");
    }
}
