//! Finding a maximum and a crossing of a function of one number.

/// The golden section's share, (sqrt 5 - 1) / 2.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// Where a function with one peak in `low..high` is largest, to `(high - low) x 1e-10`.
pub fn golden_section(low: f64, high: f64, value: impl Fn(f64) -> f64) -> f64 {
    let (mut a, mut b) = (low, high);
    let (mut c, mut d) = (b - GOLDEN * (b - a), a + GOLDEN * (b - a));
    let (mut at_c, mut at_d) = (value(c), value(d));
    for _ in 0..48 {
        if at_c > at_d {
            (b, d, at_d) = (d, c, at_c);
            c = b - GOLDEN * (b - a);
            at_c = value(c);
        } else {
            (a, c, at_c) = (c, d, at_d);
            d = a + GOLDEN * (b - a);
            at_d = value(d);
        }
    }
    f64::midpoint(a, b)
}

/// Where a function that is at or below zero at `low` and above zero at `high` crosses zero.
pub fn bisect(low: f64, high: f64, value: impl Fn(f64) -> f64) -> f64 {
    let (mut a, mut b) = (low, high);
    for _ in 0..60 {
        let middle = f64::midpoint(a, b);
        if value(middle) > 0.0 {
            b = middle;
        } else {
            a = middle;
        }
    }
    f64::midpoint(a, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn peak_of_a_parabola_is_its_vertex() {
        let peak = golden_section(-5.0, 9.0, |x| -(x - 1.25).powi(2));
        assert!((peak - 1.25).abs() < 1e-6);
    }

    #[test]
    fn crossing_of_a_square_is_its_root() {
        assert!((bisect(0.0, 4.0, |x| x * x - 2.0) - 2_f64.sqrt()).abs() < 1e-12);
    }
}
