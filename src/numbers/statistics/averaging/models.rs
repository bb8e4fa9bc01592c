//! Every model of up to three factors, with its weight.

use super::columns::{BENDS, Columns};
use nalgebra::{DMatrix, DVector};
use statrs::function::beta::ln_beta;
use statrs::function::factorial::ln_binomial;

/// Factors in one model at most.
const MOST: usize = 3;
/// Of more factors than this the best by themselves are taken.
const CROWD: usize = 24;
/// A node of the spread between sessions with less weight than this is left out of the larger models.
const LIGHT: f64 = 0.02;

/// One model fitted with one spread between sessions.
#[derive(Debug, Clone)]
pub(super) struct Fit {
    /// The log of its evidence, the prior of the spread with it.
    pub evidence: f64,
    /// The coefficients: intercept, time, then the columns asked for.
    pub means: DVector<f64>,
    /// Their covariance.
    pub covariance: DMatrix<f64>,
    /// The degrees of freedom behind it; infinite for a share.
    pub freedom: f64,
}

/// A way of fitting: shares or measures.
pub(super) trait Fits {
    /// How many spreads between sessions are tried.
    fn nodes(&self) -> usize;
    /// Fits the columns with one of the spreads, from a guess of the coefficients.
    fn fit(&self, columns: &[usize], many: &[bool], node: usize, guess: &[f64]) -> Option<Fit>;
}

/// Coefficients before those of the factors: intercept, time and its bends.
pub(super) const ALWAYS: usize = 2 + BENDS;

/// A model: its blocks, and its fits, each with its weight among all.
pub(super) struct Model {
    pub blocks: Vec<usize>,
    pub fits: Vec<(f64, Fit)>,
}

/// All models; the weights of all fits add up to one.
pub(super) struct Weighed {
    pub models: Vec<Model>,
    /// The blocks that were weighed.
    pub kept: Vec<usize>,
}

impl Model {
    /// Where a block's coefficients stand in its fits; none where it does not hold it.
    pub fn at(&self, block: usize, columns: &Columns) -> Option<usize> {
        let place = self.blocks.iter().position(|one| *one == block)?;
        let before = self.blocks[..place].iter();
        Some(
            ALWAYS
                + before
                    .map(|one| columns.blocks[*one].columns.len())
                    .sum::<usize>(),
        )
    }

    /// Its weight.
    pub fn weight(&self) -> f64 {
        self.fits.iter().map(|fit| fit.0).sum()
    }
}

/// Weighs every model; of a crowd of factors the best by themselves are kept.
pub(super) fn weigh(columns: &Columns, fits: &impl Fits) -> Weighed {
    let all: Vec<usize> = (0..fits.nodes()).collect();
    let null = fitted(&[], columns, fits, &all, &[]);
    let start = null.first().map_or(&[][..], |one| one.1.means.as_slice());
    let blocks = 0..columns.blocks.len();
    let singles: Vec<Nodes> = blocks
        .map(|at| fitted(&[at], columns, fits, &all, start))
        .collect();
    let kept = best(&singles);
    let nodes = heavy(&null, &singles, fits.nodes());
    let subsets = subsets(columns, &kept);
    let prior = prior(&subsets, kept.len());
    let mut models: Vec<Model> = Vec::with_capacity(subsets.len());
    for blocks in subsets {
        let own = match blocks.as_slice() {
            [] => null.clone(),
            [one] => singles[*one].clone(),
            more => fitted(more, columns, fits, &nodes, &guess(more, &singles)),
        };
        let lift = prior[blocks.len()];
        let fits = own.into_iter().filter(|(node, _)| nodes.contains(node));
        let fits = fits.map(|(_, fit)| (fit.evidence + lift, fit)).collect();
        models.push(Model { blocks, fits });
    }
    level(&mut models);
    Weighed { models, kept }
}

/// A model's fits by the node of the spread.
type Nodes = Vec<(usize, Fit)>;

fn fitted(
    blocks: &[usize],
    columns: &Columns,
    fits: &impl Fits,
    nodes: &[usize],
    guess: &[f64],
) -> Nodes {
    let own = blocks.iter().map(|at| &columns.blocks[*at]);
    let places: Vec<usize> = own
        .clone()
        .flat_map(|block| block.columns.clone())
        .collect();
    let many: Vec<bool> = own
        .flat_map(|block| block.columns.clone().map(|_| block.is_many()))
        .collect();
    let fit = |node: &usize| Some((*node, fits.fit(&places, &many, *node, guess)?));
    nodes.iter().filter_map(fit).collect()
}

/// What the factors say alone is near what they say together.
fn guess(blocks: &[usize], singles: &[Nodes]) -> Vec<f64> {
    let mut guess = vec![0.0; ALWAYS];
    for single in blocks.iter().filter_map(|at| singles[*at].first()) {
        let means = single.1.means.as_slice();
        guess[..ALWAYS].copy_from_slice(&means[..ALWAYS]);
        guess.extend_from_slice(&means[ALWAYS..]);
    }
    guess
}

/// The blocks that say most by themselves.
fn best(singles: &[Nodes]) -> Vec<usize> {
    let evidence = |at: &usize| total(singles[*at].iter().map(|one| one.1.evidence));
    let mut order: Vec<usize> = (0..singles.len()).collect();
    order.sort_by(|a, b| evidence(b).total_cmp(&evidence(a)));
    order.truncate(CROWD);
    order.sort_unstable();
    order
}

/// The log of a sum of exponentials.
fn total(logs: impl Iterator<Item = f64> + Clone) -> f64 {
    let top = logs.clone().fold(f64::NEG_INFINITY, f64::max);
    top + logs.map(|log| (log - top).exp()).sum::<f64>().ln()
}

/// The spreads between sessions that the small models believe in.
fn heavy(null: &Nodes, singles: &[Nodes], nodes: usize) -> Vec<usize> {
    let all = || singles.iter().chain([null]).flatten();
    let top = all()
        .map(|one| one.1.evidence)
        .fold(f64::NEG_INFINITY, f64::max);
    let mut weights = vec![0.0; nodes];
    all().for_each(|(node, fit)| weights[*node] += (fit.evidence - top).exp());
    let sum: f64 = weights.iter().sum();
    (0..nodes)
        .filter(|node| weights[*node] >= LIGHT * sum)
        .collect()
}

/// All subsets that say nothing twice: no twins, nothing derived beside what it is made of.
fn subsets(columns: &Columns, kept: &[usize]) -> Vec<Vec<usize>> {
    let mut group = vec![0; columns.blocks.len()];
    for (number, members) in columns.groups(kept).iter().enumerate() {
        members.iter().for_each(|at| group[*at] = number);
    }
    let mut subsets: Vec<Vec<usize>> = vec![Vec::new()];
    let mut from = 0;
    for _ in 0..MOST {
        let until = subsets.len();
        for at in from..until {
            let last = subsets[at].last().copied();
            for next in kept
                .iter()
                .filter(|next| last.is_none_or(|last| **next > last))
            {
                let twin = subsets[at].iter().any(|had| group[*had] == group[*next]);
                let more = [subsets[at].as_slice(), &[*next]].concat();
                if !twin && !is_derived(columns, &more) {
                    subsets.push(more);
                }
            }
        }
        from = until;
    }
    subsets
}

fn is_derived(columns: &Columns, blocks: &[usize]) -> bool {
    <[usize; 3]>::try_from(blocks).is_ok_and(|three| columns.is_derived(three))
}

/// The log of the prior of one model by its size: beta-binomial, Beta(1, p), shared among the models of that size.
fn prior(subsets: &[Vec<usize>], factors: usize) -> [f64; MOST + 1] {
    let p = factors as f64;
    std::array::from_fn(|size| {
        let k = size as f64;
        let models = subsets
            .iter()
            .filter(|one| one.len() == size)
            .count()
            .max(1);
        if size > factors {
            return 0.0;
        }
        ln_binomial(factors as u64, size as u64) + ln_beta(1.0 + k, 2.0 * p - k)
            - (models as f64).ln()
    })
}

/// Turns the logs into weights that add up to one.
fn level(models: &mut [Model]) {
    let all = || {
        models
            .iter()
            .flat_map(|one| one.fits.iter().map(|fit| fit.0))
    };
    let whole = total(all().collect::<Vec<f64>>().into_iter());
    for model in models {
        model
            .fits
            .iter_mut()
            .for_each(|fit| fit.0 = (fit.0 - whole).exp());
    }
}

/// The standard deviations of the priors of what is always in: intercept, time, and bends that are the less likely the
/// quicker they are.
pub(super) fn always(intercept: f64, time: f64) -> impl Iterator<Item = f64> {
    let bends = (1..=BENDS).map(move |k| 0.6 * time / k as f64);
    [intercept, time].into_iter().chain(bends)
}
