//! A row of text, laid out letter by letter before it is drawn, so that what must fit can be measured.

use super::fonts::{Face, Fonts, Weight};
use krilla::text::{GlyphId, KrillaGlyph};
use rustybuzz::{Direction, UnicodeBuffer};
use unicode_bidi::{BidiInfo, Level};

/// A stretch of letters of one font and one direction.
struct Stretch {
    place: usize,
    text: String,
    glyphs: Vec<KrillaGlyph>,
    width: f32,
}

/// How far the ink of a row goes from its left end and its foot, at a size of 1: letters may hang below the foot, and begin
/// left of the end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reach {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) above: f64,
    pub(super) below: f64,
}

/// A row of text, of any scripts, from left to right as it is seen.
pub(super) struct Row {
    stretches: Vec<Stretch>,
}

impl Row {
    /// Lays a text out. A letter that no font has stands as its number in Unicode, never as a box.
    pub(super) fn new(fonts: &Fonts, text: &str, weight: Weight) -> Self {
        let spoken = spoken(fonts, text, weight);
        let seen = in_order(&spoken);
        let stretches = seen.iter().flat_map(|(text, level)| {
            let rtl = level.is_rtl();
            let mut parts = parted(fonts, text, weight);
            if rtl {
                parts.reverse();
            }
            parts
                .into_iter()
                .filter_map(move |(place, text)| shaped(fonts, place, text, rtl))
        });
        Self {
            stretches: stretches.collect(),
        }
    }

    /// How wide it is at a size of 1.
    pub(super) fn width(&self) -> f32 {
        self.stretches.iter().map(|one| one.width).sum()
    }

    /// How far its ink goes; nowhere where it has none.
    pub(super) fn reach(&self, fonts: &Fonts) -> Reach {
        let (mut x, mut reach): (f64, Option<Reach>) = (0.0, None);
        for stretch in &self.stretches {
            let Some(face) = fonts.face(stretch.place) else {
                continue;
            };
            let em = f64::from(face.font.units_per_em());
            for glyph in &stretch.glyphs {
                if let Some(inked) = inked(face, glyph, (x, em)) {
                    reach = Some(reach.map_or(inked, |reach| reach.with(inked)));
                }
                x += f64::from(glyph.x_advance);
            }
        }
        reach.unwrap_or(Reach {
            left: 0.0,
            right: 0.0,
            above: 0.0,
            below: 0.0,
        })
    }

    /// Draws it with its first letter's foot at a point, in the surface's own unit.
    pub(super) fn draw(
        &self,
        surface: &mut krilla::surface::Surface<'_>,
        fonts: &Fonts,
        at: (f32, f32),
        size: f32,
    ) {
        let mut x = at.0;
        for stretch in &self.stretches {
            if let Some(face) = fonts.face(stretch.place) {
                let start = krilla::geom::Point::from_xy(x, at.1);
                surface.draw_glyphs(
                    start,
                    &stretch.glyphs,
                    face.font.clone(),
                    &stretch.text,
                    size,
                    false,
                );
            }
            x += stretch.width * size;
        }
    }
}

impl Reach {
    /// So far that both lie within.
    const fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            right: self.right.max(other.right),
            above: self.above.max(other.above),
            below: self.below.max(other.below),
        }
    }
}

/// How far the ink of one letter goes whose place begins at `x`.
fn inked(face: &Face, glyph: &KrillaGlyph, (x, em): (f64, f64)) -> Option<Reach> {
    let id = u16::try_from(glyph.glyph_id.to_u32()).ok()?;
    let bounds = face
        .shaper
        .glyph_bounding_box(rustybuzz::ttf_parser::GlyphId(id))?;
    let across = |units: i16| x + f64::from(glyph.x_offset) + f64::from(units) / em;
    let up = |units: i16| f64::from(glyph.y_offset) + f64::from(units) / em;
    Some(Reach {
        left: across(bounds.x_min),
        right: across(bounds.x_max),
        above: up(bounds.y_max),
        below: -up(bounds.y_min),
    })
}

/// The text with every letter that no font has written out, and what cannot be seen left out.
fn spoken(fonts: &Fonts, text: &str, weight: Weight) -> String {
    let mut spoken = String::new();
    for letter in text.chars() {
        let blank = letter.is_whitespace() || letter.is_control();
        match letter {
            // Joiners and variants shape their neighbours and have no picture of their own.
            '\u{200c}' | '\u{200d}' => spoken.push(letter),
            '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' => {}
            '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{e0000}'..='\u{e0fff}' => {}
            _ if blank => spoken.push(' '),
            _ if fonts.place_of(letter, weight, None).is_some() => spoken.push(letter),
            _ => spoken.push_str(&format!("U+{:04X}", u32::from(letter))),
        }
    }
    spoken
}

/// The text in pieces as they are seen from left to right, each with its direction.
fn in_order(text: &str) -> Vec<(String, Level)> {
    let info = BidiInfo::new(text, None);
    let mut pieces = Vec::new();
    for paragraph in &info.paragraphs {
        let (levels, runs) = info.visual_runs(paragraph, paragraph.range.clone());
        pieces.extend(
            runs.into_iter()
                .map(|run| (text[run.clone()].to_owned(), levels[run.start])),
        );
    }
    pieces
}

/// The text in pieces of one font each.
fn parted(fonts: &Fonts, text: &str, weight: Weight) -> Vec<(usize, String)> {
    let mut parts: Vec<(usize, String)> = Vec::new();
    for letter in text.chars() {
        let before = parts.last().map(|(place, _)| *place);
        let joiner = matches!(letter, '\u{200c}' | '\u{200d}');
        let place = before
            .filter(|_| joiner)
            .or_else(|| fonts.place_of(letter, weight, before));
        match (place, parts.last_mut()) {
            (Some(place), Some((last, part))) if *last == place => part.push(letter),
            (Some(place), _) => parts.push((place, letter.to_string())),
            (None, _) => {}
        }
    }
    parts
}

fn shaped(fonts: &Fonts, place: usize, text: String, rtl: bool) -> Option<Stretch> {
    let face = fonts.face(place)?;
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(&text);
    buffer.guess_segment_properties();
    buffer.set_direction(if rtl {
        Direction::RightToLeft
    } else {
        Direction::LeftToRight
    });
    let shaped = rustybuzz::shape(&face.shaper, &[], buffer);
    let mut starts: Vec<usize> = shaped
        .glyph_infos()
        .iter()
        .map(|info| info.cluster as usize)
        .collect();
    starts.sort_unstable();
    let em = face.font.units_per_em();
    let glyphs: Vec<KrillaGlyph> = std::iter::zip(shaped.glyph_infos(), shaped.glyph_positions())
        .map(|(info, place)| {
            let start = info.cluster as usize;
            let end = starts
                .iter()
                .copied()
                .find(|other| *other > start)
                .unwrap_or(text.len());
            let share = |units: i32| units as f32 / em;
            KrillaGlyph::new(
                GlyphId::new(info.glyph_id),
                share(place.x_advance),
                share(place.x_offset),
                share(place.y_offset),
                share(place.y_advance),
                start..end,
                None,
            )
        })
        .collect();
    let width = glyphs.iter().map(|glyph| glyph.x_advance).sum();
    Some(Stretch {
        place,
        text,
        glyphs,
        width,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(text: &str) -> Row {
        Row::new(&Fonts::new(), text, Weight::Plain)
    }

    #[test]
    fn hebrew_within_latin_is_seen_from_the_right() {
        let row = row("a שלום b");
        let seen: Vec<&str> = row.stretches.iter().map(|one| one.text.trim()).collect();
        assert_eq!(seen, ["a", "שלום", "b"]);
        let starts: Vec<usize> = row.stretches[1]
            .glyphs
            .iter()
            .map(|one| one.text_range.start)
            .collect();
        assert!(
            starts.windows(2).all(|pair| pair[0] > pair[1]),
            "{starts:?}"
        );
    }

    #[test]
    fn a_letter_without_a_font_is_written_as_its_number() {
        assert_eq!(
            spoken(&Fonts::new(), "a\u{10FFFD}\u{202e}\nb", Weight::Plain),
            "aU+10FFFD b"
        );
    }

    // The outline of J in the bold reading face, by its own table (glyf): it hangs below the foot and begins left of it.
    #[test]
    fn ink_goes_below_the_foot_and_left_of_the_end() {
        let fonts = Fonts::new();
        let reach = |text| Row::new(&fonts, text, Weight::Strong).reach(&fonts);
        let (j, h) = (reach("J"), reach("H"));
        assert!(j.left < 0.0 && j.below > 0.1, "{j:?}");
        assert!(
            (h.above - 0.714).abs() < 1e-6 && h.below.abs() < 1e-6,
            "{h:?}"
        );
        let both = reach("HJ");
        assert_eq!((both.left, both.below), (h.left, j.below));
    }

    #[test]
    fn widths_add_up_whatever_the_script() {
        let (both, one, two) = (row("中文Ж"), row("中文"), row("Ж"));
        assert!((both.width() - one.width() - two.width()).abs() < 1e-4);
    }
}
