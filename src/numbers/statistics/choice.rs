//! Which to pour next: is B better than A, what is lost if not, which is best, and what to try.
//!
//! The exact sum is Miller's (2015); the symmetries are Cook's; the loss is Stucchio's; the Bayes upper
//! bound is Kaufmann, Cappé and Garivier's (2012) with c = 0 (the practice's c is from memory).

use super::distribution::{beta_cdf, beta_quantile};
use super::proportion::Tally;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Beta, Distribution};
use statrs::function::beta::ln_beta;
use std::f64::consts::PI;

/// What is believed of a share: a beta distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Belief {
    a: f64,
    b: f64,
}

impl Belief {
    /// A belief of the given shape. None unless both are finite and above zero.
    #[must_use]
    pub fn new(a: f64, b: f64) -> Option<Self> {
        (a.is_finite() && b.is_finite() && a > 0.0 && b > 0.0).then_some(Self { a, b })
    }

    /// What a tally leaves of a flat prior.
    #[must_use]
    pub fn after(tally: Tally) -> Self {
        Self {
            a: 1.0 + f64::from(tally.good),
            b: 1.0 + f64::from(tally.bad()),
        }
    }

    /// The value below which the given share of the belief lies.
    #[must_use]
    pub fn quantile(self, share: f64) -> f64 {
        beta_quantile(self.a, self.b, share.clamp(0.0, 1.0))
    }

    fn cdf(self, x: f64) -> f64 {
        beta_cdf(self.a, self.b, x)
    }
}

/// One point of the rule that integrates over a share: its place, both its logs, and its weight.
struct Node {
    x: f64,
    ln_x: f64,
    ln_rest: f64,
    weight: f64,
}

/// The double exponential rule on (0, 1): it does not mind a density that is infinite at an end.
fn nodes(beliefs: &[Belief]) -> impl Iterator<Item = Node> {
    let sharpest = beliefs.iter().map(|s| s.a + s.b).fold(0.0, f64::max);
    let steps = (512.0 + 80.0 * sharpest.sqrt()).min(40_000.0) as u32;
    let h = 9.0 / f64::from(steps);
    (0..=steps).map(move |i| {
        let t = -4.5 + h * f64::from(i);
        let logit = PI * t.sinh();
        let (ln_x, ln_rest) = (-(-logit).exp().ln_1p(), -logit.exp().ln_1p());
        Node {
            x: ln_x.exp(),
            ln_x,
            ln_rest,
            weight: h * PI * t.cosh(),
        }
    })
}

impl Node {
    /// The belief's mass at this node.
    fn mass(&self, s: Belief) -> f64 {
        (s.a * self.ln_x + s.b * self.ln_rest - ln_beta(s.a, s.b)).exp() * self.weight
    }

    /// The length of the line this node stands for.
    fn length(&self) -> f64 {
        (self.ln_x + self.ln_rest).exp() * self.weight
    }
}

/// The chance that `b` is truly better than `a`, by integration.
#[must_use]
pub fn better(a: Belief, b: Belief) -> f64 {
    nodes(&[a, b])
        .map(|n| n.mass(b) * a.cdf(n.x))
        .sum::<f64>()
        .clamp(0.0, 1.0)
}

/// The same by Miller's exact sum. None unless `b`'s first shape is a whole number.
#[must_use]
pub fn better_by_sum(a: Belief, b: Belief) -> Option<f64> {
    if b.a.fract() != 0.0 || b.a > 1e6 {
        return None;
    }
    let term = |i: u32| {
        let i = f64::from(i);
        (ln_beta(a.a + i, b.b + a.b) - (b.b + i).ln() - ln_beta(1.0 + i, b.b) - ln_beta(a.a, a.b))
            .exp()
    };
    Some((0..b.a as u32).map(term).sum::<f64>().clamp(0.0, 1.0))
}

/// The share of good pours given away, on average, by choosing `b` over `a`.
#[must_use]
pub fn expected_loss(a: Belief, b: Belief) -> f64 {
    nodes(&[a, b])
        .map(|n| n.length() * (1.0 - a.cdf(n.x)) * b.cdf(n.x))
        .sum::<f64>()
        .max(0.0)
}

/// For each belief, the chance that it is the best of all.
#[must_use]
pub fn chance_of_best(beliefs: &[Belief]) -> Vec<f64> {
    let mut best = vec![0.0; beliefs.len()];
    for node in nodes(beliefs) {
        let below: Vec<f64> = beliefs.iter().map(|s| s.cdf(node.x)).collect();
        for (i, belief) in beliefs.iter().enumerate() {
            let others: f64 = below
                .iter()
                .enumerate()
                .filter(|(j, _)| *j != i)
                .map(|(_, f)| f)
                .product();
            best[i] += node.mass(*belief) * others;
        }
    }
    best
}

/// The Bayes upper bound of each belief after `pours` pours in all: the quantile at 1 - 1/pours.
#[must_use]
pub fn bayes_upper_bounds(beliefs: &[Belief], pours: u32) -> Vec<f64> {
    let share = 1.0 - 1.0 / f64::from(pours.max(2));
    beliefs.iter().map(|s| s.quantile(share)).collect()
}

/// Thompson's draw: one value from each belief, the highest is the one to try. None when there is none.
#[must_use]
pub fn thompson(beliefs: &[Belief], seed: u64) -> Option<usize> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let draws: Vec<f64> = beliefs
        .iter()
        .map(|s| Beta::new(s.a, s.b).map_or(0.0, |d| d.sample(&mut rng)))
        .collect();
    (0..draws.len()).max_by(|&i, &j| draws[i].total_cmp(&draws[j]))
}
