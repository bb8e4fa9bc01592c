//! What is said of photos: what the hands must do next, what was kept.

use super::open::Open;
use super::work::Ready;
use crate::screen::kit::desk::Desk;
use crate::studio::{PhotoPage, local};
use crate::tell;
use crate::tell::photos::brief;
use crate::trade::instant::Now;
use crate::trade::photo::TakenBy;

/// What the hands must do next.
pub fn headline(open: &Open) -> String {
    let pour = open.pour;
    if let Some(hand) = &open.corners {
        let corner = super::corners::NAMES[hand.at % 4];
        return format!("Arrows move the {corner} corner; Tab takes the next, Enter measures.");
    }
    if let Some(words) = open.doing() {
        return words.to_owned();
    }
    if let Some((photo, counted)) = &open.measured {
        let cells = counted.row.cells;
        return format!("Photo {photo}: {cells} cells outlined. k keeps it, x refuses it.");
    }
    match open.chosen() {
        None => format!("Picture {pour} has no photo yet: a adds one."),
        Some(page) if page.measured.is_empty() => {
            format!(
                "Photo {} is not measured: c moves its corners, m looks again.",
                page.photo.id
            )
        }
        Some(_) => {
            format!("The photos of picture {pour}: x refuses what was counted, a adds another.")
        }
    }
}

/// `photo 2 of 3, wet, 24 Nov 18:05`.
pub fn title(page: &PhotoPage, now: &Now) -> String {
    let photo = &page.photo;
    let film = if photo.dry { "dry" } else { "wet" };
    let by = match photo.taken_by {
        TakenBy::File => " by its file",
        TakenBy::Exif | TakenBy::Said => "",
    };
    let note = photo.note.as_ref().map(|note| format!(", {note}"));
    format!(
        "photo {} of picture {}, {film}, {}{by}{}",
        photo.id,
        photo.pour,
        local(photo.taken, now),
        note.unwrap_or_default()
    )
}

/// What was kept of a photo.
pub fn kept(photo: i64, pour: i64, ready: &Ready, desk: &Desk) -> String {
    let film = match ready.asked.order.dry {
        Some(true) => ", dry",
        Some(false) => ", wet",
        None => "",
    };
    match &ready.counted {
        Ok(counted) => format!(
            "Photo {photo} of picture {pour}{film} is kept: {}",
            brief(&counted.row, desk.measures())
        ),
        Err(why) => format!(
            "Photo {photo} of picture {pour}{film} is kept, not measured: {}; c moves its corners",
            tell::photos::fault(*why)
        ),
    }
}
