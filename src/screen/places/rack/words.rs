//! What the Rack says: how far each picture is, its dates in words, what the hands must do next.

use super::Rack;
use super::shown::Shown;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::Look;
use crate::screen::kit::message::Tone;
use crate::studio::{self, PourPage, RackLine, ends};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::length::show_length;
use crate::trade::moment::Moment;
use ratatui::style::Style;

/// How far a picture is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// The model gives no end to it in this air.
    Stuck,
    /// Wet.
    Wet,
    /// It may be dry to the touch.
    Nearly,
    /// Dry to the touch: by the clock, or as it was judged.
    Dry,
    /// It was judged dry, and may be varnished.
    Varnish,
}

impl Stage {
    /// How far a picture is at an instant; dry at the end of the band, not at its start.
    pub fn of(line: &RackLine, now: &Now) -> Self {
        let judged = line.judged_dry();
        match (&line.touch, &line.varnish) {
            (_, Ok(varnish)) if judged && now.at >= varnish.high => Self::Varnish,
            (Ok(touch), _) if judged || now.at >= touch.high => Self::Dry,
            (Ok(touch), _) if now.at >= touch.low => Self::Nearly,
            (Ok(_), _) => Self::Wet,
            (Err(_), _) if judged => Self::Dry,
            (Err(_), _) => Self::Stuck,
        }
    }

    /// Its sign and word.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Stuck => ("✗", "stays wet"),
            Self::Wet => ("○", "wet"),
            Self::Nearly => ("◎", "nearly dry"),
            Self::Dry => ("●", "dry"),
            Self::Varnish => ("◆", "varnish"),
        }
    }

    /// How it is written.
    pub fn style(self, look: Look) -> Style {
        match self {
            Self::Stuck => look.wrong(),
            Self::Wet => Style::new(),
            Self::Nearly => look.tone(Tone::Odd),
            Self::Dry | Self::Varnish => look.tone(Tone::Done),
        }
    }
}

/// What the hands must do next.
pub fn headline(rack: &Rack, desk: &Desk) -> String {
    let (rack, now) = (&rack, &desk.beat.now);
    if rack.shown != Shown::Rack {
        let (count, order) = (rack.lines.len(), rack.order.words());
        let kind = match rack.shown {
            Shown::All => "All pictures".to_owned(),
            kind => format!("Pictures, {}", kind.words()),
        };
        return format!("{kind}: {count}, {order}. f shows others, o orders them.");
    }
    if rack.lines.is_empty() {
        return "Nothing lies on the rack: what is poured dries here.".to_owned();
    }
    let at = |stages: &'static [Stage]| {
        // One that was just varnished or sold is still in hand, and wants nothing more.
        let lines = rack.lines.iter().zip(&rack.fates);
        let lines = lines.filter(|(_, fate)| fate.is_none());
        lines
            .map(|(line, _)| line)
            .filter(move |line| stages.contains(&Stage::of(line, now)))
    };
    let unseen = at(&[Stage::Dry]).filter(|line| !line.judged_dry());
    let mut said = Vec::new();
    said.extend(at(&[Stage::Stuck]).next().map(|line| stuck(line, now)));
    said.extend(named(unseen).map(|them| format!("{them} should be dry to the touch: d judges.")));
    said.extend(
        named(at(&[Stage::Varnish]))
            .map(|them| format!("{them} may be varnished, in moving air: v.")),
    );
    said.extend(next_dry(at(&[Stage::Wet, Stage::Nearly]), now));
    if rack.room.is_none() {
        said.push("Say the room's air: i.".to_owned());
    }
    if said.is_empty() {
        return "Nothing to do here but wait for the day of the varnish.".to_owned();
    }
    said.join(" ")
}

/// The wet picture that is dry first, and by when.
fn next_dry<'a>(wet: impl Iterator<Item = &'a RackLine>, now: &Now) -> Option<String> {
    let dated = wet.filter_map(|line| Some((line.touch.as_ref().ok()?, line)));
    let (touch, line) = dated.min_by_key(|(touch, _)| touch.high)?;
    let (_, when) = ends(*touch, now);
    Some(format!(
        "Picture {} is dry to the touch by {when}.",
        line.page.pour.id
    ))
}

fn stuck(line: &RackLine, now: &Now) -> String {
    let why = tell::drying::dates(&line.touch, now);
    format!("Picture {}: {why}.", line.page.pour.id)
}

/// `Picture 5`, `Pictures 5, 4`, `Pictures 5, 4 and 3 more`; `None` where there is none.
fn named<'a>(lines: impl Iterator<Item = &'a RackLine>) -> Option<String> {
    let numbers: Vec<_> = lines.map(|line| line.page.pour.id.to_string()).collect();
    match numbers.as_slice() {
        [] => None,
        [one] => Some(format!("Picture {one}")),
        few @ ([_, _] | [_, _, _]) => Some(format!("Pictures {}", few.join(", "))),
        [one, two, rest @ ..] => Some(format!("Pictures {one}, {two} and {} more", rest.len())),
    }
}

/// The dates of a picture in sentences.
pub fn dates(line: &RackLine, now: &Now) -> Vec<String> {
    let touch = match &line.touch {
        Err(why) => format!("no date: {}", tell::models::drying(*why)),
        Ok(touch) if now.at >= touch.high => {
            format!(
                "dry to the touch since {} at the latest",
                day(touch.high, now)
            )
        }
        Ok(touch) => {
            let (low, high) = ends(*touch, now);
            format!("dry to the touch between {low} and {high}")
        }
    };
    let mut said = vec![touch];
    said.extend(line.varnish.as_ref().ok().map(|varnish| {
        if now.at >= varnish.high {
            return match line.judged_dry() {
                true => "may be varnished now, in moving air",
                false => "judge it dry first, then varnish",
            }
            .to_owned();
        }
        let (low, high) = ends(*varnish, now);
        format!("may be varnished from {high} on, perhaps from {low} already")
    }));
    said
}

/// What the dates are reckoned with: `wet film 1.2 mm at 21C,45%`.
pub fn reckoned(line: &RackLine, measures: Measures) -> String {
    let air = line.air.show(measures);
    let whence = if line.air_known {
        ""
    } else {
        ", the air it is taken to have"
    };
    let film = show_length(line.film, measures);
    format!("wet film {film} at {air}{whence}")
}

/// A day in words: `today`, `26 Nov`, with its year where that is another one.
pub fn day(at: Moment, now: &Now) -> String {
    let (there, here) = (now.zone.tell(at), now.zone.tell(now.at));
    let format = match (there.date_naive() - here.date_naive()).num_days() {
        -1 => "yesterday",
        0 => "today",
        1 => "tomorrow",
        _ => return studio::day(at, now),
    };
    format.to_owned()
}

/// The cells of the judgement that counts: `4 dry`, `3 wet`, `-`.
pub fn cells(page: &PourPage) -> String {
    page.counting().map_or_else(
        || "-".to_owned(),
        |judged| {
            let seen = if judged.dry { "dry" } else { "wet" };
            format!("{} {seen}", judged.cells)
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::tests::now;
    use chrono::TimeDelta;

    #[test]
    fn days_are_told_as_one_says_them() {
        let now = now();
        let after = |days| day(now.at + TimeDelta::days(days), &now);
        assert_eq!(
            [after(-1), after(0), after(1), after(4)],
            ["yesterday", "today", "tomorrow", "29 Nov"]
        );
        assert_eq!(after(40), "4 Jan 2027");
    }
}
