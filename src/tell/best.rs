//! What is said of the best settings.

use super::findings::gauged;
use crate::studio::{Advised, BestSettings, NoSurface, SettingsAdvice};

/// Everything in sentences: what is known first, then the advice.
#[must_use]
pub fn lines(found: &Result<BestSettings, NoSurface>) -> Vec<String> {
    let found = match found {
        Ok(found) => found,
        Err(why) => return vec![no_surface(*why)],
    };
    match &found.advice {
        None => vec![knows_nothing(found)],
        Some(advice) => vec![knows(found), self::advice(advice)],
    }
}

/// Why there is no surface yet.
#[must_use]
pub fn no_surface(why: NoSurface) -> String {
    match why {
        NoSurface::Pours(n, needed) => {
            format!("Too early for the best settings: {n} judged pours, {needed} are needed.")
        }
        NoSurface::Settings => {
            "No setting is written down on most pours and differs between them.".to_owned()
        }
        NoSurface::Alike => "Every pour had the same cells, so no setting is better.".to_owned(),
    }
}

fn knows_nothing(found: &BestSettings) -> String {
    format!(
        "Nothing that your settings explain yet, in {} pours: a pour's cells are told no better than by their mean.",
        found.pours
    )
}

fn knows(found: &BestSettings) -> String {
    format!(
        "Your settings explain about {:.0} in 100 of what differs between pours beside time, told of sessions left out of {} pours.",
        found.skill * 100.0,
        found.pours
    )
}

/// `Next: rest 15 h, mound of the colours 2.3 s: expect 3.9 of 5 (2.9 to 4.8); your best so far 3.6.`
#[must_use]
pub fn advice(advice: &SettingsAdvice) -> String {
    let one = |one: &Advised| {
        let beyond = if one.beyond {
            ", a little beyond what was tried"
        } else {
            ""
        };
        format!("{}{beyond}", set(one))
    };
    let settings: Vec<String> = advice.settings.iter().map(one).collect();
    format!(
        "Next: {}: {}. Found by looking, not by a trial.",
        settings.join(", "),
        promise(advice)
    )
}

/// `expect 3.9 of 5 (2.9 to 4.8); your best so far 3.6`.
#[must_use]
pub fn promise(advice: &SettingsAdvice) -> String {
    let expect = advice.expect;
    format!(
        "expect {:.1} of 5 ({:.1} to {:.1}); your best so far {:.1}",
        expect.mid, expect.low, expect.high, advice.best_so_far
    )
}

/// `rest 15.2 h`.
fn set(one: &Advised) -> String {
    format!("{} {}", one.setting.name(), value(one))
}

/// Its value with the digits that its instrument shows, and its unit.
#[must_use]
pub fn value(one: &Advised) -> String {
    let shown = (one.value / one.step).round() * one.step;
    gauged(shown, one.step, one.setting.unit())
}

/// The advised settings alone: `rest 15 h, film 2.3 mm`.
#[must_use]
pub fn settings(advice: &SettingsAdvice) -> String {
    let each = advice.settings.iter();
    let each: Vec<String> = each.map(set).collect();
    each.join(", ")
}

/// So many digits tell a curve's settings apart.
#[must_use]
pub fn digits(one: &crate::studio::Curve) -> usize {
    let ends = one.points.first().zip(one.points.last());
    match ends.map(|(low, high)| high.at - low.at) {
        Some(range) if range >= 20.0 => 0,
        Some(range) if range >= 2.0 => 1,
        _ => 2,
    }
}

/// A curve in one line: where its top is, and how far it reaches.
#[must_use]
pub fn curve(one: &crate::studio::Curve) -> String {
    let name = one.setting.name();
    let digits = digits(one);
    let order =
        |a: &&crate::studio::CurvePoint, b: &&crate::studio::CurvePoint| a.mid.total_cmp(&b.mid);
    let ends = one
        .points
        .iter()
        .max_by(order)
        .zip(one.points.iter().min_by(order));
    let Some((top, foot)) = ends.filter(|_| one.matters) else {
        return format!("{name}: no matter, so far");
    };
    format!(
        "{name}: best near {:.digits$} {} ({:.1} cells), poorest near {:.digits$} ({:.1})",
        top.at,
        one.setting.unit(),
        top.mid,
        foot.at,
        foot.mid
    )
}

/// A curve's mean from left to right, in eighths of a line's height from 0 to 5 cells.
#[must_use]
pub fn spark(one: &crate::studio::Curve) -> String {
    const EIGHTHS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
    let sign = |cells: f64| {
        let eighth = (cells / 5.0 * 8.0).floor().clamp(0.0, 7.0) as usize;
        EIGHTHS.get(eighth).copied().unwrap_or(' ')
    };
    one.points.iter().map(|point| sign(point.mid)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{CurvePoint, Logged};

    #[test]
    fn the_advice_names_settings_what_to_expect_and_the_best_so_far() {
        let one = |setting, value, step, beyond| Advised {
            setting,
            value,
            step,
            beyond,
        };
        let advice = SettingsAdvice {
            settings: vec![
                one(Logged::Rest, 15.2, 1.0, false),
                one(Logged::Film, 2.31, 0.1, true),
            ],
            expect: CurvePoint {
                at: 0.0,
                mid: 3.9,
                low: 2.9,
                high: 4.8,
            },
            best_so_far: 3.6,
        };
        assert_eq!(
            super::advice(&advice),
            "Next: rest 15 h, film 2.3 mm, a little beyond what was tried: expect 3.9 of 5 (2.9 to 4.8); your best so far \
             3.6. Found by looking, not by a trial."
        );
    }
}
