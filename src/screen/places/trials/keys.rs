//! The Trials' lines of the table of keys.

use super::Wish;
use crate::screen::kit::keys::{Binding, Key, bind, char, code};
use crossterm::event::KeyCode;

const BACK: &[Key] = &[code(KeyCode::Esc), code(KeyCode::Backspace)];

/// The Trials' keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Wish::Runs,
        "runs",
        "Go through the runs of the chosen trial",
    ),
    bind(
        &[char('p')],
        Wish::Pour,
        "pour",
        "Pour the run: the next pour on the Pour screen is made for it",
    ),
    bind(
        &[char('d')],
        Wish::Judge,
        "judge",
        "Judge the run's picture: cells, 0 to 5",
    ),
    bind(
        &[char('f')],
        Wish::Effects,
        "effects",
        "What the trial found: each effect drawn and said",
    ),
    bind(&[char('a')], Wish::New, "new", "Set a trial up").anyway(),
    bind(
        &[char('o')],
        Wish::Settings,
        "settings",
        "The run's settings, for the hand that mixes",
    ),
    bind(
        &[char('l')],
        Wish::Link,
        "last pour",
        "The last pour was made for the run",
    ),
];

/// The keys among the runs of a trial; those of the trials hold there too.
pub const RUNS: &[Binding<Wish>] = &[
    bind(
        &[char('x')],
        Wish::Skip,
        "give up",
        "Give the chosen run up, with the reason: the trial ends without it",
    ),
    bind(BACK, Wish::Rows, "back", "Back to the trials"),
];

/// The keys of what a trial found.
pub const EFFECTS: &[Binding<Wish>] = &[bind(BACK, Wish::Rows, "back", "Back to the trials")];
