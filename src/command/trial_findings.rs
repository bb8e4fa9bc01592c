//! `trial findings`: the effects in words, numbers and a drawing.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::{number, with};
use crate::numbers::statistics::effects::{Analysis, Effect, ErrorSource};
use crate::numbers::statistics::proportion::Interval;
use crate::numbers::statistics::surface::{Axis, Kind};
use crate::studio::{
    Answer, EffectAxis, Spot, TrialCurve, TrialFindings, TrialPage, effect_words, stands_clear,
};
use serde_json::{Value, json};

/// Columns of the drawing on either side of nothing.
const HALF: usize = 24;

impl Desk<'_> {
    pub(super) fn trial_findings(&mut self, trial: i64) -> Answer<Report> {
        let found = self.studio.trial_findings(trial)?;
        let report = Report::new(self.trial_findings_json(&found))
            .lines(found.words.clone())
            .lines(found.notes.clone());
        if found.analysis.is_none() {
            return Ok(report);
        }
        let names = found.names();
        let shown = found.shown();
        let axis = EffectAxis::of(&shown, HALF);
        let heads = ["effect", "cells", &axis.head(), "and how sure"];
        let table = Table::headed(&heads).right(&[1]);
        let rows = shown.iter().map(|effect| {
            [
                name(&effect.factors, &names),
                format!("{:+.1}", effect.value),
                axis.line(effect),
                sureness(effect),
            ]
        });
        let report = report.table(&rows.fold(table, Table::row));
        let rest = found.left_out();
        Ok(report.lines(rest).lines(found.page.aliases.clone()))
    }

    fn trial_findings_json(&self, found: &TrialFindings) -> Value {
        let names = found.names();
        let analysis = found.analysis.as_ref();
        let effects = analysis.map(|all| {
            let one = |effect| effect_json(effect, &names, &found.page);
            all.effects.iter().map(one).collect::<Vec<_>>()
        });
        let own = json!({
            "too_early": analysis.is_none(),
            "words": found.words.iter().chain(&found.notes).collect::<Vec<_>>(),
            "resolution_words": found.page.resolution_words(),
            "effects": effects.unwrap_or_default(),
            "dropped": found.dropped.iter().map(|one| named(one, &names)).collect::<Vec<_>>(),
            "error": analysis.and_then(error_json),
            "surface": found.curve.as_ref().map(curve_json),
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

fn effect_json(effect: &Effect, names: &[&str], page: &TrialPage) -> Value {
    let aliases: Vec<Vec<&str>> = effect.aliases.iter().map(|one| named(one, names)).collect();
    json!({
        "effect": name(&effect.factors, names),
        "factors": named(&effect.factors, names),
        "value": number(effect.value),
        "interval": effect.interval.map(interval_json),
        "clear": stands_clear(effect),
        "aliases": aliases,
        "with_blocks": effect.with_blocks,
        "words": effect_words(effect, &page.factors),
    })
}

fn curve_json(curve: &TrialCurve) -> Value {
    let surface = &curve.surface;
    let axis = |axis: &Axis| {
        json!({
            "bend": number(axis.bend),
            "interval": axis.interval.map(interval_json),
            "along": numbers(&axis.along),
        })
    };
    json!({
        "p": surface.left.map(|left| number(left.p)),
        "clear": surface.is_clear(),
        "kind": kind_word(surface.kind),
        "centre": number(surface.centre),
        "best": spot_json(&curve.best),
        "flat": curve.flat.as_ref().map(spot_json),
        "flat_inside": curve.is_flat_inside(),
        "axes": surface.axes.iter().map(axis).collect::<Vec<_>>(),
    })
}

fn spot_json(spot: &Spot) -> Value {
    json!({
        "coded": numbers(&spot.coded),
        "settings": spot.settings,
        "cells": number(spot.height),
        "interval": spot.interval.map(interval_json),
    })
}

fn numbers(values: &[f64]) -> Vec<f64> {
    values.iter().map(|value| number(*value)).collect()
}

const fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Top => "top",
        Kind::Bottom => "bottom",
        Kind::Saddle => "saddle",
        Kind::Ridge => "ridge",
    }
}

fn interval_json(sure: Interval) -> Value {
    json!([number(sure.low), number(sure.high)])
}

fn error_json(analysis: &Analysis) -> Option<Value> {
    let (error, freedom, from) = analysis.error?;
    let from = match from {
        ErrorSource::Repeats => "repeats",
        ErrorSource::Lenth => "lenth",
        ErrorSource::Pooled => "pooled",
        ErrorSource::Left => "curve",
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
        Some(_) => "cannot be told from nothing".to_owned(),
    };
    if effect.with_blocks {
        return format!("{said}; may be the day");
    }
    said
}
