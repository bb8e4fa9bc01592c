//! The Trials' lines of the table of keys.

use super::Wish;
use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crossterm::event::KeyCode;

const fn here(keys: &'static [Key], wish: Wish, word: &'static str, help: &'static str) -> Binding {
    within(Context::Screen(Screen::Trials), keys, wish, word, help)
}

const fn within(
    context: Context,
    keys: &'static [Key],
    wish: Wish,
    word: &'static str,
    help: &'static str,
) -> Binding {
    Binding::at(context, keys, Action::Trials(wish), word, help)
}

const BACK: &[Key] = &[code(KeyCode::Esc), code(KeyCode::Backspace)];

/// The Trials' keys; those of the screen hold among the runs too.
pub const KEYS: &[Binding] = &[
    here(
        &[code(KeyCode::Enter)],
        Wish::Runs,
        "runs",
        "Go through the runs of the chosen trial",
    ),
    here(
        &[char('p')],
        Wish::Pour,
        "pour",
        "Pour the run: the next pour on the Pour screen is made for it",
    ),
    here(
        &[char('d')],
        Wish::Judge,
        "judge",
        "Judge the run's picture: cells, 0 to 5",
    ),
    here(
        &[char('f')],
        Wish::Effects,
        "effects",
        "What the trial found: each effect drawn and said",
    ),
    here(&[char('n')], Wish::New, "new", "Set a trial up"),
    here(
        &[char('o')],
        Wish::Settings,
        "settings",
        "The run's settings, for the hand that mixes",
    ),
    here(
        &[char('l')],
        Wish::Link,
        "last pour",
        "The last pour was made for the run",
    ),
    within(
        Context::Runs,
        &[char('x')],
        Wish::Skip,
        "give up",
        "Give the chosen run up, with the reason: the trial ends without it",
    ),
    within(
        Context::Runs,
        BACK,
        Wish::Rows,
        "back",
        "Back to the trials",
    ),
    within(
        Context::Effects,
        BACK,
        Wish::Rows,
        "back",
        "Back to the trials",
    ),
];
