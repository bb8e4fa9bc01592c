//! Finding a line by what is typed: its mark or number, else a part of its name.

/// What a line is found by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Its mark or number.
    pub mark: String,
    /// Its name.
    pub name: String,
}

impl Label {
    /// A line with a mark or number, and a name.
    pub fn new(mark: impl ToString, name: impl Into<String>) -> Self {
        Self {
            mark: mark.to_string(),
            name: name.into(),
        }
    }
}

/// What is typed of a line, and the one that was chosen before.
#[derive(Debug, Clone, Default)]
pub struct Sought {
    /// What is typed.
    pub typed: String,
    /// What was chosen before.
    pub before: Option<Label>,
}

/// The line that fits what is typed best: one that has it as its mark, one whose mark begins so, one whose name begins
/// so, one whose name holds it; case does not count.
pub fn seek(typed: &str, labels: &[Label]) -> Option<usize> {
    Some(best(typed, labels)?.1)
}

/// The line whose mark or number only begins with what is typed, where that ends in a digit: another mark was meant.
pub fn only_begins(typed: &str, labels: &[Label]) -> Option<usize> {
    let (rank, place) = best(typed, labels)?;
    let is_mark = typed.trim().ends_with(|c: char| c.is_ascii_digit());
    (rank == 1 && is_mark).then_some(place)
}

fn best(typed: &str, labels: &[Label]) -> Option<(u8, usize)> {
    let typed = typed.trim().to_lowercase();
    if typed.is_empty() {
        return None;
    }
    let rank = |label: &Label| {
        let (mark, name) = (label.mark.to_lowercase(), label.name.to_lowercase());
        match () {
            () if mark == typed => Some(0),
            () if mark.starts_with(&typed) => Some(1),
            () if name.starts_with(&typed) => Some(2),
            () if name.contains(&typed) => Some(3),
            () => None,
        }
    };
    let ranked = labels.iter().enumerate();
    let ranked = ranked.filter_map(|(place, label)| Some((rank(label)?, place)));
    ranked.min()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels() -> Vec<Label> {
        let all = [
            ("K7", "River blue"),
            ("K7A", "Rust red"),
            ("B4", "Cell opener"),
            ("C3", "Bark"),
        ];
        all.map(|(mark, name)| Label::new(mark, name)).to_vec()
    }

    #[test]
    fn a_mark_wins_over_a_name_and_a_whole_one_over_one_that_begins_so() {
        let found = |typed| seek(typed, &labels());
        assert_eq!((found("b"), found("b4")), (Some(2), Some(2)));
        assert_eq!((found("k7"), found("k7a")), (Some(0), Some(1)));
        assert_eq!(found("red"), Some(1));
        assert_eq!((found(""), found("zz"), found("k79")), (None, None, None));
    }
}
