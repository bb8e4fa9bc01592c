//! `trial findings`: the effects in words, numbers and a drawing.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::{number, with};
use crate::numbers::statistics::effects::{Analysis, Effect, ErrorSource};
use crate::numbers::statistics::proportion::Interval;
use crate::studio::{Answer, TrialFindings, stands_clear};
use serde_json::{Value, json};

/// Columns of the drawing on either side of nothing.
const HALF: usize = 24;

impl Desk<'_> {
    pub(super) fn trial_findings(&mut self, trial: i64) -> Answer<Report> {
        let found = self.studio.trial_findings(trial)?;
        let report = Report::new(self.trial_findings_json(&found)).lines(found.words.clone());
        let Some(analysis) = &found.analysis else {
            return Ok(report);
        };
        let names = found.names();
        let shown: Vec<&Effect> = analysis
            .effects
            .iter()
            .filter(|effect| effect.factors.len() <= 2 || stands_clear(effect))
            .collect();
        let scale = scale(&shown);
        let heads = ["effect", "cells", &axis(scale), "and how sure"];
        let table = Table::headed(&heads).right(&[1]);
        let rows = shown.iter().map(|effect| {
            [
                name(&effect.factors, &names),
                format!("{:+.2}", effect.value),
                drawn(effect, scale),
                sureness(effect),
            ]
        });
        let report = report.table(&rows.fold(table, Table::row));
        let left_out = analysis.effects.len() - shown.len();
        let rest = (left_out > 0).then(|| {
            format!("not drawn: {left_out} of three together or more, none clear of chance")
        });
        Ok(report.lines(rest).lines(found.page.aliases.clone()))
    }

    fn trial_findings_json(&self, found: &TrialFindings) -> Value {
        let names = found.names();
        let analysis = found.analysis.as_ref();
        let effects = analysis.map(|all| {
            let one = |effect| effect_json(effect, &names);
            all.effects.iter().map(one).collect::<Vec<_>>()
        });
        let own = json!({
            "too_early": analysis.is_none(),
            "words": found.words,
            "resolution_words": found.page.resolution_words(),
            "effects": effects.unwrap_or_default(),
            "error": analysis.and_then(error_json),
            "curvature": analysis.and_then(|all| all.curvature).map(|(value, interval)| {
                json!({"value": number(value), "interval": interval.map(interval_json)})
            }),
        });
        with(self.trial_json(&found.page), own)
    }
}

fn name(factors: &[usize], names: &[&str]) -> String {
    let called = factors
        .iter()
        .filter_map(|place| names.get(*place).copied());
    called.collect::<Vec<_>>().join(" x ")
}

fn named<'a>(factors: &[usize], names: &[&'a str]) -> Vec<&'a str> {
    let called = factors
        .iter()
        .filter_map(|place| names.get(*place).copied());
    called.collect()
}

fn effect_json(effect: &Effect, names: &[&str]) -> Value {
    let aliases: Vec<Vec<&str>> = effect.aliases.iter().map(|one| named(one, names)).collect();
    json!({
        "effect": name(&effect.factors, names),
        "factors": named(&effect.factors, names),
        "value": number(effect.value),
        "interval": effect.interval.map(interval_json),
        "clear": stands_clear(effect),
        "aliases": aliases,
        "with_blocks": effect.with_blocks,
        "words": effect.told(names),
    })
}

fn interval_json(sure: Interval) -> Value {
    json!([number(sure.low), number(sure.high)])
}

fn error_json(analysis: &Analysis) -> Option<Value> {
    let (error, freedom, from) = analysis.error?;
    let from = match from {
        ErrorSource::Repeats => "repeats",
        ErrorSource::Lenth => "lenth",
    };
    Some(
        json!({"standard_error": number(error), "degrees_of_freedom": number(freedom), "from": from}),
    )
}

fn sureness(effect: &Effect) -> String {
    let said = match effect.interval {
        None => "unknown".to_owned(),
        Some(sure) if stands_clear(effect) => {
            format!("clear: {:+.2} to {:+.2}", sure.low, sure.high)
        }
        Some(_) => "may be nothing".to_owned(),
    };
    if effect.with_blocks {
        return format!("{said}; may be the day");
    }
    said
}

/// The largest number that is drawn.
fn scale(effects: &[&Effect]) -> f64 {
    let ends = |effect: &&Effect| {
        let sure = effect.interval;
        let ends = sure.map_or([0.0; 2], |sure| [sure.low.abs(), sure.high.abs()]);
        ends.into_iter().fold(effect.value.abs(), f64::max)
    };
    effects.iter().map(ends).fold(0.0, f64::max)
}

fn axis(scale: f64) -> String {
    let (low, high) = (format!("{:+.1}", -scale), format!("{scale:+.1}"));
    let side = |text: &str| " ".repeat(HALF.saturating_sub(text.len()));
    format!("{low}{}0{}{high}", side(&low), side(&high))
}

/// The column of a value; nothing is in the middle.
fn column(value: f64, scale: f64) -> usize {
    let whole = 2 * HALF;
    if scale <= 0.0 {
        return HALF;
    }
    let place = (value / scale + 1.0) * HALF as f64;
    (place.round().max(0.0) as usize).min(whole)
}

/// A bar from nothing to the effect, and the ends of its interval.
fn drawn(effect: &Effect, scale: f64) -> String {
    let mut line = vec![' '; 2 * HALF + 1];
    let mut fill = |from: usize, to: usize, sign: char| {
        line[from.min(to)..=from.max(to)].fill(sign);
    };
    let ends = effect
        .interval
        .map(|sure| [sure.low, sure.high].map(|end| column(end, scale)));
    if let Some([low, high]) = ends {
        fill(low, high, '·');
    }
    fill(HALF, column(effect.value, scale), '█');
    fill(HALF, HALF, '│');
    if let Some([low, high]) = ends {
        fill(low, low, '[');
        fill(high, high, ']');
    }
    line.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn effect(value: f64, interval: Option<(f64, f64)>) -> Effect {
        Effect {
            factors: vec![0],
            aliases: Vec::new(),
            with_blocks: false,
            value,
            interval: interval.map(|(low, high)| Interval { low, high }),
        }
    }

    #[test]
    fn a_bar_runs_from_nothing_to_the_effect_between_the_ends_of_its_interval() {
        let line: Vec<char> = drawn(&effect(-1.0, Some((-2.0, 0.5))), 2.0)
            .chars()
            .collect();
        assert_eq!(line.len(), 2 * HALF + 1);
        let at = |sign| line.iter().position(|c| *c == sign);
        assert_eq!((at('['), at(']')), (Some(0), Some(HALF + HALF / 4)));
        assert_eq!((at('█'), at('│')), (Some(HALF / 2), Some(HALF)));
    }

    #[test]
    fn nothing_at_all_is_drawn_as_nothing() {
        let all = [effect(0.0, None)];
        let line = drawn(&all[0], scale(&all.iter().collect::<Vec<_>>()));
        assert_eq!(line.trim(), "│");
        assert_eq!(line.chars().count(), axis(0.0).chars().count());
    }
}
