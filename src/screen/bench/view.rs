//! How the Bench looks: a line in words, then the cups, what wants a hand first.

use crate::screen::bench::advice;
use crate::screen::digits::big;
use crate::screen::look::{Look, chosen, sign, strong};
use crate::screen::model::{Model, Timed, Watch};
use crate::screen::text::{Cut, fit, plain};
use crate::studio::{CupPage, Standing, local};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::{DrawnInto, Entry, Happened, Reading};
use crate::trade::duration::show;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::text::inert;
use chrono::TimeDelta;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use std::time::Duration;

/// From this width on the chosen cup's life stands beside the cups.
const WIDE: u16 = 120;
/// From this width on each line has the amount and the mound.
const MIDDLING: u16 = 72;

/// What the hands must do next, in words.
pub fn headline(model: &Model) -> String {
    if model.greets() {
        return "Nothing is mixed yet. There are three ways in.".to_owned();
    }
    let cups = &model.bench.cups;
    let urgent: Vec<_> = cups
        .iter()
        .filter(|cup| group(cup.state) == Group::Act)
        .collect();
    let mut said: Vec<String> = urgent.iter().take(2).map(|cup| command(cup)).collect();
    if urgent.len() > 2 {
        said.push(format!("{} more want a hand.", urgent.len() - 2));
    }
    let ready: Vec<_> = marks(cups, State::Ready);
    if !ready.is_empty() {
        said.push(format!("{} can be poured.", ready.join(", ")));
    }
    let resting = cups.iter().find(|cup| cup.state == State::Resting);
    if let Some(cup) = resting {
        let clears = local(cup.life.clears_at, &model.beat.now);
        said.push(format!("{} clears {clears}.", cup.cup.mark));
    }
    if said.is_empty() {
        return "The bench is empty: m mixes a cup.".to_owned();
    }
    said.join(" ")
}

fn marks(cups: &[Standing], state: State) -> Vec<&str> {
    let of = cups.iter().filter(|cup| cup.state == state);
    of.map(|cup| cup.cup.mark.as_str()).collect()
}

/// `K7 has thickened: 3 ml thinner.`
fn command(cup: &Standing) -> String {
    let mark = &cup.cup.mark;
    match (cup.state, advice(cup)) {
        (State::Thick, Some(ml)) => {
            format!(
                "{mark} has thickened: {} thinner.",
                show_volume(ml, Measures::Metric)
            )
        }
        (State::Thick, None) => format!("{mark} {}.", cup.why),
        (State::Look, _) => format!("{mark} {}.", cup.why),
        _ => format!("{mark} is too thin: {}.", cup.why),
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
pub fn view(model: &Model, frame: &mut Frame<'_>, area: Rect) {
    if model.greets() {
        return frame.render_widget(Paragraph::new(greeting()), area);
    }
    if area.width < WIDE {
        return cups(model, frame, area);
    }
    let parts = Layout::horizontal([Constraint::Min(70), Constraint::Length(48)]).spacing(2);
    let [left, right] = parts.areas(area);
    cups(model, frame, left);
    if let Some(life) = model
        .bench
        .life
        .as_ref()
        .filter(|_| model.bench.life_fits())
    {
        let lines = life_lines(model, life);
        frame.render_widget(Paragraph::new(cut_all(lines, right)), right);
    }
}

fn cut_all(lines: Vec<Line<'static>>, area: Rect) -> Vec<Line<'static>> {
    lines.into_iter().take(area.height.into()).collect()
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
fn cups(model: &Model, frame: &mut Frame<'_>, area: Rect) {
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut chosen_at = 0..0;
    let mut last = None;
    for (place, cup) in model.bench.cups.iter().enumerate() {
        let group = group(cup.state);
        if last.replace(group) != Some(group) && area.height >= 13 {
            lines.push(Span::styled(group.title(), model.look.faint()).into());
        }
        let is_chosen = place == model.bench.place();
        let first = lines.len();
        lines.push(row(model, cup, is_chosen, area.width));
        if is_chosen {
            lines.extend(beneath(model, cup, area.width));
            chosen_at = first..lines.len();
        }
    }
    let height = usize::from(area.height);
    let skip = chosen_at.end.saturating_sub(height);
    let lines: Vec<_> = lines.into_iter().skip(skip).take(height).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

/// One cup on one line: sign and word, mark, name, amount, mound, wait.
fn row(model: &Model, cup: &Standing, is_chosen: bool, width: u16) -> Line<'static> {
    let middling = width >= MIDDLING;
    let bar_width = if middling { 12 } else { 8 };
    let fixed = 2 + 10 + 5 + bar_width + 2 + 9 + if middling { 17 } else { 0 };
    let name = usize::from(width).saturating_sub(fixed);
    let state = model.look.state(cup.state);
    let mark_style = if is_chosen { chosen() } else { strong() };
    let mut spans = vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(format!("{} {:<8}", sign(cup.state), cup.state), state),
        Span::styled(format!("{:<3}", cup.cup.mark), mark_style),
        plain("  "),
        plain(fit(&inert(&cup.title()), name, Cut::End)),
    ];
    if middling {
        let left = show_volume(cup.life.left, model.known.measures());
        spans.push(plain(format!("{left:>8} {:>7} ", mound(cup))));
    }
    spans.push(Span::styled(bar(cup, &model.beat.now, bar_width), state));
    spans.push(plain(format!("  {:<9}", turn(cup, &model.beat.now))));
    Line::from(spans)
}

fn mound(cup: &Standing) -> String {
    let mid = cup.outlook.mound_mid();
    mid.map(|mound| format!("{:.1} s", mound.get()))
        .unwrap_or_default()
}

/// When it turns; what waits for hands does not wait for a clock.
fn turn(cup: &Standing, now: &Now) -> String {
    cup.turns_at().map_or_else(
        || {
            if group(cup.state) == Group::Act {
                "now".to_owned()
            } else {
                String::new()
            }
        },
        |at| local(at, now),
    )
}

/// How much of a wait is over: of its rest, or of the time it stays ready.
fn bar(cup: &Standing, now: &Now, width: usize) -> String {
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
fn beneath(model: &Model, cup: &Standing, width: u16) -> Vec<Line<'static>> {
    let measures = model.known.measures();
    let mut words = vec![cup.why.clone()];
    if width < MIDDLING {
        words.push(format!("{} left", show_volume(cup.life.left, measures)));
        words.extend(
            cup.outlook
                .mound_mid()
                .map(|mound| format!("mound {:.1} s", mound.get())),
        );
    }
    words.extend(
        cup.variant
            .targets
            .window
            .map(|window| format!("wants {window}")),
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
    let line = fit(
        &words.join("; "),
        usize::from(width).saturating_sub(4),
        Cut::End,
    );
    vec![plain(format!("    {line}")).into()]
}

/// A cup's whole life, for the page and for beside the cups.
pub fn life_lines(model: &Model, page: &CupPage) -> Vec<Line<'static>> {
    let (cup, now, measures) = (&page.standing, &model.beat.now, model.known.measures());
    let look = model.look;
    let mut lines = vec![
        Line::from(vec![
            Span::styled(format!(" {} ", cup.cup.mark), chosen()),
            Span::styled(format!("  {}", inert(&cup.title())), strong()),
        ]),
        Span::styled(
            format!("{} {}: {}", sign(cup.state), cup.state, cup.why),
            look.state(cup.state),
        )
        .into(),
        plain(holds(cup, measures)).into(),
        plain(asks(cup)).into(),
    ];
    lines.extend(
        cup.cup
            .note
            .as_ref()
            .map(|note| plain(inert(note).into_owned()).into()),
    );
    lines.push(heading("what went in", look));
    let put = |(name, ml): &(String, _)| {
        Line::from(format!(
            "{:>9}  {}",
            show_volume(*ml, measures),
            inert(name)
        ))
    };
    lines.extend(page.puts.iter().map(put));
    lines.push(heading("what happened", look));
    lines.extend(
        page.entries
            .iter()
            .map(|entry| entry_line(entry, now, measures)),
    );
    lines
}

fn heading(words: &'static str, look: Look) -> Line<'static> {
    Span::styled(words, look.faint()).into()
}

fn holds(cup: &Standing, measures: Measures) -> String {
    let left = show_volume(cup.life.left, measures);
    let whole = show_volume(cup.cup.volume, measures);
    let thinner = show_volume(cup.life.thinner, measures);
    let lid = if cup.life.capped { "lid on" } else { "lid off" };
    format!("{left} left of {whole}, {thinner} thinner since; {lid}")
}

fn asks(cup: &Standing) -> String {
    let targets = &cup.variant.targets;
    let window = targets
        .window
        .map_or("no mound asked".to_owned(), |window| {
            format!("mound {window}")
        });
    format!(
        "{window}; rests {}; look again after {}",
        show(targets.rest),
        show(targets.again)
    )
}

fn entry_line(entry: &Entry, now: &Now, measures: Measures) -> Line<'static> {
    let told = if entry.told { "·" } else { " " };
    let at = local(entry.at, now);
    Line::from(format!(
        "{at:>16}{told} {}",
        happened(&entry.what, measures)
    ))
}

/// An entry in words: `thinned 3 ml, then 2.6 s`.
fn happened(what: &Happened, measures: Measures) -> String {
    let volume = |ml| show_volume(ml, measures);
    let then = |reading: &Option<Reading>| {
        reading
            .as_ref()
            .map(|one| format!(", {}", read(one)))
            .unwrap_or_default()
    };
    match what {
        Happened::Mixed { stirred, reading } => {
            let stirred = stirred.map(|time| format!(", stirred {:.1} min", time.get()));
            format!("mixed{}{}", stirred.unwrap_or_default(), then(reading))
        }
        Happened::Stirred { minutes } => format!("stirred {:.1} min", minutes.get()),
        Happened::Read(reading) => format!("read {}", read(reading)),
        Happened::Thinned {
            ml, hard, reading, ..
        } => {
            let hard = if *hard { ", stirred hard" } else { "" };
            format!("thinned {}{hard}{}", volume(*ml), then(reading))
        }
        Happened::Looked(seen) => format!("looked: {seen}"),
        Happened::Capped => "lid on".to_owned(),
        Happened::Opened => "lid off".to_owned(),
        Happened::Drawn { ml, into } => match into {
            DrawnInto::Pour(pour) => format!("{} onto pour {pour}", volume(*ml)),
            DrawnInto::Cup(_) => format!("{} into another cup", volume(*ml)),
        },
        Happened::Ended(end) => format!("ended: {end}"),
    }
}

fn read(reading: &Reading) -> String {
    match reading {
        Reading::Mound(seconds) => format!("mound {} s", seconds.get()),
        Reading::FlowCup { cup, efflux } => format!("{} {} s", inert(cup), efflux.get()),
    }
}

/// The clock over the Bench, in digits to be read from afar.
pub fn watch_lines(watch: &Watch, elapsed: Duration) -> Vec<Line<'static>> {
    let ran = watch
        .since
        .map(|since| elapsed.saturating_sub(since).as_secs_f64());
    let digits = match watch.what {
        Timed::Mound => format!("{:.1}", ran.unwrap_or(0.0)),
        Timed::Stirring => {
            let seconds = ran.unwrap_or(0.0) as u64;
            format!("{}:{:02}", seconds / 60, seconds % 60)
        }
    };
    let mut lines = vec![Line::default()];
    lines.extend(big(&digits).map(|line| Line::styled(format!("  {line}"), strong())));
    lines.push(Line::default());
    lines.push(Line::from(format!("  {}", watch_words(watch))));
    lines
}

fn watch_words(watch: &Watch) -> String {
    let mark = &watch.mark;
    match (watch.what, watch.since) {
        (Timed::Mound, None) => format!("Drizzle {mark} and press Space as the drizzle ends."),
        (Timed::Mound, Some(_)) => format!("Press Space once the mound of {mark} is gone."),
        (Timed::Stirring, _) => {
            format!("{mark} is being stirred. Space ends it; its rest starts anew.")
        }
    }
}
