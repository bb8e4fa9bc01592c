//! How photos look: the picture, its figures beside it; two pictures beside each other; corners in hand.

use super::corners::{InHand, NAMES};
use super::figures::all;
use super::open::Open;
use super::words::title;
use crate::exchange::photo::opened_thumbnail;
use crate::numbers::cells::Pixels;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::picture::{Pictures, dot, draw, fitted, for_area, line};
use crate::screen::kit::text::{Cut, fit, wrap};
use crate::studio::PhotoPage;
use crate::tell;
use crate::tell::photos::brief;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use ratatui::widgets::Paragraph;

/// The sides of the panel as the corners say them.
const SIDE: [u8; 3] = [255, 0, 200];
/// The corner in hand.
const CORNER: [u8; 3] = [0, 255, 255];
/// The figures' column takes no more than this.
const FIGURES: u16 = 36;

/// Draws the photos of a pour.
pub fn view(open: &Open, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let Some(page) = open.chosen() else {
        return none(desk, frame, area);
    };
    let [head, body] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
    let words = format!(
        "{} of {}: {}",
        open.place() + 1,
        open.pages.len(),
        title(page, &desk.beat.now)
    );
    let words = fit(&words, head.width.into(), Cut::End);
    frame.render_widget(Line::styled(words, desk.look.faint()), head);
    match (&open.corners, open.other()) {
        (Some(hand), _) => corners(open, hand, desk, frame, body),
        (None, Some(other)) => two(open, page, other, desk, frame, body),
        (None, None) => one(open, page, desk, frame, body),
    }
}

fn none(desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let words = "A photo is the only outcome that is no opinion: a adds one by its path, or the newest of the folder that \
                 photos-from names. It is kept unchanged beside the studio's file, and its cells are measured.";
    let lines = wrap(words, area.width.min(90).into());
    let lines: Vec<Line<'static>> = lines.into_iter().map(Line::from).collect();
    frame.render_widget(Paragraph::new(lines).style(desk.look.faint()), area);
}

/// The picture to the left, its figures to the right.
fn one(open: &Open, page: &PhotoPage, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let side = FIGURES.min(area.width / 2);
    let parts = Layout::horizontal([Constraint::Min(0), Constraint::Length(side)]).spacing(2);
    let [left, right] = match desk.pictures() {
        Pictures::Words => [Rect { width: 0, ..area }, area],
        _ => parts.areas(area),
    };
    picture(open, page, desk, frame, left);
    frame.render_widget(Paragraph::new(beside(open, page, desk, right)), right);
}

/// What is known of a photo, in the room there is.
fn beside(open: &Open, page: &PhotoPage, desk: &Desk, area: Rect) -> Vec<Line<'static>> {
    let (width, high) = (usize::from(area.width), usize::from(area.height));
    let photo = page.photo.id;
    if let Some((_, counted)) = open.measured.as_ref().filter(|one| one.0 == photo) {
        return all(desk, &counted.row, &counted.diameters, width, high);
    }
    let seen = open.seen(photo);
    let counted = seen.and_then(|seen| seen.counted.as_ref());
    let mut lines = match page.measured.first() {
        Some(found) => {
            let diameters = counted.map_or(&[][..], |one| &one.diameters);
            all(desk, found, diameters, width, high)
        }
        None => vec![Line::from("not measured")],
    };
    if let Some(trouble) = seen.and_then(|seen| seen.trouble.as_ref()) {
        let words = tell::words(trouble, desk.measures(), &desk.beat.now);
        let words = wrap(&format!("! {words}"), width).into_iter();
        lines.extend(words.map(|words| Line::styled(words, desk.look.wrong())));
    }
    lines
}

/// Two pictures of the same height, each with its words beneath.
fn two(
    open: &Open,
    page: &PhotoPage,
    other: &PhotoPage,
    desk: &Desk,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let halves = Layout::horizontal([Constraint::Fill(1), Constraint::Fill(1)]).spacing(2);
    let halves: [Rect; 2] = halves.areas(area);
    for (page, half) in [page, other].into_iter().zip(halves) {
        let words = beneath(page, desk, half.width.into());
        let parts = [Constraint::Min(0), Constraint::Length(words.len() as u16)];
        let [top, low] = Layout::vertical(parts).areas(half);
        picture(open, page, desk, frame, top);
        frame.render_widget(Paragraph::new(words), low);
    }
}

fn beneath(page: &PhotoPage, desk: &Desk, width: usize) -> Vec<Line<'static>> {
    let found = page.measured.first();
    let found = found.map(|one| brief(one, desk.measures()));
    let words = [
        title(page, &desk.beat.now),
        found.unwrap_or_else(|| "not measured".into()),
    ];
    let lines = words.iter().flat_map(|words| wrap(words, width));
    lines.map(Line::from).collect()
}

/// The photo with its sides drawn, and the corner in hand from near.
fn corners(open: &Open, hand: &InHand, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let side = FIGURES.min(area.width / 2);
    let parts = Layout::horizontal([Constraint::Min(0), Constraint::Length(side)]).spacing(2);
    let [left, right] = parts.areas(area);
    let seen = open.seen(hand.photo).and_then(|seen| seen.shown.as_ref());
    if let Some(shown) = seen {
        let area = fitted(&shown.picture, left);
        let mut small = for_area(&shown.picture, area);
        let size = (small.width, small.height);
        outline(&mut small, hand, size, (0, 0));
        draw(&small, desk.pictures().blocks(), area, frame.buffer_mut());
    }
    let steps = if hand.fine { "small" } else { "large" };
    let point = hand.points[hand.at % 4];
    let words = [
        format!("{}: {:.0}, {:.0}", NAMES[hand.at % 4], point.x, point.y),
        format!("{steps} steps; f changes them"),
    ];
    let rows = [Constraint::Length(2), Constraint::Min(0)];
    let [top, near] = Layout::vertical(rows).areas(right);
    frame.render_widget(Paragraph::new(words.map(Line::from).to_vec()), top);
    if let Some(shown) = seen {
        let cut = from_near(&shown.picture, hand);
        let area = fitted(&cut, near);
        draw(
            &for_area(&cut, area),
            desk.pictures().blocks(),
            area,
            frame.buffer_mut(),
        );
    }
}

/// Draws the panel's sides into a part of a picture of a size, which begins so far right and down.
fn outline(part: &mut Pixels, hand: &InHand, whole: (usize, usize), from: (usize, usize)) {
    let at = |corner: usize| {
        let (x, y) = hand.share(corner);
        let place = |share: f64, of: usize, from: usize| share * (of as f64 - 1.0) - from as f64;
        (place(x, whole.0, from.0), place(y, whole.1, from.1))
    };
    (0..4).for_each(|corner| line(part, at(corner), at(corner + 1), SIDE));
    let (x, y) = at(hand.at);
    let around = [(0.0, 0.0), (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)];
    around
        .iter()
        .for_each(|(u, v)| dot(part, (x + u, y + v), CORNER));
}

/// A square around the corner in hand, a tenth of the photo across, with its sides drawn.
fn from_near(picture: &Pixels, hand: &InHand) -> Pixels {
    let (x, y) = hand.share(hand.at);
    let side = (picture.width.min(picture.height) / 6).max(8);
    let from = |share: f64, of: usize| {
        ((share * of as f64) as usize)
            .saturating_sub(side / 2)
            .min(of.saturating_sub(side))
    };
    let (left, top) = (from(x, picture.width), from(y, picture.height));
    let rows = top..(top + side).min(picture.height);
    let row = |y: usize| {
        let at = 3 * (y * picture.width + left);
        picture.rgb.get(at..at + 3 * side).unwrap_or_default()
    };
    let mut cut = Pixels {
        width: side,
        height: rows.len(),
        rgb: rows.flat_map(row).copied().collect(),
    };
    outline(&mut cut, hand, (picture.width, picture.height), (left, top));
    cut
}

/// The picture of a photo as far as it is read: its outlines, the photo, its thumbnail.
fn picture(open: &Open, page: &PhotoPage, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let photo = page.photo.id;
    let proposed = open.measured.as_ref().filter(|one| one.0 == photo);
    let seen = open.seen(photo);
    let counted = proposed
        .map(|one| &*one.1)
        .or(seen.and_then(|seen| seen.counted.as_ref()));
    let outlined = counted.filter(|_| open.outlined).map(|one| &one.overlay);
    let shown = seen
        .and_then(|seen| seen.shown.as_ref())
        .map(|shown| &shown.picture);
    if let Some(picture) = outlined.or(shown) {
        return desk.draw(picture, area, frame);
    }
    if let Some(small) = page.photo.thumbnail.as_deref().and_then(opened_thumbnail) {
        desk.draw(&small, area, frame);
    }
}
