//! The few distribution functions the rest of this room leans on, guarded so that none of them panics.

use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::function::beta::beta_reg;

/// The normal quantile that leaves 2.5 % on either side.
pub const Z95: f64 = 1.959_963_984_540_054;
/// The beta distribution's cumulative share at `x`.
pub fn beta_cdf(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    beta_reg(a, b, x)
}

/// The beta distribution's quantile, by halving: slow, sure, and good to the last digits.
pub fn beta_quantile(a: f64, b: f64, share: f64) -> f64 {
    halve(0.0, 1.0, |x| beta_cdf(a, b, x) < share)
}

/// The point between `low` and `high` where `below` stops being true.
pub fn halve(mut low: f64, mut high: f64, below: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// The share of a standard normal under `z`. By the error function of `libm`, good to the last digits; statrs's is about
/// 1e-11 off.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The height of the standard normal at `z`.
pub fn normal_density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / std::f64::consts::TAU.sqrt()
}

/// The two-sided p of a standard normal value.
pub fn normal_two_sided(z: f64) -> f64 {
    2.0 * normal_cdf(-z.abs())
}

/// The two-sided p of Student's t; one where there are no degrees of freedom.
pub fn t_two_sided(t: f64, freedom: f64) -> f64 {
    if t.is_infinite() {
        return 0.0;
    }
    StudentsT::new(0.0, 1.0, freedom).map_or(1.0, |d| (2.0 * d.sf(t.abs())).min(1.0))
}

/// Student's t quantile; infinite where there are no degrees of freedom.
pub fn t_quantile(share: f64, freedom: f64) -> f64 {
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |d| d.inverse_cdf(share))
}
