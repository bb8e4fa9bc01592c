//! What worked and why, as JSON.

use crate::numbers::statistics::findings::Finding;
use crate::numbers::statistics::pair::{Cell, Pair};
use crate::numbers::statistics::proportion::Tally;
use crate::studio::{
    Drift, DriftPeriod, Findings, Posterior, Reasons, Suggestion, VariantTally, levels,
};
use crate::tell;
use crate::trade::moment::Moment;
use serde_json::{Value, json};

/// The drift and what to try next.
pub(super) fn reasons(
    reasons: &Reasons,
    stamp: &dyn Fn(Moment) -> String,
) -> [(&'static str, Value); 3] {
    let next: Vec<Value> = reasons.next.iter().map(suggestion).collect();
    let period = |one: &DriftPeriod| period(one, stamp);
    let periods: Vec<Value> = reasons.drift.periods.iter().map(period).collect();
    [
        ("drift", periods.into()),
        ("trend", trend(&reasons.drift)),
        ("next", next.into()),
    ]
}

/// Every variant that was poured and judged.
pub(super) fn variants(found: &Findings) -> Value {
    found.variants.iter().map(variant).collect()
}

/// A factor's levels, the surest first.
pub(super) fn by(finding: &Finding) -> Value {
    let levels: Vec<Value> = levels(finding)
        .iter()
        .map(|one| {
            let mut value = told(one.tally, Some(one.posterior));
            value["level"] = json!(one.name);
            value
        })
        .collect();
    json!({
        "factor": finding.name,
        "n": finding.n,
        "missing": finding.sides.missing.len(),
        "levels": levels,
    })
}

/// Two factors in a table.
pub(super) fn pair(pair: &Pair, reasons: &Reasons) -> Value {
    let cell = |cell: &Cell| {
        let mut value = told(cell.tally, cell.standing.map(Posterior::from));
        value["sides"] = json!([pair.down.get(cell.down), pair.across.get(cell.across)]);
        value["behind"] = json!(reasons.numbers(&cell.rows));
        value
    };
    json!({
        "factors": pair.names,
        "n": pair.pours(),
        "missing": pair.lacking,
        "cells": pair.cells.iter().map(cell).collect::<Vec<Value>>(),
        "too_early": pair.too_early,
        "words": pair.words,
    })
}

fn told(tally: Tally, believed: Option<Posterior>) -> Value {
    let wilson = tally.wilson();
    json!({
        "pours": tally.pours,
        "good": tally.good,
        "rate": tally.share(),
        "wilson": [wilson.low, wilson.high],
        "posterior": believed.as_ref().map(posterior),
    })
}

fn posterior(one: &Posterior) -> Value {
    json!({"mean": one.mean, "low10": one.low10, "high90": one.high90})
}

fn period(one: &DriftPeriod, stamp: &dyn Fn(Moment) -> String) -> Value {
    let wilson = one.tally.wilson();
    json!({
        "from": stamp(one.from),
        "to": stamp(one.to),
        "pours": one.tally.pours,
        "good": one.tally.good,
        "wilson": [wilson.low, wilson.high],
        "behind": one.behind,
    })
}

fn trend(drift: &Drift) -> Value {
    json!({
        "method": "spearman",
        "value": drift.trend.map(|trend| trend.value),
        "p": drift.trend.map(|trend| trend.p),
        "words": drift.words,
    })
}

fn suggestion(one: &Suggestion) -> Value {
    json!({
        "recipe": one.recipe,
        "variant": one.variant,
        "kind": one.kind,
        "why": tell::next::why(one),
        "pours": one.pours,
        "good": one.good,
        "p_best": one.chance_of_best,
        "loss": one.loss,
        "loss_if_wrong": one.loss_if_wrong,
        "upper": one.upper,
    })
}

fn variant(one: &VariantTally) -> Value {
    json!({
        "recipe": one.recipe,
        "variant": one.variant,
        "pours": one.pours,
        "good": one.good,
        "rate": one.rate,
        "layer": one.layer,
        "wilson": [one.wilson.0, one.wilson.1],
        "posterior": posterior(&one.posterior),
        "too_early": one.is_early(),
        "behind": one.behind,
    })
}
