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
        &[char(' ')],
        Wish::MixSteps,
        "part by part",
        "Mix the chosen plan's cups part by part, in large letters, each ticked off",
    ),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Open,
        "open",
        "The chosen plan: its parts, its day, its cost",
    ),
];

/// The keys while a cup of a plan is mixed part by part: one goes on, a foot may press it.
pub const MIXING: &[Binding<Wish>] = &[
    bind(
        &[char(' '), code(KeyCode::Enter)],
        Wish::Tick,
        "in, next",
        "This part is in: the next one; after the stirring the cup is mixed",
    ),
    bind(
        &[code(KeyCode::Backspace), code(KeyCode::Left)],
        Wish::Untick,
        "back",
        "The part before is not in yet",
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
        &[char(' ')],
        Wish::MixSteps,
        "part by part",
        "Mix this kept plan's cups part by part, each ticked off",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Close,
        "back",
        "Back to the kept plans",
    ),
];
