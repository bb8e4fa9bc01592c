//! When a photo was taken, as its EXIF tells (CIPA DC-008: DateTimeOriginal, and OffsetTimeOriginal where it is given).

use super::file_date;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::photo::TakenBy;
use chrono::{DateTime, FixedOffset, NaiveDateTime};
use exif::{Exif, In, Reader, Tag, Value};
use std::path::Path;

/// An instant on a camera's clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// With its offset from UTC.
    Told(DateTime<FixedOffset>),
    /// By a wall clock, it is not said where.
    Wall(NaiveDateTime),
}

/// When a photo was taken, and who says so: its camera, else the date of its file, else it is now.
#[must_use]
pub fn taken_or_dated(camera: Option<Taken>, file: &Path, now: &Now) -> (Moment, TakenBy) {
    let camera = camera.and_then(|taken| match taken {
        Taken::Told(at) => Some(at),
        Taken::Wall(at) => now.zone.instant(at),
    });
    match camera {
        Some(at) => (at, TakenBy::Exif),
        None => {
            let dated = file_date(file).map_or(now.at, |at| now.zone.tell(at));
            (dated, TakenBy::File)
        }
    }
}

/// When a photo was taken; none where its EXIF does not tell or cannot be read.
pub(super) fn taken(raw: &[u8]) -> Option<Taken> {
    let exif = read(raw)?;
    let wall = [Tag::DateTimeOriginal, Tag::DateTimeDigitized, Tag::DateTime]
        .into_iter()
        .find_map(|tag| instant(&text(&exif, tag)?))?;
    let offset = text(&exif, Tag::OffsetTimeOriginal).or_else(|| text(&exif, Tag::OffsetTime));
    let offset = offset.and_then(|text| text.trim().parse::<FixedOffset>().ok());
    let told = offset.and_then(|offset| wall.and_local_timezone(offset).single());
    Some(told.map_or(Taken::Wall(wall), Taken::Told))
}

/// What can be read: many programs write a directory without its end, or an odd field, and the instant stands all the same.
fn read(raw: &[u8]) -> Option<Exif> {
    let mut reader = Reader::new();
    reader.continue_on_error(true);
    let read = reader.read_raw(raw.to_vec());
    read.or_else(|error| error.distill_partial_result(|_| {}))
        .ok()
}

fn text(exif: &Exif, tag: Tag) -> Option<String> {
    match &exif.get_field(tag, In::PRIMARY)?.value {
        Value::Ascii(lines) => Some(String::from_utf8_lossy(lines.first()?).into_owned()),
        _ => None,
    }
}

fn instant(text: &str) -> Option<NaiveDateTime> {
    NaiveDateTime::parse_from_str(text.trim().trim_end_matches('\0'), "%Y:%m:%d %H:%M:%S").ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As some editors write it: the directory of the instant has no pointer to a next one, so that text stands there.
    #[test]
    fn an_instant_is_read_from_a_directory_without_its_end() {
        let mut raw = b"MM\0*\0\0\0\x08\0\x01\x87\x69\0\x04\0\0\0\x01\0\0\0\x1a\0\0\0\0".to_vec();
        raw.extend(b"\0\x01\x90\x03\0\x02\0\0\0\x14\0\0\0\x28");
        raw.extend(b"2026:11:01 20:00:00\0");
        let at = instant("2026:11:01 20:00:00").unwrap();
        assert_eq!(taken(&raw), Some(Taken::Wall(at)));
    }

    #[test]
    fn an_empty_or_odd_instant_is_none() {
        assert!(instant("2026:11:24 18:30:00").is_some());
        for bad in [
            "",
            "0000:00:00 00:00:00",
            "    :  :     :  :  ",
            "2026-11-24",
        ] {
            assert_eq!(instant(bad), None, "{bad}");
        }
        assert_eq!(taken(b"no exif"), None);
    }
}
