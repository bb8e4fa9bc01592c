//! How the Bench looks: a line in words, then the cups, what wants a hand first.

use super::clock::watch_lines;
use super::life::folded;
use super::{Bench, Over};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, sign, strong};
use crate::screen::kit::text::{Cut, fit, lines_of, plain};
use crate::studio::{CupPage, CupStatus, due, local};
use crate::tell::{self, cups::mound_now};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::ids::VariantId;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::text::inert;
use chrono::TimeDelta;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// From this width on the chosen cup's life stands beside the cups.
const WIDE: u16 = 120;
/// From this width on each line has the amount and the mound.
const MIDDLING: u16 = 72;

/// What the hands must do next, in words.
pub fn headline(desk: &Desk) -> String {
    if desk.known.is_new() {
        return "Nothing is mixed yet. There are three ways in.".to_owned();
    }
    let cups = &desk.known.cups;
    let urgent: Vec<_> = cups
        .iter()
        .filter(|cup| group(cup.state) == Group::Act)
        .collect();
    let mut said: Vec<String> = urgent
        .iter()
        .take(2)
        .map(|cup| command(desk, cup))
        .collect();
    if urgent.len() > 2 {
        said.push(match urgent.len() - 2 {
            1 => "1 more wants a hand.".to_owned(),
            more => format!("{more} more want a hand."),
        });
    }
    let ready: Vec<_> = marks(cups, State::Ready);
    if !ready.is_empty() {
        said.push(format!("{} can be poured.", ready.join(", ")));
    }
    let resting = cups.iter().find(|cup| cup.state == State::Resting);
    if let Some(cup) = resting {
        let clears = due(cup.life.clears_at, &desk.beat.now);
        said.push(format!("{} clears {clears}.", cup.cup.mark));
    }
    if said.is_empty() && !desk.known.has_read_cups() {
        return "The cups could not be read.".to_owned();
    }
    if said.is_empty() {
        return "The bench is empty: m mixes a cup.".to_owned();
    }
    said.join(" ")
}

fn marks(cups: &[CupStatus], state: State) -> Vec<&str> {
    let of = cups.iter().filter(|cup| cup.state == state);
    of.map(|cup| cup.cup.mark.as_str()).collect()
}

/// `K7 has thickened: add 2.1 ml thinner and read again, about 3.4 ml in all.`
fn command(desk: &Desk, cup: &CupStatus) -> String {
    let (mark, why) = (&cup.cup.mark, desk.words(cup));
    match (cup.state, &cup.outlook.advice) {
        (State::Thick, Some(advice)) if advice.beyond => {
            let words = tell::cups::beyond(advice.limit, desk.measures());
            format!("{mark} has thickened: it {words}.")
        }
        (State::Thick, Some(advice)) => {
            let add = tell::cups::to_add(advice, desk.measures());
            format!("{mark} has thickened: {add}.")
        }
        (State::Thick, None) if cup.life.gelled => format!("{mark}: {why}."),
        (State::Thick, None) => format!("{mark} was {why}."),
        (State::Look, _) => format!("{mark} {why}."),
        _ => format!("{mark} is too thin: {why}."),
    }
}

/// What the cups are told apart by first: what is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Group {
    Act,
    Ready,
    Wait,
}

impl Group {
    const fn title(self) -> &'static str {
        match self {
            Self::Act => "wants a hand now",
            Self::Ready => "can be poured",
            Self::Wait => "rests",
        }
    }
}

const fn group(state: State) -> Group {
    match state {
        State::Thick | State::Thin | State::Look => Group::Act,
        State::Ready => Group::Ready,
        State::Resting | State::Spent => Group::Wait,
    }
}

/// Draws the Bench.
pub fn view(bench: &Bench, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if desk.known.is_new() {
        return frame.render_widget(Paragraph::new(greeting()), area);
    }
    match (&bench.over, bench.life_in_hand(desk)) {
        (Some(Over::Clock(watch)), _) => {
            let lines = watch_lines(watch, desk.beat.elapsed, area.width.into());
            return frame.render_widget(Paragraph::new(lines), area);
        }
        (Some(Over::Life(at)), Some(life)) => return life_page(desk, life, *at, frame, area),
        _ if area.width < WIDE => return cups(bench, desk, frame, area),
        _ => {}
    }
    let parts = Layout::horizontal([Constraint::Min(MIDDLING), Constraint::Length(48)]).spacing(2);
    let [left, right] = parts.areas(area);
    cups(bench, desk, frame, left);
    if let Some(life) = bench.life_in_hand(desk) {
        let (lines, _) = folded(desk, life, right.width.into(), right.height.into());
        frame.render_widget(Paragraph::new(lines), right);
    }
}

/// A cup's life with one of its entries chosen; with the first of them its head is in sight.
fn life_page(desk: &Desk, life: &CupPage, at: usize, frame: &mut Frame<'_>, area: Rect) {
    let (mut lines, entries) = folded(desk, life, area.width.into(), area.height.into());
    let entry = entries.get(at).cloned().unwrap_or_default();
    for line in lines.iter_mut().take(entry.end).skip(entry.start) {
        *line = std::mem::take(line).style(chosen());
    }
    let seen = if at == 0 { 0..1 } else { entry };
    list::draw(lines, &seen, frame, area);
}

fn greeting() -> Vec<Line<'static>> {
    let way = |key: &'static str, title: &'static str, words: &'static str| {
        [
            Line::from(vec![
                Span::styled(format!("  {key}  "), chosen()),
                plain("  "),
                Span::styled(title, strong()),
            ]),
            plain(format!("       {words}")).into(),
            Line::default(),
        ]
    };
    let mut lines = vec![Line::default()];
    lines.extend(way(
        "f",
        "Mix your first cup",
        "The paint in your hand, asked step by step.",
    ));
    lines.extend(way(
        "s",
        "Starter materials and recipes",
        "Generic names, all yours to change.",
    ));
    lines.extend(way(
        "d",
        "The demo",
        "An invented studio with months of pours.",
    ));
    lines
}

/// The cups that fit, around the chosen one, under headings where there is room for them.
fn cups(bench: &Bench, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut chosen_at = 0..0;
    let mut last = None;
    for (place, cup) in desk.known.cups.iter().enumerate() {
        let group = group(cup.state);
        if last.replace(group) != Some(group) && area.height >= 13 {
            lines.push(Span::styled(group.title(), desk.look.faint()).into());
        }
        let is_chosen = place == bench.place();
        let first = lines.len();
        lines.push(row(desk, cup, is_chosen, area.width));
        if is_chosen {
            lines.extend(beneath(desk, cup, area.width));
            chosen_at = first..lines.len();
        }
    }
    list::draw(lines, &chosen_at, frame, area);
}

/// One cup on one line: sign and word, mark, name, amount, mound, wait.
fn row(desk: &Desk, cup: &CupStatus, is_chosen: bool, width: u16) -> Line<'static> {
    let middling = width >= MIDDLING;
    let bar_width = if middling { 12 } else { 8 };
    let amounts = amounts(desk);
    let beside = if middling { amounts + 9 } else { 0 };
    // Where no amount stands between, a long name would run into what is to be done.
    let gap = usize::from(!middling);
    let fixed = 2 + 10 + 5 + bar_width + 2 + 9 + beside;
    // A name that is cut short tells less than a swatch.
    let swatch = middling.then(|| desk.swatch(desk.known.names.colour(VariantId(cup.variant.id))));
    let name = usize::from(width).saturating_sub(fixed + swatch.as_ref().map_or(0, Span::width));
    let state = desk.look.state(cup.state);
    let mark_style = if is_chosen { chosen() } else { strong() };
    let mut spans = vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(format!("{} {:<8}", sign(cup.state), cup.state), state),
        Span::styled(format!("{:<3}", cup.cup.mark), mark_style),
        plain("  "),
        swatch.unwrap_or_default(),
        plain(fit(
            &inert(&cup.title()),
            name.saturating_sub(gap),
            Cut::End,
        )),
        plain(" ".repeat(gap)),
    ];
    if middling {
        let left = show_volume(cup.life.left, desk.measures());
        spans.push(plain(format!(
            "{left:>amounts$} {:>7} ",
            mound_now(cup).unwrap_or_default()
        )));
    }
    if group(cup.state) == Group::Act {
        let room = bar_width + 2 + 9;
        spans.push(Span::styled(to_do(cup, desk.measures(), room), state));
        return Line::from(spans);
    }
    spans.push(Span::styled(bar(cup, &desk.beat.now, bar_width), state));
    spans.push(plain(format!("  {:<9}", turn(cup, &desk.beat.now))));
    Line::from(spans)
}

/// Cells of the widest amount, so that the columns stand under one another.
fn amounts(desk: &Desk) -> usize {
    let cups = desk.known.cups.iter();
    let wide = cups.map(|cup| show_volume(cup.life.left, desk.measures()).len());
    wide.fold(8, usize::max)
}

/// When it turns, to the minute that its sentence says too: until then it is ready, from then on it is clear.
fn turn(cup: &CupStatus, now: &Now) -> String {
    let at = cup.turns_at().map(|at| match cup.state {
        State::Resting => due(at, now),
        _ => local(at, now),
    });
    at.unwrap_or_default()
}

/// What the hands do to a cup that wants them, first and then: `+11 ml, read again`; where there is no room, first alone.
fn to_do(cup: &CupStatus, measures: Measures, room: usize) -> String {
    let (first, then) = match (cup.state, &cup.outlook.advice) {
        (State::Thick, Some(advice)) => {
            let thinner = show_volume(advice.start_with, measures);
            match advice.beyond {
                true => ("mix it anew".to_owned(), None),
                false => (format!("+{thinner}"), Some("read again")),
            }
        }
        (State::Thick, None) if cup.life.gelled => ("stir".to_owned(), Some("then read")),
        (State::Thin, _) => match &cup.outlook.paint {
            Some(paint) => {
                let paint = show_volume(paint.band.mid, measures);
                (format!("+{paint} paint"), None)
            }
            None => ("too thin".to_owned(), None),
        },
        _ => ("read its mound".to_owned(), None),
    };
    let both = then.map(|then| format!("{first}, {then}"));
    let shown = both.filter(|both| both.len() <= room).unwrap_or(first);
    fit(&shown, room, Cut::End)
}

/// How much of a wait is over: of its rest, or of the time it stays ready.
fn bar(cup: &CupStatus, now: &Now, width: usize) -> String {
    let since = match cup.state {
        State::Resting => cup.life.stirred_at,
        _ => cup.life.checked_at.unwrap_or(cup.life.clears_at),
    };
    let over = match cup.turns_at() {
        Some(until) => share(now.at - since, until - since),
        None if cup.state == State::Ready => 0.0,
        None => 1.0,
    };
    let full = (over * width as f64).floor() as usize;
    "■".repeat(full.min(width)) + &"·".repeat(width.saturating_sub(full))
}

fn share(part: TimeDelta, whole: TimeDelta) -> f64 {
    let whole = whole.num_milliseconds().max(1) as f64;
    (part.num_milliseconds() as f64 / whole).clamp(0.0, 1.0)
}

/// The chosen cup in a sentence or two, beneath its line.
fn beneath(desk: &Desk, cup: &CupStatus, width: u16) -> Vec<Line<'static>> {
    let measures = desk.measures();
    let mut words = vec![desk.words(cup)];
    if cup.state == State::Resting {
        words.push(format!("rest, {}", tell::cups::rest(cup)));
        words.extend(tell::cups::bubbles(cup, desk.beat.now.at, measures));
    }
    if width < MIDDLING {
        words.push(format!("{} left", show_volume(cup.life.left, measures)));
        words.extend(mound_now(cup).map(|mound| format!("mound {mound}")));
    }
    words.extend(
        cup.variant
            .targets
            .window
            .map(|window| format!("wants {window}")),
    );
    let colour = desk.known.names.colour(VariantId(cup.variant.id));
    words.extend(
        colour
            .filter(|_| width >= MIDDLING)
            .map(tell::recipes::about),
    );
    if !cup.life.capped {
        words.push("lid off".to_owned());
    }
    words.extend(
        cup.cup
            .tape
            .as_ref()
            .map(|tape| format!("{} tape", inert(tape))),
    );
    let room = usize::from(width).saturating_sub(4);
    let lines = lines_of(&words.join("; "), room, 3);
    let indented = |line: String| plain(format!("    {line}")).into();
    lines.into_iter().map(indented).collect()
}
