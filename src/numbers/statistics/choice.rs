//! What is believed of shares: is B better than A, which is the best of all, and how good the best is.

use super::distribution::{beta_cdf, beta_quantile};
use super::proportion::Tally;
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

    /// A belief of the given mean, worth so many pours; the mean is kept off the ends.
    #[must_use]
    pub fn of_mean(mean: f64, strength: f64) -> Self {
        let mean = mean.clamp(1e-6, 1.0 - 1e-6);
        Self {
            a: mean * strength,
            b: (1.0 - mean) * strength,
        }
    }

    /// Its mean.
    #[must_use]
    pub fn mean(self) -> f64 {
        self.a / (self.a + self.b)
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

/// A mass that adds nothing to a sum of chances.
const NOTHING: f64 = 1e-20;

/// A belief with what makes its whole mass 1, worked out once.
struct Weighed {
    belief: Belief,
    ln_whole: f64,
}

impl Weighed {
    fn new(belief: Belief) -> Self {
        Self {
            belief,
            ln_whole: ln_beta(belief.a, belief.b),
        }
    }
}

impl Node {
    /// The belief's mass at this node.
    fn mass(&self, of: &Weighed) -> f64 {
        let (a, b) = (of.belief.a, of.belief.b);
        (a * self.ln_x + b * self.ln_rest - of.ln_whole).exp() * self.weight
    }

    /// The length of the line this node stands for.
    fn length(&self) -> f64 {
        (self.ln_x + self.ln_rest).exp() * self.weight
    }
}

/// The mean of the highest share of all: the whole of what lies above the chance that all stay below.
#[must_use]
pub fn expected_best(beliefs: &[Belief]) -> f64 {
    let over = |n: Node| {
        let all_below: f64 = beliefs.iter().map(|one| one.cdf(n.x)).product();
        n.length() * (1.0 - all_below)
    };
    nodes(beliefs).map(over).sum::<f64>().clamp(0.0, 1.0)
}

/// For each belief, the chance that it is the best of all.
#[must_use]
pub fn chance_of_best(beliefs: &[Belief]) -> Vec<f64> {
    let lasting: Vec<Weighed> = beliefs.iter().map(|one| Weighed::new(*one)).collect();
    let mut best = vec![0.0; beliefs.len()];
    for node in nodes(beliefs) {
        let masses: Vec<f64> = lasting.iter().map(|one| node.mass(one)).collect();
        // Where none of them has any weight, what lies below is not worth working out.
        if masses.iter().all(|mass| *mass < NOTHING) {
            continue;
        }
        let below: Vec<f64> = beliefs.iter().map(|one| one.cdf(node.x)).collect();
        for (i, mass) in masses.iter().enumerate() {
            let others = below.iter().enumerate().filter(|(j, _)| *j != i);
            best[i] += mass * others.map(|(_, f)| f).product::<f64>();
        }
    }
    best
}
