//! The Rack's lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, bind, char, code};
use crossterm::event::KeyCode;

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('d')],
        Wish::Dry,
        "judge dry",
        "Judge the chosen picture dry: cells, 0 to 5",
    ),
    bind(
        &[char('v')],
        Wish::Varnish,
        "varnished",
        "The chosen picture was varnished: it leaves the rack",
    ),
    bind(
        &[char('p')],
        Wish::Photos,
        "photos",
        "The chosen picture's photos: added, measured, beside each other",
    ),
    bind(
        &[char('t')],
        Wish::Title,
        "title",
        "The chosen picture's title, and the price asked for it",
    ),
    bind(
        &[char('s')],
        Wish::Sold,
        "sold",
        "The chosen picture was sold: it leaves the rack",
    ),
    bind(
        &[char('e')],
        Wish::Correct,
        "put right",
        "Put the chosen picture's pour right: panel, amounts, technique, air, note",
    ),
    bind(
        &[char('r')],
        Wish::Repeat,
        "once more",
        "Plan the chosen picture once more: its variants, amounts, rests, mounds and moves",
    ),
    bind(
        &[char('c')],
        Wish::Compare,
        "compare",
        "The chosen picture beside the one that it makes once more, or another",
    ),
    bind(
        &[char('i'), char('a')],
        Wish::Air,
        "air",
        "The air of the room; the dates follow it",
    )
    .anyway(),
    bind(
        &[char('f')],
        Wish::Filter,
        "show",
        "Other pictures: on the rack, all, kept, varnished, sold, scraped",
    )
    .anyway(),
    bind(
        &[char('o')],
        Wish::Order,
        "order",
        "Another order: what wants a hand, newest, most cells",
    )
    .anyway(),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Page,
        "open",
        "The pour's page: layers, moves, judgements, cost",
    ),
];
