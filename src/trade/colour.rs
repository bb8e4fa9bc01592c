//! The colour of a paint as a screen shows it: `#rrggbb` in sRGB, or one of a few plain words.
//!
//! What each word stands for is our own choice (no source); it is never more exact than the word.

use super::problem::{Misread, ParseProblem, Sought, one_field};
use std::fmt;

/// A colour in 8-bit sRGB: red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Colour(pub [u8; 3]);

/// The plain words, each with the colour it stands for.
pub const WORDS: [(&str, Colour); 26] = [
    ("white", Colour([0xf6, 0xf5, 0xf1])),
    ("cream", Colour([0xf3, 0xe6, 0xc4])),
    ("beige", Colour([0xd6, 0xc2, 0x9c])),
    ("yellow", Colour([0xf4, 0xd0, 0x18])),
    ("ochre", Colour([0xc4, 0x8c, 0x2a])),
    ("orange", Colour([0xee, 0x7a, 0x1c])),
    ("red", Colour([0xc8, 0x22, 0x26])),
    ("dark red", Colour([0x7a, 0x18, 0x22])),
    ("pink", Colour([0xee, 0x9c, 0xb4])),
    ("magenta", Colour([0xb8, 0x22, 0x78])),
    ("purple", Colour([0x6c, 0x2c, 0x84])),
    ("violet", Colour([0x4c, 0x3a, 0x9e])),
    ("light blue", Colour([0x92, 0xc0, 0xe6])),
    ("blue", Colour([0x1e, 0x5a, 0xb4])),
    ("dark blue", Colour([0x14, 0x2a, 0x60])),
    ("turquoise", Colour([0x1e, 0xa0, 0xa6])),
    ("light green", Colour([0x9c, 0xd0, 0x84])),
    ("green", Colour([0x2a, 0x8c, 0x44])),
    ("dark green", Colour([0x16, 0x4a, 0x30])),
    ("olive", Colour([0x72, 0x74, 0x2c])),
    ("brown", Colour([0x7c, 0x4a, 0x28])),
    ("dark brown", Colour([0x42, 0x2a, 0x1c])),
    ("light grey", Colour([0xc6, 0xc6, 0xc4])),
    ("grey", Colour([0x86, 0x88, 0x88])),
    ("dark grey", Colour([0x4a, 0x4c, 0x4e])),
    ("black", Colour([0x1a, 0x1a, 0x1c])),
];

/// What tape is sold in beside the plain words.
const TAPES: [(&str, Colour); 2] = [
    ("silver", Colour([0xbe, 0xbe, 0xc3])),
    ("gold", Colour([0xc8, 0xa5, 0x50])),
];

impl Colour {
    /// Reads `#1e5ab4`, whatever its case, or one of [`WORDS`]; `gray` is `grey`.
    ///
    /// ```
    /// use stillcup::trade::colour::Colour;
    /// assert_eq!(Colour::parse(" #1E5AB4 ").unwrap(), Colour::parse("Blue").unwrap());
    /// assert_eq!(Colour::parse("blue").unwrap().to_string(), "#1e5ab4");
    /// ```
    ///
    /// # Errors
    /// Neither a sign and six digits of sixteen nor a word there is.
    pub fn parse(text: &str) -> Result<Self, ParseProblem> {
        let said = one_field(text, Sought::Colour)?;
        let lower = said.to_lowercase().replace("gray", "grey");
        let word = lower.split_whitespace().collect::<Vec<_>>().join(" ");
        let named = WORDS.iter().find(|(name, _)| *name == word);
        let colour = named.map(|(_, colour)| *colour).or_else(|| digits(&lower));
        colour.ok_or_else(|| ParseProblem::new(said, Sought::Colour, Misread::NotOne))
    }

    /// The colour of a tape by its words: the whole of them, else the last that is a colour, as in `pale gold`. Tape is sold in
    /// silver and gold too (common practice, no source); one of another name is said and not shown.
    #[must_use]
    pub fn of_tape(words: &str) -> Option<Self> {
        let known = |word: &str| {
            let metal = TAPES
                .iter()
                .find(|(name, _)| name.eq_ignore_ascii_case(word));
            metal
                .map(|(_, colour)| *colour)
                .or_else(|| Self::parse(word).ok())
        };
        known(words.trim()).or_else(|| words.split_whitespace().rev().find_map(known))
    }

    /// All words, for a hint: `white, cream, ...`.
    #[must_use]
    pub fn words() -> String {
        WORDS.map(|(name, _)| name).join(", ")
    }
}

/// `#rrggbb`.
fn digits(text: &str) -> Option<Colour> {
    let digits = text.strip_prefix('#')?;
    let plain = digits.len() == 6 && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    let [_, red, green, blue] = u32::from_str_radix(digits, 16)
        .ok()
        .filter(|_| plain)?
        .to_be_bytes();
    Some(Colour([red, green, blue]))
}

impl serde::Serialize for Colour {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Colour {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        let unread = |problem: ParseProblem| serde::de::Error::custom(problem.said);
        Self::parse(&text).map_err(unread)
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [red, green, blue] = self.0;
        f.pad(&format!("#{red:02x}{green:02x}{blue:02x}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_no_colour_is_refused_and_none_is_guessed() {
        for text in [
            "", "#12345", "#1234567", "#12345g", "123456", "#+12345", "bluish", "#",
        ] {
            assert!(Colour::parse(text).is_err(), "{text}");
        }
        assert_eq!(Colour::parse("Light  GRAY").unwrap().to_string(), "#c6c6c4");
    }

    #[test]
    fn a_tape_is_of_the_colour_that_its_words_end_in() {
        let word = |word: &str| Colour::parse(word).ok();
        assert_eq!(Colour::of_tape("light blue"), word("light blue"));
        assert_eq!(Colour::of_tape("frosted Green"), word("green"));
        assert_eq!(Colour::of_tape("pale gold"), Some(TAPES[1].1));
        assert_eq!(Colour::of_tape("striped"), None);
    }

    #[test]
    fn every_word_is_another_colour() {
        for (at, (word, colour)) in WORDS.iter().enumerate() {
            assert_eq!(Colour::parse(word).unwrap(), *colour);
            assert!(WORDS[..at].iter().all(|(_, other)| other != colour));
        }
    }

    proptest! {
        #[test]
        fn what_is_shown_is_read_as_the_same(rgb: [u8; 3]) {
            let colour = Colour(rgb);
            prop_assert_eq!(Colour::parse(&colour.to_string()).unwrap(), colour);
        }
    }
}
