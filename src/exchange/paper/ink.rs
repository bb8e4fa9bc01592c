//! A page in millimetres from its upper left corner, and what is drawn on it.

use super::fonts::{Fonts, Weight};
use super::row::Row;
use crate::studio::{Answer, FileFault, Made};
use crate::trade::units::Millimetres;
use krilla::Document;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::geom::{PathBuilder, Rect, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Stroke};
use krilla::surface::Surface;
use qrcode::{EcLevel, QrCode};

/// Points of paper in a millimetre: a point is 1/72 inch.
const POINTS: f32 = 72.0 / 25.4;
/// How high a capital letter of the reading face is, as a share of the size (its OS/2 table: 714 of 1000).
pub(super) const CAPITAL: f64 = 0.714;

/// A dot of a printer of 300 an inch, in millimetres.
const DOT: f64 = 25.4 / 300.0;

/// A colour of ink.
pub(super) type Colour = (u8, u8, u8);
pub(super) const BLACK: Colour = (0, 0, 0);
pub(super) const GREY: Colour = (90, 90, 90);
pub(super) const WHITE: Colour = (255, 255, 255);

/// A part of a page, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) w: f64,
    pub(super) h: f64,
}

/// A document in the making. It carries no date and nothing of the machine.
pub(super) struct Paper {
    document: Document,
    fonts: Fonts,
}

impl Paper {
    pub(super) fn new(title: &str) -> Self {
        let mut document = Document::new_with(SerializeSettings {
            xmp_metadata: false,
            ..SerializeSettings::default()
        });
        document.set_metadata(
            Metadata::new()
                .title(title.to_owned())
                .creator("Stillcup".to_owned())
                .language("en".to_owned()),
        );
        let fonts = Fonts::new();
        Self { document, fonts }
    }

    /// Adds a page of a size and draws on it.
    pub(super) fn page(
        &mut self,
        size: (Millimetres, Millimetres),
        draw: impl FnOnce(&mut Ink<'_, '_>),
    ) {
        let settings = PageSettings::from_wh(points(size.0.get()), points(size.1.get()));
        let mut page = self.document.start_page_with(settings.unwrap_or_default());
        {
            let mut ink = Ink {
                surface: page.surface(),
                fonts: &self.fonts,
            };
            draw(&mut ink);
        }
        page.finish();
    }

    /// The whole file.
    ///
    /// # Errors
    /// Where it cannot be put together.
    pub(super) fn finish(self) -> Answer<Vec<u8>> {
        let whole = self.document.finish();
        whole.map_err(|_| FileFault::NotMade(Made::Paper).into())
    }
}

fn points(millimetres: f64) -> f32 {
    millimetres as f32 * POINTS
}

/// What draws on one page.
pub(super) struct Ink<'a, 'f> {
    surface: Surface<'a>,
    fonts: &'f Fonts,
}

impl Ink<'_, '_> {
    /// The letters of the document.
    pub(super) const fn fonts(&self) -> &Fonts {
        self.fonts
    }

    /// Lays a text out, to be measured and drawn.
    pub(super) fn row(&self, text: &str, weight: Weight) -> Row {
        Row::new(self.fonts, text, weight)
    }

    /// Fills an area.
    pub(super) fn fill(&mut self, area: Area, colour: Colour) {
        self.path(area, Some(colour), None);
    }

    /// Draws a JPEG into an area; `false` where it is none.
    pub(super) fn picture(&mut self, jpeg: &[u8], area: Area) -> bool {
        let image = Image::from_jpeg(jpeg.to_vec().into(), true);
        let size = Size::from_wh(points(area.w), points(area.h));
        let (Ok(image), Some(size)) = (image, size) else {
            return false;
        };
        let at = Transform::from_translate(points(area.x), points(area.y));
        self.surface.push_transform(&at);
        self.surface.draw_image(image, size);
        self.surface.pop();
        true
    }

    /// Draws an area's outline, of a width.
    pub(super) fn outline(&mut self, area: Area, width: f64, colour: Colour) {
        self.path(area, None, Some((width, colour)));
    }

    fn path(&mut self, area: Area, fill: Option<Colour>, line: Option<(f64, Colour)>) {
        let rect = Rect::from_xywh(
            points(area.x),
            points(area.y),
            points(area.w),
            points(area.h),
        );
        let mut path = PathBuilder::new();
        if let Some(rect) = rect {
            path.push_rect(rect);
        }
        let Some(path) = path.finish() else { return };
        self.surface.set_fill(fill.map(ink));
        self.surface.set_stroke(line.map(|(width, colour)| Stroke {
            paint: rgb::Color::new(colour.0, colour.1, colour.2).into(),
            width: points(width),
            ..Stroke::default()
        }));
        self.surface.draw_path(&path);
    }

    /// Draws a row of a size, its left end and foot at a point.
    pub(super) fn write(&mut self, row: &Row, at: (f64, f64), size: f64, colour: Colour) {
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(ink(colour)));
        row.draw(
            &mut self.surface,
            self.fonts,
            (points(at.0), points(at.1)),
            points(size),
        );
    }

    /// Writes a text that must fit a width: smaller down to a least size, then cut with an ellipsis. Answers its width.
    pub(super) fn fit(
        &mut self,
        text: &str,
        weight: Weight,
        at: (f64, f64),
        sizes: (f64, f64),
        width: f64,
        colour: Colour,
    ) -> f64 {
        let row = self.row(text, weight);
        let (most, least) = sizes;
        let size = most.min(width / f64::from(row.width()).max(1e-6));
        if size >= least {
            self.write(&row, at, size, colour);
            return f64::from(row.width()) * size;
        }
        let row = self.cut(text, weight, width / least);
        self.write(&row, at, least, colour);
        f64::from(row.width()) * least
    }

    /// The longest beginning that, with an ellipsis, is no wider than `room` at a size of 1.
    fn cut(&self, text: &str, weight: Weight, room: f64) -> Row {
        use unicode_segmentation::UnicodeSegmentation;
        let letters: Vec<&str> = text.graphemes(true).collect();
        let shown = |count: usize| {
            self.row(
                &format!("{}…", letters[..count].concat().trim_end()),
                weight,
            )
        };
        let fits = |count: &usize| f64::from(shown(*count).width()) <= room;
        let counts: Vec<usize> = (0..letters.len()).collect();
        let most = counts
            .partition_point(|count| fits(count))
            .saturating_sub(1);
        shown(most)
    }

    /// Breaks a text into rows no wider than a width at a size.
    pub(super) fn wrapped(&self, text: &str, weight: Weight, size: f64, width: f64) -> Vec<String> {
        wrapped(self.fonts, text, weight, width / size)
    }

    /// Draws a QR code, with the most correction for a wet lid and its quiet margin of four modules; `false` where the text is too long for one.
    pub(super) fn code(&mut self, text: &str, area: Area) -> bool {
        let Ok(code) = QrCode::with_error_correction_level(text, EcLevel::H) else {
            return false;
        };
        let wide = code.width();
        // Whole dots of a printer of 300 an inch, so that no module is wider than its neighbour.
        let module = ((area.w / (wide + 8) as f64) / DOT).floor().max(1.0) * DOT;
        let onto_dots = |at: f64| (at / DOT).round() * DOT;
        let (left, top) = (onto_dots(area.x), onto_dots(area.y));
        let colours = code.to_colors();
        let mut path = PathBuilder::new();
        for (place, _) in colours
            .iter()
            .enumerate()
            .filter(|(_, one)| **one == qrcode::Color::Dark)
        {
            let (column, line) = (place % wide, place / wide);
            let x = left + (column + 4) as f64 * module;
            let y = top + (line + 4) as f64 * module;
            if let Some(rect) =
                Rect::from_xywh(points(x), points(y), points(module), points(module))
            {
                path.push_rect(rect);
            }
        }
        let Some(path) = path.finish() else {
            return false;
        };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(ink(BLACK)));
        self.surface.draw_path(&path);
        true
    }
}

fn ink(colour: Colour) -> Fill {
    Fill {
        paint: rgb::Color::new(colour.0, colour.1, colour.2).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::default(),
    }
}

/// Breaks a text at its blanks into rows no wider than `room` at a size of 1; a word that is longer stands alone.
///
/// A row is as wide as its words and blanks together: each word is laid out once for all sizes that are tried.
fn wrapped(fonts: &Fonts, text: &str, weight: Weight, room: f64) -> Vec<String> {
    let wide = |word: &str| f64::from(word_width(fonts, word, weight));
    let blank = wide(" ");
    let mut rows: Vec<(String, f64)> = Vec::new();
    for word in text.split_whitespace() {
        let own = wide(word);
        match rows.last_mut().filter(|(_, row)| row + blank + own <= room) {
            Some((row, width)) => {
                row.push(' ');
                row.push_str(word);
                *width += blank + own;
            }
            None => rows.push((word.to_owned(), own)),
        }
    }
    rows.into_iter().map(|(row, _)| row).collect()
}

/// How wide a word is at a size of 1.
fn word_width(fonts: &Fonts, word: &str, weight: Weight) -> f32 {
    fonts.width_once(word, weight, || Row::new(fonts, word, weight).width())
}
