//! The Recipes' lines of the table of keys.

use super::Wish;
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let context = Context::Screen(Screen::Recipes);
    Binding::at(context, keys, Action::Recipes(wish), word, help)
}

/// Its keys.
pub const KEYS: &[Binding] = &[
    here(
        &[char('m')],
        Wish::Mix,
        "mix",
        "Mix a cup of the chosen recipe",
    ),
    here(
        &[char('e')],
        Wish::Change,
        "change",
        "Change it: a new variant that remembers this one",
    ),
    here(&[char('n')], Wish::New, "new", "Write a new recipe down"),
    here(
        &[code(KeyCode::Enter)],
        Wish::Page,
        "variants",
        "All its variants, and what each changed",
    ),
];
