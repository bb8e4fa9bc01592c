//! Pictures in the terminal's own pixels, where it is known to show them: by kitty's protocol, as sixels, or as a file
//! inline. What was made for a place is kept, so that it is made once.

use crate::numbers::cells::Pixels;
use crate::screen::kit::picture::resized;
use image::{DynamicImage, RgbImage};
use ratatui::buffer::Buffer;
use ratatui::layout::{Rect, Size};
use ratatui::widgets::Widget;
use ratatui_image::Image;
use ratatui_image::protocol::Protocol;
use ratatui_image::protocol::iterm2::Iterm2;
use ratatui_image::protocol::kitty::Kitty;
use ratatui_image::protocol::sixel::Sixel;
use std::cell::RefCell;
use std::collections::hash_map::DefaultHasher;
use std::fmt;
use std::hash::{Hash, Hasher};

/// By which protocol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Pixels under a number, shown by the cells that name it.
    Kitty,
    /// Sixels (DEC, VT340).
    Sixel,
    /// A file inline (OSC 1337).
    Inline,
}

/// As many are kept as are shown at once, and as were before.
const KEPT: usize = 6;

/// One picture made for one place.
struct Made {
    key: u64,
    made: Protocol,
}

/// What was made, what is on the screen, and what was before.
#[derive(Default)]
pub struct Graphics {
    made: RefCell<Vec<Made>>,
    now: RefCell<Vec<Rect>>,
    before: RefCell<Vec<Rect>>,
}

impl fmt::Debug for Graphics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Graphics")
            .field("made", &self.made.borrow().len())
            .finish()
    }
}

impl Graphics {
    /// Draws a picture over an area, a cell being so many pixels wide and high; answers whether it could.
    pub fn draw(
        &self,
        picture: &Pixels,
        kind: Kind,
        cell: (u16, u16),
        area: Rect,
        buffer: &mut Buffer,
    ) -> bool {
        let key = key(picture, kind, cell, area);
        let mut made = self.made.borrow_mut();
        if !made.iter().any(|one| one.key == key) {
            let Some(new) = make(picture, kind, cell, area, key) else {
                return false;
            };
            if made.len() >= KEPT {
                made.remove(0);
            }
            made.push(Made { key, made: new });
        }
        let Some(one) = made.iter().find(|one| one.key == key) else {
            return false;
        };
        Image::new(&one.made).render(area, buffer);
        self.now.borrow_mut().push(area);
        true
    }

    /// All was drawn. Answers whether pixels of a picture before are left, so that all must be drawn anew: one in the same
    /// place covers it.
    pub fn leaves_pixels(&self) -> bool {
        let now = std::mem::take(&mut *self.now.borrow_mut());
        let mut before = self.before.borrow_mut();
        let left = before.iter().any(|one| !now.contains(one));
        *before = now;
        left
    }
}

/// A number for a picture at its size: a sample of its bytes tells it from others.
fn key(picture: &Pixels, kind: Kind, cell: (u16, u16), area: Rect) -> u64 {
    let mut hasher = DefaultHasher::new();
    (
        picture.width,
        picture.height,
        kind,
        cell,
        area.width,
        area.height,
    )
        .hash(&mut hasher);
    picture
        .rgb
        .iter()
        .step_by(53)
        .for_each(|byte| byte.hash(&mut hasher));
    hasher.finish()
}

fn make(picture: &Pixels, kind: Kind, cell: (u16, u16), area: Rect, key: u64) -> Option<Protocol> {
    let size = Size::new(area.width, area.height);
    let width = area.width.checked_mul(cell.0)?;
    let height = area.height.checked_mul(cell.1)?;
    let small = resized(picture, width.into(), height.into());
    let image = RgbImage::from_raw(width.into(), height.into(), small.rgb)?;
    let image = DynamicImage::ImageRgb8(image);
    match kind {
        Kind::Kitty => Kitty::new(image, size, key as u32 | 1, false, false)
            .ok()
            .map(Protocol::Kitty),
        Kind::Sixel => Sixel::new(image, size, false).ok().map(Protocol::Sixel),
        Kind::Inline => Iterm2::new(image, size, false).ok().map(Protocol::ITerm2),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use base64::Engine;
    use base64::engine::general_purpose::STANDARD;

    fn picture() -> Pixels {
        let rgb = (0..30 * 20)
            .flat_map(|at: u32| [(at % 30) as u8 * 8, (at / 30) as u8 * 12, 40])
            .collect();
        Pixels {
            width: 30,
            height: 20,
            rgb,
        }
    }

    fn drawn(kind: Kind) -> String {
        let area = Rect::new(0, 0, 6, 2);
        let mut buffer = Buffer::empty(area);
        assert!(Graphics::default().draw(&picture(), kind, (10, 20), area, &mut buffer));
        buffer
            .content
            .iter()
            .map(|cell| cell.symbol().to_owned())
            .collect()
    }

    /// The introducers of each protocol: APC G, DCS q, OSC 1337 (from memory of their published descriptions).
    #[test]
    fn each_protocol_says_what_it_is() {
        assert!(drawn(Kind::Kitty).contains("\x1b_G"));
        let sixel = drawn(Kind::Sixel);
        assert!(sixel.contains("\x1bP") && sixel.contains('q'));
        assert!(drawn(Kind::Inline).contains("\x1b]1337;File=inline=1"));
    }

    /// Every number right after a letter, such as the width after `s`.
    fn field(head: &str, key: &str) -> usize {
        let mut fields = head.split([',', ';']);
        let value = fields.find_map(|one| one.strip_prefix(key)?.strip_prefix('='));
        value.unwrap().parse().unwrap()
    }

    /// What kitty's protocol carries: chunks of base64 (here deflated, `o=z`, or not), raw RGB or RGBA (`f`), `s` by `v`.
    fn of_kitty(text: &str) -> (usize, usize, Vec<u8>) {
        let chunks: Vec<&str> = text
            .split("\x1b_G")
            .skip(1)
            .filter_map(|rest| rest.split("\x1b\\").next())
            .collect();
        let head = chunks[0].split(';').next().unwrap();
        let coded: String = chunks
            .iter()
            .filter_map(|chunk| chunk.split_once(';'))
            .map(|(_, coded)| coded)
            .collect();
        let bytes = STANDARD.decode(coded).unwrap();
        assert!(!head.contains("o=z"), "deflated: {head}");
        let each = field(head, "f") / 8;
        let rgb = bytes.chunks_exact(each).flat_map(|p| [p[0], p[1], p[2]]);
        (field(head, "s"), field(head, "v"), rgb.collect())
    }

    /// What sixels draw (VT330/VT340 Programmer Reference, chapter 14, from memory): `#n;2;r;g;b` a colour in hundredths,
    /// `#n` takes it, `!n` repeats, `$` back to the line's start, `-` the next six rows, `?` to `~` six pixels each.
    fn of_sixel(text: &str) -> (usize, usize, Vec<u8>) {
        let body = text.split_once("\x1bP").unwrap().1;
        let body = body.split_once('q').unwrap().1;
        let body = body.split("\x1b\\").next().unwrap();
        let mut signs = body.chars().peekable();
        let numbers = |signs: &mut std::iter::Peekable<std::str::Chars>| {
            let mut text = String::new();
            while let Some(sign) = signs.next_if(|sign| sign.is_ascii_digit() || *sign == ';') {
                text.push(sign);
            }
            let all = text.split(';').filter_map(|one| one.parse().ok());
            all.collect::<Vec<usize>>()
        };
        let (mut size, mut palette) = ((0, 0), std::collections::HashMap::new());
        let mut pixels = Vec::new();
        let (mut x, mut band, mut colour, mut times) = (0, 0, [0; 3], 1);
        while let Some(sign) = signs.next() {
            match sign {
                '"' => {
                    let told = numbers(&mut signs);
                    size = (told[2], told[3]);
                    pixels = vec![[0_u8; 3]; size.0 * size.1];
                }
                '#' => match numbers(&mut signs)[..] {
                    [name, 2, r, g, b] => {
                        let byte = |part: usize| (part * 255 / 100) as u8;
                        palette.insert(name, [byte(r), byte(g), byte(b)]);
                    }
                    [name, ..] => colour = palette[&name],
                    [] => {}
                },
                '!' => times = numbers(&mut signs)[0],
                '$' => x = 0,
                '-' => (x, band) = (0, band + 1),
                '?'..='~' => {
                    let bits = sign as usize - '?' as usize;
                    for _ in 0..std::mem::replace(&mut times, 1) {
                        for row in (0..6).filter(|row| bits >> row & 1 == 1) {
                            let at = (6 * band + row) * size.0 + x;
                            pixels[at] = colour;
                        }
                        x += 1;
                    }
                }
                _ => {}
            }
        }
        (size.0, size.1, pixels.concat())
    }

    /// What a terminal would show is the picture at its size, but for the few colours that sixels have.
    #[test]
    fn what_is_sent_is_the_picture() {
        let want = resized(&picture(), 60, 40).rgb;
        let off = |got: &[u8]| {
            let sum: u64 = got
                .iter()
                .zip(&want)
                .map(|(&a, &b)| u64::from(a.abs_diff(b)).pow(2))
                .sum();
            (sum as f64 / want.len() as f64).sqrt()
        };
        let (width, height, kitty) = of_kitty(&drawn(Kind::Kitty));
        assert_eq!((width, height, kitty.len()), (60, 40, want.len()));
        assert!(off(&kitty) < 0.5, "{}", off(&kitty));
        let (width, height, sixel) = of_sixel(&drawn(Kind::Sixel));
        assert_eq!((width, height, sixel.len()), (60, 40, want.len()));
        assert!(off(&sixel) < 12.0, "{}", off(&sixel));
        let inline = drawn(Kind::Inline);
        let file = inline.split_once("1337;File=").unwrap().1;
        let coded = file.split_once(':').unwrap().1;
        let coded = coded.split(['\x07', '\x1b']).next().unwrap();
        let seen = image::load_from_memory(&STANDARD.decode(coded).unwrap()).unwrap();
        let seen = seen.to_rgb8();
        assert_eq!(seen.dimensions(), (60, 40));
        assert!(off(&seen.into_raw()) < 12.0);
    }

    #[test]
    fn what_was_drawn_elsewhere_before_leaves_pixels() {
        let graphics = Graphics::default();
        let mut buffer = Buffer::empty(Rect::new(0, 0, 20, 4));
        let mut draw = |x| {
            graphics.draw(
                &picture(),
                Kind::Sixel,
                (10, 20),
                Rect::new(x, 0, 6, 2),
                &mut buffer,
            )
        };
        assert!(draw(0));
        assert!(!graphics.leaves_pixels());
        assert!(draw(0));
        assert!(!graphics.leaves_pixels(), "the same again");
        assert!(draw(4));
        assert!(graphics.leaves_pixels(), "it moved");
        assert!(graphics.leaves_pixels(), "it is gone");
        assert!(!graphics.leaves_pixels());
    }
}
