//! The Bench's lines of the table of keys.

use super::Wish;
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let context = Context::Screen(Screen::Bench);
    Binding::at(context, keys, Action::Bench(wish), word, help)
}

const fn greeting(
    keys: &'static [Key],
    wish: Wish,
    word: &'static str,
    help: &'static str,
) -> Binding {
    Binding::at(Context::Greeting, keys, Action::Bench(wish), word, help)
}

/// The Bench's keys.
pub const KEYS: &[Binding] = &[
    greeting(
        &[char('f')],
        Wish::First,
        "first cup",
        "Mix your first cup, guided",
    ),
    greeting(
        &[char('s')],
        Wish::Starters,
        "starters",
        "Put starter materials and recipes in",
    ),
    greeting(
        &[char('d')],
        Wish::Demo,
        "demo",
        "Fill this studio with an invented one, to look round",
    ),
    here(&[char('m')], Wish::Mix, "mix", "Mix a cup by its recipe"),
    here(
        &[char('l')],
        Wish::Like,
        "like last",
        "Mix a cup like the one mixed last",
    ),
    here(
        &[char('t')],
        Wish::Thin,
        "thin",
        "Write down thinner that goes into the chosen cup",
    ),
    here(
        &[char('w')],
        Wish::Watch,
        "watch",
        "Time its mound with the stopwatch",
    ),
    here(&[char('r')], Wish::Read, "read", "Type a reading of it"),
    here(
        &[char('s')],
        Wish::Stir,
        "stir",
        "Stir it by the clock; its rest starts anew",
    ),
    here(
        &[char('c')],
        Wish::Clear,
        "clear",
        "It was looked at: clear",
    ),
    here(
        &[char('b')],
        Wish::Bubbles,
        "bubbles",
        "It was looked at: bubbles still",
    ),
    here(
        &[char('o')],
        Wish::Lid,
        "lid",
        "Take its lid off, or put it on",
    ),
    here(
        &[char('e')],
        Wish::End,
        "end",
        "End it: used up, binned or skinned over",
    ),
    here(
        &[char('p')],
        Wish::Stack,
        "stack",
        "Put it on the stack to be poured",
    ),
    here(
        &[code(KeyCode::Enter)],
        Wish::Life,
        "life",
        "Its whole life",
    ),
];
