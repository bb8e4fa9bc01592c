//! The share of good pours, and how far it may be from the truth.
//!
//! Wilson's interval of 1927, which Newcombe (Statistics in Medicine 17, 1998) and Brown, Cai and DasGupta (Statistical
//! Science 16, 2001) found to be the one for few pours.

use super::distribution::Z95;

/// Good pours out of all pours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Pours called good; never more than `pours`.
    pub good: u32,
    /// All pours.
    pub pours: u32,
}

/// A range that should hold the truth 95 times in 100.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

impl Interval {
    /// The whole of the possible: what nothing at all says about a share.
    pub const UNKNOWN_SHARE: Self = Self {
        low: 0.0,
        high: 1.0,
    };

    /// Whether the range holds the value.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }
}

impl Tally {
    /// A tally; good pours beyond the number of pours are cut to it.
    #[must_use]
    pub fn new(good: u32, pours: u32) -> Self {
        Self {
            good: good.min(pours),
            pours,
        }
    }

    /// Pours that were not good.
    #[must_use]
    pub fn bad(self) -> u32 {
        self.pours.saturating_sub(self.good)
    }

    /// The raw share; none without a pour.
    #[must_use]
    pub fn share(self) -> Option<f64> {
        (self.pours > 0).then(|| f64::from(self.good) / f64::from(self.pours))
    }

    /// The 95 % Wilson score interval, without continuity correction.
    #[must_use]
    pub fn wilson(self) -> Interval {
        let Some(p) = self.share() else {
            return Interval::UNKNOWN_SHARE;
        };
        let n = f64::from(self.pours);
        let z2 = Z95 * Z95;
        let centre = p + z2 / (2.0 * n);
        let half = Z95 * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
        let scale = 1.0 + z2 / n;
        self.clamp((centre - half) / scale, (centre + half) / scale)
    }

    fn clamp(self, low: f64, high: f64) -> Interval {
        Interval {
            low: if self.good == 0 { 0.0 } else { low.max(0.0) },
            high: if self.bad() == 0 { 1.0 } else { high.min(1.0) },
        }
    }
}

/// The difference of two shares, `a` less `b`, with Newcombe's hybrid score interval (method 10 of
/// Statistics in Medicine 17:873, 1998; formula from memory). None when either has no pour.
#[must_use]
pub fn difference(a: Tally, b: Tally) -> Option<(f64, Interval)> {
    let (p, q) = (a.share()?, b.share()?);
    let (wa, wb) = (a.wilson(), b.wilson());
    let gap = p - q;
    let low = gap - (p - wa.low).hypot(wb.high - q);
    let high = gap + (wa.high - p).hypot(q - wb.low);
    Some((
        gap,
        Interval {
            low: low.max(-1.0),
            high: high.min(1.0),
        },
    ))
}
