//! The keys that hold everywhere, and those of what lies over a screen.

use crate::screen::Screen;
use crate::screen::kit::keys::{Key, char, code, ctrl};
use crate::screen::kit::step::Step;
use crate::screen::places::bench;
use crate::screen::places::pour;
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Binding, Context};
use crate::trade::cup::End;
use crossterm::event::KeyCode;

const fn everywhere(
    keys: &'static [Key],
    action: Action,
    word: &'static str,
    help: &'static str,
) -> Binding {
    Binding::at(Context::Shell, keys, action, word, help)
}

/// The keys that hold on every screen, as long as no text is typed.
pub const KEYS: &[Binding] = &[
    everywhere(
        &[char('u')],
        Action::Undo,
        "undo",
        "Take the last deed back",
    ),
    everywhere(
        &[char('U')],
        Action::Redo,
        "",
        "Do again what was taken back",
    ),
    everywhere(
        &[char('?')],
        Action::Help,
        "help",
        "Show the keys of this place",
    ),
    everywhere(&[char('q')], Action::Quit, "quit", "Leave; all is kept"),
    everywhere(
        &[char('h')],
        Action::History,
        "",
        "Show what was done, newest first",
    ),
    everywhere(
        &[char('M')],
        Action::Messages,
        "",
        "Show the last messages again",
    ),
    everywhere(
        &[code(KeyCode::Esc)],
        Action::Back,
        "",
        "The message was read: clear it",
    ),
    everywhere(
        &[char('1'), char('B')],
        Action::Go(Screen::Bench),
        "",
        "Bench: the living cups",
    ),
    everywhere(
        &[char('2'), char('P')],
        Action::Go(Screen::Pour),
        "",
        "Pour: the stack of layers",
    ),
    everywhere(
        &[char('3'), char('R')],
        Action::Go(Screen::Rack),
        "",
        "Rack: pictures drying",
    ),
    everywhere(
        &[char('4'), char('F')],
        Action::Go(Screen::Findings),
        "",
        "Findings: what worked",
    ),
    everywhere(
        &[char('5'), char('S')],
        Action::Go(Screen::Shelf),
        "",
        "Shelf: what is left",
    ),
    everywhere(
        &[char('6'), char('L')],
        Action::Go(Screen::Plan),
        "",
        "Plan: paint for a panel",
    ),
    everywhere(
        &[char('7'), char('C')],
        Action::Go(Screen::Recipes),
        "",
        "Recipes and variants",
    ),
    everywhere(
        &[char('8'), char('T')],
        Action::Go(Screen::Trials),
        "",
        "Trials: planned sets of pours",
    ),
    everywhere(
        &[code(KeyCode::Up), char('k')],
        Action::Step(Step::Up),
        "",
        "The line above",
    ),
    everywhere(
        &[code(KeyCode::Down), char('j')],
        Action::Step(Step::Down),
        "",
        "The line below",
    ),
    everywhere(
        &[code(KeyCode::PageUp)],
        Action::Step(Step::PageUp),
        "",
        "Ten lines up",
    ),
    everywhere(
        &[code(KeyCode::PageDown)],
        Action::Step(Step::PageDown),
        "",
        "Ten lines down",
    ),
    everywhere(
        &[code(KeyCode::Home)],
        Action::Step(Step::First),
        "",
        "The first line",
    ),
    everywhere(
        &[code(KeyCode::End)],
        Action::Step(Step::Last),
        "",
        "The last line",
    ),
    everywhere(
        &[ctrl('c')],
        Action::Quit,
        "",
        "Leave at once, wherever you are",
    ),
];

const AWAY: &[Key] = &[code(KeyCode::Esc)];

/// The keys of what lies over a screen.
pub const OVER_KEYS: &[Binding] = &[
    Binding::at(
        Context::Clock,
        &[char(' '), code(KeyCode::Enter)],
        Action::Press,
        "start, stop",
        "Start; stop and write it down",
    ),
    Binding::at(
        Context::Clock,
        &[char('n')],
        Action::Bench(bench::Wish::Never),
        "never fades",
        "The mound does not fade: the cup has gelled",
    ),
    Binding::at(
        Context::Clock,
        AWAY,
        Action::Back,
        "away",
        "Away, nothing written",
    ),
    Binding::at(
        Context::Ending,
        &[char('u')],
        Action::Bench(bench::Wish::Ended(End::Used)),
        "used up",
        "All of it was used",
    ),
    Binding::at(
        Context::Ending,
        &[char('b')],
        Action::Bench(bench::Wish::Ended(End::Binned)),
        "binned",
        "The rest was thrown out",
    ),
    Binding::at(
        Context::Ending,
        &[char('s')],
        Action::Bench(bench::Wish::Ended(End::Skinned)),
        "skinned",
        "A skin grew over it",
    ),
    Binding::at(
        Context::Ending,
        AWAY,
        Action::Back,
        "keep it",
        "It lives on",
    ),
    Binding::at(Context::Judging, &[char('0')], cells(0), "none", "No cells"),
    Binding::at(Context::Judging, &[char('1')], cells(1), "", "A few"),
    Binding::at(Context::Judging, &[char('2')], cells(2), "", "Some"),
    Binding::at(Context::Judging, &[char('3')], cells(3), "", "Middling"),
    Binding::at(Context::Judging, &[char('4')], cells(4), "", "Good"),
    Binding::at(
        Context::Judging,
        &[char('5')],
        cells(5),
        "the best",
        "As good as they get",
    ),
    Binding::at(
        Context::Judging,
        &[char('d')],
        Action::Pour(pour::Wish::Dry),
        "wet or dry",
        "Whether the picture is dry",
    ),
    Binding::at(
        Context::Judging,
        AWAY,
        Action::Back,
        "not now",
        "Nothing is judged",
    ),
    Binding::at(
        Context::Page,
        &[
            code(KeyCode::Esc),
            char('q'),
            code(KeyCode::Enter),
            char('?'),
        ],
        Action::Back,
        "back",
        "Back to the screen",
    ),
    Binding::at(
        Context::Page,
        &[code(KeyCode::Up), char('k')],
        Action::Step(Step::Up),
        "",
        "One line up",
    ),
    Binding::at(
        Context::Page,
        &[code(KeyCode::Down), char('j'), char(' ')],
        Action::Step(Step::Down),
        "further",
        "One line down",
    ),
    Binding::at(
        Context::Page,
        &[code(KeyCode::PageUp)],
        Action::Step(Step::PageUp),
        "",
        "Ten up",
    ),
    Binding::at(
        Context::Page,
        &[code(KeyCode::PageDown)],
        Action::Step(Step::PageDown),
        "",
        "Ten down",
    ),
    Binding::at(
        Context::Page,
        &[code(KeyCode::Home)],
        Action::Step(Step::First),
        "",
        "The top",
    ),
];

const fn cells(cells: u8) -> Action {
    Action::Pour(pour::Wish::Judged(cells))
}
