//! A cup's whole life in lines.

use super::course;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{Look, chosen, sign, strong};
use crate::screen::kit::text::{fold, plain};
use crate::studio::{CupPage, CupStatus, Names, local};
use crate::tell;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::Entry;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use crate::trade::units::Millilitres;
use ratatui::text::{Line, Span};
use std::ops::Range;

/// A cup's whole life, folded to a width, drawn where there is room, and where in it each of its entries stands.
pub fn folded(
    desk: &Desk,
    page: &CupPage,
    width: usize,
    height: usize,
) -> (Vec<Line<'static>>, Vec<Range<usize>>) {
    let all = life_lines(desk, page, course::lines(desk, page, width, height));
    let head = all.len() - page.entries.len();
    let mut lines = Vec::new();
    let mut entries = Vec::new();
    for (nth, line) in all.into_iter().enumerate() {
        let from = lines.len();
        lines.extend(fold(line, width));
        entries.extend((nth >= head).then_some(from..lines.len()));
    }
    (lines, entries)
}

/// A cup's whole life; its entries are the last lines.
fn life_lines(desk: &Desk, page: &CupPage, drawn: Vec<Line<'static>>) -> Vec<Line<'static>> {
    let (cup, now, measures) = (&page.standing, &desk.beat.now, desk.measures());
    let look = desk.look;
    let mut lines = vec![
        Line::from(vec![
            Span::styled(format!(" {} ", cup.cup.mark), chosen()),
            Span::styled(format!("  {}", inert(&cup.title())), strong()),
        ]),
        Span::styled(
            format!("{} {}: {}", sign(cup.state), cup.state, desk.words(cup)),
            look.state(cup.state),
        )
        .into(),
        plain(holds(cup, measures)).into(),
        plain(tell::recipes::asks(&cup.variant.targets)).into(),
    ];
    let rest = tell::cups::rest_line(cup, now.at, measures);
    lines.extend(rest.map(|words| plain(words).into()));
    lines.extend(
        cup.cup
            .note
            .as_ref()
            .map(|note| plain(inert(note).into_owned()).into()),
    );
    lines.extend(drawn);
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
            .map(|entry| entry_line(entry, &page.names, now, measures)),
    );
    lines
}

fn heading(words: &'static str, look: Look) -> Line<'static> {
    Span::styled(words, look.faint()).into()
}

fn holds(cup: &CupStatus, measures: Measures) -> String {
    let left = show_volume(cup.life.left, measures);
    let whole = show_volume(cup.cup.volume, measures);
    let thinner = show_volume(cup.life.thinner, measures);
    let lid = if cup.life.capped { "lid on" } else { "lid off" };
    let made = match cup.life.thinner > Millilitres::ZERO {
        true => format!("{whole} mixed, {thinner} thinner"),
        false => format!("{whole} mixed"),
    };
    format!("{left} left ({made}); {lid}")
}

fn entry_line(entry: &Entry, names: &Names, now: &Now, measures: Measures) -> Line<'static> {
    let backdated = if entry.backdated { "·" } else { " " };
    let at = local(entry.at, now);
    Line::from(format!(
        "{at:>16}{backdated} {}",
        tell::happened(&entry.what, names, measures)
    ))
}
