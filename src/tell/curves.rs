//! The wording of a trial for a curve: where it is best, what the curve is, and how sure that is.

use crate::numbers::statistics::surface::Kind;
use crate::studio::{Spot, TrialCurve};
use crate::trade::trial::TrialFactor;

/// The best place, or why none can be told.
#[must_use]
pub fn words(curve: &TrialCurve, factors: &[TrialFactor]) -> String {
    let Some(left) = curve.surface.left else {
        return "too early to tell: nothing shows how far chance reaches; repeat runs or add \
                centre runs"
            .to_owned();
    };
    if !curve.surface.is_clear() {
        let p = 100.0 * left.p;
        return format!(
            "too early to tell: settings that do nothing look like this {p:.0} times in 100"
        );
    }
    let best = expected(&curve.best, factors);
    let inside = curve.best.coded.iter().any(|at| at.abs() < 1.0);
    match inside {
        true => format!("best between the ends: {best}"),
        false => format!("best of what was tried, at the ends: {best}"),
    }
}

/// What the curve is, where it stands clear of chance.
#[must_use]
pub fn kind(curve: &TrialCurve, factors: &[TrialFactor]) -> Option<String> {
    let flat = curve.flat.as_ref().filter(|_| curve.surface.is_clear())?;
    let place = places(flat, factors);
    let inside = curve.is_flat_inside();
    Some(match (curve.surface.kind, inside) {
        (Kind::Top, true) => format!("a top: it falls off on every side of {place}"),
        (Kind::Top, false) => {
            "its top lies beyond what was tried: the best is at an end".to_owned()
        }
        (Kind::Bottom, true) => format!("a bottom: it rises on every side of {place}"),
        (Kind::Bottom, false) => "it bends upward: the best is at an end".to_owned(),
        (Kind::Saddle, _) => "a saddle: it bends up one way and down another".to_owned(),
        (Kind::Ridge, _) => format!(
            "along {} no bend can be told: other settings along that line may be as good",
            levels_out(curve, factors)
        ),
    })
}

/// What is varied most along the axis that bends least.
fn levels_out(curve: &TrialCurve, factors: &[TrialFactor]) -> String {
    let axes = curve.surface.axes.iter();
    let least = axes.min_by(|a, b| a.bend.abs().total_cmp(&b.bend.abs()));
    let along = least.map_or(&[][..], |axis| &axis.along);
    let most = along.iter().fold(0.0, |most: f64, one| most.max(one.abs()));
    let named = factors.iter().zip(along);
    let named = named.filter(|(_, share)| share.abs() > 0.5 * most);
    let names: Vec<&str> = named.map(|(factor, _)| factor.name.as_str()).collect();
    names.join(" and ")
}

/// The settings of a place, one a factor.
pub(super) fn settings(spot: &Spot, factors: &[TrialFactor]) -> Vec<String> {
    let both = factors.iter().zip(&spot.coded);
    both.map(|(factor, at)| setting(factor, *at)).collect()
}

/// A setting in the painter's words, or how far it lies from the low end.
fn setting(factor: &TrialFactor, coded: f64) -> String {
    factor.between(coded).unwrap_or_else(|| {
        let share = 50.0 * (coded + 1.0);
        format!(
            "{share:.0} % of the way from {} to {}",
            factor.low, factor.high
        )
    })
}

/// `rest 18 h, share 7.5%`.
fn places(spot: &Spot, factors: &[TrialFactor]) -> String {
    let both = factors.iter().zip(settings(spot, factors));
    let each: Vec<String> = both
        .map(|(factor, setting)| format!("{} {setting}", factor.name))
        .collect();
    each.join(", ")
}

/// `rest 18 h, share 7.5%: expect 3.9 cells (3.1 to 4.7)`; no more than cells can be.
fn expected(spot: &Spot, factors: &[TrialFactor]) -> String {
    let cells = |value: f64| format!("{:.1}", value.clamp(0.0, 5.0));
    let sure = spot.interval.map(|sure| {
        let (low, high) = (cells(sure.low), cells(sure.high));
        format!(" ({low} to {high})")
    });
    let (place, height) = (places(spot, factors), cells(spot.height));
    format!("{place}: expect {height} cells{}", sure.unwrap_or_default())
}
