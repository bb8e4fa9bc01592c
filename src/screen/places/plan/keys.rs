//! The Plan's lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, bind, char, code};
use crossterm::event::KeyCode;

/// The Plan's keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('a')],
        Wish::Order,
        "new",
        "Plan paint for a panel: how much, from what, when",
    )
    .anyway(),
    bind(
        &[char('m')],
        Wish::Mix,
        "mix next",
        "Mix the next cup of the chosen plan",
    ),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Open,
        "open",
        "The chosen plan: its parts, its day, its cost",
    ),
];

/// The keys of a plan's sheet.
pub const SHEET: &[Binding<Wish>] = &[
    bind(
        &[char('w')],
        Wish::Keep,
        "keep",
        "Keep this plan, so that its cups can be mixed from it",
    ),
    bind(
        &[char('a')],
        Wish::Order,
        "change",
        "Change what is asked for",
    ),
    bind(
        &[char('m')],
        Wish::Mix,
        "mix next",
        "Mix the next cup of this kept plan",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Close,
        "back",
        "Back to the kept plans",
    ),
];
