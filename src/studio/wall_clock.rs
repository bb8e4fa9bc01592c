//! Instants as the studio's wall clock shows them.

use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::units::Band;
use chrono::{Datelike, TimeDelta};

/// An instant as the studio's wall clock shows it: `18:30` today, `Tue 18:30` within a week, else with its date.
#[must_use]
pub fn local(at: Moment, now: &Now) -> String {
    let here = now.zone.tell(at);
    let today = now.zone.tell(now.at);
    let days = (here.date_naive() - today.date_naive()).num_days();
    let format = match days {
        0 => "%H:%M",
        -6..=6 => "%a %H:%M",
        _ => "%Y-%m-%d %H:%M",
    };
    here.format(format).to_string()
}

/// An instant with its day, as one would say it: `yesterday 23:50`; else as [`local`].
#[must_use]
pub fn said_day(at: Moment, now: &Now) -> String {
    let day = |at: Moment| now.zone.tell(at).date_naive();
    match day(now.at).pred_opt() == Some(day(at)) {
        true => now.zone.tell(at).format("yesterday %H:%M").to_string(),
        false => local(at, now),
    }
}

/// An instant that something is over at, as [`local`]; up to the next minute, so that by then it is.
#[must_use]
pub fn due(at: Moment, now: &Now) -> String {
    local(next_minute(at), now)
}

/// The next full minute, or the instant itself where it is one.
#[must_use]
pub fn next_minute(at: Moment) -> Moment {
    let over = at.timestamp_millis().rem_euclid(60_000);
    let rest = TimeDelta::milliseconds((60_000 - over) % 60_000);
    at.checked_add_signed(rest).unwrap_or(at)
}

/// A day as a band's ends are told: `24 Nov`, with its year where that is another one.
#[must_use]
pub fn day(at: Moment, now: &Now) -> String {
    let (there, here) = (now.zone.tell(at), now.zone.tell(now.at));
    let format = match there.year() == here.year() {
        true => "%-d %b",
        false => "%-d %b %Y",
    };
    there.format(format).to_string()
}

/// The two ends of a band, each with its own day; within a day to the hour, for no estimate of drying deserves minutes.
#[must_use]
pub fn ends(band: Band<Moment>, now: &Now) -> (String, String) {
    let hourly = band.high - band.low < TimeDelta::days(1);
    let tell = |at: Moment| match hourly {
        true => {
            // To the nearest hour.
            let near = at.checked_add_signed(TimeDelta::minutes(30)).unwrap_or(at);
            format!("{} {}", day(near, now), now.zone.tell(near).format("%H:00"))
        }
        false => day(at, now),
    };
    (tell(band.low), tell(band.high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::instant::Zone;
    use chrono::DateTime;

    fn at(text: &str) -> Moment {
        DateTime::parse_from_rfc3339(text).unwrap()
    }

    fn told(low: &str, high: &str) -> (String, String) {
        let now = at("2026-11-24T18:30:00+01:00");
        let now = Now {
            zone: Zone::Fixed(*now.offset()),
            at: now,
        };
        let (low, high) = (at(low), at(high));
        ends(
            Band {
                low,
                mid: low,
                high,
            },
            &now,
        )
    }

    #[test]
    fn each_end_of_a_band_has_its_own_day_today_too() {
        let (low, high) = told("2026-10-26T05:08:00+01:00", "2026-11-24T21:33:00+01:00");
        assert_eq!([low, high], ["26 Oct", "24 Nov"]);
        let (low, high) = told("2026-12-28T22:56:00+01:00", "2027-02-17T17:33:00+01:00");
        assert_eq!([low, high], ["28 Dec", "17 Feb 2027"]);
    }

    #[test]
    fn what_is_due_within_a_minute_is_due_at_its_end() {
        let now = at("2026-11-24T18:30:00+01:00");
        let now = Now {
            zone: Zone::Fixed(*now.offset()),
            at: now,
        };
        assert_eq!(due(at("2026-11-24T20:18:30+01:00"), &now), "20:19");
        assert_eq!(due(at("2026-11-24T20:18:00+01:00"), &now), "20:18");
    }

    #[test]
    fn a_band_within_a_day_is_told_to_the_hour() {
        let (low, high) = told("2026-11-24T20:12:00+01:00", "2026-11-25T09:48:00+01:00");
        assert_eq!([low, high], ["24 Nov 20:00", "25 Nov 10:00"]);
    }
}
