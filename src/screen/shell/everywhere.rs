//! The keys that hold everywhere, and those of what lies over a screen.

use crate::screen::Screen;
use crate::screen::kit::keys::{Binding, Key, bind, char, code, ctrl};
use crate::screen::kit::step::Step;
use crate::screen::shell::action::{Action, Seek};
use crossterm::event::KeyCode;

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
        "Bench: the living cups",
    ),
    bind(
        &[char('2'), char('P')],
        Action::Go(Screen::Pour),
        "",
        "Pour: the stack of layers",
    ),
    bind(
        &[char('3'), char('R')],
        Action::Go(Screen::Rack),
        "",
        "Rack: pictures drying",
    ),
    bind(
        &[char('4'), char('F')],
        Action::Go(Screen::Findings),
        "",
        "Findings: what worked",
    ),
    bind(
        &[char('5'), char('S')],
        Action::Go(Screen::Shelf),
        "",
        "Shelf: what is left",
    ),
    bind(
        &[char('6'), char('L')],
        Action::Go(Screen::Plan),
        "",
        "Plan: paint for a panel",
    ),
    bind(
        &[char('7'), char('C')],
        Action::Go(Screen::Recipes),
        "",
        "Recipes and variants",
    ),
    bind(
        &[char('8'), char('T')],
        Action::Go(Screen::Trials),
        "",
        "Trials: planned sets of pours",
    ),
    bind(
        &[code(KeyCode::Up), char('k')],
        Action::Step(Step::Up),
        "",
        "The line above",
    ),
    bind(
        &[code(KeyCode::Down), char('j')],
        Action::Step(Step::Down),
        "",
        "The line below",
    ),
    bind(
        &[code(KeyCode::PageUp)],
        Action::Step(Step::PageUp),
        "",
        "Ten lines up",
    ),
    bind(
        &[code(KeyCode::PageDown)],
        Action::Step(Step::PageDown),
        "",
        "Ten lines down",
    ),
    bind(
        &[code(KeyCode::Home)],
        Action::Step(Step::First),
        "",
        "The first line",
    ),
    bind(
        &[code(KeyCode::End)],
        Action::Step(Step::Last),
        "",
        "The last line",
    ),
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

/// Away from a clock.
pub const CLOCK: &[Binding<Action>] = &[bind(AWAY, Action::Back, "away", "Away, nothing written")];

/// Away from a cup that does not end.
pub const ENDING: &[Binding<Action>] = &[bind(AWAY, Action::Back, "keep it", "It lives on")];

/// Away from a picture that is not judged.
pub const JUDGING: &[Binding<Action>] = &[bind(AWAY, Action::Back, "not now", "Nothing is judged")];

/// The keys while a line is sought; every other key that writes a character types it.
pub const SEEKING: &[Binding<Action>] = &[
    bind(
        &[code(KeyCode::Enter), code(KeyCode::Esc)],
        Action::Back,
        "here",
        "Stay on the line that was found",
    ),
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
        &[code(KeyCode::Esc), code(KeyCode::Enter), char('?')],
        Action::Back,
        "back",
        "Back to the screen",
    ),
    bind(
        &[code(KeyCode::Up), char('k')],
        Action::Step(Step::Up),
        "",
        "One line up",
    ),
    bind(
        &[code(KeyCode::Down), char('j'), char(' ')],
        Action::Step(Step::Down),
        "further",
        "One line down",
    ),
    bind(
        &[code(KeyCode::PageUp)],
        Action::Step(Step::PageUp),
        "",
        "Ten up",
    ),
    bind(
        &[code(KeyCode::PageDown)],
        Action::Step(Step::PageDown),
        "",
        "Ten down",
    ),
    bind(
        &[code(KeyCode::Home)],
        Action::Step(Step::First),
        "",
        "The top",
    ),
];
