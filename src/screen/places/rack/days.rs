//! A picture's drying as a line of days: poured, dry to the touch, to be varnished, and today.

use crate::studio::{RackLine, day};
use crate::trade::instant::Now;
use crate::trade::moment::{Moment, later};
use crate::trade::units::Band;

/// Cells of the line.
const ACROSS: usize = 36;

/// From when to when, in cells.
struct Days {
    from: Moment,
    until: Moment,
}

impl Days {
    fn of(line: &RackLine, now: &Now) -> Option<Self> {
        let from = line.page.pour.at;
        let high = |dates: &Band<Moment>| dates.high;
        let ends = [
            line.touch.as_ref().ok().map(high),
            line.varnish.as_ref().ok().map(high),
        ];
        let until = ends.into_iter().flatten().max()?;
        // What lay there for months is over: its days would be too small to be seen.
        (until > from && now.at <= later(until, until - from)).then_some(Self {
            from,
            until: until.max(now.at),
        })
    }

    fn cell(&self, at: Moment) -> usize {
        let whole = (self.until - self.from).num_seconds().max(1) as f64;
        let share = (at - self.from).num_seconds() as f64 / whole;
        (share.clamp(0.0, 1.0) * (ACROSS - 1) as f64).round() as usize
    }

    fn holds(&self, dates: Option<&Band<Moment>>, cell: usize) -> bool {
        dates.is_some_and(|band| (self.cell(band.low)..=self.cell(band.high)).contains(&cell))
    }
}

/// The line and what stands beneath it; nothing where no date can be told, or all is long over.
pub fn lines(line: &RackLine, now: &Now) -> Vec<String> {
    let Some(days) = Days::of(line, now) else {
        return Vec::new();
    };
    let (touch, varnish) = (line.touch.as_ref().ok(), line.varnish.as_ref().ok());
    let today = days.cell(now.at);
    let sign = |cell: usize| match cell {
        _ if cell == today => '┃',
        0 => '●',
        _ if days.holds(touch, cell) => '░',
        _ if days.holds(varnish, cell) => '▒',
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
fn beneath(days: &Days, now: &Now) -> String {
    let (first, last) = (day(days.from, now), day(days.until, now));
    let gap = ACROSS.saturating_sub(first.chars().count());
    format!("{first}{last:>gap$}")
}
