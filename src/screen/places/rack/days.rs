//! A picture's drying as a line of days: poured, dry to the touch, to be varnished, and today.

use crate::screen::kit::time_span::TimeSpan;
use crate::studio::{RackLine, day};
use crate::trade::instant::Now;
use crate::trade::moment::{Moment, later};
use crate::trade::units::Band;

/// Cells of the line.
const ACROSS: usize = 36;

/// From the pour to the last that is told of it, or to today; none where no date can be told, or all is long over.
fn span_of(line: &RackLine, now: &Now) -> Option<TimeSpan> {
    let from = line.page.pour.at;
    let high = |dates: &Band<Moment>| dates.high;
    let ends = [
        line.touch.as_ref().ok().map(high),
        line.varnish.as_ref().ok().map(high),
    ];
    let until = ends.into_iter().flatten().max()?;
    // What lay there for months is over: its days would be too small to be seen.
    (until > from && now.at <= later(until, until - from)).then_some(TimeSpan {
        from,
        until: until.max(now.at),
        cells: ACROSS,
    })
}

/// The line and what stands beneath it; nothing where no date can be told, or all is long over.
pub fn lines(line: &RackLine, now: &Now) -> Vec<String> {
    let Some(days) = span_of(line, now) else {
        return Vec::new();
    };
    let (touch, varnish) = (line.touch.as_ref().ok(), line.varnish.as_ref().ok());
    let today = days.cell(now.at);
    let holds = |dates: Option<&Band<Moment>>, cell: usize| {
        dates.is_some_and(|band| (days.cell(band.low)..=days.cell(band.high)).contains(&cell))
    };
    let sign = |cell: usize| match cell {
        _ if cell == today => '┃',
        0 => '●',
        _ if holds(touch, cell) => '░',
        _ if holds(varnish, cell) => '▒',
        _ if cell < today => '━',
        _ => '─',
    };
    let drawn = (0..ACROSS).map(sign).collect();
    vec![
        drawn,
        beneath(&days, now),
        "● poured ┃ today ░ dry ▒ varnish".to_owned(),
    ]
}

/// The first and the last day at their ends.
fn beneath(days: &TimeSpan, now: &Now) -> String {
    let (first, last) = (day(days.from, now), day(days.until, now));
    let gap = ACROSS.saturating_sub(first.chars().count());
    format!("{first}{last:>gap$}")
}
