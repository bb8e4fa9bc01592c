//! The session sheet: a plan for the wall by the bench, to be filled in with a pencil.

use super::fonts::Weight;
use super::ink::{Area, BLACK, GREY, Ink, Paper};
use crate::studio::Answer;
use crate::studio::{PlanLayer, PlanSheet, Step};
use crate::tell;
use crate::trade::amount::{Measures, show_mass, show_volume};
use crate::trade::caution::{self, Place};
use crate::trade::instant::Now;
use crate::trade::paper::PaperSize;

/// A plan as it is printed.
#[derive(Debug, Clone, Copy)]
pub struct Session<'a> {
    /// The plan's number.
    pub number: i64,
    /// Its sheet.
    pub sheet: &'a PlanSheet,
    /// The paper.
    pub paper: PaperSize,
    /// In which measures amounts stand.
    pub measures: Measures,
    /// The present instant, and the zone of the clock times.
    pub now: &'a Now,
}

/// From the paper's edge.
const MARGIN: f64 = 14.0;
const SIZE: f64 = 4.2;
const LINE: f64 = 7.0;

/// The session sheet of a plan as a PDF.
///
/// # Errors
/// Where the file cannot be put together.
pub fn session(session: Session<'_>) -> Answer<Vec<u8>> {
    let mut paper = Paper::new(&format!("Plan {}", session.number));
    let (wide, high) = session.paper.sides();
    let room = Area {
        x: MARGIN,
        y: MARGIN,
        w: wide.get() - 2.0 * MARGIN,
        h: high.get() - 2.0 * MARGIN,
    };
    let mut blocks = blocks(session);
    let mut first = true;
    while first || !blocks.is_empty() {
        let mut taken = 0;
        paper.page((wide, high), |ink| {
            let mut at = heading(ink, session, room, first);
            for block in &blocks {
                let fits = at + block.height() <= room.y + room.h - LINE;
                if !fits && taken > 0 {
                    break;
                }
                at = block.draw(ink, room, at);
                taken += 1;
            }
            footing(ink, room);
        });
        blocks.drain(..taken.min(blocks.len()));
        first = false;
    }
    paper.finish()
}

/// More steps than these stand in two columns.
const ONE_COLUMN: usize = 16;
/// In less than so many millimetres a step's words stand closer together.
const NARROW: f64 = 120.0;

/// What may not be torn apart at the end of a page.
enum Block {
    Title(&'static str),
    /// What stands beside one another in so many columns: the schedule goes down the left one first.
    Steps {
        beside: Vec<[String; 3]>,
        columns: usize,
    },
    Cup {
        thinner: &'static str,
        title: String,
        parts: Vec<[String; 3]>,
    },
}

fn blocks(session: Session<'_>) -> Vec<Block> {
    let mut blocks = vec![Block::Title("What to do when")];
    blocks.extend(steps(session));
    blocks.push(Block::Title("The cups, lowest layer first"));
    blocks.extend(
        session
            .sheet
            .layers
            .iter()
            .map(|layer| cup_block(session, layer)),
    );
    blocks
}

/// The schedule in one column, or in two where it is long.
fn steps(session: Session<'_>) -> Vec<Block> {
    let steps = session.sheet.schedule.iter();
    in_columns(steps.map(|step| step_words(session, step)).collect())
}

fn in_columns(mut left: Vec<[String; 3]>) -> Vec<Block> {
    let columns = 1 + usize::from(left.len() > ONE_COLUMN);
    let mut right = left.split_off(left.len().div_ceil(columns)).into_iter();
    let row = |step| Block::Steps {
        beside: std::iter::once(step).chain(right.next()).collect(),
        columns,
    };
    left.into_iter().map(row).collect()
}

fn step_words(session: Session<'_>, step: &Step) -> [String; 3] {
    let at = session.now.zone.tell(step.at);
    [
        at.format("%a %-d %b %H:%M").to_string(),
        step.deed.to_string(),
        step.cup
            .as_ref()
            .map_or_else(String::new, ToString::to_string),
    ]
}

fn cup_block(session: Session<'_>, layer: &PlanLayer) -> Block {
    let volume = |ml| show_volume(ml, session.measures);
    let cups = tell::plans::in_cups(layer, session.measures);
    let title = format!(
        "{}: {}{cups} ({})",
        layer.variant_ref(),
        volume(layer.ml),
        layer.recipe.layer
    );
    let parts = layer.parts.iter().map(|part| {
        let mass = part.g.map(|g| show_mass(g, session.measures));
        [
            part.name.clone(),
            volume(part.ml),
            mass.unwrap_or_else(|| "weight unknown".to_owned()),
        ]
    });
    let thinner = match session.measures {
        Measures::Metric => "thinner, ml",
        Measures::UsCustomary => "thinner, fl oz",
    };
    Block::Cup {
        thinner,
        title,
        parts: parts.collect(),
    }
}

impl Block {
    fn height(&self) -> f64 {
        match self {
            Self::Title(_) => LINE * 3.0,
            Self::Steps { .. } => LINE,
            Self::Cup { parts, .. } => LINE * (parts.len() as f64 + 3.4),
        }
    }

    /// Draws it from a height on; answers where the next begins.
    fn draw(&self, ink: &mut Ink<'_, '_>, room: Area, at: f64) -> f64 {
        match self {
            Self::Title(words) => {
                ink.fit(
                    words,
                    Weight::Strong,
                    (room.x, at + LINE * 1.2),
                    (5.5, 3.0),
                    room.w,
                    BLACK,
                );
                at + LINE * 1.7
            }
            Self::Steps { beside, columns } => {
                let wide = room.w / *columns as f64;
                for (nth, words) in beside.iter().enumerate() {
                    let x = room.x + wide * nth as f64;
                    step(ink, words, Area { x, w: wide, ..room }, at);
                }
                at + LINE
            }
            Self::Cup {
                thinner,
                title,
                parts,
            } => {
                let parts_end = cup(ink, title, parts, room, at);
                to_fill_in(ink, thinner, room, at, parts_end)
            }
        }
    }
}

fn step(ink: &mut Ink<'_, '_>, words: &[String; 3], room: Area, at: f64) {
    tick_box(ink, room.x, at);
    let foot = at + LINE * 0.68;
    let columns = match room.w < NARROW {
        true => [8.0, 44.0, 58.0, room.w],
        false => [8.0, 48.0, 76.0, room.w],
    };
    for (nth, text) in words.iter().enumerate() {
        let weight = if nth == 0 {
            Weight::Strong
        } else {
            Weight::Plain
        };
        let width = columns[nth + 1] - columns[nth] - 2.0;
        ink.fit(
            text,
            weight,
            (room.x + columns[nth], foot),
            (SIZE, 2.4),
            width,
            BLACK,
        );
    }
}

fn tick_box(ink: &mut Ink<'_, '_>, x: f64, at: f64) {
    ink.outline(
        Area {
            x,
            y: at + 1.4,
            w: 4.4,
            h: 4.4,
        },
        0.35,
        BLACK,
    );
}

/// So wide stand a cup's parts.
fn parts_width(room: Area) -> f64 {
    room.w * 0.55
}

/// A cup with its parts; answers where they end.
fn cup(ink: &mut Ink<'_, '_>, title: &str, parts: &[[String; 3]], room: Area, at: f64) -> f64 {
    ink.fit(
        title,
        Weight::Strong,
        (room.x, at + LINE * 0.7),
        (SIZE, 2.4),
        room.w,
        BLACK,
    );
    let mut at = at + LINE;
    let half = parts_width(room);
    let top = at;
    for [name, volume, mass] in parts {
        tick_box(ink, room.x, at);
        let foot = at + LINE * 0.68;
        ink.fit(
            name,
            Weight::Plain,
            (room.x + 8.0, foot),
            (SIZE, 2.4),
            half - 56.0,
            BLACK,
        );
        ink.fit(
            volume,
            Weight::Strong,
            (room.x + half - 46.0, foot),
            (SIZE, 2.4),
            20.0,
            BLACK,
        );
        ink.fit(
            mass,
            Weight::Plain,
            (room.x + half - 24.0, foot),
            (SIZE, 2.4),
            24.0,
            BLACK,
        );
        at += LINE;
    }
    at.max(top + LINE * 2.0)
}

/// Empty columns beside a cup's parts, for its mark, its mounds and the thinner that went in.
fn to_fill_in(ink: &mut Ink<'_, '_>, thinner: &str, room: Area, from: f64, at: f64) -> f64 {
    let (half, top) = (parts_width(room), from + LINE);
    let heads = ["mark", "mound, s", "mound, s", thinner, "mound, s"];
    let wide = (room.w - half - 4.0) / heads.len() as f64;
    for (nth, head) in heads.iter().enumerate() {
        let cell = Area {
            x: room.x + half + 4.0 + wide * nth as f64,
            y: top,
            w: wide,
            h: at - top,
        };
        ink.outline(cell, 0.25, GREY);
        ink.fit(
            head,
            Weight::Plain,
            (cell.x + 1.0, cell.y + 3.2),
            (2.6, 2.0),
            wide - 2.0,
            GREY,
        );
    }
    at + LINE * 0.9
}

fn heading(ink: &mut Ink<'_, '_>, session: Session<'_>, room: Area, first: bool) -> f64 {
    let pour = session
        .now
        .zone
        .tell(session.sheet.pour_at)
        .format("%a %-d %b %Y %H:%M");
    let panels = &session.sheet.panels;
    let title = format!("Plan {}: pour {pour}", session.number);
    ink.fit(
        &title,
        Weight::Strong,
        (room.x, room.y + 7.0),
        (8.5, 4.0),
        room.w,
        BLACK,
    );
    if !first {
        return room.y + 12.0;
    }
    let way = session
        .sheet
        .way
        .as_ref()
        .map(|way| format!(", {way}"))
        .unwrap_or_default();
    let words = format!(
        "{} x {}{way}; {} of paint in all",
        panels.count,
        panels.panel.show(session.measures),
        show_volume(session.sheet.total, session.measures)
    );
    ink.fit(
        &words,
        Weight::Plain,
        (room.x, room.y + 14.0),
        (SIZE, 2.4),
        room.w,
        BLACK,
    );
    room.y + 18.0
}

fn footing(ink: &mut Ink<'_, '_>, room: Area) {
    let places = [Place::Bench, Place::Drains];
    let cautions = places
        .iter()
        .flat_map(|place| caution::at(*place))
        .map(|one| one.short);
    let words = cautions.collect::<Vec<_>>().join("; ");
    ink.fit(
        &words,
        Weight::Plain,
        (room.x, room.y + room.h),
        (3.0, 2.0),
        room.w,
        GREY,
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    // The last of an odd number stands as those above it.
    #[test]
    fn every_step_of_a_long_schedule_stands_in_two_columns() {
        let steps = |count: usize| vec![["Mon".to_owned(), "mix".to_owned(), String::new()]; count];
        let told = |count: usize| {
            let rows = in_columns(steps(count)).into_iter();
            let row = |block| match block {
                Block::Steps { beside, columns } => (beside.len(), columns),
                _ => panic!("no step"),
            };
            rows.map(row).collect::<Vec<_>>()
        };
        assert_eq!(told(16), vec![(1, 1); 16]);
        let mut odd = vec![(2, 2); 8];
        odd.push((1, 2));
        assert_eq!(told(17), odd);
    }
}
