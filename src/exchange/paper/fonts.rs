//! The letters of every script, for paper.
//!
//! The fonts are free to ship (`assets/fonts/README.md`) and stand packed in the program; one is unpacked when a letter asks
//! for it. They are asked in order: the reading face, the face of the letter's script, the one of the Chinese
//! characters, and last a face of dots that has every letter of Unicode, so that none is shown as a box.

use flate2::read::GzDecoder;
use krilla::text::Font;
use rustybuzz::Face as Shaper;
use std::cell::{OnceCell, RefCell};
use std::collections::HashMap;
use std::io::Read;
use std::sync::OnceLock;

/// How heavy letters are. Only the reading face has both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Weight {
    Plain,
    Strong,
}

/// One font: its packed file, and the stretches of Unicode that it is asked for; all of it where there is none.
struct Packed {
    file: &'static [u8],
    stretches: &'static [(u32, u32)],
}

macro_rules! packed {
    ($($name:literal: [$(($from:literal, $to:literal)),*]),+ $(,)?) => {
        &[$(Packed {
            file: include_bytes!(concat!("../../../assets/fonts/", $name, ".gz")),
            stretches: &[$(($from, $to)),*],
        }),+]
    };
}

const STRONG: usize = 0;
const PLAIN: usize = 1;

const PACKED: &[Packed] = packed![
    "NotoSans-Bold.ttf": [],
    "NotoSans-Regular.ttf": [],
    "NotoSansArmenian-Regular.ttf": [(0x530, 0x58F), (0xFB13, 0xFB17)],
    "NotoSansHebrew-Regular.ttf": [(0x590, 0x5FF), (0xFB1D, 0xFB4F)],
    "NotoSansArabic-Regular.ttf": [(0x600, 0x6FF), (0x750, 0x77F), (0x8A0, 0x8FF), (0xFB50, 0xFDFF), (0xFE70, 0xFEFC)],
    "NotoSansDevanagari-Regular.ttf": [(0x900, 0x97F), (0x1CD0, 0x1CFF), (0xA8E0, 0xA8FF)],
    "NotoSansBengali-Regular.ttf": [(0x980, 0x9FF)],
    "NotoSansGurmukhi-Regular.ttf": [(0xA00, 0xA7F)],
    "NotoSansGujarati-Regular.ttf": [(0xA80, 0xAFF)],
    "NotoSansOriya-Regular.ttf": [(0xB00, 0xB7F)],
    "NotoSansTamil-Regular.ttf": [(0xB80, 0xBFF)],
    "NotoSansTelugu-Regular.ttf": [(0xC00, 0xC7F)],
    "NotoSansKannada-Regular.ttf": [(0xC80, 0xCFF)],
    "NotoSansMalayalam-Regular.ttf": [(0xD00, 0xD7F)],
    "NotoSansSinhala-Regular.ttf": [(0xD80, 0xDFF)],
    "NotoSansThai-Regular.ttf": [(0xE00, 0xE7F)],
    "NotoSansLao-Regular.ttf": [(0xE80, 0xEFF)],
    "NotoSansMyanmar-Regular.ttf": [(0x1000, 0x109F), (0xA9E0, 0xA9FF), (0xAA60, 0xAA7F)],
    "NotoSansGeorgian-Regular.ttf": [(0x10A0, 0x10FF), (0x1C90, 0x1CBF), (0x2D00, 0x2D2F)],
    "NotoSansEthiopic-Regular.ttf": [(0x1200, 0x139F), (0x2D80, 0x2DDF), (0xAB00, 0xAB2F)],
    "NotoSansCherokee-Regular.ttf": [(0x13A0, 0x13FF), (0xAB70, 0xABBF)],
    "NotoSansKhmer-Regular.ttf": [(0x1780, 0x17FF), (0x19E0, 0x19FF)],
    "DroidSansFallbackFull.ttf": [],
    "unifont.otf": [],
    "unifont_upper.otf": [],
];

/// Unpacked once for the whole run of the program.
static UNPACKED: [OnceLock<Vec<u8>>; PACKED.len()] = [const { OnceLock::new() }; PACKED.len()];

fn unpacked(place: usize) -> &'static [u8] {
    UNPACKED[place].get_or_init(|| {
        let mut font = Vec::new();
        // A font that does not unpack has no letters, and the next one is asked.
        drop(GzDecoder::new(PACKED[place].file).read_to_end(&mut font));
        font
    })
}

/// A font in use: what lays its letters in a row, and what draws them.
pub(super) struct Face {
    pub(super) shaper: Shaper<'static>,
    pub(super) font: Font,
}

impl Face {
    fn new(place: usize) -> Option<Self> {
        let file = unpacked(place);
        Some(Self {
            shaper: Shaper::from_slice(file, 0)?,
            font: Font::new(file.into(), 0)?,
        })
    }

    fn has(&self, letter: char) -> bool {
        self.shaper
            .glyph_index(letter)
            .is_some_and(|glyph| glyph.0 != 0)
    }
}

/// The fonts of one document, and how wide its words are.
pub(super) struct Fonts {
    faces: Vec<OnceCell<Option<Face>>>,
    widths: RefCell<HashMap<(String, Weight), f32>>,
}

impl Fonts {
    pub(super) fn new() -> Self {
        Self {
            faces: PACKED.iter().map(|_| OnceCell::new()).collect(),
            widths: RefCell::default(),
        }
    }

    /// How wide a word is at a size of 1, measured when it is first met.
    pub(super) fn width_once(
        &self,
        word: &str,
        weight: Weight,
        measure: impl FnOnce() -> f32,
    ) -> f32 {
        let key = (word.to_owned(), weight);
        let known = self.widths.borrow().get(&key).copied();
        known.unwrap_or_else(|| {
            let width = measure();
            self.widths.borrow_mut().insert(key, width);
            width
        })
    }

    /// A font by its place in the row.
    pub(super) fn face(&self, place: usize) -> Option<&Face> {
        self.faces[place].get_or_init(|| Face::new(place)).as_ref()
    }

    /// Which font has a letter; `None` where no font has it. A sign that belongs to no script stays with the letters
    /// before it, where their font has it too.
    pub(super) fn place_of(
        &self,
        letter: char,
        weight: Weight,
        before: Option<usize>,
    ) -> Option<usize> {
        let stays = |place: &usize| !letter.is_alphanumeric() && self.has(*place, letter);
        before.filter(stays).or_else(|| {
            let asked = (0..PACKED.len()).filter(|place| asks(*place, letter, weight));
            asked.into_iter().find(|place| self.has(*place, letter))
        })
    }

    fn has(&self, place: usize, letter: char) -> bool {
        self.face(place).is_some_and(|face| face.has(letter))
    }
}

fn asks(place: usize, letter: char, weight: Weight) -> bool {
    let right_weight = match weight {
        Weight::Strong => place != PLAIN,
        Weight::Plain => place != STRONG,
    };
    let stretches = PACKED[place].stretches;
    let within = |(from, to): &(u32, u32)| (*from..=*to).contains(&u32::from(letter));
    right_weight && (stretches.is_empty() || stretches.iter().any(within))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_font_unpacks_and_is_read() {
        let fonts = Fonts::new();
        for place in 0..PACKED.len() {
            assert!(fonts.face(place).is_some(), "font {place}");
        }
    }

    #[test]
    fn a_letter_of_every_script_has_a_font() {
        let fonts = Fonts::new();
        for letter in "AéßŁЖΩאعआঅਅઅଅஅఅಅഅඅกກကა አᎠក中あア한ẞ☀🎨".chars()
        {
            let place = fonts.place_of(letter, Weight::Strong, None);
            assert!(place.is_some(), "{letter}");
        }
    }
}
