//! One factor, or twins, over all models: the chance that it matters, and what it does.

use super::super::proportion::Interval;
use super::columns::{Block, Columns, Pours};
use super::mixture::{Mixture, Say};
use super::models::{Fit, Weighed};
use super::{Belief, Effect, Step};

/// A say of less weight than this changes no digit that is shown.
const FAINT: f64 = 1e-5;

/// What is believed of the blocks of one group.
pub(super) fn belief(
    pours: &Pours<'_>,
    columns: &Columns,
    weighed: &Weighed,
    group: &[usize],
) -> Belief {
    let held = |block: usize| -> f64 {
        let models = weighed.models.iter();
        models
            .filter(|one| one.blocks.contains(&block))
            .map(|one| one.weight())
            .sum()
    };
    let mut members: Vec<(usize, f64)> = group.iter().map(|at| (*at, held(*at))).collect();
    members.sort_by(|a, b| b.1.total_cmp(&a.1));
    let lead = members[0].0;
    Belief {
        places: members
            .iter()
            .map(|one| columns.blocks[one.0].place)
            .collect(),
        inclusion: members.iter().map(|one| one.1).sum::<f64>().min(1.0),
        effect: effect(pours, columns, weighed, lead, group),
    }
}

fn effect(
    pours: &Pours<'_>,
    columns: &Columns,
    weighed: &Weighed,
    lead: usize,
    group: &[usize],
) -> Effect {
    let block = &columns.blocks[lead];
    let contrast = contrast(columns, weighed, lead);
    let mut says = Vec::new();
    for model in &weighed.models {
        for member in group {
            let Some(at) = model.at(*member, columns) else {
                continue;
            };
            // A twin that runs the other way says the same with the other sign.
            let turn = match *member == lead {
                true => 1.0,
                false => columns.correlation(lead, *member).signum(),
            };
            let fits = model.fits.iter().filter(|fit| fit.0 > FAINT);
            says.extend(fits.map(|(weight, fit)| say(*weight, fit, at, &contrast, turn)));
        }
    }
    let mixture = Mixture { says };
    told(&mixture, pours, step(block, &contrast))
}

fn step(block: &Block, contrast: &[f64]) -> Step {
    let at = |sign: f64| contrast.iter().position(|c| *c == sign).unwrap_or(0);
    let (this, that) = match block.is_many() {
        true => (at(1.0), at(-1.0)),
        false => (1, 0),
    };
    match (block.choices.get(this), block.choices.get(that)) {
        (Some(this), Some(that)) => Step::Instead(this.clone(), that.clone()),
        _ => Step::More(block.step),
    }
}

/// Which coefficients of the lead are compared: its one, or of many words the best with the worst.
fn contrast(columns: &Columns, weighed: &Weighed, lead: usize) -> Vec<f64> {
    let width = columns.blocks[lead].columns.len();
    if width == 1 {
        return vec![1.0];
    }
    let mut means = vec![0.0; width];
    for model in &weighed.models {
        let Some(at) = model.at(lead, columns) else {
            continue;
        };
        for (weight, fit) in &model.fits {
            (0..width).for_each(|j| means[j] += weight * fit.means[at + j]);
        }
    }
    let order = |a: &usize, b: &usize| means[*a].total_cmp(&means[*b]);
    let most = (0..width).max_by(order).unwrap_or(0);
    let least = (0..width).min_by(order).unwrap_or(0);
    let mut contrast = vec![0.0; width];
    contrast[most] += 1.0;
    contrast[least] -= 1.0;
    contrast
}

fn say(weight: f64, fit: &Fit, at: usize, contrast: &[f64], turn: f64) -> Say {
    let width = contrast.len();
    let mean: f64 = (0..width).map(|j| contrast[j] * fit.means[at + j]).sum();
    let mut variance = 0.0;
    for j in 0..width {
        for k in 0..width {
            variance += contrast[j] * contrast[k] * fit.covariance[(at + j, at + k)];
        }
    }
    Say {
        weight,
        mean: turn * mean,
        sd: variance.max(1e-300).sqrt(),
        freedom: fit.freedom,
    }
}

fn told(mixture: &Mixture, pours: &Pours<'_>, step: Step) -> Effect {
    let (mean, range) = (mixture.mean(), mixture.interval());
    if !pours.by_share {
        return Effect {
            step,
            value: mean,
            interval: range,
            strength: mean,
        };
    }
    let share = pours.y.iter().sum::<f64>() / pours.y.len() as f64;
    let usual = (share / (1.0 - share)).ln();
    let chance = |log_odds: f64| 1.0 / (1.0 + (-log_odds).exp());
    Effect {
        step,
        value: mean.exp(),
        interval: Interval {
            low: range.low.exp(),
            high: range.high.exp(),
        },
        strength: chance(usual + 0.5 * mean) - chance(usual - 0.5 * mean),
    }
}
