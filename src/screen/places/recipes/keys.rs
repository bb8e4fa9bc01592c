//! The Recipes' lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, bind, char, code};
use crossterm::event::KeyCode;

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('m')],
        Wish::Mix,
        "mix",
        "Mix a cup of the chosen recipe",
    ),
    bind(
        &[char('e')],
        Wish::Change,
        "change",
        "Change it: a new variant that remembers this one",
    ),
    bind(
        &[char('r')],
        Wish::Rename,
        "rename",
        "Give it another name or layer; its variants stay",
    ),
    bind(
        &[char('g')],
        Wish::Merge,
        "merge",
        "It is another name of one that is there: merge the two",
    ),
    bind(
        &[char('x')],
        Wish::PutAway,
        "retire",
        "Offer it no more, or again; removed where nothing ever used it",
    ),
    bind(&[char('a')], Wish::New, "new", "Write a new recipe down").anyway(),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Page,
        "variants",
        "All its variants, and what each changed",
    ),
];
