//! The Pour's lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, bind, char, code};
use crate::studio::orders::PourField;
use crate::trade::pour::MoveKind;
use crossterm::event::KeyCode;

/// The keys while it is poured step by step: one goes on, a foot may press it.
pub const POURING: &[Binding<Wish>] = &[
    bind(
        &[char(' '), code(KeyCode::Enter)],
        Wish::Next,
        "done, next",
        "This step is done: the next one; after the last the pour is written down",
    ),
    bind(
        &[code(KeyCode::Backspace), code(KeyCode::Left)],
        Wish::Previous,
        "back",
        "The step before was not done: its watch runs on",
    ),
    bind(
        &[char('x'), code(KeyCode::Delete)],
        Wish::LeaveOut,
        "leave out",
        "This step is not made: its move or layer goes",
    ),
    bind(
        &[char('t')],
        Wish::MoveNow(MoveKind::Tilt),
        "tilt",
        "Tilt it now, though it was not planned",
    ),
    bind(
        &[char('s')],
        Wish::MoveNow(MoveKind::Spin),
        "spin",
        "Spin it now, though it was not planned",
    ),
    bind(
        &[char('b')],
        Wish::MoveNow(MoveKind::Blow),
        "blow",
        "Blow it now, though it was not planned",
    ),
    bind(
        &[char('w')],
        Wish::MoveNow(MoveKind::Swipe),
        "swipe",
        "Swipe it now, though it was not planned",
    ),
    bind(
        &[char('f')],
        Wish::MoveNow(MoveKind::Torch),
        "torch",
        "Pass a flame over it now, though it was not planned",
    ),
    bind(
        &[char('G')],
        Wish::GoEvenSo,
        "",
        "Write it down though a cup was thought to hold less",
    ),
];

/// The Pour's keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('g')],
        Wish::Go,
        "pour",
        "Pour it: write it down and take the cups down",
    ),
    bind(
        &[char(' ')],
        Wish::Begin,
        "step by step",
        "Pour it step by step, in large letters; each step's instant is kept",
    ),
    bind(
        &[char('a')],
        Wish::Add,
        "add",
        "Put a cup on top of the stack",
    )
    .anyway(),
    bind(
        &[char('A')],
        Wish::AddReady,
        "all ready",
        "Put every ready cup on, the thickest lowest: what the panel takes of each",
    )
    .anyway(),
    bind(
        &[char('p')],
        Wish::Setting(PourField::Panel),
        "panel",
        "The panel, its technique and the room",
    )
    .anyway(),
    bind(
        &[code(KeyCode::Enter), char('m')],
        Wish::Amount,
        "amount",
        "How much of the chosen layer",
    ),
    bind(
        &[char('x'), code(KeyCode::Delete)],
        Wish::Remove,
        "off",
        "Take the chosen layer off",
    ),
    bind(
        &[char('+'), char(']')],
        Wish::Raise,
        "higher",
        "Put the chosen layer one higher",
    ),
    bind(
        &[char('-'), char('[')],
        Wish::Lower,
        "lower",
        "Put the chosen layer one lower",
    ),
    bind(
        &[char('>')],
        Wish::More,
        "",
        "A twentieth more of the chosen layer",
    ),
    bind(&[char('<')], Wish::Less, "", "A twentieth less of it"),
    bind(
        &[char('t')],
        Wish::Move(MoveKind::Tilt),
        "tilt",
        "The panel was tilted",
    )
    .anyway(),
    bind(
        &[char('s')],
        Wish::Move(MoveKind::Spin),
        "spin",
        "It was spun: direction and turns",
    )
    .anyway(),
    bind(
        &[char('b')],
        Wish::Move(MoveKind::Blow),
        "blow",
        "It was blown",
    )
    .anyway(),
    bind(
        &[char('w')],
        Wish::Move(MoveKind::Swipe),
        "swipe",
        "It was wiped across",
    )
    .anyway(),
    bind(
        &[char('f')],
        Wish::Move(MoveKind::Torch),
        "torch",
        "A torch went over it",
    )
    .anyway(),
    bind(
        &[code(KeyCode::Backspace)],
        Wish::Unmove,
        "",
        "Strike the last move, of the pour just made too; E puts any right",
    )
    .anyway(),
    bind(
        &[char('y')],
        Wish::Setting(PourField::Way),
        "technique",
        "The technique, in your words",
    )
    .anyway(),
    bind(
        &[char('i')],
        Wish::Setting(PourField::Air),
        "air",
        "The air in the room",
    )
    .anyway(),
    bind(
        &[char('e')],
        Wish::Setting(PourField::Note),
        "note",
        "Anything else",
    )
    .anyway(),
    bind(
        &[char('d')],
        Wish::Judge,
        "judge",
        "Judge the last pour: cells, 0 to 5",
    )
    .anyway(),
    bind(
        &[char('E')],
        Wish::Correct,
        "put right",
        "Put the last pour right: its panel, amounts, technique, air, note",
    )
    .anyway(),
    bind(
        &[char('o')],
        Wish::StartOver,
        "start over",
        "Scrape the last pour and begin again",
    )
    .anyway(),
    bind(
        &[char('G')],
        Wish::GoEvenSo,
        "",
        "Pour it though a cup was thought to hold less",
    ),
    bind(
        &[char('X')],
        Wish::Clear,
        "",
        "Take everything off and begin afresh",
    ),
];
