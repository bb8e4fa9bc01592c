//! Looking back by what the camera measured: which variants gave the most cells, the largest, the evenest, and what went
//! with them. A pour counts that has a measured photo, judged or not.

use crate::numbers::statistics::averaging::{Outcome, TooEarly};
use crate::numbers::statistics::findings::{Basis, Finding, find};
use crate::numbers::statistics::ranks::{Agreement, agreement};
use crate::numbers::statistics::shrunk_means::{ShrunkMean, shrunk_means};
use crate::studio::findings::{factors, reasons};
use crate::studio::{Answer, Asked, OutcomeKind, PourPage, RANKED_FROM, Studio, TimeWindow};
use crate::trade::instant::Now;
use crate::trade::recipe::LayerKind;
use std::collections::{BTreeMap, BTreeSet};

/// What was measured of the pours of a window, and what went with it.
#[derive(Debug, Clone)]
pub struct MeasuredFindings {
    /// The window.
    pub window: TimeWindow,
    /// What was measured.
    pub outcome: OutcomeKind,
    /// Pours of which it was.
    pub pours: usize,
    /// The value with as many pours above it as below; none where there is no pour.
    pub middle: Option<f64>,
    /// Every variant that was poured and measured, the surest good one first.
    pub variants: Vec<MeasuredVariant>,
    /// Every factor, the surest first. What it calls good lies on the better side of the middle.
    pub factors: Vec<Finding>,
    /// What the factors' list rests on; or why nothing can be weighed yet.
    pub basis: Result<Basis, TooEarly>,
    /// How far the painter's 0 to 5 goes with it; none under ten pours that have both.
    pub agreement: Option<Agreement>,
}

/// How a variant did. A pour counts once for each variant that lies in it.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredVariant {
    /// The recipe's name.
    pub recipe: String,
    /// The variant's number.
    pub variant: i64,
    /// Where in the stack it goes.
    pub layer: LayerKind,
    /// What is believed of its mean.
    pub believed: ShrunkMean,
    /// The numbers of its measured pours, newest first.
    pub behind: Vec<i64>,
}

impl MeasuredVariant {
    /// Whether it was measured too seldom for its place to say much.
    #[must_use]
    pub const fn is_early(&self) -> bool {
        self.behind.len() < RANKED_FROM
    }
}

/// A pour with what was measured of it.
type Seen = (PourPage, f64);

impl MeasuredFindings {
    /// The factor of a name, or of the only name that begins so.
    ///
    /// # Errors
    /// Where there is none; the names are said.
    pub fn factor(&self, name: &str) -> Answer<&Finding> {
        reasons::called(&self.factors, name)
    }
}

impl Studio {
    /// What worked by what was measured, as it is asked: in a window, wet or dry only, of one layer only.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn measured_findings(
        &self,
        asked: &Asked,
        outcome: OutcomeKind,
        now: &Now,
    ) -> Answer<MeasuredFindings> {
        let seen = self.seen(asked, outcome)?;
        let values: Vec<f64> = seen.iter().map(|one| one.1).collect();
        let middle = middle(&values);
        let is_better = |value: f64| {
            middle.is_some_and(|middle| match outcome.less_is_better() {
                true => value < middle,
                false => value > middle,
            })
        };
        let newest = reasons::weighed(&seen);
        let halved: Vec<(PourPage, u8)> = newest
            .iter()
            .map(|(page, value)| (page.clone(), u8::from(is_better(*value))))
            .collect();
        let factors::Factors { factors, rows, .. } =
            factors::table(&self.book.read()?, &halved, 1, now)?;
        let hours: Vec<f64> = newest.iter().map(|one| hour(&one.0)).collect();
        let values = values.into_iter().take(newest.len());
        let known = Outcome::Measured(values.map(Some).collect());
        let weighed = find(&factors, &rows, &hours, &known);
        let mut variants = self.variants_seen(&seen, outcome)?;
        variants.retain(|one| asked.layer.is_none_or(|layer| one.layer == layer));
        Ok(MeasuredFindings {
            window: asked.window,
            outcome,
            pours: seen.len(),
            middle,
            variants,
            factors: weighed.factors,
            basis: weighed.basis,
            agreement: agreed(&seen, asked.dry),
        })
    }

    /// Every pour of a window that has it measured, newest first.
    fn seen(&self, asked: &Asked, outcome: OutcomeKind) -> Answer<Vec<Seen>> {
        let pours = self.pours(asked.window.from)?.into_iter();
        let within = pours.filter(|page| asked.window.to.is_none_or(|to| page.pour.at < to));
        let seen = within.filter_map(|page| {
            let value = outcome.of(page.seen(asked.dry)?)?;
            Some((page, value))
        });
        Ok(seen.collect())
    }

    /// Every variant that lies in a measured pour: one pool a layer, for a pour lies in a base, a colour and an
    /// activator at once, and must not count three times.
    fn variants_seen(&self, seen: &[Seen], outcome: OutcomeKind) -> Answer<Vec<MeasuredVariant>> {
        let layers = self.layers_by_name()?;
        let mut pools: BTreeMap<LayerKind, BTreeMap<(&str, i64), Vec<&Seen>>> = BTreeMap::new();
        for one in seen {
            let lies = one.0.layers.iter().map(|cup| &cup.variant);
            let lies: BTreeSet<(&str, i64)> =
                lies.map(|one| (one.recipe.as_str(), one.number)).collect();
            for variant in lies {
                let Some(layer) = layers.get(variant.0) else {
                    continue;
                };
                let pool = pools.entry(*layer).or_default();
                pool.entry(variant).or_default().push(one);
            }
        }
        let pools = pools.into_iter();
        let mut all: Vec<MeasuredVariant> =
            pools.flat_map(|(layer, pool)| told(layer, &pool)).collect();
        all.sort_by(|a, b| match outcome.less_is_better() {
            true => a.believed.high90.total_cmp(&b.believed.high90),
            false => b.believed.low10.total_cmp(&a.believed.low10),
        });
        Ok(all)
    }
}

/// A layer's variants, each leaning on the others.
fn told(layer: LayerKind, pool: &BTreeMap<(&str, i64), Vec<&Seen>>) -> Vec<MeasuredVariant> {
    let values = |seen: &Vec<&Seen>| seen.iter().map(|one| one.1).collect();
    let groups: Vec<Vec<f64>> = pool.values().map(values).collect();
    let believed = shrunk_means(&groups, None).unwrap_or_default();
    let each = pool.iter().zip(believed);
    each.map(|(((recipe, variant), seen), believed)| MeasuredVariant {
        recipe: (*recipe).to_owned(),
        variant: *variant,
        layer,
        believed,
        behind: seen.iter().map(|one| one.0.pour.id).collect(),
    })
    .collect()
}

fn hour(page: &PourPage) -> f64 {
    page.pour.at.timestamp_millis() as f64 / 3_600_000.0
}

/// The median; of an even number the mean of the two in the middle.
fn middle(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let upper = *sorted.get(sorted.len() / 2)?;
    let lower = *sorted.get((sorted.len() - 1) / 2)?;
    Some(f64::midpoint(lower, upper))
}

/// How the painter's grades of the same films go with what was measured.
fn agreed(seen: &[Seen], dry: Option<bool>) -> Option<Agreement> {
    let graded = seen.iter().filter_map(|(page, value)| {
        let last = |dry: bool| page.judgements.iter().rev().find(move |one| one.dry == dry);
        let cells = dry.map_or_else(|| page.counting(), last)?.cells;
        Some((f64::from(cells), *value))
    });
    let (grades, values): (Vec<f64>, Vec<f64>) = graded.unzip();
    agreement(&grades, &values)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_has_as_many_on_either_side() {
        assert_eq!(middle(&[]), None);
        assert_eq!(middle(&[3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(middle(&[4.0, 1.0, 2.0, 3.0]), Some(2.5));
    }
}
