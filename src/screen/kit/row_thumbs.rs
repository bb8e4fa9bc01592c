//! Thumbnails so small that they stand in a row of a list: decoded on a thread, a few at a time, those nearest to the hand
//! first, and kept while their photos stay the same.

use crate::exchange::photo::opened_thumbnail;
use crate::numbers::cells::Pixels;
use crate::screen::kit::later::Later;
use crate::screen::kit::picture::{Pictures, fitted, for_area, resized};
use crate::studio::{Answer, Studio};
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Span;
use std::collections::{HashMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};

/// So many are decoded at once.
const BATCH: usize = 24;
/// Rows to each side of the chosen one that may be in sight.
const NEAR: usize = 50;
/// More are not held.
const HELD: usize = 1000;
/// Pixels across that are held of one.
const ACROSS: usize = 24;

/// One as it was decoded, and a number for what it was decoded from.
#[derive(Debug)]
struct Kept {
    of: u64,
    pixels: Option<Pixels>,
}

/// Those that were decoded, by the pour's number.
#[derive(Debug, Default)]
pub struct RowThumbs {
    kept: HashMap<i64, Kept>,
    /// Pours whose photo is known to be the one that was decoded.
    current: HashSet<i64>,
    later: Option<Later<Vec<(i64, Kept)>>>,
}

/// The places of rows that may be in sight around a chosen one, the nearest first.
fn in_sight(chosen: usize, count: usize) -> Vec<usize> {
    let from = chosen.saturating_sub(NEAR);
    let mut places: Vec<usize> = (from..count.min(chosen + NEAR + 1)).collect();
    places.sort_by_key(|at| at.abs_diff(chosen));
    places
}

/// The pours of some rows that may be in sight, the nearest to the chosen one first.
pub fn near<T>(rows: &[T], chosen: usize, pour: impl Fn(&T) -> i64) -> Vec<i64> {
    let places = in_sight(chosen, rows.len()).into_iter();
    places.map(|at| pour(&rows[at])).collect()
}

impl RowThumbs {
    /// Whether some of these pours' are still to come.
    pub fn lacks(&self, pours: &[i64]) -> bool {
        self.later.is_some() || pours.iter().any(|pour| !self.current.contains(pour))
    }

    /// Their photos may be others now.
    pub fn forget(&mut self) {
        self.current.clear();
    }

    /// Takes those that are decoded, and begins with the next.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn fetch(&mut self, studio: &Studio, pours: &[i64], pictures: Pictures) -> Answer<()> {
        if pictures == Pictures::Words {
            self.current.extend(pours);
            return Ok(());
        }
        if !self.is_free() {
            return Ok(());
        }
        if self.kept.len() > HELD {
            self.kept.clear();
            self.current.clear();
        }
        let unread = pours.iter().filter(|pour| !self.current.contains(pour));
        let mut texts = Vec::new();
        for &pour in unread.take(BATCH) {
            texts.push((pour, studio.thumbnail(pour)?));
        }
        self.current.extend(texts.iter().map(|one| one.0));
        texts.retain(|(pour, text)| self.kept.get(pour).is_none_or(|one| one.of != hash(text)));
        if !texts.is_empty() {
            self.later = Later::begin(move |_| texts.into_iter().map(decoded).collect());
        }
        Ok(())
    }

    /// Whether nothing is being decoded; takes what was.
    fn is_free(&mut self) -> bool {
        let Some(later) = &self.later else {
            return true;
        };
        match later.result() {
            Ok(None) => return false,
            Ok(Some(new)) => self.kept.extend(new),
            Err(_) => {}
        }
        self.later = None;
        true
    }

    /// Whether any is there.
    pub fn any(&self) -> bool {
        self.kept.values().any(|one| one.pixels.is_some())
    }

    /// A pour's in half blocks, so many cells wide and high, a line of spans each; blank where there is none.
    pub fn spans(
        &self,
        pour: i64,
        (width, height): (u16, u16),
        pictures: Pictures,
    ) -> Vec<Vec<Span<'static>>> {
        let pixels = self.kept.get(&pour).and_then(|one| one.pixels.as_ref());
        let area = Rect::new(0, 0, width, height);
        let small = pixels.map(|pixels| for_area(pixels, fitted(pixels, area)));
        let blank = || Span::raw(" ");
        (0..usize::from(height))
            .map(|row| {
                let cell = |x: usize| {
                    let small = small.as_ref().filter(|small| x < small.width)?;
                    let colour = |y: usize| {
                        let at = 3 * (y * small.width + x);
                        let rgb = small.rgb.get(at..at + 3)?;
                        pictures.colour([rgb[0], rgb[1], rgb[2]])
                    };
                    let style = Style::new().fg(colour(2 * row)?).bg(colour(2 * row + 1)?);
                    Some(Span::styled("▀", style))
                };
                (0..usize::from(width))
                    .map(|x| cell(x).unwrap_or_else(blank))
                    .collect()
            })
            .collect()
    }
}

fn hash(text: &Option<String>) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}

fn decoded((pour, text): (i64, Option<String>)) -> (i64, Kept) {
    let small = |pixels: Pixels| {
        let width = ACROSS.min(pixels.width);
        let height = (pixels.height * width / pixels.width.max(1)).max(1);
        resized(&pixels, width, height)
    };
    let pixels = text.as_deref().and_then(opened_thumbnail).map(small);
    let of = hash(&text);
    (pour, Kept { of, pixels })
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::style::Color;

    #[test]
    fn of_a_thousand_rows_only_those_around_the_hand_are_asked_for() {
        let rows: Vec<i64> = (0..1000).collect();
        let asked = near(&rows, 500, |row| *row);
        assert_eq!(asked.len(), 2 * NEAR + 1);
        assert_eq!(asked[0], 500);
        assert_eq!(near(&rows, 0, |row| *row).len(), NEAR + 1);
        assert!(near(&[], 0, |row: &i64| *row).is_empty());
    }

    #[test]
    fn a_row_shows_its_picture_s_colours_or_nothing() {
        let red_over_blue = Pixels {
            width: 2,
            height: 2,
            rgb: [[200, 0, 0], [200, 0, 0], [0, 0, 200], [0, 0, 200]].concat(),
        };
        let mut thumbs = RowThumbs::default();
        let kept = Kept {
            of: 0,
            pixels: Some(red_over_blue),
        };
        thumbs.kept.insert(7, kept);
        let lines = thumbs.spans(7, (3, 1), Pictures::Blocks);
        let shown: String = lines[0].iter().map(|span| span.content.as_ref()).collect();
        assert_eq!(shown, "▀▀ ");
        assert_eq!(lines[0][0].style.fg, Some(Color::Rgb(200, 0, 0)));
        assert_eq!(lines[0][0].style.bg, Some(Color::Rgb(0, 0, 200)));
        let none = thumbs.spans(8, (3, 2), Pictures::Blocks);
        assert!(none.iter().flatten().all(|span| span.content == " "));
        assert_eq!(none.len(), 2);
    }
}
