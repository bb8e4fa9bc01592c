//! One line of typed text, edited by what the eye sees as one sign.

use unicode_segmentation::UnicodeSegmentation;

/// The longest text a field takes, in bytes; what is pasted beyond it is left out.
const LONGEST: usize = 2000;

/// A line of text with a place in it, counted in graphemes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Line {
    text: String,
    at: usize,
    /// Whether it still holds what was offered: the first character typed replaces it.
    offered: bool,
}

impl Line {
    /// A line that holds a proposal; typing replaces it, moving in it keeps it.
    pub fn offering(text: &str) -> Self {
        Self {
            at: text.graphemes(true).count(),
            text: text.to_owned(),
            offered: !text.is_empty(),
        }
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What stands before the place.
    pub fn before(&self) -> &str {
        &self.text[..self.byte(self.at)]
    }

    /// Whether it holds a proposal that was not touched.
    pub const fn is_offered(&self) -> bool {
        self.offered
    }

    /// Types a character.
    pub fn insert(&mut self, c: char) {
        if std::mem::take(&mut self.offered) {
            self.text.clear();
            self.at = 0;
        }
        if self.text.len() + c.len_utf8() > LONGEST {
            return;
        }
        let byte = self.byte(self.at);
        self.text.insert(byte, c);
        // A sign that joins the one before it does not make another.
        self.at = self.text[..byte + c.len_utf8()].graphemes(true).count();
    }

    /// Takes the sign before the place away.
    pub fn backspace(&mut self) {
        self.offered = false;
        if self.at > 0 {
            self.at -= 1;
            self.delete();
        }
    }

    /// Takes the sign at the place away.
    pub fn delete(&mut self) {
        self.offered = false;
        let (from, to) = (self.byte(self.at), self.byte(self.at + 1));
        self.text.replace_range(from..to, "");
    }

    /// Empties it.
    pub fn clear(&mut self) {
        *self = Self::default();
    }

    /// Goes one sign to the left.
    pub fn left(&mut self) {
        self.offered = false;
        self.at = self.at.saturating_sub(1);
    }

    /// Goes one sign to the right.
    pub fn right(&mut self) {
        self.offered = false;
        self.at = (self.at + 1).min(self.text.graphemes(true).count());
    }

    /// Goes to the start.
    pub fn home(&mut self) {
        self.offered = false;
        self.at = 0;
    }

    /// Goes to the end.
    pub fn end(&mut self) {
        self.offered = false;
        self.at = self.text.graphemes(true).count();
    }

    fn byte(&self, place: usize) -> usize {
        let mut places = self.text.grapheme_indices(true);
        places.nth(place).map_or(self.text.len(), |(byte, _)| byte)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(line: &mut Line, text: &str) {
        text.chars().for_each(|c| line.insert(c));
    }

    #[test]
    fn typing_replaces_what_was_offered_and_moving_keeps_it() {
        let mut line = Line::offering("120 ml");
        typed(&mut line, "80");
        assert_eq!(line.text(), "80");
        let mut line = Line::offering("120 ml");
        line.home();
        typed(&mut line, "2");
        assert_eq!(line.text(), "2120 ml");
    }

    #[test]
    fn one_backspace_takes_a_whole_sign_away() {
        let mut line = Line::default();
        typed(&mut line, "ae\u{301}👩‍🎨");
        line.backspace();
        assert_eq!(line.text(), "ae\u{301}");
        line.backspace();
        assert_eq!(line.text(), "a");
        line.left();
        line.delete();
        assert_eq!(line.text(), "");
    }

    #[test]
    fn it_takes_no_more_than_it_holds() {
        let mut line = Line::default();
        typed(&mut line, &"é".repeat(3000));
        assert_eq!(line.text().len(), 2000);
    }
}
