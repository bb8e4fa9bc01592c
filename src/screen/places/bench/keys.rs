//! The Bench's lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, bind, char, code};
use crate::studio::orders::SimpleDeed;
use crate::trade::cup::{End, Seen};
use crossterm::event::KeyCode;

/// The keys of an empty studio.
pub const GREETING: &[Binding<Wish>] = &[
    bind(
        &[char('f')],
        Wish::First,
        "first cup",
        "Mix your first cup, guided",
    ),
    bind(
        &[char('s')],
        Wish::Starters,
        "starters",
        "Put starter materials and recipes in",
    ),
    bind(
        &[char('d')],
        Wish::Demo,
        "demo",
        "An invented studio, in a file of its own, to look round",
    ),
];

// What is done to a cup, on the Bench and on its own page alike.
const READ: Binding<Wish> = bind(&[char('r')], Wish::Read, "read", "Type a reading of it");
const THIN: Binding<Wish> = bind(
    &[char('t')],
    Wish::Thin,
    "thin",
    "Write down thinner that goes into the chosen cup",
);
const ADD: Binding<Wish> = bind(
    &[char('a')],
    Wish::Add,
    // The footer at eighty columns has no room for it beside n and /.
    "",
    "Add paint to it, from the shelf or out of another cup",
);
const CLEAR: Binding<Wish> = bind(
    &[char('c')],
    Wish::Simple(SimpleDeed::Look(Seen::Clear)),
    "clear",
    "It was looked at: clear",
);
const BUBBLES: Binding<Wish> = bind(
    &[char('b')],
    Wish::Simple(SimpleDeed::Look(Seen::Bubbles)),
    "bubbles",
    "It was looked at: bubbles still",
);

/// The Bench's keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(&[char('m')], Wish::Mix, "mix", "Mix a cup by its recipe").anyway(),
    THIN,
    READ,
    bind(
        &[char('w')],
        Wish::Watch,
        "watch",
        "Time its mound with the stopwatch",
    ),
    bind(
        &[char('l')],
        Wish::Like,
        "like last",
        "Mix a cup like the one mixed last",
    ),
    ADD,
    bind(
        &[char('s')],
        Wish::Stir,
        "stir",
        "Stir it by the clock; its rest starts anew",
    ),
    CLEAR,
    BUBBLES,
    bind(
        &[char('o')],
        Wish::Lid,
        "lid",
        "Take its lid off, or put it on",
    ),
    bind(
        &[char('g')],
        Wish::Tag,
        "tag",
        "Write another mark or tape on its lid",
    ),
    bind(
        &[char('e')],
        Wish::End,
        "end",
        "End it: used up, binned or skinned over",
    ),
    bind(
        &[char('p')],
        Wish::Stack,
        "stack",
        "Put it on the stack to be poured",
    ),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Life,
        "life",
        "Its whole life",
    ),
    bind(
        &[char('x')],
        Wish::Visit,
        "",
        "The life of any cup by its mark, though it is spent",
    )
    .anyway(),
];

/// The keys of a cup's life.
pub const LIFE: &[Binding<Wish>] = &[
    bind(
        &[char('e')],
        Wish::Amend,
        "put right",
        "Put the chosen entry right: its value, its time, its cup",
    ),
    bind(
        &[char('x')],
        Wish::Strike,
        "strike",
        "Strike the chosen entry; the history keeps it",
    ),
    READ,
    THIN,
    ADD,
    CLEAR,
    BUBBLES.unlabelled(),
];

/// The keys of a clock that times a mound; what it stopped at is kept only where it is doubted.
pub const CLOCK: &[Binding<Wish>] = &[
    bind(
        &[char(' '), code(KeyCode::Enter)],
        Wish::Press,
        "start, stop",
        "Start; stop and write it down",
    )
    .anyway(),
    bind(
        &[char('k')],
        Wish::KeepTimed,
        "keep it",
        "Keep what it stopped at, though it is far from what was expected",
    ),
    bind(
        &[char('n')],
        Wish::Never,
        "never fades",
        "The mound does not fade: the cup has gelled",
    )
    .anyway(),
];

/// The key of a clock that runs while a cup is stirred.
pub const STIRRING: &[Binding<Wish>] = &[bind(
    &[char(' '), code(KeyCode::Enter)],
    Wish::Press,
    "stop",
    "Stop and write it down",
)];

/// The keys that say how a cup ended.
pub const ENDING: &[Binding<Wish>] = &[
    bind(
        &[char('u')],
        Wish::Ended(End::Used),
        "used up",
        "All of it was used",
    ),
    bind(
        &[char('b')],
        Wish::Ended(End::Binned),
        "binned",
        "The rest was thrown out",
    ),
    bind(
        &[char('s')],
        Wish::Ended(End::Skinned),
        "skinned",
        "A skin grew over it",
    ),
];
