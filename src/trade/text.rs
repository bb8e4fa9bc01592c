//! Makes text that came from outside (a file, an import, a paste) safe to show: nothing in it may
//! move the cursor, turn the writing round or hide.
//!
//! Sources: the control pictures block (Unicode, U+2400 to U+2426); the ranges are those of the
//! property Default_Ignorable_Code_Point (Unicode Character Database, DerivedCoreProperties.txt).

use std::borrow::Cow;
use std::fmt::Write;

/// Ranges shown by their number: C1 controls, default-ignorables (bidirectional controls,
/// zero-width signs, variation selectors, tags), and the three signs that break or annotate lines
/// without being seen.
const UNSEEN: [(char, char); 20] = [
    ('\u{80}', '\u{9f}'),
    ('\u{ad}', '\u{ad}'),
    ('\u{34f}', '\u{34f}'),
    ('\u{61c}', '\u{61c}'),
    ('\u{115f}', '\u{1160}'),
    ('\u{17b4}', '\u{17b5}'),
    ('\u{180b}', '\u{180f}'),
    ('\u{200b}', '\u{200f}'),
    ('\u{2028}', '\u{2029}'),
    ('\u{202a}', '\u{202e}'),
    ('\u{2060}', '\u{206f}'),
    ('\u{3164}', '\u{3164}'),
    ('\u{fe00}', '\u{fe0f}'),
    ('\u{feff}', '\u{feff}'),
    ('\u{ffa0}', '\u{ffa0}'),
    ('\u{fff0}', '\u{fff8}'),
    ('\u{fff9}', '\u{fffb}'),
    ('\u{1bca0}', '\u{1bca3}'),
    ('\u{1d173}', '\u{1d17a}'),
    ('\u{e0000}', '\u{e0fff}'),
];

/// The text with every control character and every sign that cannot be seen replaced by one that
/// can, on one line: U+001B becomes `␛`, U+202E becomes `⟨U+202E⟩`. All else stays as it is.
///
/// ```
/// assert_eq!(stillcup::trade::text::inert("teal\u{1b}[2J"), "teal␛[2J");
/// ```
#[must_use]
pub fn inert(text: &str) -> Cow<'_, str> {
    made_inert(text, false)
}

/// As [`inert`], but line ends stay: a line feed, alone or after a carriage return, remains a line
/// feed.
#[must_use]
pub fn inert_lines(text: &str) -> Cow<'_, str> {
    made_inert(text, true)
}

/// Whether a character must not reach a terminal as it is.
#[must_use]
pub fn is_live(c: char) -> bool {
    c < ' '
        || c == '\u{7f}'
        || UNSEEN
            .iter()
            .any(|&(first, last)| (first..=last).contains(&c))
}

fn made_inert(text: &str, keep_lines: bool) -> Cow<'_, str> {
    let stays = |c: char| !is_live(c) || (keep_lines && c == '\n');
    if text.chars().all(stays) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        if stays(c) {
            shown.push(c);
        } else if !(keep_lines && c == '\r' && rest.peek() == Some(&'\n')) {
            push_sign(&mut shown, c);
        }
    }
    Cow::Owned(shown)
}

fn push_sign(shown: &mut String, c: char) {
    let code = u32::from(c);
    match code {
        0..=0x1f => shown.extend(char::from_u32(0x2400 + code)),
        0x7f => shown.push('\u{2421}'),
        // Writing into a String cannot fail.
        _ => drop(write!(shown, "⟨U+{code:04X}⟩")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn live_characters_become_signs() {
        let table = [
            ("plain", "plain"),
            ("a\tb", "a␉b"),
            ("a\nb", "a␊b"),
            ("\0", "␀"),
            ("\u{7f}", "␡"),
            ("\u{1b}]0;x\u{7}", "␛]0;x␇"),
            ("\u{9b}31m", "⟨U+009B⟩31m"),
            ("a\u{202e}b", "a⟨U+202E⟩b"),
            ("a\u{200b}b", "a⟨U+200B⟩b"),
            ("\u{feff}a", "⟨U+FEFF⟩a"),
            ("\u{2028}", "⟨U+2028⟩"),
            ("\u{e0041}", "⟨U+E0041⟩"),
        ];
        for (said, shown) in table {
            assert_eq!(inert(said), shown, "{said:?}");
        }
    }

    #[test]
    fn wide_and_combining_text_is_lent_unchanged() {
        for said in ["青い海", "e\u{301}te\u{301}", "ÅÄÖ", "שלום", "🎨"] {
            assert!(matches!(inert(said), Cow::Borrowed(same) if same == said));
        }
    }

    #[test]
    fn line_ends_stay_when_asked() {
        assert_eq!(inert_lines("a\nb"), "a\nb");
        assert_eq!(inert_lines("a\r\nb\rc\u{1b}"), "a\nb␍c␛");
        assert_eq!(inert("a\r\nb"), "a␍␊b");
    }

    #[test]
    fn a_megabyte_of_escapes_is_made_inert() {
        let shown = inert(&"\u{1b}".repeat(1_000_000)).into_owned();
        assert_eq!(shown.chars().count(), 1_000_000);
        assert!(shown.chars().all(|c| c == '␛'));
    }

    proptest! {
        #[test]
        fn nothing_live_is_left_and_twice_is_once(said in any::<String>()) {
            let once = inert(&said).into_owned();
            prop_assert!(!once.chars().any(char::is_control));
            prop_assert_eq!(inert(&once), once.as_str());
            let lines = inert_lines(&said).into_owned();
            prop_assert!(!lines.chars().any(|c| c.is_control() && c != '\n'));
        }
    }
}
