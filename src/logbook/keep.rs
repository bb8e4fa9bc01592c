//! Which backups to keep: the newest of each of the last 7 days, 5 weeks and 12 months (common practice, no source).

use chrono::{DateTime, Datelike, Days, Months, NaiveDate, Utc};
use std::collections::HashSet;

const DAYS: u64 = 7;
const WEEKS: u64 = 5;
const MONTHS: u32 = 12;

/// Which of `taken` may go, by their place in it.
///
/// The newest backup always stays, and so does whatever is dated after `now`: a clock may have been set back.
#[must_use]
pub fn keep(taken: &[DateTime<Utc>], now: DateTime<Utc>) -> Vec<usize> {
    let mut newest_first: Vec<usize> = (0..taken.len()).collect();
    newest_first.sort_by_key(|&at| std::cmp::Reverse(taken[at]));
    let mut spans = HashSet::new();
    let mut drop = Vec::new();
    for (nth, &at) in newest_first.iter().enumerate() {
        // Every span is entered, even where an earlier one has already saved this backup.
        let fills = spans_of(taken[at].date_naive(), now.date_naive())
            .into_iter()
            .filter(|span| spans.insert(*span))
            .count();
        if nth > 0 && taken[at] <= now && fills == 0 {
            drop.push(at);
        }
    }
    drop.sort_unstable();
    drop
}

#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum Span {
    Day(NaiveDate),
    Week(NaiveDate),
    Month(NaiveDate),
}

/// The day, week and month a backup could stand for, where they are recent enough to be kept.
fn spans_of(day: NaiveDate, today: NaiveDate) -> Vec<Span> {
    let week = week_start(day);
    let month = month_start(day);
    let oldest_day = today.checked_sub_days(Days::new(DAYS - 1));
    let oldest_week = week_start(today).checked_sub_days(Days::new(7 * (WEEKS - 1)));
    let oldest_month = month_start(today).checked_sub_months(Months::new(MONTHS - 1));
    [
        (
            oldest_day.is_some_and(|oldest| day >= oldest),
            Span::Day(day),
        ),
        (
            oldest_week.is_some_and(|oldest| week >= oldest),
            Span::Week(week),
        ),
        (
            oldest_month.is_some_and(|oldest| month >= oldest),
            Span::Month(month),
        ),
    ]
    .into_iter()
    .filter_map(|(recent, span)| recent.then_some(span))
    .collect()
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
        let drop = keep(taken, now);
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
        assert_eq!(keep(&taken, at("2026-11-25T12:00:00Z")), [0, 2]);
    }

    #[test]
    fn the_newest_stays_however_old_and_the_future_is_not_touched() {
        let now = at("2026-11-25T12:00:00Z");
        assert_eq!(
            keep(
                &[at("2001-01-01T00:00:00Z"), at("2000-01-01T00:00:00Z")],
                now
            ),
            [1]
        );
        let ahead = [at("2027-01-01T10:00:00Z"), at("2027-01-01T09:00:00Z")];
        assert!(keep(&ahead, now).is_empty());
        assert!(keep(&[], now).is_empty());
    }

    #[test]
    fn dropping_twice_drops_no_more() {
        let now = at("2026-11-25T12:00:00Z");
        let taken: Vec<_> = (0..3000)
            .map(|back| now - TimeDelta::hours(7 * back))
            .collect();
        let drop = keep(&taken, now);
        let left: Vec<_> = (0..taken.len())
            .filter(|at| !drop.contains(at))
            .map(|at| taken[at])
            .collect();
        assert!(!left.is_empty() && keep(&left, now).is_empty());
    }
}
