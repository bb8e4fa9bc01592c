//! The Plan's lines of the table of keys.

use super::Wish;
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let context = Context::Screen(Screen::Plan);
    Binding::at(context, keys, Action::Plan(wish), word, help)
}

const fn sheet(
    keys: &'static [Key],
    wish: Wish,
    word: &'static str,
    help: &'static str,
) -> Binding {
    Binding::at(Context::Sheet, keys, Action::Plan(wish), word, help)
}

/// The Plan's keys.
pub const KEYS: &[Binding] = &[
    here(
        &[char('n')],
        Wish::Order,
        "new",
        "Plan paint for a panel: how much, from what, when",
    ),
    here(
        &[char('m')],
        Wish::Mix,
        "mix next",
        "Mix the next cup of the chosen plan",
    ),
    here(
        &[code(KeyCode::Enter)],
        Wish::Open,
        "open",
        "The chosen plan: its parts, its day, its cost",
    ),
    sheet(
        &[char('w')],
        Wish::Keep,
        "keep",
        "Keep this plan, so that its cups can be mixed from it",
    ),
    sheet(
        &[char('n')],
        Wish::Order,
        "change",
        "Change what is asked for",
    ),
    sheet(
        &[char('m')],
        Wish::Mix,
        "mix next",
        "Mix the next cup of this kept plan",
    ),
    sheet(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Close,
        "back",
        "Back to the kept plans",
    ),
];
