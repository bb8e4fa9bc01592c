//! The trade's words for a technique, and how its paint is split where the studio has not poured it three times.
//!
//! That a cup is turned over, wiped across or blown out is the trade's own way to speak (common practice, no source);
//! the shares are our own choice, no source. The film is the anchor's for all of them (`super::film`). From three
//! pours on the studio's own medians take over.

use super::film::Split;
use crate::trade::units::Share;

/// A technique that the trade has a word for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Technique {
    /// The word, as a plan says it.
    pub word: &'static str,
    /// How its paint is split.
    pub split: Split,
    /// What it is called in a painter's own words.
    said: &'static [&'static str],
}

const fn split(base: f64, colours: f64, activator: f64) -> Split {
    Split {
        base: Share(base),
        colours: Share(colours),
        activator: Share(activator),
    }
}

/// Every technique that is known.
pub const TECHNIQUES: &[Technique] = &[
    Technique {
        word: "swipe",
        split: split(0.60, 0.35, 0.05),
        said: &["swipe", "swiped", "swiping"],
    },
    Technique {
        word: "blow-out",
        split: split(0.70, 0.25, 0.05),
        said: &["blow out", "blowout", "blown", "blow", "blown out"],
    },
    Technique {
        word: "open cup",
        split: split(0.30, 0.70, 0.0),
        said: &["open cup", "bottomless cup"],
    },
    Technique {
        word: "flip cup",
        split: split(0.30, 0.70, 0.0),
        said: &[
            "flip cup",
            "flip",
            "dirty cup",
            "dirty pour",
            "dirty",
            "turned cup",
            "turned pour",
        ],
    },
    Technique {
        word: "ring",
        split: split(0.40, 0.60, 0.0),
        said: &["ring", "rings", "tree ring", "tree rings"],
    },
    Technique {
        word: "puddle",
        split: split(0.40, 0.60, 0.0),
        said: &["puddle", "puddles"],
    },
    Technique {
        word: "string pull",
        split: split(0.60, 0.40, 0.0),
        said: &["string pull", "string", "chain pull"],
    },
    Technique {
        word: "straight pour",
        split: split(0.30, 0.70, 0.0),
        said: &["straight pour", "straight"],
    },
];

/// What is taken where a technique has no known word: a base with colours and a little activator.
pub const COMMON: Split = TECHNIQUES[0].split;

/// The technique that a painter's own words name; `None` where they name none that is known.
#[must_use]
pub fn technique(way: &str) -> Option<&'static Technique> {
    let words = plain(way);
    let names = |one: &&Technique| {
        let mut said = one.said.iter();
        said.any(|said| words.contains(&format!(" {said} ")))
    };
    TECHNIQUES.iter().find(names)
}

/// The words in lower case, each with a blank on either side.
fn plain(way: &str) -> String {
    let parts = way.split(|c: char| !c.is_alphanumeric());
    let words: Vec<String> = parts
        .filter(|part| !part.is_empty())
        .map(str::to_lowercase)
        .collect();
    format!(" {} ", words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_painter_s_own_words_are_known_whole() {
        for (said, word) in [
            ("Flip cup, then tilted", Some("flip cup")),
            ("dirty pour", Some("flip cup")),
            ("Open-cup", Some("open cup")),
            ("tree-ring", Some("ring")),
            ("string pull", Some("string pull")),
            ("swiped twice", Some("swipe")),
            ("blow-out", Some("blow-out")),
            ("spring colours", None),
            ("", None),
        ] {
            assert_eq!(technique(said).map(|one| one.word), word, "{said}");
        }
    }

    #[test]
    fn every_split_is_a_whole_with_a_base_and_colours() {
        for one in TECHNIQUES {
            let split = one.split;
            let whole = split.base.0 + split.colours.0 + split.activator.0;
            assert!((whole - 1.0).abs() < 1e-12, "{}", one.word);
            assert!(split.base.0 > 0.0 && split.colours.0 > 0.0, "{}", one.word);
            assert_eq!(technique(one.word), Some(one));
        }
    }
}
