//! The Shelf's lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, bind, char, code};
use crossterm::event::KeyCode;

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('b')],
        Wish::Bought,
        "bought",
        "Something was bought: packs or an amount",
    ),
    bind(
        &[char('c')],
        Wish::Counted,
        "counted",
        "Say what is really left",
    ),
    bind(&[char('a')], Wish::New, "new", "Write a new material down").anyway(),
    bind(
        &[code(KeyCode::Enter), char('e')],
        Wish::Change,
        "change",
        "Change what is known of the chosen material",
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
    bind(
        &[char('!')],
        Wish::Cautions,
        "cautions",
        "The cautions in full; local codes and the maker's sheet come first",
    )
    .anyway(),
];
