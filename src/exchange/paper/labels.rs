//! Labels for lids: the mark as large as it fits, the layer and its tape as a bar, and what the cup is.

use super::fonts::Weight;
use super::ink::{Area, BLACK, CAPITAL, Colour, Ink, Paper, WHITE};
use super::layout::Layout;
use crate::studio::Answer;
use crate::studio::orders::Sides as Size;
use crate::studio::{Lid, next_minute};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::duration::show;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::recipe::LayerKind;

/// The least size of a letter on a label: about 5.5 points.
const SMALLEST: f64 = 1.9;
/// The least side of a code, its quiet margin with it, that a phone reads with ease: modules of 0.35 mm.
const LEAST_CODE: f64 = 10.0;

/// How large the title is beside the lines below it.
const TITLE: f64 = 1.25;
/// In how many steps the lines shrink until they fit.
const STEPS: u32 = 12;
/// From the foot of one line to the next, as a share of its size.
const LINE: f64 = 1.18;

/// Rows of text, each with its weight; what warns is strong.
type Rows = Vec<(String, Weight)>;

/// How labels are printed.
#[derive(Debug, Clone, Copy)]
pub struct Printing<'a> {
    /// Where they go.
    pub layout: Layout,
    /// How many of each.
    pub copies: u32,
    /// In which measures amounts stand.
    pub measures: Measures,
    /// The present instant, and the zone of the clock times.
    pub now: &'a Now,
}

/// Labels as a PDF. Told how far it is after each label.
///
/// # Errors
/// Where the file cannot be put together.
pub fn labels(lids: &[Lid], printing: Printing<'_>, far: &dyn Fn(usize)) -> Answer<Vec<u8>> {
    let mut paper = Paper::new("Labels");
    let copies = usize::try_from(printing.copies).unwrap_or(1);
    let all: Vec<&Lid> = lids
        .iter()
        .flat_map(|lid| std::iter::repeat_n(lid, copies))
        .collect();
    match printing.layout {
        Layout::Roll(label) => {
            for (done, lid) in all.iter().enumerate() {
                paper.page(label, |ink| one(ink, lid, whole(label), printing));
                far(done + 1);
            }
        }
        Layout::Sheet(sheet) => {
            let mut done = 0;
            let mut first = sheet.from.saturating_sub(1);
            let mut rest = all.as_slice();
            while !rest.is_empty() {
                let room = usize::try_from(sheet.holds() - first).unwrap_or(1).max(1);
                let (here, later) = rest.split_at(room.min(rest.len()));
                paper.page(sheet.paper.sides(), |ink| {
                    for (place, lid) in (first..).zip(here) {
                        let (x, y) = sheet.corner(place);
                        let area = Area {
                            x: x.get(),
                            y: y.get(),
                            ..whole(sheet.label)
                        };
                        one(ink, lid, area, printing);
                        done += 1;
                        far(done);
                    }
                });
                (first, rest) = (0, later);
            }
        }
    }
    paper.finish()
}

fn whole(label: Size) -> Area {
    Area {
        x: 0.0,
        y: 0.0,
        w: label.0.get(),
        h: label.1.get(),
    }
}

/// Draws one label within its area.
fn one(ink: &mut Ink<'_, '_>, lid: &Lid, label: Area, printing: Printing<'_>) {
    let pad = (label.w.min(label.h) * 0.07).clamp(1.0, 4.0);
    let room = Area {
        x: label.x + pad,
        y: label.y + pad,
        w: label.w - 2.0 * pad,
        h: label.h - 2.0 * pad,
    };
    let head = head(ink, lid, room);
    let bar = Area {
        y: room.y + head + pad * 0.5,
        h: (room.h * 0.13).clamp(2.6, 8.0),
        ..room
    };
    tape_bar(ink, lid, bar);
    let from = bar.y + bar.h + pad * 0.4;
    let lines = Area {
        y: from,
        h: room.y + room.h - from,
        ..room
    };
    told(ink, lid, lines, printing);
}

/// The mark and its code side by side; answers how high they are.
fn head(ink: &mut Ink<'_, '_>, lid: &Lid, room: Area) -> f64 {
    let high = room.h * 0.41;
    let mark = lid.standing.cup.mark.to_string();
    let side = high.min(room.w * 0.34);
    let coded = side >= LEAST_CODE;
    if coded {
        let at = Area {
            x: room.x + room.w - side,
            y: room.y,
            w: side,
            h: side,
        };
        ink.code(&mark, at);
    }
    let wide = room.w - if coded { side + 1.0 } else { 0.0 };
    let row = ink.row(&mark, Weight::Strong);
    let reach = row.reach(ink.fonts());
    let (across, down) = (reach.right - reach.left, reach.above + reach.below);
    let size = (high / down.max(0.1)).min(wide / across.max(0.1));
    let at = (room.x - reach.left * size, room.y + reach.above * size);
    ink.write(&row, at, size, BLACK);
    high.min((size * down).max(if coded { side } else { 0.0 }))
}

/// The layer and the tape's colour, said as well as shown.
fn tape_bar(ink: &mut Ink<'_, '_>, lid: &Lid, bar: Area) {
    let tape = lid.standing.cup.tape.as_deref();
    let colour = tape.and_then(colour_of);
    let layer = lid.standing.recipe.layer;
    let fill = colour.unwrap_or(WHITE);
    ink.fill(bar, fill);
    ink.outline(bar, 0.25, BLACK);
    if layer == LayerKind::Activator {
        // Known apart without its colour too: a second line within the first.
        let within = Area {
            x: bar.x + 0.5,
            y: bar.y + 0.5,
            w: bar.w - 1.0,
            h: bar.h - 1.0,
        };
        ink.outline(within, 0.25, letters_on(fill));
    }
    let width = (bar.w - 2.4).max(bar.w * 0.8);
    let (words, size) = bar_words(ink, layer, tape, ((bar.h * 0.72).max(SMALLEST), width));
    let foot = bar.y + (bar.h + size * CAPITAL) / 2.0;
    let at = (bar.x + (bar.w - width) / 2.0, foot);
    let sizes = (size, SMALLEST);
    ink.fit(&words, Weight::Strong, at, sizes, width, letters_on(fill));
}

/// The longest words of the layer and its tape that fit a width, and their size, no larger than `most`.
fn bar_words(
    ink: &Ink<'_, '_>,
    layer: LayerKind,
    tape: Option<&str>,
    (most, width): (f64, f64),
) -> (String, f64) {
    let layer = layer.word().to_uppercase();
    let fitting = |words: &String| {
        let wide = f64::from(ink.row(words, Weight::Strong).width());
        most.min(width / wide.max(0.1))
    };
    let said = tape.into_iter();
    let said = said.flat_map(|tape| {
        [
            format!("{layer} · {tape} tape"),
            format!("{layer} · {tape}"),
        ]
    });
    let mut all = said.map(|words| (fitting(&words), words));
    let found = all.find(|(size, _)| *size >= SMALLEST);
    let (size, words) = found.unwrap_or_else(|| (fitting(&layer), layer));
    (words, size.max(SMALLEST))
}

/// What the cup is, as large as all of it fits; what warns comes before what went in.
fn told(ink: &mut Ink<'_, '_>, lid: &Lid, room: Area, printing: Printing<'_>) {
    let (size, all) = largest(ink, &lines(lid, printing), room);
    let held = ((room.h / size - TITLE) / LINE + 0.15).max(0.0) as usize;
    let (shown, warns) = held_of(all, held);
    let title = match warns {
        true => lid.standing.title(),
        // That there is a warning is said on the smallest label.
        false => format!("! {}", lid.standing.title()),
    };
    let mut foot = room.y + size * TITLE * 0.78;
    let mut row = |words: &str, weight: Weight, foot: f64, size: f64| {
        let (at, sizes) = ((room.x, foot), (size, SMALLEST));
        ink.fit(words, weight, at, sizes, room.w, BLACK);
    };
    row(&title, Weight::Strong, foot, size * TITLE);
    for (words, weight) in &shown {
        foot += size * LINE;
        row(words, *weight, foot, size);
    }
}

/// The largest size at which a title and all lines fit a room, and their rows; the smallest where none does.
fn largest(ink: &Ink<'_, '_>, lines: &[(String, Weight)], room: Area) -> (f64, Rows) {
    let largest = (room.h / 5.2).clamp(SMALLEST, 5.0);
    let steps =
        (0..=STEPS).map(|step| largest + (SMALLEST - largest) * f64::from(step) / f64::from(STEPS));
    let mut set = steps.map(|size| (size, rows(ink, lines, size, room.w)));
    let fits = |size: f64, rows: usize| size * (TITLE + LINE * rows as f64) <= room.h;
    let found = set.find(|(size, rows)| fits(*size, rows.len()));
    found.unwrap_or_else(|| (SMALLEST, rows(ink, lines, SMALLEST, room.w)))
}

/// The first rows, of which the last shows that others are left out; and whether all that warns is among them.
fn held_of(mut all: Rows, held: usize) -> (Rows, bool) {
    let warnings = |rows: &Rows| rows.iter().filter(|row| row.1 == Weight::Strong).count();
    let (there, left_out) = (warnings(&all), all.len() > held);
    all.truncate(held);
    let warns = warnings(&all) == there;
    if let Some((last, _)) = all.last_mut().filter(|_| left_out) {
        *last = format!("{}…", last.trim_end_matches([',', ';', ' ']));
    }
    (all, warns)
}

fn rows(ink: &Ink<'_, '_>, lines: &[(String, Weight)], size: f64, width: f64) -> Rows {
    let broken = |(words, weight): &(String, Weight)| {
        let weight = *weight;
        let rows = ink.wrapped(words, weight, size, width).into_iter();
        rows.map(move |row| (row, weight))
    };
    lines.iter().flat_map(broken).collect()
}

fn lines(lid: &Lid, printing: Printing<'_>) -> Vec<(String, Weight)> {
    let now = printing.now;
    let mixed = format!("mixed {}", when(lid.standing.cup.mixed_at, now));
    let clears = lid
        .clears
        .map(|at| format!("clears {}", when(next_minute(at), now)));
    let targets = &lid.standing.variant.targets;
    let window = targets.window.map(|window| {
        format!(
            "mound {window}, look again after {}",
            show(targets.recheck_after)
        )
    });
    let times = std::iter::once(mixed)
        .chain(clears)
        .collect::<Vec<_>>()
        .join(", ");
    let mut lines = vec![(times, Weight::Plain)];
    lines.extend(window.map(|words| (words, Weight::Plain)));
    lines.extend(warning(lid).map(|words| (words, Weight::Strong)));
    let part = |(name, ml): &(String, _)| format!("{name} {}", show_volume(*ml, printing.measures));
    let parts = lid.parts.iter().map(part).collect::<Vec<_>>().join(", ");
    lines.push((parts, Weight::Plain));
    lines
}

/// What its materials' labels warn of, and the metals in it; the caution that goes with them stands in `cautions`.
fn warning(lid: &Lid) -> Option<String> {
    let metals = lid.metals.iter().map(|metal| format!("{metal} pigment"));
    let words: Vec<String> = lid
        .hazards
        .iter()
        .map(|words| words.trim_end_matches('.').to_owned())
        .chain(metals)
        .collect();
    (!words.is_empty()).then(|| format!("! {}", words.join("; ")))
}

/// A day and a clock time that are right next week too.
fn when(at: Moment, now: &Now) -> String {
    now.zone.tell(at).format("%-d %b %H:%M").to_string()
}

fn colour_of(tape: &str) -> Option<Colour> {
    let colour = crate::trade::colour::Colour::of_tape(tape)?;
    let [red, green, blue] = colour.0;
    Some((red, green, blue))
}

/// Black or white, whichever stands out more (relative luminance and contrast as in WCAG 2.1).
fn letters_on(fill: Colour) -> Colour {
    let light = |part: u8| {
        let part = f64::from(part) / 255.0;
        if part <= 0.040_45 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    };
    let luminance = 0.2126 * light(fill.0) + 0.7152 * light(fill.1) + 0.0722 * light(fill.2);
    // Contrast is (lighter + .05) / (darker + .05); the two are equal at sqrt(1.05 * .05) - .05.
    if luminance > 0.179 { BLACK } else { WHITE }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tape_is_shown_by_its_last_colour_word() {
        assert_eq!(colour_of("dark Green"), Some((0x16, 0x4a, 0x30)));
        assert_eq!(colour_of("tartan"), None);
    }

    #[test]
    fn letters_stand_out_on_every_tape() {
        assert_eq!(letters_on((250, 220, 60)), BLACK);
        assert_eq!(letters_on((50, 100, 190)), WHITE);
    }
}
