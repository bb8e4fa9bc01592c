//! Pictures in cells: two pixels a cell, one above the other, in any colour or in 256.

use crate::exchange::terminal_facts;
use crate::numbers::cells::Pixels;
use crate::screen::kit::graphics::Kind;
use crate::screen::kit::look::Look;
use crate::studio::Colours;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Color;

/// How pictures are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pictures {
    /// Not at all: what is known of them is said in words.
    Words,
    /// In half blocks of 256 colours.
    Blocks256,
    /// In half blocks of any colour.
    Blocks,
    /// In the terminal's own pixels; a cell is so many of them wide and high.
    Pixels(Kind, (u16, u16)),
}

/// Terminals by what `TERM` or `TERM_PROGRAM` says, that show pixels.
const KNOWN: [(&str, Kind); 7] = [
    ("kitty", Kind::Kitty),
    ("ghostty", Kind::Kitty),
    ("foot", Kind::Sixel),
    ("mlterm", Kind::Sixel),
    ("sixel", Kind::Sixel),
    ("iterm.app", Kind::Inline),
    ("wezterm", Kind::Inline),
];

impl Pictures {
    /// As the environment says: words where no colours are wanted, pixels where the terminal is known to show them and is not
    /// inside another that shows several, any colour where that is told, 256 where the terminal's name tells it. The terminal
    /// itself is never asked: where nobody answers, that would be waited for. `cell` is a cell's size in pixels.
    pub fn told(
        look: Look,
        cell: Option<(u16, u16)>,
        variable: impl Fn(&str) -> Option<String>,
    ) -> Self {
        let blocks = Self::in_blocks(look, &variable);
        let set = |name: &str| variable(name).is_some_and(|value| !value.is_empty());
        let term = variable("TERM").unwrap_or_default().to_lowercase();
        let inside = ["TMUX", "STY", "ZELLIJ"].into_iter().any(set)
            || ["tmux", "screen"].iter().any(|name| term.starts_with(name));
        if blocks == Self::Words || inside {
            return blocks;
        }
        let program = variable("TERM_PROGRAM").unwrap_or_default().to_lowercase();
        let mut known = KNOWN.iter();
        let known = known.find(|(name, _)| term.contains(name) || program == *name);
        match (known, cell) {
            (Some((_, kind)), Some(cell)) => Self::Pixels(*kind, cell),
            _ => blocks,
        }
    }

    fn in_blocks(look: Look, variable: &impl Fn(&str) -> Option<String>) -> Self {
        let many = terminal_facts(variable).colours == Colours::Many;
        match look {
            Look::Plain => Self::Words,
            Look::Full => Self::Blocks,
            Look::Sixteen | Look::SixteenOnLight if many => Self::Blocks256,
            Look::Sixteen | Look::SixteenOnLight => Self::Words,
        }
    }

    /// The same in no more than half blocks: what moves at each key is drawn so.
    pub const fn blocks(self) -> Self {
        match self {
            Self::Pixels(..) => Self::Blocks,
            other => other,
        }
    }

    /// The same as the studio's setting has it: `words` or `blocks`.
    pub fn set(self, setting: Option<&str>) -> Self {
        match (setting, self) {
            (Some("words"), _) => Self::Words,
            (Some("blocks"), _) => self.blocks(),
            _ => self,
        }
    }

    /// A colour as it is shown; none where none are.
    pub fn colour(self, rgb: [u8; 3]) -> Option<Color> {
        match self {
            Self::Words => None,
            Self::Blocks256 => Some(Color::Indexed(indexed(rgb))),
            Self::Blocks | Self::Pixels(..) => Some(Color::Rgb(rgb[0], rgb[1], rgb[2])),
        }
    }
}

/// The nearest of the 6 x 6 x 6 colours and 24 greys that terminals of 256 colours have (as xterm's own table has them).
fn indexed(rgb: [u8; 3]) -> u8 {
    const STEPS: [u8; 6] = [0, 95, 135, 175, 215, 255];
    let apart = |a: [u8; 3]| -> u32 {
        (0..3)
            .map(|k| u32::from(a[k].abs_diff(rgb[k])).pow(2))
            .sum()
    };
    let near = |value: u8| {
        let steps = 0..STEPS.len();
        steps
            .min_by_key(|&at| STEPS[at].abs_diff(value))
            .unwrap_or(0)
    };
    let places = rgb.map(near);
    let cube = places.map(|at| STEPS[at]);
    let mean = rgb.iter().map(|&one| u32::from(one)).sum::<u32>() / 3;
    let grey = ((mean.saturating_sub(3)) / 10).min(23) as u8;
    let shade = 8 + 10 * grey;
    match apart([shade; 3]) < apart(cube) {
        true => 232 + grey,
        false => 16 + 36 * places[0] as u8 + 6 * places[1] as u8 + places[2] as u8,
    }
}

/// The largest area, at the top left of another, that keeps a picture's shape: a cell is twice as high as wide.
pub fn fitted(picture: &Pixels, within: Rect) -> Rect {
    if picture.width == 0 || picture.height == 0 {
        return Rect::new(within.x, within.y, 0, 0);
    }
    let (width, height) = (f64::from(within.width), 2.0 * f64::from(within.height));
    let scale = (width / picture.width as f64).min(height / picture.height as f64);
    let cells = |pixels: usize, each: f64, most: u16| {
        ((pixels as f64 * scale / each).round() as u16).clamp(1, most.max(1))
    };
    Rect {
        width: cells(picture.width, 1.0, within.width),
        height: cells(picture.height, 2.0, within.height),
        ..within
    }
    .intersection(within)
}

/// A picture as large as the pixels of an area: the mean of what each of them covers.
pub fn for_area(picture: &Pixels, area: Rect) -> Pixels {
    resized(picture, area.width.into(), 2 * usize::from(area.height))
}

/// A picture of another size: each pixel the mean of what it covers.
pub fn resized(picture: &Pixels, width: usize, height: usize) -> Pixels {
    let edges = |at: usize, of: usize, all: usize| {
        let from = at * all / of;
        from..((at + 1) * all / of).max(from + 1).min(all.max(1))
    };
    let mut rgb = Vec::with_capacity(3 * width * height);
    for y in 0..height {
        let rows = edges(y, height, picture.height);
        for x in 0..width {
            rgb.extend(mean(picture, edges(x, width, picture.width), rows.clone()));
        }
    }
    Pixels { width, height, rgb }
}

fn mean(
    picture: &Pixels,
    columns: std::ops::Range<usize>,
    rows: std::ops::Range<usize>,
) -> [u8; 3] {
    let count = (columns.len() * rows.len()).max(1) as u64;
    let mut sum = [0_u64; 3];
    for y in rows {
        let from = 3 * (y * picture.width + columns.start);
        let row = picture
            .rgb
            .get(from..from + 3 * columns.len())
            .unwrap_or_default();
        for pixel in row.chunks_exact(3) {
            (0..3).for_each(|k| sum[k] += u64::from(pixel[k]));
        }
    }
    sum.map(|one| (one / count) as u8)
}

/// Draws a picture that is as large as the area's pixels.
pub fn draw(small: &Pixels, pictures: Pictures, area: Rect, buffer: &mut Buffer) {
    let pixel = |x: usize, y: usize| {
        let at = 3 * (y * small.width + x);
        let rgb = small.rgb.get(at..at + 3)?;
        pictures.colour([rgb[0], rgb[1], rgb[2]])
    };
    for row in 0..area.height {
        for column in 0..area.width {
            let (x, y) = (usize::from(column), 2 * usize::from(row));
            let cell = buffer.cell_mut((area.x + column, area.y + row));
            if let (Some(cell), Some(top), Some(low)) = (cell, pixel(x, y), pixel(x, y + 1)) {
                cell.set_symbol("▀").set_fg(top).set_bg(low);
            }
        }
    }
}

/// A straight line between two places in a picture's pixels.
pub fn line(picture: &mut Pixels, from: (f64, f64), to: (f64, f64), colour: [u8; 3]) {
    let steps = (to.0 - from.0)
        .abs()
        .max((to.1 - from.1).abs())
        .ceil()
        .clamp(1.0, 1e5);
    for step in 0..=steps as u32 {
        let share = f64::from(step) / steps;
        let at = (
            from.0 + (to.0 - from.0) * share,
            from.1 + (to.1 - from.1) * share,
        );
        dot(picture, at, colour);
    }
}

/// One pixel; nothing where it lies outside.
pub fn dot(picture: &mut Pixels, at: (f64, f64), colour: [u8; 3]) {
    let inside = |at: f64, of: usize| (at >= 0.0 && at < of as f64).then_some(at as usize);
    let place = inside(at.0, picture.width).zip(inside(at.1, picture.height));
    let Some((x, y)) = place else { return };
    let at = 3 * (y * picture.width + x);
    if let Some(rgb) = picture.rgb.get_mut(at..at + 3) {
        rgb.copy_from_slice(&colour);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn halves() -> Pixels {
        let row: Vec<u8> = [[250, 0, 0], [250, 0, 0], [0, 0, 250], [0, 0, 250]].concat();
        Pixels {
            width: 4,
            height: 4,
            rgb: row.repeat(4),
        }
    }

    #[test]
    fn a_picture_keeps_its_shape_and_its_colours() {
        let within = Rect::new(3, 1, 40, 10);
        let area = fitted(&halves(), within);
        assert_eq!((area.x, area.y, area.width, area.height), (3, 1, 20, 10));
        let small = for_area(&halves(), Rect::new(0, 0, 2, 1));
        assert_eq!(
            small.rgb,
            [[250, 0, 0], [0, 0, 250], [250, 0, 0], [0, 0, 250]].concat()
        );
        let mut buffer = Buffer::empty(Rect::new(0, 0, 2, 1));
        draw(&small, Pictures::Blocks, Rect::new(0, 0, 2, 1), &mut buffer);
        assert_eq!(buffer[(1, 0)].symbol(), "▀");
        assert_eq!(buffer[(1, 0)].fg, Color::Rgb(0, 0, 250));
        draw(
            &small,
            Pictures::Blocks256,
            Rect::new(0, 0, 2, 1),
            &mut buffer,
        );
        assert_eq!(buffer[(0, 0)].bg, Color::Indexed(196));
    }

    /// xterm's table: 16 black, 231 white, 196 red, 244 the grey of 128.
    #[test]
    fn the_nearest_of_256_colours() {
        let table = [
            ([0, 0, 0], 16),
            ([255, 255, 255], 231),
            ([255, 0, 0], 196),
            ([128, 128, 128], 244),
        ];
        for (rgb, want) in table {
            assert_eq!(indexed(rgb), want, "{rgb:?}");
        }
    }

    #[test]
    fn no_area_and_no_picture_break_nothing() {
        let none = Pixels {
            width: 0,
            height: 0,
            rgb: Vec::new(),
        };
        assert_eq!(fitted(&none, Rect::new(0, 0, 9, 9)).area(), 0);
        assert_eq!(fitted(&halves(), Rect::new(0, 0, 0, 0)).area(), 0);
        assert_eq!(
            for_area(&halves(), Rect::new(0, 0, 0, 0)).rgb,
            Vec::<u8>::new()
        );
        let mut picture = halves();
        line(&mut picture, (-50.0, -3.0), (90.0, 2.0), [1, 2, 3]);
    }

    #[test]
    fn how_pictures_are_shown_is_told_by_the_environment() {
        let told = |look, pairs: &[(&str, &str)]| {
            Pictures::told(look, Some((9, 18)), |name| {
                let found = pairs.iter().find(|(key, _)| *key == name);
                found.map(|(_, value)| (*value).to_owned())
            })
        };
        let term = |name| [("TERM", name)];
        assert_eq!(told(Look::Plain, &term("xterm-kitty")), Pictures::Words);
        assert_eq!(
            told(Look::Sixteen, &term("xterm-256color")),
            Pictures::Blocks256
        );
        assert_eq!(told(Look::Sixteen, &term("linux")), Pictures::Words);
        assert_eq!(told(Look::Full, &term("xterm")), Pictures::Blocks);
        let kitty = Pictures::Pixels(Kind::Kitty, (9, 18));
        assert_eq!(told(Look::Full, &term("xterm-kitty")), kitty);
        assert_eq!(
            told(Look::Full, &term("foot")),
            Pictures::Pixels(Kind::Sixel, (9, 18))
        );
        let inside = [("TERM", "xterm-kitty"), ("TMUX", "/tmp/x,1,0")];
        assert_eq!(told(Look::Full, &inside), Pictures::Blocks);
        assert_eq!(
            told(
                Look::Full,
                &[("TERM", "screen-256color"), ("TERM_PROGRAM", "WezTerm")]
            ),
            Pictures::Blocks
        );
        assert_eq!(
            (kitty.blocks(), kitty.set(Some("words"))),
            (Pictures::Blocks, Pictures::Words)
        );
        assert_eq!(kitty.set(None), kitty);
    }
}
