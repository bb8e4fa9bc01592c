//! What all models together say of one coefficient: nothing, as far as it is in none of them, and else a mixture.

use super::super::distribution::{halve, normal_cdf};
use super::super::proportion::Interval;
use statrs::distribution::{ContinuousCDF, StudentsT};

/// One model's say.
#[derive(Debug, Clone, Copy)]
pub(super) struct Say {
    pub weight: f64,
    pub mean: f64,
    pub sd: f64,
    pub freedom: f64,
}

/// The says of models that hold it; what their weights lack of one says "nothing".
pub(super) struct Mixture {
    pub says: Vec<Say>,
}

impl Mixture {
    /// The mean, what says "nothing" with it.
    pub fn mean(&self) -> f64 {
        self.says.iter().map(|say| say.weight * say.mean).sum()
    }

    /// The 95 % interval, the mean in it. Where "nothing" covers all of it, no band of no width is told, but what is so
    /// if it matters after all, nothing in it.
    pub fn interval(&self) -> Interval {
        let (low, high) = (self.quantile(0.025), self.quantile(0.975));
        if low == high {
            return self.if_it_matters();
        }
        let mean = self.mean();
        Interval {
            low: low.min(mean),
            high: high.max(mean),
        }
    }

    fn if_it_matters(&self) -> Interval {
        let whole: f64 = self.says.iter().map(|say| say.weight).sum();
        let share = |say: &Say| Say {
            weight: say.weight / whole,
            ..*say
        };
        let alone = Self {
            says: self.says.iter().map(share).collect(),
        };
        Interval {
            low: alone.quantile(0.025).min(0.0),
            high: alone.quantile(0.975).max(0.0),
        }
    }

    /// A quantile; 0 where what says "nothing" covers it.
    pub fn quantile(&self, share: f64) -> f64 {
        let nothing = 1.0 - self.says.iter().map(|say| say.weight).sum::<f64>();
        let below = self.below(0.0);
        if below < share && share <= below + nothing {
            return 0.0;
        }
        let reach = self.says.iter().map(|say| say.mean.abs() + 12.0 * say.sd);
        let reach = reach.fold(0.0, f64::max);
        let cdf = |x: f64| self.below(x) + if x > 0.0 { nothing } else { 0.0 };
        halve(-reach, reach, |x| cdf(x) < share)
    }

    fn below(&self, x: f64) -> f64 {
        let one = |say: &Say| say.weight * cdf((x - say.mean) / say.sd, say.freedom);
        self.says.iter().map(one).sum()
    }
}

fn cdf(z: f64, freedom: f64) -> f64 {
    match StudentsT::new(0.0, 1.0, freedom) {
        Ok(student) if freedom.is_finite() => student.cdf(z),
        _ => normal_cdf(z),
    }
}
