//! The Findings' lines of the table of keys.

use super::{Window, Wish};
use crate::screen::kit::keys::{Binding, bind, char, code};
use crossterm::event::KeyCode;

// The windows of time, in every list of this place.
const BEFORE: Binding<Wish> = bind(
    &[code(KeyCode::Left), char('[')],
    Wish::MonthBefore,
    "month before",
    "The last whole month; again, the one before it",
);
const AFTER: Binding<Wish> = bind(
    &[code(KeyCode::Right), char(']')],
    Wish::MonthAfter,
    "",
    "The month after",
);
const THIRTY: Binding<Wish> = bind(
    &[char('t')],
    Wish::Look(Window::Days(30)),
    "30 days",
    "The last 30 days",
);
const NINETY: Binding<Wish> = bind(
    &[char('s')],
    Wish::Look(Window::Days(90)),
    "90 days",
    "The last 90 days",
);
const ALL_TIME: Binding<Wish> = bind(&[char('a')], Wish::Look(Window::All), "all", "Everything");

/// The Findings' keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Wish::Behind,
        "its pours",
        "The pours behind the chosen row",
    ),
    bind(
        &[char('y')],
        Wish::Why,
        "why",
        "What went with good pours, and what to try next",
    ),
    bind(
        &[char('b')],
        Wish::Best,
        "best settings",
        "What your pours say of rest, mounds, film and air, and what to set next",
    ),
    bind(
        &[char('o')],
        Wish::Outcome,
        "by photos",
        "By your cells, then by what the photos say: share, diameter, evenness, number",
    ),
    BEFORE.anyway(),
    AFTER,
    THIRTY.anyway(),
    NINETY.anyway(),
    ALL_TIME.anyway(),
    bind(
        &[char('m')],
        Wish::Month,
        "a month",
        "A month that you type, such as 2026-10",
    )
    .anyway(),
];

/// The keys of why pours came out so, and what to try next.
pub const WHY: &[Binding<Wish>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Wish::Behind,
        "its pours",
        "The pours behind the chosen row",
    ),
    bind(
        &[char('p')],
        Wish::Plan,
        "plan it",
        "A plan for the chosen suggestion, like its last pour",
    ),
    bind(
        &[char('m')],
        Wish::Mix,
        "mix it",
        "A cup of the chosen suggestion",
    ),
    bind(
        &[char('x')],
        Wish::Beside,
        "two at once",
        "The chosen factor beside another: again on the other one",
    ),
    bind(
        &[char('o')],
        Wish::Statistics,
        "statistics",
        "Odds ratios, intervals, the method and its sources",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Away,
        "back",
        "One step back, at last to the variants",
    ),
    BEFORE.unlabelled(),
    AFTER,
    THIRTY.unlabelled(),
    NINETY.unlabelled(),
    ALL_TIME,
];

/// The keys of what the photos say.
pub const MEASURED: &[Binding<Wish>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Wish::Behind,
        "its pours",
        "The pours behind the chosen row",
    ),
    bind(
        &[char('o')],
        Wish::Outcome,
        "another outcome",
        "Share, diameter, evenness, number, then good pours again",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Away,
        "back",
        "Back to good pours",
    ),
    BEFORE.unlabelled(),
    AFTER,
    THIRTY,
    NINETY,
    ALL_TIME,
];

/// The keys of the best settings.
pub const BEST: &[Binding<Wish>] = &[
    bind(
        &[char('p')],
        Wish::Plan,
        "plan it",
        "A plan with the advised settings, like the last pour",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Away,
        "back",
        "Back to the variants",
    )
    .anyway(),
    ALL_TIME.anyway(),
    NINETY.anyway(),
    THIRTY.unlabelled(),
];

/// The keys of the pours behind a row.
pub const BEHIND: &[Binding<Wish>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Wish::Pour,
        "open",
        "The chosen pour's page",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Backspace)],
        Wish::Rows,
        "back",
        "Back to the rows",
    ),
];
