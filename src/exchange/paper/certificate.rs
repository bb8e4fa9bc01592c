//! The certificate's sheet.

use super::fonts::Weight;
use super::ink::{Area, BLACK, GREY, Ink, Paper};
use crate::exchange::photo::Thumb;
use crate::studio::Answer;
use crate::trade::paper::PaperSize;

/// A certificate as it is printed.
#[derive(Debug, Clone)]
pub struct CertificateSheet {
    /// The picture's title.
    pub title: String,
    /// What is told of it; a text may have several lines.
    pub rows: Vec<(&'static str, String)>,
    /// A small picture of it.
    pub photo: Option<Thumb>,
    /// The paper.
    pub paper: PaperSize,
}

/// From the paper's edge.
const MARGIN: f64 = 24.0;
const SIZE: f64 = 4.4;
const LINE: f64 = 6.6;
/// Where the texts begin, right of what they tell.
const TEXTS: f64 = 44.0;
/// A photo is no wider and no higher: the kept ones have 320 pixels, which is 100 to the inch here.
const PHOTO: (f64, f64) = (80.0, 70.0);
/// One that is lower shows nothing: then the rows go over two pages.
const LEAST_PHOTO: f64 = 30.0;
/// From a photo's foot to the foot of the first row, less what a photo stands higher than a row.
const BELOW: f64 = 3.0;
/// Room for a signature.
const SIGNED: f64 = 34.0;

/// A certificate as a PDF.
///
/// # Errors
/// Where the file cannot be put together.
pub fn certificate_sheet(sheet: &CertificateSheet) -> Answer<Vec<u8>> {
    let mut paper = Paper::new(&format!("Certificate: {}", sheet.title));
    let (wide, high) = sheet.paper.sides();
    let room = Area {
        x: MARGIN,
        y: MARGIN,
        w: wide.get() - 2.0 * MARGIN,
        h: high.get() - 2.0 * MARGIN,
    };
    let mut rest = sheet.rows.as_slice();
    let mut first = true;
    while first || !rest.is_empty() {
        let mut taken = 0;
        paper.page((wide, high), |ink| {
            let mut at = if first {
                let at = heading(ink, &sheet.title, room);
                photo(ink, sheet, room, at)
            } else {
                room.y
            };
            let end = room.y + room.h - SIGNED;
            for (what, says) in rest {
                let lines = lines(ink, says, room.w - TEXTS);
                if at + LINE * lines.len() as f64 > end && taken > 0 {
                    break;
                }
                at = row(ink, what, &lines, room, at);
                taken += 1;
            }
            signature(ink, room);
        });
        rest = &rest[taken.min(rest.len())..];
        first = false;
    }
    paper.finish()
}

fn heading(ink: &mut Ink<'_, '_>, title: &str, room: Area) -> f64 {
    ink.fit(
        "CERTIFICATE OF A PICTURE",
        Weight::Plain,
        (room.x, room.y + 5.0),
        (3.6, 3.0),
        room.w,
        GREY,
    );
    let mut foot = room.y + 18.0;
    for line in ink
        .wrapped(title, Weight::Strong, 11.0, room.w)
        .into_iter()
        .take(3)
    {
        ink.fit(
            &line,
            Weight::Strong,
            (room.x, foot),
            (11.0, 6.0),
            room.w,
            BLACK,
        );
        foot += 13.0;
    }
    ink.fill(
        Area {
            x: room.x,
            y: foot - 6.0,
            w: room.w,
            h: 0.5,
        },
        BLACK,
    );
    foot + 4.0
}

/// The picture's photo beneath the title, as large as leaves the rows on one page where that can be; answers where the first
/// row stands.
fn photo(ink: &mut Ink<'_, '_>, sheet: &CertificateSheet, room: Area, at: f64) -> f64 {
    let Some(photo) = &sheet.photo else { return at };
    let rows = sheet.rows.iter();
    let rows: f64 = rows
        .map(|(_, says)| row_height(lines(ink, says, room.w - TEXTS).len()))
        .sum();
    let left = room.y + room.h - SIGNED - at - BELOW - rows;
    let most = if left < LEAST_PHOTO {
        PHOTO.1
    } else {
        left.min(PHOTO.1)
    };
    let (wide, high) = (photo.width as f64, photo.height as f64);
    let scale = (PHOTO.0 / wide).min(most / high);
    let area = Area {
        x: room.x,
        y: at - 6.0,
        w: wide * scale,
        h: high * scale,
    };
    match ink.picture(&photo.jpeg, area) {
        true => at + area.h + BELOW,
        false => at,
    }
}

fn lines(ink: &Ink<'_, '_>, says: &str, width: f64) -> Vec<String> {
    says.lines()
        .flat_map(|line| ink.wrapped(line, Weight::Plain, SIZE, width))
        .collect()
}

fn row(ink: &mut Ink<'_, '_>, what: &str, lines: &[String], room: Area, at: f64) -> f64 {
    ink.fit(
        what,
        Weight::Plain,
        (room.x, at),
        (SIZE, 3.0),
        TEXTS - 4.0,
        GREY,
    );
    let mut foot = at;
    for line in lines {
        ink.fit(
            line,
            Weight::Plain,
            (room.x + TEXTS, foot),
            (SIZE, 3.0),
            room.w - TEXTS,
            BLACK,
        );
        foot += LINE;
    }
    at + row_height(lines.len())
}

/// How high a row of so many lines is, with the air beneath it.
fn row_height(lines: usize) -> f64 {
    LINE * lines.max(1) as f64 + 2.4
}

fn signature(ink: &mut Ink<'_, '_>, room: Area) {
    let foot = room.y + room.h;
    ink.fill(
        Area {
            x: room.x,
            y: foot - 6.0,
            w: 80.0,
            h: 0.25,
        },
        BLACK,
    );
    ink.fit(
        "Signature and date",
        Weight::Plain,
        (room.x, foot),
        (3.4, 2.6),
        80.0,
        GREY,
    );
}
