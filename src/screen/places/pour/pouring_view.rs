//! How the pour looks step by step: the step in hand, in letters to be read from two metres.

use super::pouring::Step;
use super::{Layer, PourDesk};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::letters::{Large, large};
use crate::screen::kit::look::strong;
use crate::screen::kit::mark::minutes;
use crate::screen::kit::text::lines_of;
use crate::studio::CupStatus;
use crate::tell;
use crate::trade::amount::show_volume;
use crate::trade::life::State;
use crate::trade::pour::{Move, MoveKind};
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::{Block, Paragraph};

/// Cells of a screen's width for each of the bar that has the tape's colour, the gap behind it with it.
const WIDE: u16 = 25;

/// What the hands must do next, in words.
pub fn headline(pour: &PourDesk, desk: &Desk) -> String {
    let (done, left) = (pour.steps_done(), pour.to_do());
    let nth = format!("{} of {}", done + 1, done + left.len());
    match left.first() {
        None => "All is done: Space writes the pour down.".to_owned(),
        Some(Step::Layer(cup)) => {
            let layer = pour.layers.iter().find(|layer| layer.cup == *cup);
            let words = layer.map(|layer| in_words(layer, desk));
            let words = words.unwrap_or_default();
            format!("{nth}: {words}. Space when it lies.")
        }
        Some(Step::Move(one)) => {
            let words = tell::show_move(one);
            format!("{nth}: {words}. Space when it is done.")
        }
    }
}

fn in_words(layer: &Layer, desk: &Desk) -> String {
    let ml = show_volume(layer.ml, desk.measures());
    let cup = desk.known.cup_of(layer.cup);
    let tape = cup.and_then(|cup| cup.cup.tape.as_deref());
    let tape = tape.map(|tape| format!(", {} tape", inert(tape)));
    format!("{}{}, {ml}", layer.mark, tape.unwrap_or_default())
}

/// Draws the step in hand.
pub fn view(pour: &PourDesk, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let left = pour.to_do();
    let bar = bar(left.first(), desk).filter(|_| area.width >= WIDE);
    let wide = if bar.is_some() { area.width / WIDE } else { 0 };
    let [side, rest] =
        Layout::horizontal([Constraint::Length(wide), Constraint::Min(0)]).areas(area);
    if let Some(ink) = bar {
        let side = Rect {
            width: side.width.saturating_sub(1),
            ..side
        };
        frame.render_widget(Block::new().style(ink), side);
    }
    let width = usize::from(rest.width);
    let small = small(pour, desk, &left);
    let words = lines_of(&small, width, 2);
    let lines = lines(pour, desk, left.first());
    // Small words stand where the large ones leave room.
    let least = lines.len() * 4;
    let room = usize::from(rest.height).saturating_sub(least);
    let words = words.into_iter().take(room);
    let words: Vec<_> = words.map(Line::from).collect();
    let high = usize::from(rest.height) - words.len();
    let mut all = large(&lines, width, high);
    all.extend(words);
    frame.render_widget(Paragraph::new(all), rest);
}

/// The colour of the lid's tape, where there is one that is known.
fn bar(step: Option<&Step>, desk: &Desk) -> Option<Style> {
    let Some(Step::Layer(cup)) = step else {
        return None;
    };
    let tape = desk.known.cup_of(*cup)?.cup.tape_colour();
    let ink = desk.paint(tape)?;
    Some(Style::new().bg(ink))
}

/// What stands in large letters.
fn lines(pour: &PourDesk, desk: &Desk, step: Option<&Step>) -> Vec<Large> {
    let watch = pour.step_runs(&desk.beat).map(minutes).unwrap_or_default();
    let words = match step {
        None => vec!["done?".to_owned(), watch],
        Some(Step::Move(one)) => moved(one).into_iter().chain([watch]).collect(),
        Some(Step::Layer(cup)) => {
            let layer = pour.layers.iter().find(|layer| layer.cup == *cup);
            layer.map(|layer| laid(layer, desk)).unwrap_or_default()
        }
    };
    let words = words.iter().filter(|words| !words.is_empty());
    words.map(|one| Large::new(one, strong())).collect()
}

/// The mark, the tape as a word, how much.
fn laid(layer: &Layer, desk: &Desk) -> Vec<String> {
    let cup = desk.known.cup_of(layer.cup);
    let tape = cup.and_then(|cup| cup.cup.tape.as_deref());
    let tape = tape.map(|tape| inert(tape).into_owned());
    let ml = show_volume(layer.ml, desk.measures());
    vec![layer.mark.clone(), tape.unwrap_or_default(), ml]
}

/// What is done, which way and how often.
fn moved(one: &Move) -> Vec<String> {
    let how = inert(&one.way_and_times()).into_owned();
    vec![one.kind.to_string(), how]
}

/// What stands small beneath: whose paint it is and what is wrong with it, then what comes next.
fn small(pour: &PourDesk, desk: &Desk, left: &[Step]) -> String {
    let mut said: Vec<String> = Vec::new();
    match left.first() {
        Some(Step::Layer(cup)) => said.extend(desk.known.cup_of(*cup).map(cup_words)),
        Some(Step::Move(Move {
            kind: MoveKind::Torch,
            ..
        })) => said.push("No flame over mixes thinned with solvent or alcohol".to_owned()),
        Some(Step::Move(_)) => {}
        None => said.push("One more move: t tilt, s spin, b blow, w swipe, f torch".to_owned()),
    }
    let next = left.get(1).map(|step| match step {
        Step::Layer(cup) => {
            let layer = pour.layers.iter().find(|layer| layer.cup == *cup);
            let words = layer.map(|layer| in_words(layer, desk));
            format!("Then {}", words.unwrap_or_default())
        }
        Step::Move(one) => format!("Then {}", tell::show_move(one)),
    });
    said.extend(next);
    said.join(". ")
}

fn cup_words(cup: &CupStatus) -> String {
    let title = inert(&cup.title()).into_owned();
    match cup.state {
        State::Ready => title,
        state => format!("{title}: {state}"),
    }
}
