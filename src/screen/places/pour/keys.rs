//! The Pour's lines of the table of keys.

use super::Wish;
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crate::trade::pour::MoveKind;
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let context = Context::Screen(Screen::Pour);
    Binding::at(context, keys, Action::Pour(wish), word, help)
}

/// The Pour's keys.
pub const KEYS: &[Binding] = &[
    here(
        &[char('p')],
        Wish::Setting("panel"),
        "panel",
        "The panel, its technique and the room",
    ),
    here(
        &[char('a')],
        Wish::Add,
        "add",
        "Put a cup on top of the stack",
    ),
    here(
        &[char('A')],
        Wish::AddReady,
        "all ready",
        "Put every ready cup on, the thickest lowest",
    ),
    here(
        &[char('g')],
        Wish::Go,
        "pour",
        "Pour it: write it down and take the cups down",
    ),
    here(
        &[code(KeyCode::Enter), char('m')],
        Wish::Amount,
        "amount",
        "How much of the chosen layer",
    ),
    here(
        &[char('x'), code(KeyCode::Delete)],
        Wish::Remove,
        "off",
        "Take the chosen layer off",
    ),
    here(
        &[char('+'), char(']')],
        Wish::Raise,
        "higher",
        "Put the chosen layer one higher",
    ),
    here(
        &[char('-'), char('[')],
        Wish::Lower,
        "lower",
        "Put the chosen layer one lower",
    ),
    here(
        &[char('t')],
        Wish::Move(MoveKind::Tilt),
        "tilt",
        "The panel was tilted",
    ),
    here(
        &[char('s')],
        Wish::Move(MoveKind::Spin),
        "spin",
        "It was spun: direction and turns",
    ),
    here(
        &[char('b')],
        Wish::Move(MoveKind::Blow),
        "blow",
        "It was blown",
    ),
    here(
        &[char('w')],
        Wish::Move(MoveKind::Swipe),
        "swipe",
        "It was wiped across",
    ),
    here(
        &[char('f')],
        Wish::Move(MoveKind::Torch),
        "flame",
        "A flame went over it",
    ),
    here(
        &[code(KeyCode::Backspace)],
        Wish::Unmove,
        "",
        "Take the last move back",
    ),
    here(
        &[char('y')],
        Wish::Setting("way"),
        "way",
        "The technique, in your words",
    ),
    here(
        &[char('i')],
        Wish::Setting("air"),
        "air",
        "The air in the room",
    ),
    here(&[char('n')], Wish::Setting("note"), "note", "Anything else"),
    here(
        &[char('d')],
        Wish::Judge,
        "judge",
        "Judge the last pour: cells, 0 to 5",
    ),
    here(
        &[char('o')],
        Wish::Again,
        "start over",
        "Scrape the last pour and begin again",
    ),
    here(
        &[char('G')],
        Wish::GoEvenSo,
        "",
        "Pour it though a cup was thought to hold less",
    ),
    here(
        &[char('X')],
        Wish::Clear,
        "",
        "Take everything off and begin afresh",
    ),
];
