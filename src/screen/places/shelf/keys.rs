//! The Shelf's lines of the table of keys.

use super::Wish;
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    let context = Context::Screen(Screen::Shelf);
    Binding::at(context, keys, Action::Shelf(wish), word, help)
}

/// Its keys.
pub const KEYS: &[Binding] = &[
    here(
        &[char('b')],
        Wish::Bought,
        "bought",
        "Something was bought: packs or an amount",
    ),
    here(
        &[char('c')],
        Wish::Counted,
        "counted",
        "Say what is really left",
    ),
    here(&[char('n')], Wish::New, "new", "Write a new material down"),
    here(
        &[code(KeyCode::Enter), char('e')],
        Wish::Change,
        "change",
        "Change what is known of the chosen material",
    ),
    here(
        &[char('!')],
        Wish::Cautions,
        "cautions",
        "The cautions in full; local codes and the maker's sheet come first",
    ),
];
