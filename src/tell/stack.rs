//! What is said of a stack of cups.

use crate::studio::{StackAdvice, StackFault, StackStep, StackVerdict, due};
use crate::tell::{Told, words};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::length::show_length;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::units::{Band, Hours, Seconds, Share};

impl Told for StackFault {
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self {
            Self::NotReady {
                mark,
                state,
                clears_at,
            } => not_ready(mark, *state, *clears_at, now),
            Self::OnActivator { upper, activator } => {
                format!("{upper} lies on the activator {activator}: the activator goes on top")
            }
            Self::NotThinner { upper, lower } => {
                let [up, low] =
                    [upper, lower].map(|(mark, mound)| format!("{mark} ({:.1} s)", mound.get()));
                format!("{up} is not thinner than {low} below it")
            }
            Self::Unsure {
                upper,
                lower,
                holds,
            } => {
                let sure = holds.get() * 100.0;
                format!("{upper} is not surely thinner than {lower}: {sure:.0} % sure that it is")
            }
            Self::Heavier { upper, lower } => {
                format!("{upper} is heavier than {lower}: it sinks into it in cells")
            }
            Self::SameCup(mark) => {
                format!("{mark} twice in a row is one layer: add the two amounts up")
            }
            Self::Overdrawn { mark, left, asked } => {
                let [left, asked] = [left, asked].map(|ml| show_volume(*ml, measures));
                format!("{asked} of {mark} are to be poured, and {left} are left in it")
            }
            Self::FilmDeep(film) => format!(
                "the wet film is {} deep: check the amounts and the panel",
                show_length(*film, measures)
            ),
            Self::FilmThin(film) => format!(
                "the wet film is only {}: it may not cover; check the amounts and the panel",
                show_length(*film, measures)
            ),
        }
    }
}

fn not_ready(mark: &Mark, state: State, clears_at: Moment, now: &Now) -> String {
    match state {
        State::Resting => format!("{mark} still rests: bubbles until {}", due(clears_at, now)),
        State::Look => format!("{mark} was not read since it cleared"),
        State::Thick => format!("{mark} has thickened, or was not looked at for too long"),
        State::Thin => format!("{mark} is too thin"),
        State::Spent => format!("{mark} is spent"),
        State::Ready => format!("{mark} is ready"),
    }
}

/// Whether a chance is enough for "probably": two in three (ours).
fn is_likely(chance: Share) -> bool {
    chance.get() >= 2.0 / 3.0
}

impl Told for StackVerdict {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        match self {
            Self::Holds => {
                "the order holds: each layer is thinner than the one below it".to_owned()
            }
            Self::Probably(sure) => {
                let percent = sure.get() * 100.0;
                match is_likely(*sure) {
                    true => format!("the order probably holds ({percent:.0} %)"),
                    false => format!("the order may hold or not ({percent:.0} %)"),
                }
            }
            Self::Broken => "the order does not hold".to_owned(),
            Self::Unknown => "whether the order holds is not known yet".to_owned(),
        }
    }
}

impl Told for StackAdvice {
    fn told(&self, measures: Measures, _now: &Now) -> String {
        match self {
            Self::ActivatorOnTop { activator, upper } => {
                format!("the activator goes on top: pour {upper} under {activator}")
            }
            Self::Thin { upper, by, lower } => {
                let by = show_volume(*by, measures);
                format!("thin {upper} by {by}, or pour it under {lower}")
            }
            Self::Swap { upper, lower } => {
                format!("pour {upper} under {lower}: it is not the thinner")
            }
            Self::Read { unread, flow_cup } => read_them(unread, *flow_cup),
        }
    }
}

/// From here on nothing is left of a doubt, and no percentage is said (ours).
const SURE: f64 = 99.5;

/// How sure it is that a layer is thinner than the one below it, or that it is not.
fn order(holds: Share) -> String {
    let (is, sure) = match holds.get() >= 0.5 {
        true => ("", holds),
        false => ("not ", Share(1.0 - holds.get())),
    };
    let percent = sure.get() * 100.0;
    if percent >= SURE {
        return format!("{is}thinner than the layer below");
    }
    let how = if is_likely(sure) {
        "probably"
    } else {
        "perhaps"
    };
    format!("{how} {is}thinner than the layer below ({percent:.0} %)")
}

/// What one step of the ladder says: the chance that its order holds, cells by density as a band, and what would mend
/// it. Its faults stand among those of the stack.
#[must_use]
pub fn step(step: &StackStep, measures: Measures, now: &Now) -> Vec<String> {
    let mut said = Vec::new();
    said.extend(step.order_holds.map(order));
    if let (Some(spacing), Some(when)) = (step.spacing, step.shows_in) {
        said.push(format!(
            "heavier than the one below: cells about {} apart, {} (surface tension is not in this)",
            show_length(spacing.mid, measures),
            shows(when)
        ));
    }
    let unshown = step.spacing.is_none();
    let notes = step.check.notes.iter().filter(|_| unshown);
    said.extend(notes.map(|note| words(note, measures, now)));
    let mends = |advice: &&StackAdvice| match advice {
        StackAdvice::Thin { .. } | StackAdvice::Swap { .. } | StackAdvice::Read { .. } => true,
        StackAdvice::ActivatorOnTop { .. } => false,
    };
    let advice = step.advice.as_ref().filter(mends);
    said.extend(advice.map(|advice| words(advice, measures, now)));
    said
}

/// By then paint is dry to the touch and shows nothing new (common practice, no source).
const DRY: Hours = Hours(48.0);

/// When cells show: `after 4 to 16 min`; what takes days does not show before it dries.
fn shows(band: Band<Seconds>) -> String {
    let [low, high] = [band.low, band.high].map(|time| Hours(time.get() / 3600.0));
    if low >= DRY {
        return "not before it dries".to_owned();
    }
    if high >= DRY {
        return format!("after {} at the soonest, or not before it dries", wait(low));
    }
    match high.get() < 2.0 {
        true => format!("after {:.0} to {}", low.get() * 60.0, wait(high)),
        false => format!("after {} to {}", wait(low), wait(high)),
    }
}

/// Minutes up to two hours, then hours.
fn wait(time: Hours) -> String {
    match time.get() {
        long if long >= 2.0 => format!("{long:.0} h"),
        short => format!("{:.0} min", short * 60.0),
    }
}

fn read_them(unread: &[Mark], flow_cup: bool) -> String {
    let marks: Vec<&str> = unread.iter().map(Mark::as_str).collect();
    let marks = marks.join(" and ");
    match flow_cup {
        true => format!(
            "order cannot be told: a flow cup's reading of {marks} is no mound; time its mound"
        ),
        false => format!("unknown order: read {marks}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(low: f64, high: f64) -> String {
        shows(Band {
            low: Seconds(low),
            mid: Seconds(low),
            high: Seconds(high),
        })
    }

    #[test]
    fn what_takes_years_to_show_is_not_told_in_minutes() {
        assert_eq!(told(240.0, 960.0), "after 4 to 16 min");
        assert_eq!(told(5400.0, 18_000.0), "after 90 min to 5 h");
        let late = "after 5 h at the soonest, or not before it dries";
        assert_eq!(told(18_000.0, 1e8), late);
        // The issue: "after 4900710 to 19602841 min".
        assert_eq!(
            told(4_900_710.0 * 60.0, 19_602_841.0 * 60.0),
            "not before it dries"
        );
    }
}
