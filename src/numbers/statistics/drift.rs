//! Whether pours came out better or worse as time went on.
//!
//! Neighbouring weeks or months are put together until each period holds enough pours for an interval to say
//! something. The trend is Spearman's correlation of the sessions' mean cells with their order.

use super::findings::LEAST_ROWS;
use super::proportion::Tally;
use super::ranks::{Ranked, spearman};

/// Pours that a period holds at least, where there are so many (our own choice, as for a variant's rank).
const ENOUGH: usize = 5;
/// A trend with a p under this is spoken of: it is one look, not one of many.
pub const ALARM: f64 = 0.05;

/// One judged pour, in the order of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Poured {
    /// The number of the week or month it fell in; never less than that of the pour before.
    pub unit: i64,
    /// The number of the session it was poured in: pours of one session are not of their own.
    pub session: usize,
    /// Whether it was called good.
    pub good: bool,
    /// The painter's grade of the cells.
    pub cells: u8,
}

/// Neighbouring weeks or months put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// The first of them.
    pub first: i64,
    /// The last of them.
    pub last: i64,
    /// How its pours came out.
    pub tally: Tally,
    /// The place of its first pour among those given; the others follow.
    pub from: usize,
}

impl Period {
    /// The places of its pours.
    #[must_use]
    pub const fn places(&self) -> std::ops::Range<usize> {
        self.from..self.from + self.tally.pours as usize
    }
}

/// How pours came out as time went on.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// The periods, the oldest first.
    pub periods: Vec<Period>,
    /// The trend; none where it is too early, or nothing varies.
    pub trend: Option<Ranked>,
    /// What is to be said of it.
    pub verdict: Verdict,
}

/// What is to be said of a trend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// So few pours: too early.
    TooFew(usize),
    /// All of so many pours lie in one stretch of days: too early.
    OneStretch(usize),
    /// Every pour had the same cells.
    AllAlike,
    /// A trend that chance would seldom show.
    Changed {
        /// The trend.
        trend: Ranked,
        /// How the first period's pours came out.
        first: Tally,
        /// How the last's did.
        last: Tally,
    },
    /// No sign of a change in so many pours.
    NoSign(usize),
}

/// Puts the pours into periods, and looks for a trend.
#[must_use]
pub fn drift(pours: &[Poured]) -> Drift {
    let periods = periods(pours);
    let early = pours.len() < LEAST_ROWS || periods.len() < 2;
    let trend = if early { None } else { trend(pours) };
    Drift {
        verdict: verdict(pours, &periods, trend),
        periods,
        trend,
    }
}

/// Of the sessions' means: the pours of one have their luck in common, and taken each for itself they raised the alarm in
/// one of five studios without a trend.
fn trend(pours: &[Poured]) -> Option<Ranked> {
    let sessions = pours.chunk_by(|a, b| a.session == b.session);
    let mean = |pours: &[Poured]| {
        let sum: f64 = pours.iter().map(|one| f64::from(one.cells)).sum();
        sum / pours.len() as f64
    };
    let cells: Vec<f64> = sessions.map(mean).collect();
    let order: Vec<f64> = (0..cells.len()).map(|place| place as f64).collect();
    spearman(&order, &cells)
}

/// Whether the ends went the way of the trend, or neither: what they contradict is not spoken of.
fn borne_out(trend: Ranked, first: Tally, last: Tally) -> bool {
    let share = |tally: Tally| f64::from(tally.good) / f64::from(tally.pours.max(1));
    (share(last) - share(first)) * trend.value >= 0.0
}

fn periods(pours: &[Poured]) -> Vec<Period> {
    let mut periods: Vec<Period> = Vec::new();
    for (place, one) in pours.iter().enumerate() {
        let good = u32::from(one.good);
        match periods.last_mut() {
            Some(last) if last.last == one.unit || last.is_short() => {
                last.last = one.unit;
                last.tally.good = last.tally.good.saturating_add(good);
                last.tally.pours = last.tally.pours.saturating_add(1);
            }
            _ => periods.push(Period {
                first: one.unit,
                last: one.unit,
                tally: Tally::new(good, 1),
                from: place,
            }),
        }
    }
    join_the_rest(&mut periods);
    periods
}

/// A last period that is short goes to the one before it.
fn join_the_rest(periods: &mut Vec<Period>) {
    let [.., before, rest] = periods.as_mut_slice() else {
        return;
    };
    if rest.is_short() {
        before.last = rest.last;
        before.tally.good += rest.tally.good;
        before.tally.pours += rest.tally.pours;
        periods.pop();
    }
}

impl Period {
    const fn is_short(&self) -> bool {
        (self.tally.pours as usize) < ENOUGH
    }
}

fn verdict(pours: &[Poured], periods: &[Period], trend: Option<Ranked>) -> Verdict {
    let n = pours.len();
    let ends = periods.first().zip(periods.last());
    match (ends, trend) {
        _ if n < LEAST_ROWS => Verdict::TooFew(n),
        _ if periods.len() < 2 => Verdict::OneStretch(n),
        (_, None) => Verdict::AllAlike,
        (Some((first, last)), Some(trend))
            if trend.p < ALARM && borne_out(trend, first.tally, last.tally) =>
        {
            Verdict::Changed {
                trend,
                first: first.tally,
                last: last.tally,
            }
        }
        _ => Verdict::NoSign(n),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pours(weeks: &[(i64, &[u8])]) -> Vec<Poured> {
        let mut session = 0;
        let of = |(unit, cells): &(i64, &[u8])| -> Vec<Poured> {
            let one = |cells: &u8| Poured {
                unit: *unit,
                session: {
                    session += 1;
                    session
                },
                good: *cells >= 4,
                cells: *cells,
            };
            cells.iter().map(one).collect()
        };
        weeks.iter().flat_map(of).collect()
    }

    /// Four weeks in which cells rise.
    const RISE: [(i64, &[u8]); 4] = [
        (1, &[0, 1, 1, 2, 0, 1]),
        (2, &[2, 1, 3, 2, 2, 3]),
        (3, &[3, 4, 2, 3, 4, 3]),
        (4, &[4, 5, 4, 3, 5, 5]),
    ];

    #[test]
    fn short_weeks_are_put_together_until_each_period_holds_enough() {
        let weeks: [(i64, &[u8]); 5] = [
            (1, &[4, 1, 2]),
            (2, &[5, 5, 0]),
            (7, &[4, 4, 4, 4, 4, 1]),
            (8, &[3]),
            (9, &[5]),
        ];
        let found = drift(&pours(&weeks));
        let told = found.periods.iter();
        let told = told.map(|one| (one.first, one.last, one.tally.good, one.tally.pours));
        assert_eq!(told.collect::<Vec<_>>(), [(1, 2, 3, 6), (7, 9, 6, 8)]);
        let places: Vec<_> = found.periods.iter().map(Period::places).collect();
        assert_eq!(places, [0..6, 6..14]);
        assert!(found.trend.is_none() && found.verdict == Verdict::TooFew(14));
    }

    // scipy 1.17.1, spearmanr(range(24), cells): rho 0.8833242060293067, p 1.0856076190990168e-08.
    #[test]
    fn a_rise_is_found_and_its_ends_told() {
        let found = drift(&pours(&RISE));
        let trend = found.trend.unwrap();
        assert!(
            (trend.value - 0.883_324_206_029_306_7).abs() < 1e-12,
            "{}",
            trend.value
        );
        assert!(
            (trend.p / 1.085_607_619_099_016_8e-8 - 1.0).abs() < 1e-6,
            "{}",
            trend.p
        );
        let (first, last) = (Tally::new(0, 6), Tally::new(5, 6));
        assert_eq!(found.verdict, Verdict::Changed { trend, first, last });
    }

    // scipy 1.17.1, spearmanr(range(8), means) of the eight sessions: rho 0.9940297973880048.
    #[test]
    fn pours_of_one_session_are_one() {
        let mut pours = pours(&RISE);
        let places = pours.iter_mut().enumerate();
        places.for_each(|(place, one)| one.session = place / 3);
        let trend = drift(&pours).trend.unwrap();
        assert!(
            (trend.value - 0.994_029_797_388_004_8).abs() < 1e-12,
            "{}",
            trend.value
        );
    }

    #[test]
    fn a_trend_that_its_ends_contradict_is_not_spoken_of() {
        let trend = Ranked {
            value: -0.23,
            p: 0.03,
            exact: false,
        };
        assert!(!borne_out(trend, Tally::new(2, 6), Tally::new(3, 7)));
        assert!(borne_out(trend, Tally::new(3, 6), Tally::new(2, 7)));
        assert!(borne_out(trend, Tally::new(0, 24), Tally::new(0, 12)));
    }

    #[test]
    fn too_little_and_nothing_that_varies_are_said() {
        let many = |cells: u8| -> Vec<Poured> {
            let one = |i: i64| Poured {
                unit: i / 6,
                session: i as usize,
                good: cells >= 4,
                cells,
            };
            (0..30).map(one).collect()
        };
        let one_week: Vec<Poured> = many(4)
            .into_iter()
            .map(|one| Poured { unit: 1, ..one })
            .collect();
        for (pours, told) in [
            (vec![], Verdict::TooFew(0)),
            (many(4)[..1].to_vec(), Verdict::TooFew(1)),
            (one_week, Verdict::OneStretch(30)),
            (many(5), Verdict::AllAlike),
            (many(0), Verdict::AllAlike),
        ] {
            let found = drift(&pours);
            assert_eq!(found.verdict, told);
            assert_eq!(found.trend, None);
            let all: u32 = found.periods.iter().map(|one| one.tally.pours).sum();
            assert_eq!(all as usize, pours.len());
        }
    }
}
