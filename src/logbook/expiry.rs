//! Which backups have had their time, and which are kept: the newest of each of the last 7 days, 5 weeks and 12 months that have one (common practice,
//! no source).

use chrono::{DateTime, Datelike, Days, NaiveDate, Utc};
use std::collections::HashSet;

const DAYS: usize = 7;
const WEEKS: usize = 5;
const MONTHS: usize = 12;

/// Which of `taken` may go, by their place in it.
///
/// Only days, weeks and months that have a backup are counted, so that neither a long rest nor a clock set far ahead
/// lets the older ones go. The newest backup always stays, and so does whatever is dated after `now`.
#[must_use]
pub fn expired(taken: &[DateTime<Utc>], now: DateTime<Utc>) -> Vec<usize> {
    let mut newest_first: Vec<usize> = (0..taken.len()).filter(|&at| taken[at] <= now).collect();
    newest_first.sort_by_key(|&at| std::cmp::Reverse(taken[at]));
    let (mut days, mut weeks, mut months) = (HashSet::new(), HashSet::new(), HashSet::new());
    let mut drop: Vec<usize> = newest_first
        .into_iter()
        .filter(|&at| {
            let day = taken[at].date_naive();
            // Every span is entered, even where another has already saved this backup.
            let fills = [
                enters(&mut days, day, DAYS),
                enters(&mut weeks, week_start(day), WEEKS),
                enters(&mut months, month_start(day), MONTHS),
            ];
            !fills.contains(&true)
        })
        .collect();
    drop.sort_unstable();
    drop
}

/// Whether a span is new and among the newest of its kind.
fn enters(spans: &mut HashSet<NaiveDate>, span: NaiveDate, most: usize) -> bool {
    spans.len() < most && spans.insert(span)
}

fn week_start(day: NaiveDate) -> NaiveDate {
    let since_monday = u64::from(day.weekday().num_days_from_monday());
    day.checked_sub_days(Days::new(since_monday)).unwrap_or(day)
}

fn month_start(day: NaiveDate) -> NaiveDate {
    day.with_day(1).unwrap_or(day)
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::TimeDelta;

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    fn kept(taken: &[DateTime<Utc>], now: DateTime<Utc>) -> Vec<String> {
        let drop = expired(taken, now);
        let stays = taken
            .iter()
            .enumerate()
            .filter(|(at, _)| !drop.contains(at));
        stays
            .map(|(_, taken)| taken.format("%Y-%m-%d").to_string())
            .collect()
    }

    #[test]
    fn one_a_day_for_two_years_leaves_days_weeks_and_months() {
        let now = at("2026-11-25T12:00:00Z"); // a Wednesday
        let taken: Vec<_> = (0..730).map(|back| now - TimeDelta::days(back)).collect();
        // Counted by hand from a calendar: 7 days; the Sundays before; the last days of the months before.
        let expected = [
            "2026-11-25",
            "2026-11-24",
            "2026-11-23",
            "2026-11-22",
            "2026-11-21",
            "2026-11-20",
            "2026-11-19",
            "2026-11-15",
            "2026-11-08",
            "2026-11-01",
            "2026-10-31",
            "2026-09-30",
            "2026-08-31",
            "2026-07-31",
            "2026-06-30",
            "2026-05-31",
            "2026-04-30",
            "2026-03-31",
            "2026-02-28",
            "2026-01-31",
            "2025-12-31",
        ];
        assert_eq!(kept(&taken, now), expected);
    }

    #[test]
    fn of_one_day_only_the_newest_stays() {
        let taken = [
            at("2026-11-25T08:00:00Z"),
            at("2026-11-25T11:00:00Z"),
            at("2026-11-25T09:00:00Z"),
        ];
        assert_eq!(expired(&taken, at("2026-11-25T12:00:00Z")), [0, 2]);
    }

    #[test]
    fn what_is_old_stays_where_nothing_is_newer_and_the_future_is_not_touched() {
        let now = at("2026-11-25T12:00:00Z");
        let old = [
            at("2001-01-01T00:00:00Z"),
            at("2000-01-01T00:00:00Z"),
            at("2000-01-01T09:00:00Z"),
        ];
        assert_eq!(expired(&old, now), [1], "the earlier of one day");
        let ahead = [at("2027-01-01T10:00:00Z"), at("2027-01-01T09:00:00Z")];
        assert!(expired(&ahead, now).is_empty());
        assert!(expired(&[], now).is_empty());
    }

    #[test]
    fn a_clock_set_ten_years_ahead_for_a_day_costs_no_more_than_the_oldest_of_each_span() {
        let now = at("2026-11-25T12:00:00Z");
        let taken: Vec<_> = (0..730).map(|back| now - TimeDelta::days(back)).collect();
        let gone = expired(&taken, now);
        let mut left: Vec<_> = (0..taken.len())
            .filter(|at| !gone.contains(at))
            .map(|at| taken[at])
            .collect();
        let ahead = at("2036-11-25T12:00:00Z");
        left.push(ahead);
        assert_eq!(
            expired(&left, ahead).len(),
            3,
            "a day, a week and a month give way"
        );
    }

    #[test]
    fn dropping_twice_drops_no_more() {
        let now = at("2026-11-25T12:00:00Z");
        let taken: Vec<_> = (0..3000)
            .map(|back| now - TimeDelta::hours(7 * back))
            .collect();
        let drop = expired(&taken, now);
        let left: Vec<_> = (0..taken.len())
            .filter(|at| !drop.contains(at))
            .map(|at| taken[at])
            .collect();
        assert!(!left.is_empty() && expired(&left, now).is_empty());
    }
}
