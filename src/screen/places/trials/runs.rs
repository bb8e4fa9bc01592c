//! The runs of a trial as lines: their settings in columns, and what became of each.

use super::words::days;
use super::{KEYS, Place, Trials, Wish};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::keys::key_of;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::{TrialLine, TrialPage};
use crate::tell;
use crate::trade::text::inert;
use ratatui::text::{Line, Span};
use std::ops::Range;
use unicode_width::UnicodeWidthStr;

/// Cells of what became of a run.
const BECAME: usize = 20;
/// Cells before the settings: the mark of what is chosen, and the run's number.
const NUMBER: usize = 6;

/// The columns of the settings.
struct Columns(Vec<usize>);

impl Columns {
    /// As wide as the settings are, or as there is room for.
    fn of(page: &TrialPage, width: usize) -> Self {
        let halfway = |page: &TrialPage| {
            let mut levels = page.runs.iter().filter_map(|run| run.levels.as_ref());
            levels.any(|all| all.contains(&crate::trade::trial::Level::Middle))
        };
        let least = if halfway(page) { "halfway".len() } else { 4 };
        let wanted = page.factors.iter().map(|factor| {
            let wide = [&factor.low, &factor.high].map(|text| inert(text).width());
            let named = inert(&factor.name).width().min(16);
            wide.into_iter().fold(least.max(named), usize::max)
        });
        let room = width.saturating_sub(NUMBER + BECAME);
        let most = (room / page.factors.len().max(1)).saturating_sub(1).max(3);
        let wanted: Vec<usize> = wanted.collect();
        let all: usize = wanted.iter().map(|cells| cells + 1).sum();
        Self(match all <= room {
            true => wanted,
            false => wanted.into_iter().map(|cells| cells.min(most)).collect(),
        })
    }

    fn row<'a>(&self, words: impl Iterator<Item = &'a str>) -> String {
        let cell = |(cells, word): (&usize, &str)| fit(&inert(word), *cells, Cut::End) + " ";
        self.0.iter().zip(words).map(cell).collect()
    }

    fn width(&self) -> usize {
        self.0.iter().map(|cells| cells + 1).sum()
    }
}

/// The runs of a trial beneath the names of what is varied, and which lines the one in hand takes.
pub fn lines(
    trials: &Trials,
    desk: &Desk,
    page: &TrialPage,
    width: usize,
) -> (Vec<Line<'static>>, Range<usize>) {
    let columns = Columns::of(page, width);
    let names = columns.row(page.factors.iter().map(|factor| factor.name.as_str()));
    let head = format!("{:NUMBER$}{names}", "  run");
    let mut lines = vec![Line::styled(fit(&head, width, Cut::End), desk.look.faint())];
    let in_hand = trials.at_run();
    let (mut at, mut day) = (0..1, 0);
    for run in &page.runs {
        if days(page) > 1 && run.block != day {
            day = run.block;
            lines.push(Line::styled(format!("day {day}"), desk.look.faint()));
        }
        if Some(run.run) == in_hand {
            at = lines.len()..lines.len() + 1;
        }
        lines.push(line(trials, desk, page, run, &columns, width));
    }
    lines.extend(beneath(desk, page, width));
    (lines, at)
}

/// `› 3  24h  5%   pour 14 ■■■■· 4`.
fn line(
    trials: &Trials,
    desk: &Desk,
    page: &TrialPage,
    run: &TrialLine,
    columns: &Columns,
    width: usize,
) -> Line<'static> {
    let in_hand = trials.place == Place::Runs && Some(run.run) == trials.at_run();
    let is_next = page.next() == Some(run.run);
    let settings = match page.settings(run) {
        Some(settings) => columns.row(settings.iter().map(String::as_str)),
        None => fit("hidden", columns.width(), Cut::End),
    };
    let style = if in_hand { chosen() } else { strong() };
    let room = width.saturating_sub(NUMBER + columns.width());
    let became = fit(&became(page, run), room, Cut::End);
    let became_style = if is_next { strong() } else { desk.look.faint() };
    let became_style = if run.cells.is_some() {
        ratatui::style::Style::new()
    } else {
        became_style
    };
    Line::from(vec![
        plain(if in_hand { "› " } else { "  " }),
        Span::styled(format!("{:>3}", run.run), style),
        plain(format!(" {settings}")),
        Span::styled(became.trim_end().to_owned(), became_style),
    ])
}

/// What became of a run, or what is to be done with it.
fn became(page: &TrialPage, run: &TrialLine) -> String {
    let pour = run.pour.map(|pour| format!("pour {pour}"));
    match (run.cells, &run.given_up, pour) {
        (Some(cells), _, pour) => {
            let full = usize::from(cells.min(5));
            let dots = "■".repeat(full) + &"·".repeat(5 - full);
            format!("{} {dots} {cells}", pour.unwrap_or_default())
        }
        (None, Some(why), _) => format!("given up: {}", inert(why)),
        (None, None, Some(pour)) => format!("{pour}: judge it"),
        (None, None, None) if page.next() == Some(run.run) => "◂ next: pour it".to_owned(),
        (None, None, None) => String::new(),
    }
}

/// How sharp the trial is, what it cannot tell apart, and what it is for.
fn beneath(desk: &Desk, page: &TrialPage, width: usize) -> Vec<Line<'static>> {
    let blind = page.blind && !page.is_over();
    let blind = blind.then(|| {
        let key = key_of(KEYS, &Wish::Settings);
        format!("blind: settings are hidden until all runs are judged; {key} shows one to the hand that mixes")
    });
    let note = page.note.iter().cloned();
    let sharp = tell::trials::resolution(page).map(str::to_owned);
    let words = note.chain(blind).chain(sharp);
    let words = words.chain(tell::trials::generators(page));
    let words = words.chain(tell::trials::aliases(page));
    let wrapped = words.flat_map(|words| wrap(&inert(&words), width.saturating_sub(2)));
    wrapped
        .map(|line| Line::styled(format!("  {line}"), desk.look.faint()))
        .collect()
}
