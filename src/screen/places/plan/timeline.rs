//! The day of a plan drawn to scale: one line a cup, from its first step to the pour.

use crate::screen::kit::text::{Cut, fit};
use crate::screen::kit::time_span::TimeSpan;
use crate::studio::{Deed, Step, VariantRef};
use crate::trade::instant::Now;
use crate::trade::moment::{earlier, later};
use crate::trade::text::inert;
use chrono::{TimeDelta, Timelike};

/// What the signs stand for.
pub const LEGEND: &str = "■ shake, mix, stir  ─ rests until it clears  ◎ look  + thin  ▼ pour";

/// Steps of the scale, in minutes.
const TICKS: [i64; 12] = [5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 10080];

/// Cells that a label on the scale takes.
const LABEL: i64 = 8;

/// From the first step to the last; none where there is nothing between them.
fn span_of(steps: &[Step], cells: usize) -> Option<TimeSpan> {
    let (first, last) = (steps.first()?, steps.last()?);
    (cells > 0 && last.at > first.at).then_some(TimeSpan {
        from: first.at,
        until: last.at,
        cells,
    })
}

/// Minutes between two labels, so that they have room.
fn tick(span: &TimeSpan) -> i64 {
    let minutes = span.milliseconds() / 60_000.0;
    let room = minutes * LABEL as f64 / span.cells as f64;
    let mut steps = TICKS.iter();
    let fits = steps.find(|step| **step as f64 >= room);
    let days = 1440 * (room / 1440.0).ceil() as i64;
    fits.copied().unwrap_or(days)
}

/// The lines of the cups, the first to be begun on top, then the scale; names in so many cells.
pub fn lines(steps: &[Step], now: &Now, name: usize, width: usize) -> Vec<String> {
    let Some(scale) = span_of(steps, width.saturating_sub(name + 1)) else {
        return Vec::new();
    };
    let mut cups: Vec<&VariantRef> = Vec::new();
    for cup in steps.iter().filter_map(|step| step.cup.as_ref()) {
        if !cups.contains(&cup) {
            cups.push(cup);
        }
    }
    let line = |cup: &&VariantRef| {
        let name = fit(&inert(&cup.to_string()), name, Cut::End);
        format!("{name} {}", track(&scale, steps, cup))
    };
    let mut lines: Vec<String> = cups.iter().map(line).collect();
    let blank = " ".repeat(name);
    lines.push(format!("{blank} {}", axis(&scale, now)));
    if scale.holds(now.at) {
        lines.push(format!("{blank} {}", pointer(&scale, now)));
    }
    lines
}

/// One cup's wait and work.
fn track(scale: &TimeSpan, steps: &[Step], cup: &VariantRef) -> String {
    let own = || steps.iter().filter(|step| step.cup.as_ref() == Some(cup));
    let at = |deed| {
        own()
            .find(|step| step.deed == deed)
            .map(|step| scale.cell(step.at))
    };
    let begin = at(Deed::Shake).unwrap_or(0);
    let stirred = at(Deed::Stir).unwrap_or(begin);
    let clears = at(Deed::Clears).unwrap_or(stirred);
    let mut cells = vec![' '; scale.cells];
    let mut paint = |from: usize, to: usize, sign| {
        let to = to.min(scale.cells);
        cells
            .get_mut(from.min(to)..to)
            .into_iter()
            .flatten()
            .for_each(|cell| *cell = sign);
    };
    paint(begin, scale.cells, '·');
    paint(stirred, clears, '─');
    paint(begin, stirred + 1, '■');
    for (deed, sign) in [(Deed::Look, '◎'), (Deed::Thin, '+')] {
        if let Some(at) = at(deed) {
            paint(at, at + 1, sign);
        }
    }
    paint(scale.cells - 1, scale.cells, '▼');
    cells.into_iter().collect()
}

/// Hours on the wall, each beginning at its cell: `|22:00`.
fn axis(scale: &TimeSpan, now: &Now) -> String {
    let tick = tick(scale);
    let start = now.zone.tell(scale.from);
    let minutes = i64::from(start.num_seconds_from_midnight()) / 60;
    let wait = (tick - minutes % tick) % tick;
    let whole = earlier(start, TimeDelta::seconds(i64::from(start.second())));
    let mut line = String::new();
    let mut at = later(whole, TimeDelta::minutes(wait));
    // No more labels than cells, however far a file says the end lies.
    for _ in 0..scale.cells {
        if at > scale.until {
            break;
        }
        let cell = scale.cell(at);
        let format = if tick < 1440 { "|%H:%M" } else { "|%a" };
        let label = now.zone.tell(at).format(format).to_string();
        let used = line.chars().count();
        if cell >= used && cell + label.len() <= scale.cells {
            line += &" ".repeat(cell - used);
            line += &label;
        }
        at = later(at, TimeDelta::minutes(tick));
    }
    line
}

fn pointer(scale: &TimeSpan, now: &Now) -> String {
    let cell = scale.cell(now.at);
    if cell + 5 <= scale.cells {
        return format!("{}▲ now", " ".repeat(cell));
    }
    format!("{}now ▲", " ".repeat(cell.saturating_sub(4)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::tests::now;

    fn step(minutes: i64, deed: Deed, cup: Option<&str>) -> Step {
        Step {
            at: now().at + TimeDelta::minutes(minutes),
            deed,
            cup: cup.map(|recipe| VariantRef {
                id: 1,
                recipe: recipe.to_owned(),
                number: 1,
            }),
        }
    }

    /// Begun at 10:00, clear after 8 h, poured after 10 h.
    fn day() -> Vec<Step> {
        let own = |minutes, deed| step(minutes, deed, Some("Blue"));
        vec![
            own(0, Deed::Shake),
            own(60, Deed::Stir),
            own(480, Deed::Clears),
            own(480, Deed::Look),
            own(540, Deed::Thin),
            step(600, Deed::Pour, None),
        ]
    }

    // 41 cells for 600 minutes: 15 minutes a cell. Stirred in cell 4, clear in 32, thinned in 36, poured in 40.
    #[test]
    fn every_sign_stands_at_its_time() {
        let lines = lines(&day(), &now(), 7, 49);
        let track: Vec<char> = lines[0].chars().skip(8).collect();
        assert_eq!(track.len(), 41);
        assert_eq!(track[..5].iter().collect::<String>(), "■■■■■");
        assert!(track[5..32].iter().all(|sign| *sign == '─'), "{lines:?}");
        assert_eq!((track[32], track[36], track[40]), ('◎', '+', '▼'));
        assert_eq!(track[33..36].iter().collect::<String>(), "···");
    }

    #[test]
    fn hours_on_the_wall_stand_at_their_cells_and_now_beneath() {
        let lines = lines(&day(), &now(), 7, 49);
        let at = |text: &str| lines[1].find(text).unwrap() - 8;
        assert_eq!((at("|10:00"), at("|12:00"), at("|18:00")), (0, 8, 32));
        assert_eq!(lines[2].trim(), "▲ now");
    }

    #[test]
    fn no_room_and_no_time_draw_nothing() {
        assert!(lines(&day(), &now(), 20, 10).is_empty());
        assert!(lines(&day()[..1], &now(), 7, 49).is_empty());
        assert!(lines(&[], &now(), 7, 49).is_empty());
    }
}
