//! Words in letters that can be read from the other end of the bench, as large as there is room for.
//!
//! The shapes are those of the crate `font8x8`: eight by eight points, each half a cell high.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// The points of a letter, each way.
const POINTS: usize = 8;

/// The rows of a line of letters of the smallest size.
const ROWS: usize = POINTS / 2;

/// One line to be written large.
#[derive(Debug, Clone)]
pub struct Large {
    /// What it says; letters that have no large shape are shown small.
    words: String,
    /// How.
    style: Style,
}

impl Large {
    /// Words to be written large.
    pub fn new(words: &str, style: Style) -> Self {
        let words = words.to_owned();
        Self { words, style }
    }

    /// The largest size in a room so wide; nothing where it fits in none.
    fn widest(&self, width: usize) -> usize {
        let known = self.words.chars().all(|c| points(c).is_some());
        let cells = self.words.chars().count() * POINTS;
        match known && cells > 0 {
            true => width / cells,
            false => 0,
        }
    }

    fn drawn(&self, size: usize) -> Vec<Line<'static>> {
        let line = |words: String| Line::from(Span::styled(words, self.style));
        match size {
            0 => vec![line(self.words.clone())],
            size => rows(&self.words, size).into_iter().map(line).collect(),
        }
    }
}

/// Lines written as large as so many cells allow.
pub fn large(lines: &[Large], width: usize, height: usize) -> Vec<Line<'static>> {
    let widest: Vec<usize> = lines.iter().map(|one| one.widest(width)).collect();
    let sizes = |most: usize| widest.iter().map(move |size| most.min(*size));
    let high = |most: usize| sizes(most).map(rows_of).sum::<usize>();
    let top = widest.iter().copied().max().unwrap_or(0);
    let most = (0..=top).rev().find(|most| high(*most) <= height);
    let all = lines.iter().zip(sizes(most.unwrap_or(0)));
    all.flat_map(|(one, size)| one.drawn(size)).collect()
}

const fn rows_of(size: usize) -> usize {
    match size {
        0 => 1,
        size => ROWS * size,
    }
}

fn points(c: char) -> Option<[u8; POINTS]> {
    use font8x8::legacy::{BASIC_LEGACY, LATIN_LEGACY};
    let code = c as usize;
    let shape = match code {
        0x20..0x7f => BASIC_LEGACY.get(code),
        0xa0..0x100 => LATIN_LEGACY.get(code - 0xa0),
        _ => None,
    };
    shape.copied()
}

/// The rows of cells that letters of a size take, two points of that size in the height of each.
fn rows(words: &str, size: usize) -> Vec<String> {
    let letters: Vec<_> = words.chars().filter_map(points).collect();
    let row = |row: usize| {
        let (upper, lower) = (2 * row / size, (2 * row + 1) / size);
        let cells = letters.iter().flat_map(|letter| {
            (0..POINTS).map(move |x| (lit(letter, upper, x), lit(letter, lower, x)))
        });
        let cells = cells.map(|halves| cell(halves).repeat(size));
        cells.collect::<String>()
    };
    (0..rows_of(size)).map(row).collect()
}

/// The lowest bit of a row is its first point.
fn lit(letter: &[u8; POINTS], row: usize, x: usize) -> bool {
    letter.get(row).is_some_and(|bits| bits >> x & 1 == 1)
}

const fn cell(halves: (bool, bool)) -> &'static str {
    match halves {
        (true, true) => "█",
        (true, false) => "▀",
        (false, true) => "▄",
        (false, false) => " ",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(words: &[&str], width: usize, height: usize) -> Vec<String> {
        let lines: Vec<_> = words
            .iter()
            .map(|one| Large::new(one, Style::new()))
            .collect();
        let drawn = large(&lines, width, height).into_iter();
        drawn.map(|line| line.to_string()).collect()
    }

    #[test]
    fn an_l_stands_on_its_foot_at_each_size() {
        let small = shown(&["L"], 8, 4);
        assert_eq!(small.len(), 4);
        assert!(small.iter().all(|row| row.chars().count() == 8));
        // An L has more in its lowest row than in its highest, and begins at the left.
        let lit = |row: &String| row.chars().filter(|c| *c != ' ').count();
        assert!(lit(&small[3]) > lit(&small[0]), "{small:#?}");
        let twice = shown(&["L"], 16, 8);
        assert_eq!((twice.len(), twice[0].chars().count()), (8, 16));
        assert_eq!(twice.iter().map(lit).sum::<usize>() % 2, 0);
    }

    #[test]
    fn letters_fill_the_room_and_never_more() {
        for (width, height) in [(50, 13), (80, 18), (160, 44), (7, 3), (0, 0)] {
            let drawn = shown(&["K7", "blue", "120 ml"], width, height);
            assert!(drawn.len() <= height.max(3), "{width} x {height}");
            if width >= 48 {
                let widest = drawn.iter().map(|row| row.chars().count()).max();
                assert!(widest.unwrap() <= width && drawn.len() >= 12);
            }
        }
        assert!(shown(&["K7", "120 ml"], 160, 44).len() >= 28);
    }

    #[test]
    fn what_has_no_large_shape_is_written_small() {
        assert_eq!(shown(&["青"], 80, 20), ["青"]);
        assert_eq!(shown(&["cadmium orange"], 80, 20), ["cadmium orange"]);
    }
}
