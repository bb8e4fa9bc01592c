//! The wording of what a trial found: what stands clear, how sure that is, and what it cannot tell.

use super::curves;
use crate::numbers::statistics::curves::Layout;
use crate::numbers::statistics::effects::{Analysis, Effect, ErrorSource};
use crate::numbers::statistics::factorial::{Alias, DesignError, Generator, Resolution};
use crate::numbers::statistics::proportion::Interval;
use crate::studio::{TrialFindings, TrialLine, TrialPage, stands_clear};
use crate::trade::trial::{Level, TrialFactor};

/// What else an effect may be that stands or falls with the days of its runs.
const MAY_BE_THE_DAY: &str = "it may be the day";

/// What stands clear, or that nothing does; of a curve first where it is best.
#[must_use]
pub fn words(found: &TrialFindings) -> Vec<String> {
    let page = &found.page;
    match (&found.analysis, &found.curve) {
        (None, _) => too_early(page),
        (Some(analysis), None) => effects(page, analysis),
        (Some(analysis), Some(curve)) => {
            let clear = analysis.effects.iter().filter(|one| stands_clear(one));
            let clear = clear.map(|one| effect(one, &page.factors));
            [curves::words(curve, &page.factors)]
                .into_iter()
                .chain(clear)
                .collect()
        }
    }
}

/// What else is to be known about it: runs given up, the error, what it cannot tell.
#[must_use]
pub fn notes(found: &TrialFindings) -> Vec<String> {
    let (page, curve) = (&found.page, found.curve.as_ref());
    let mut words: Vec<String> = curve
        .and_then(|curve| curves::kind(curve, &page.factors))
        .into_iter()
        .collect();
    words.extend(given_up(page));
    if let Some(analysis) = &found.analysis {
        words.extend(dropped(&found.dropped, &page.factors));
        words.extend(error_words(analysis, page));
        words.extend(curvature_words(analysis));
        words.extend(resolution(page).map(str::to_owned));
    }
    words
}

/// How sharp a trial is; none where that no longer holds because runs were given up.
#[must_use]
pub fn resolution(page: &TrialPage) -> Option<&'static str> {
    if let Some(layout) = page.curve {
        return Some(curve_words(layout));
    }
    Some(match page.resolution_left()? {
        Resolution::Full => {
            "every combination is poured: each factor and each pair can be told from the others"
        }
        Resolution::Three => "resolution III: a factor cannot be told from a pair of others",
        Resolution::Four => {
            "resolution IV: each factor can be told from the others, pairs cannot be told from each other"
        }
        Resolution::Five | Resolution::Six | Resolution::Seven => {
            "resolution V or more: each factor and each pair can be told from the others"
        }
    })
}

const fn curve_words(layout: Layout) -> &'static str {
    match layout {
        Layout::FaceCentred => {
            "for a curve, face-centred: all ends, each setting halfway at a time, and everything halfway"
        }
        Layout::EdgeMiddles => {
            "for a curve, middles of the edges: two settings at their ends at a time, and everything halfway"
        }
    }
}

/// How many effects are not worth drawing; none where all are.
#[must_use]
pub fn left_out(found: &TrialFindings) -> Option<String> {
    let all = found.analysis.as_ref()?.effects.len();
    let left_out = all - found.shown().len();
    (left_out > 0)
        .then(|| format!("not drawn: {left_out} of three together or more, none clear of chance"))
}

fn too_early(page: &TrialPage) -> Vec<String> {
    let judged = format!(
        "{} of {} runs are judged: too early",
        page.judged(),
        page.runs.len()
    );
    let waits = |run: &&TrialLine| run.pour.is_some() && !run.is_over();
    let unjudged = page.runs.iter().filter(waits).count();
    let waiting = (unjudged > 0).then(|| match unjudged {
        1 => "1 run is poured and waits to be judged".to_owned(),
        more => format!("{more} runs are poured and wait to be judged"),
    });
    let next = page
        .next()
        .map(|run| format!("run {run} is to be poured next"));
    [judged].into_iter().chain(waiting).chain(next).collect()
}

/// An effect in the painter's words: what it does to the cells, how sure that is, and what else it may be.
#[must_use]
pub fn effect(effect: &Effect, factors: &[TrialFactor]) -> String {
    let sure = effect.interval.map(|sure| {
        let (low, high) = (tenth(sure.low), tenth(sure.high));
        format!(" ({low} to {high})")
    });
    let told = format!(
        "{}: {} cells{}",
        changed(&effect.factors, factors),
        signed(effect.value),
        sure.unwrap_or_default()
    );
    let doubts = doubts(effect, factors).into_iter();
    doubts.fold(told, |told, doubt| format!("{told}; {doubt}"))
}

/// `24h rest instead of 12h`, `rest and air together`.
fn changed(which: &[usize], factors: &[TrialFactor]) -> String {
    let named: Vec<&TrialFactor> = which.iter().filter_map(|at| factors.get(*at)).collect();
    if let [one] = named.as_slice() {
        return format!("{} {} instead of {}", one.high, one.name, one.low);
    }
    if let ([one, _], [first, second]) = (named.as_slice(), which)
        && first == second
    {
        let halfway = one.at(Level::Middle);
        return format!("{halfway} {} against both ends", one.name);
    }
    format!("{} together", together(&named))
}

fn together(named: &[&TrialFactor]) -> String {
    let names: Vec<&str> = named.iter().map(|one| one.name.as_str()).collect();
    names.join(" and ")
}

/// How sure an effect is, in few words beside its number: `clear: +0.21 to +1.10`.
#[must_use]
pub fn sureness(effect: &Effect) -> String {
    let clear = |sure: &Interval| format!("clear: {:+.2} to {:+.2}", sure.low, sure.high);
    let sure = effect.interval.as_ref().map(clear);
    let said = unsure(effect)
        .map(str::to_owned)
        .or(sure)
        .unwrap_or_default();
    match effect.with_blocks {
        true => format!("{said}; {MAY_BE_THE_DAY}"),
        false => said,
    }
}

/// Why an effect is not clear; `None` where it is.
fn unsure(effect: &Effect) -> Option<&'static str> {
    match effect.interval {
        None => Some("how sure is unknown"),
        Some(_) if !stands_clear(effect) => Some("cannot be told from nothing"),
        Some(_) => None,
    }
}

fn doubts(effect: &Effect, factors: &[TrialFactor]) -> Vec<String> {
    let mut said: Vec<String> = unsure(effect).map(str::to_owned).into_iter().collect();
    let named = |which: &Vec<usize>| {
        let named: Vec<&TrialFactor> = which.iter().filter_map(|at| factors.get(*at)).collect();
        let words = if named.len() > 1 { " together" } else { "" };
        format!("{}{words}", together(&named))
    };
    let others = effect.aliases.iter().filter(|one| one.len() <= 2);
    let others: Vec<String> = others.map(named).collect();
    if !others.is_empty() {
        said.push(format!("it may be {}", others.join(" or ")));
    }
    if effect.with_blocks {
        said.push(MAY_BE_THE_DAY.to_owned());
    }
    said
}

/// One digit after the point, which is all that cells counted from 0 to 5 deserve; no nought below nothing.
fn tenth(value: f64) -> String {
    let text = format!("{value:.1}");
    if text == "-0.0" {
        "0.0".to_owned()
    } else {
        text
    }
}

fn signed(value: f64) -> String {
    let text = tenth(value);
    if text.starts_with('-') {
        text
    } else {
        format!("+{text}")
    }
}

fn effects(page: &TrialPage, analysis: &Analysis) -> Vec<String> {
    let effects = analysis.effects.iter();
    let clear = effects.filter(|one| stands_clear(one));
    let mut words: Vec<String> = clear.map(|one| effect(one, &page.factors)).collect();
    if words.is_empty() {
        words.push(nothing_clear(analysis).to_owned());
    }
    words
}

fn given_up(page: &TrialPage) -> Vec<String> {
    let one = |why: &str, run: usize| format!("run {run} was given up: {why}");
    let runs = page.runs.iter();
    runs.filter_map(|run| Some(one(run.given_up.as_ref()?, run.run)))
        .collect()
}

fn dropped(dropped: &[Vec<usize>], factors: &[TrialFactor]) -> Option<String> {
    let changed = |one: &Vec<usize>| changed(one, factors);
    let names: Vec<String> = dropped.iter().map(changed).collect();
    let names = names.join("; ");
    let told = format!("too few runs to tell, so taken to do nothing: {names}");
    (!dropped.is_empty()).then_some(told)
}

fn nothing_clear(analysis: &Analysis) -> &'static str {
    if analysis.effects.iter().all(|effect| effect.value == 0.0) {
        return "every setting came out alike";
    }
    match analysis.error {
        Some(_) => "too early to tell: no effect stands clear of chance",
        None => {
            "too early to tell: nothing shows how far chance reaches; repeat runs or add centre runs"
        }
    }
}

fn error_words(analysis: &Analysis, page: &TrialPage) -> Option<String> {
    let (error, _, from) = analysis.error?;
    let from = match from {
        ErrorSource::Repeats => "from runs at the same settings",
        ErrorSource::Lenth => "from the small effects, which are taken to be nothing (Lenth)",
        ErrorSource::Left => {
            return Some(format!(
                "standard error of one run {error:.2} cells, from what the curve leaves"
            ));
        }
        ErrorSource::Pooled => "from runs at the same settings and the small effects together",
    };
    let at_most = if page.given_up() > 0 { "at most " } else { "" };
    Some(format!("standard error {at_most}{error:.2} cells, {from}"))
}

fn curvature_words(analysis: &Analysis) -> Option<String> {
    let (value, interval) = analysis.curvature?;
    let told = format!("halfway: {value:+.2} cells against the mean of the corners");
    Some(match interval {
        Some(sure) => format!("{told} ({:+.2} to {:+.2})", sure.low, sure.high),
        None => told,
    })
}

/// How the last factors are set by the first.
#[must_use]
pub fn generators(page: &TrialPage) -> Vec<String> {
    let told = |one: &Generator| {
        let (factor, by) = (joined(&[one.factor], page), joined(&one.set_by, page));
        format!("{factor} is set by {by}")
    };
    page.generators.iter().map(told).collect()
}

/// What cannot be told apart.
#[must_use]
pub fn aliases(page: &TrialPage) -> Vec<String> {
    let told = |one: &Alias| match one {
        Alias::Effects { effect, others } => {
            let others: Vec<String> = others.iter().map(|one| joined(one, page)).collect();
            let effect = joined(effect, page);
            format!("{effect} cannot be told from {}", others.join(" or "))
        }
        Alias::Days(effect) => format!(
            "the difference between days cannot be told from {}",
            joined(effect, page)
        ),
    };
    page.aliases.iter().map(told).collect()
}

/// Factors taken together: `rest x mound`.
fn joined(which: &[usize], page: &TrialPage) -> String {
    let named = which.iter().filter_map(|at| page.factors.get(*at));
    let names: Vec<&str> = named.map(|one| one.name.as_str()).collect();
    names.join(" x ")
}

/// Why a trial cannot be laid out or read.
pub(super) fn design(error: DesignError) -> String {
    match error {
        DesignError::Factors(count) => format!(
            "a trial varies one to seven things, not {count}. Fix the others at one setting"
        ),
        DesignError::Runs(runs) => format!("a trial has 4, 8, 16 or 32 runs, not {runs}"),
        DesignError::TooFew { factors, least } => {
            format!("{factors} factors need at least {least} runs")
        }
        DesignError::Blocks(blocks) => format!(
            "these runs cannot be split into {blocks} blocks without losing a factor. Take fewer blocks or more runs"
        ),
        DesignError::Curve(count) => format!(
            "a trial for curves varies two to four things (three or four by the middles of the edges), not {count}"
        ),
        DesignError::CurveDays(1) => "these runs are poured in one day".to_owned(),
        DesignError::CurveDays(days) => {
            format!("these runs are poured in one day, or in {days}")
        }
        DesignError::NoCentres => {
            "the middles of the edges need a run with everything halfway, or no bend can be told"
                .to_owned()
        }
        DesignError::Ragged => {
            "each run needs one level a factor and one number as its result".to_owned()
        }
        DesignError::Unbalanced => {
            "the runs are not balanced, so the effects cannot be told apart. Pour the runs that are missing"
                .to_owned()
        }
        DesignError::GivenUp => {
            "so many runs were given up that the factors cannot be told apart. Pour some of them after all"
                .to_owned()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::proportion::Interval;

    fn factor(name: &str, low: &str, high: &str) -> TrialFactor {
        let [name, low, high] = [name, low, high].map(str::to_owned);
        TrialFactor { name, low, high }
    }

    fn words(
        factors: &[usize],
        value: f64,
        ends: Option<(f64, f64)>,
        aliases: &[&[usize]],
    ) -> String {
        let known = [
            factor("rest", "12 h", "24 h"),
            factor("air", "dry", "damp"),
            factor("spin", "cw", "ccw"),
        ];
        let effect = Effect {
            factors: factors.to_vec(),
            aliases: aliases.iter().map(|one| one.to_vec()).collect(),
            with_blocks: factors.len() > 2,
            value,
            is_clear: ends.is_some_and(|(low, high)| low > 0.0 || high < 0.0),
            interval: ends.map(|(low, high)| Interval { low, high }),
        };
        super::effect(&effect, &known)
    }

    #[test]
    fn an_effect_is_said_as_what_changes_and_by_how_many_cells() {
        assert_eq!(
            words(&[0], 0.9, Some((0.2, 1.6)), &[]),
            "24 h rest instead of 12 h: +0.9 cells (0.2 to 1.6)"
        );
        assert_eq!(
            words(&[1], -0.04, Some((-0.8, 0.72)), &[&[0, 2], &[0, 1, 2]]),
            "damp air instead of dry: +0.0 cells (-0.8 to 0.7); cannot be told from nothing; \
             it may be rest and spin together"
        );
        assert_eq!(
            words(&[0, 1, 2], -1.25, None, &[]),
            "rest and air and spin together: -1.2 cells; how sure is unknown; it may be the day"
        );
    }
}
