//! The judged pours in periods of the calendar: by weeks where they are few, by longer stretches where they are many.

use crate::numbers::statistics::drift::{self, Poured, Verdict};
use crate::numbers::statistics::proportion::Tally;
use crate::numbers::statistics::ranks::Ranked;
use crate::studio::PourPage;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use chrono::{Datelike, NaiveDate, TimeDelta};

/// Stretches of the calendar that are looked at, at most; of more, longer ones are taken.
const MOST: i64 = 16;

/// Pours begun no further apart are of one session (ours, as the findings have it).
const SESSION: TimeDelta = TimeDelta::hours(6);

/// How pours came out as time went on.
#[derive(Debug, Clone)]
pub struct Drift {
    /// The periods, the oldest first.
    pub periods: Vec<DriftPeriod>,
    /// Spearman's correlation of the sessions' mean cells with their order; none where it is too early.
    pub trend: Option<Ranked>,
    /// What is to be said of it.
    pub verdict: Verdict,
}

/// One period.
#[derive(Debug, Clone)]
pub struct DriftPeriod {
    /// Its first instant.
    pub from: Moment,
    /// The first instant after it.
    pub to: Moment,
    /// The same in words: `Sep 2026`, `7 Sep to 20 Sep`.
    pub name: String,
    /// How its pours came out.
    pub tally: Tally,
    /// The numbers of its pours.
    pub behind: Vec<i64>,
}

/// A stretch of the calendar.
#[derive(Debug, Clone, Copy)]
enum Stretch {
    /// From Monday on.
    Week,
    Month,
    Quarter,
    Year,
}

impl Stretch {
    const ALL: [Self; 4] = [Self::Week, Self::Month, Self::Quarter, Self::Year];

    /// The number of the stretch a day falls in.
    fn of(self, day: NaiveDate) -> i64 {
        let months = i64::from(day.year()) * 12 + i64::from(day.month0());
        match self {
            // The first day of the year 1 was a Monday.
            Self::Week => i64::from(day.num_days_from_ce() - 1).div_euclid(7),
            Self::Month => months,
            Self::Quarter => months.div_euclid(3),
            Self::Year => i64::from(day.year()),
        }
    }

    /// The first day of a stretch.
    fn first(self, number: i64) -> Option<NaiveDate> {
        let months = match self {
            Self::Week => {
                let days = i32::try_from(number * 7 + 1).ok()?;
                return NaiveDate::from_num_days_from_ce_opt(days);
            }
            Self::Month => number,
            Self::Quarter => number * 3,
            Self::Year => number * 12,
        };
        let (year, month) = (months.div_euclid(12), months.rem_euclid(12) + 1);
        NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, u32::try_from(month).ok()?, 1)
    }

    fn name(self, first: NaiveDate, after: NaiveDate) -> String {
        let last = after.pred_opt().unwrap_or(after);
        let pattern = match self {
            Self::Week => "%-d %b",
            Self::Month | Self::Quarter => "%b %Y",
            Self::Year => "%Y",
        };
        let (first, last) = (first.format(pattern), last.format(pattern));
        let (first, last) = (first.to_string(), last.to_string());
        if first == last {
            return first;
        }
        format!("{first} to {last}")
    }

    /// The shortest that few enough of hold all days.
    fn fitting(days: impl Iterator<Item = NaiveDate> + Clone) -> Self {
        let fits = |stretch: &&Self| {
            let numbers = || days.clone().map(|day| stretch.of(day));
            let span = numbers().max().zip(numbers().min());
            span.is_none_or(|(last, first)| last - first < MOST)
        };
        Self::ALL.iter().find(fits).copied().unwrap_or(Self::Year)
    }
}

/// The judged pours, newest first, put into periods; a pour is good from `bar` cells on.
pub(in crate::studio) fn drift(judged: &[(PourPage, u8)], bar: u8, now: &Now) -> Drift {
    let mut pours: Vec<(&PourPage, u8, NaiveDate)> = judged
        .iter()
        .map(|(page, cells)| (page, *cells, now.zone.tell(page.pour.at).date_naive()))
        .collect();
    pours.sort_by_key(|(page, ..)| (page.pour.at, page.pour.id));
    let stretch = Stretch::fitting(pours.iter().map(|(.., day)| *day));
    let (mut least, mut session) = (i64::MIN, 0);
    let mut before: Option<Moment> = None;
    let poured: Vec<Poured> = pours
        .iter()
        .map(|(page, cells, day)| {
            let at = page.pour.at;
            session += usize::from(before.is_some_and(|before| at - before > SESSION));
            before = Some(at);
            // A zone whose days ran backwards must not turn the order.
            least = least.max(stretch.of(*day));
            Poured {
                unit: least,
                session,
                good: *cells >= bar,
                cells: *cells,
            }
        })
        .collect();
    let found = drift::drift(&poured);
    let period = |one: &drift::Period| {
        let (first, after) = (stretch.first(one.first)?, stretch.first(one.last + 1)?);
        let own = pours.get(one.places()).unwrap_or_default();
        Some(DriftPeriod {
            from: now.zone.day_start(first)?,
            to: now.zone.day_start(after)?,
            name: stretch.name(first, after),
            tally: one.tally,
            behind: own.iter().rev().map(|(page, ..)| page.pour.id).collect(),
        })
    };
    Drift {
        periods: found.periods.iter().filter_map(period).collect(),
        trend: found.trend,
        verdict: found.verdict,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    // 2026-11-23 is a Monday (counted on from 2000-01-01, a Saturday).
    #[test]
    fn stretches_begin_where_the_calendar_says() {
        let sunday = day("2026-11-22");
        let first = |stretch: Stretch| stretch.first(stretch.of(sunday)).unwrap();
        assert_eq!(first(Stretch::Week), day("2026-11-16"));
        assert_eq!(first(Stretch::Month), day("2026-11-01"));
        assert_eq!(first(Stretch::Quarter), day("2026-10-01"));
        assert_eq!(first(Stretch::Year), day("2026-01-01"));
        assert_eq!(
            Stretch::Week.of(day("2026-11-23")),
            Stretch::Week.of(sunday) + 1
        );
    }

    #[test]
    fn a_longer_time_is_told_by_longer_stretches() {
        let over = |last: &str| {
            let days = [day("2026-01-05"), day(last)];
            let stretch = Stretch::fitting(days.into_iter());
            let number = stretch.of(days[1]);
            stretch.name(
                stretch.first(number).unwrap(),
                stretch.first(number + 1).unwrap(),
            )
        };
        assert_eq!(over("2026-02-10"), "9 Feb to 15 Feb");
        assert_eq!(over("2026-11-10"), "Nov 2026");
        assert_eq!(over("2028-11-10"), "Oct 2028 to Dec 2028");
        assert_eq!(over("2036-11-10"), "2036");
    }
}
