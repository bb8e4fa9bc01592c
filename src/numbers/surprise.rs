//! Whether a reading is so far from what was expected that a slip is likelier: a wrong key, a wrong cup, a wrong unit.

use super::Z_80;
use crate::trade::range::Window;
use crate::trade::units::{Band, Seconds};

/// The standard normal's 99.5 % point: a 99 % band reaches this many sds each way.
const Z_99: f64 = 2.575_829_303_548_900_4;
/// So many times over or under its window is far where nothing was expected (ours).
const TIMES: f64 = 4.0;

/// A number so many times another is likelier a wrong key or a wrong unit than so: a nought too many, or one doubled digit (ours).
pub const FAR: f64 = 9.0;

/// How many times the other a number is, where that is so `many` and more, or as small a part of it. `None` where it is not,
/// and where one of them is nothing.
#[must_use]
pub fn far(said: f64, other: f64, many: f64) -> Option<f64> {
    let times = said / other;
    let told = times.is_finite() && times > 0.0;
    (told && !(1.0 / many < times && times < many)).then_some(times)
}

/// Why a reading is doubted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Surprise {
    /// It lies outside this band, in which 99 of 100 would.
    Expected(Band<Seconds>),
    /// It lies over four times above its window, or under a quarter of it.
    Window(Window),
}

/// What is odd about a reading: by what was expected of the cup (an 80 % band, its reading's noise beside it), else by its
/// window. `None` where nothing is.
#[must_use]
pub fn surprise(
    read: Seconds,
    expected: Option<Band<Seconds>>,
    noise: f64,
    window: Option<Window>,
) -> Option<Surprise> {
    if let Some(expected) = expected {
        let band = wider(expected, noise);
        let inside = band.low <= read && read <= band.high;
        return (!inside).then_some(Surprise::Expected(band));
    }
    let window = window?;
    let far = read > window.high * TIMES || read < window.low / TIMES;
    far.then_some(Surprise::Window(window))
}

/// The 99 % band of a reading of a mound whose own 80 % band is known, each side by its own width on the log.
fn wider(expected: Band<Seconds>, noise: f64) -> Band<Seconds> {
    let mid = expected.mid;
    let side = |ratio: f64| (Z_99 * (ratio.ln() / Z_80).hypot(noise)).exp();
    Band {
        low: mid / side(mid / expected.low),
        mid,
        high: mid * side(expected.high / mid),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WINDOW: Window = Window {
        low: Seconds(2.0),
        high: Seconds(4.0),
    };

    /// By hand: 3 s within a factor of exp(.1 x 1.2816) in 80 of 100; with as much noise 99 of 100 read within exp(2.5758 x
    /// .1414) = 1.44, 2.08 to 4.32 s.
    #[test]
    fn beyond_99_of_100_is_far() {
        let factor = (0.1 * Z_80).exp();
        let band = Band {
            low: Seconds(3.0 / factor),
            mid: Seconds(3.0),
            high: Seconds(3.0 * factor),
        };
        let odd = |read| surprise(Seconds(read), Some(band), 0.1, Some(WINDOW)).is_some();
        assert_eq!([2.0, 2.1, 4.3, 4.4].map(odd), [true, false, false, true]);
    }

    #[test]
    fn a_nought_too_many_and_a_doubled_digit_are_far_and_a_doubled_amount_is_not() {
        let is_far = |said, other| far(said, other, FAR).is_some();
        assert!(is_far(2400.0, 240.0) && is_far(24.0, 240.0) && is_far(244.0, 24.0));
        assert!(!is_far(480.0, 240.0) && !is_far(1200.0, 240.0) && !is_far(40.0, 240.0));
        assert!(!is_far(240.0, 0.0) && !is_far(0.0, 240.0) && !is_far(0.0, 0.0));
    }

    #[test]
    fn where_nothing_is_expected_the_window_tells() {
        let odd = |read| surprise(Seconds(read), None, 0.1, Some(WINDOW)).is_some();
        assert_eq!([0.4, 0.6, 15.0, 17.0].map(odd), [true, false, false, true]);
        assert_eq!(surprise(Seconds(99.0), None, 0.1, None), None);
    }
}
