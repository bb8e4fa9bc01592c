//! The keys that hold everywhere, and those of what lies over a screen.

use crate::screen::Screen;
use crate::screen::kit::keys::{Binding, Key, bind, char, code, ctrl};
use crate::screen::kit::step::Step;
use crate::screen::places::bench;
use crate::screen::shell::action::{Action, Seek};
use crossterm::event::KeyCode;

/// What the digits do.
const SCREENS: &str = "That screen, as the top has them; also B P R F S L C T";

/// What the arrows do.
const LINES: &str = "Another line, a page of them, either end; also k j";

/// The keys that hold on every screen, as long as no text is typed.
pub const KEYS: &[Binding<Action>] = &[
    bind(
        &[char('u')],
        Action::Undo,
        "undo",
        "Take the last deed back",
    ),
    bind(
        &[char('U')],
        Action::Redo,
        "",
        "Do again what was taken back",
    ),
    bind(
        &[char('?')],
        Action::Help,
        "help",
        "Show the keys of this place",
    ),
    bind(&[char('q')], Action::Quit, "quit", "Leave; all is kept"),
    bind(
        &[char('n')],
        Action::NextHand,
        "next",
        "The next cup that wants a hand, on the Bench",
    ),
    bind(
        &[char('/')],
        Action::Seek(Seek::Begin),
        "find",
        "Type a mark, a number or a part of a name: its line is chosen",
    ),
    bind(
        &[char('W')],
        Action::WriteOut,
        "file",
        "A file: labels, a plan, a report; stillcup import takes lists in",
    ),
    bind(
        &[char(',')],
        Action::Bench(bench::Wish::Settings),
        "",
        "The studio's settings",
    ),
    bind(
        &[char('h')],
        Action::History,
        "",
        "Show what was done, newest first",
    ),
    bind(
        &[char('M')],
        Action::Messages,
        "",
        "Show the last messages again",
    ),
    bind(
        &[code(KeyCode::Esc)],
        Action::Back,
        "",
        "The message was read: clear it",
    ),
    bind(
        &[char('1'), char('B')],
        Action::Go(Screen::Bench),
        "",
        SCREENS,
    ),
    bind(
        &[char('2'), char('P')],
        Action::Go(Screen::Pour),
        "",
        SCREENS,
    ),
    bind(
        &[char('3'), char('R')],
        Action::Go(Screen::Rack),
        "",
        SCREENS,
    ),
    bind(
        &[char('4'), char('F')],
        Action::Go(Screen::Findings),
        "",
        SCREENS,
    ),
    bind(
        &[char('5'), char('S')],
        Action::Go(Screen::Shelf),
        "",
        SCREENS,
    ),
    bind(
        &[char('6'), char('L')],
        Action::Go(Screen::Plan),
        "",
        SCREENS,
    ),
    bind(
        &[char('7'), char('C')],
        Action::Go(Screen::Recipes),
        "",
        SCREENS,
    ),
    bind(
        &[char('8'), char('T')],
        Action::Go(Screen::Trials),
        "",
        SCREENS,
    ),
    bind(
        &[code(KeyCode::Up), char('k')],
        Action::Step(Step::Up),
        "",
        LINES,
    ),
    bind(
        &[code(KeyCode::Down), char('j')],
        Action::Step(Step::Down),
        "",
        LINES,
    ),
    bind(
        &[code(KeyCode::PageUp)],
        Action::Step(Step::PageUp),
        "",
        LINES,
    ),
    bind(
        &[code(KeyCode::PageDown)],
        Action::Step(Step::PageDown),
        "",
        LINES,
    ),
    bind(&[code(KeyCode::Home)], Action::Step(Step::First), "", LINES),
    bind(&[code(KeyCode::End)], Action::Step(Step::Last), "", LINES),
    bind(
        &[ctrl('c')],
        Action::Quit,
        "",
        "Leave at once, wherever you are",
    ),
];

const AWAY: &[Key] = &[code(KeyCode::Esc)];

/// Away from a form.
pub const FORM: &[Binding<Action>] = &[
    bind(
        AWAY,
        Action::Back,
        "away",
        "Away, nothing kept; what was typed is offered again",
    ),
    bind(&[ctrl('c')], Action::Quit, "", "Leave at once"),
];

/// What is asked over a place is helped with too.
const HELP: Binding<Action> = bind(
    &[char('?')],
    Action::Help,
    "help",
    "Show the keys of this place",
);

/// The keys that go to a screen.
pub fn screens() -> impl Iterator<Item = Binding<Action>> {
    let all = KEYS.iter().copied();
    all.filter(|binding| matches!(binding.wish, Action::Go(_)))
}

/// Away from a clock.
pub const CLOCK: &[Binding<Action>] = &[
    bind(AWAY, Action::Back, "away", "Away, nothing written").anyway(),
    HELP.anyway(),
];

/// Away from what is done step by step.
pub const STEPS: &[Binding<Action>] = &[
    bind(
        AWAY,
        Action::Back,
        "away",
        "Away; what was done so far is kept, and Space goes on there",
    )
    .anyway(),
    HELP.anyway(),
];

/// Away from a cup that does not end.
pub const ENDING: &[Binding<Action>] = &[bind(AWAY, Action::Back, "keep it", "It lives on"), HELP];

/// Away from a picture that is not judged.
pub const JUDGING: &[Binding<Action>] = &[
    bind(AWAY, Action::Back, "not now", "Nothing is judged").anyway(),
    HELP.anyway(),
];

/// Away from a file that is not written.
pub const OUTGOING: &[Binding<Action>] = &[
    bind(AWAY, Action::Back, "not now", "Nothing is written"),
    HELP,
];

/// Away from the corners of a panel.
pub const CORNERS: &[Binding<Action>] = &[HELP];

/// The keys while a line is sought; every other key that writes a character types it.
pub const SEEKING: &[Binding<Action>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Action::Seek(Seek::End),
        "here",
        "Stay on the line that was found",
    ),
    bind(&[code(KeyCode::Esc)], Action::Back, "away", "Seek no more"),
    bind(
        &[code(KeyCode::Backspace)],
        Action::Seek(Seek::Backspace),
        "",
        "Take the sign before away",
    ),
];

/// The keys of the history.
pub const HISTORY: &[Binding<Action>] = &[bind(
    &[char('x')],
    Action::UndoChosen,
    "take back",
    "Take the chosen deed back, where nothing later rests on it",
)];

/// The keys of a page that is read.
pub const PAGE: &[Binding<Action>] = &[
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Enter)],
        Action::Back,
        "back",
        "Back to where it was opened",
    ),
    bind(
        &[code(KeyCode::Up), char('k')],
        Action::Step(Step::Up),
        "",
        "Further, or back",
    ),
    bind(
        &[code(KeyCode::Down), char('j'), char(' ')],
        Action::Step(Step::Down),
        "further",
        "Further, or back",
    ),
    bind(
        &[code(KeyCode::PageUp)],
        Action::Step(Step::PageUp),
        "",
        "Further, or back",
    ),
    bind(
        &[code(KeyCode::PageDown)],
        Action::Step(Step::PageDown),
        "",
        "Further, or back",
    ),
    bind(
        &[code(KeyCode::Home)],
        Action::Step(Step::First),
        "",
        "Further, or back",
    ),
];
