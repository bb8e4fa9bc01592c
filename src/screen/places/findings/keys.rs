//! The Findings' lines of the table of keys.

use super::{Window, Wish};
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let place = Context::Screen(Screen::Findings);
    Binding::at(place, keys, Action::Findings(wish), word, help)
}

const fn behind(
    keys: &'static [Key],
    wish: Wish,
    word: &'static str,
    help: &'static str,
) -> Binding {
    Binding::at(Context::Behind, keys, Action::Findings(wish), word, help)
}

const fn why(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    Binding::at(Context::Why, keys, Action::Findings(wish), word, help)
}

/// The Findings' keys.
pub const KEYS: &[Binding] = &[
    here(
        &[code(KeyCode::Enter)],
        Wish::Behind,
        "its pours",
        "The pours behind the chosen row",
    ),
    here(
        &[char('y')],
        Wish::Why,
        "why",
        "What went with good pours, and what to try next",
    ),
    here(
        &[code(KeyCode::Left), char('[')],
        Wish::MonthBefore,
        "month before",
        "The last whole month; again, the one before it",
    ),
    here(
        &[code(KeyCode::Right), char(']')],
        Wish::MonthAfter,
        "",
        "The month after",
    ),
    here(
        &[char('t')],
        Wish::Look(Window::Days(30)),
        "30 days",
        "The last 30 days",
    ),
    here(
        &[char('n')],
        Wish::Look(Window::Days(90)),
        "90 days",
        "The last 90 days",
    ),
    here(&[char('a')], Wish::Look(Window::All), "all", "Everything"),
    here(
        &[char('m')],
        Wish::Month,
        "a month",
        "A month that you type, such as 2026-10",
    ),
    why(
        &[code(KeyCode::Enter)],
        Wish::Behind,
        "its pours",
        "The pours behind the chosen row",
    ),
    why(
        &[char('p')],
        Wish::Plan,
        "plan it",
        "A plan for the chosen suggestion, like its last pour",
    ),
    why(
        &[char('m')],
        Wish::Mix,
        "mix it",
        "A cup of the chosen suggestion",
    ),
    why(
        &[char('x')],
        Wish::Beside,
        "two at once",
        "The chosen factor beside another: again on the other one",
    ),
    why(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Away,
        "back",
        "One step back, at last to the variants",
    ),
    why(
        &[code(KeyCode::Left), char('[')],
        Wish::MonthBefore,
        "",
        "The last whole month; again, the one before it",
    ),
    why(
        &[code(KeyCode::Right), char(']')],
        Wish::MonthAfter,
        "",
        "The month after",
    ),
    why(
        &[char('t')],
        Wish::Look(Window::Days(30)),
        "",
        "The last 30 days",
    ),
    why(
        &[char('n')],
        Wish::Look(Window::Days(90)),
        "",
        "The last 90 days",
    ),
    why(&[char('a')], Wish::Look(Window::All), "all", "Everything"),
    behind(
        &[code(KeyCode::Enter)],
        Wish::Pour,
        "open",
        "The chosen pour's page",
    ),
    behind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Rows,
        "back",
        "Back to the rows",
    ),
];
