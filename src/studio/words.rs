//! Sentences about cups: what is so, and what the hands must do.

use crate::numbers::flow_cup::FlowCup;
use crate::studio::cups::bench::CupStatus;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::Reading;
use crate::trade::duration::show;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::text::inert;
use crate::trade::units::{Band, Millilitres, SquareMillimetresPerSecond};
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

/// An instant that something is over at, as [`local`]; up to the next minute, so that by then it is.
#[must_use]
pub fn due(at: Moment, now: &Now) -> String {
    local(next_minute(at), now)
}

fn next_minute(at: Moment) -> Moment {
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

/// Of a cup whose mound never fades. What keeps a mound in sight holds every bubble that a stirring leaves
/// (`numbers::bubbles::held_by_gel`).
const GELLED: &str =
    "its mound never fades, and resting will not clear a gelled cup: thin and stir it, or end it";

impl CupStatus {
    /// What is so, and what to do, in one sentence.
    pub(crate) fn reason(&self, now: &Now, measures: Measures) -> String {
        match self.state {
            State::Spent => self.ending(),
            State::Resting => self.resting(now),
            State::Look => self.wants_reading(now),
            State::Thick if self.life.gelled => self.gelled(),
            State::Thick => self.thick(now, measures),
            State::Thin => format!(
                "{} is below its window: let it stand open, or add paint",
                self.mound_words()
            ),
            State::Ready => self.ready(now),
        }
    }

    fn gelled(&self) -> String {
        let Some(mound) = self.life.mound() else {
            return GELLED.to_owned();
        };
        format!(
            "a mound of {:.0} s as good as never fades, and resting will not clear it: thin and stir it, or end it",
            mound.get()
        )
    }

    fn wants_reading(&self, now: &Now) -> String {
        let Some(thinned) = self.life.thinned_since else {
            let cleared = local(self.life.clears_at, now);
            return format!("cleared {cleared}: read its mound");
        };
        let thinned = local(thinned, now);
        let expected = self.outlook.mound.map(|mound| {
            let band = mound.band.map(|one| format!("{:.1}", one.get()));
            format!(
                ", about {} s ({} to {}) by now",
                band.mid, band.low, band.high
            )
        });
        format!(
            "thinned {thinned}: read its mound{}",
            expected.unwrap_or_default()
        )
    }

    fn ending(&self) -> String {
        self.life
            .ended
            .map_or_else(|| "empty".to_owned(), |(end, _)| end.word().to_owned())
    }

    fn resting(&self, now: &Now) -> String {
        // From the minute that the clock shows to the one that is shown here.
        let over = now.at.timestamp_millis().rem_euclid(60_000);
        let wait = next_minute(self.life.clears_at) - now.at + TimeDelta::milliseconds(over);
        format!(
            "clears {}, in {}",
            due(self.life.clears_at, now),
            show(whole_minutes(wait))
        )
    }

    fn thick(&self, now: &Now, measures: Measures) -> String {
        if let Some(advice) = self.outlook.advice {
            if advice.beyond {
                return format!(
                    "{}: {}",
                    self.mound_words(),
                    beyond_words(advice.limit, measures)
                );
            }
            return format!(
                "{} is above its window: add {} and read again; about {} in all",
                self.mound_words(),
                show_volume(advice.start_with, measures),
                show_volume(advice.likely.band.mid, measures)
            );
        }
        let since = self.life.checked_at.unwrap_or(self.life.clears_at);
        format!(
            "not read for {}: read it again, it may have thickened",
            show(whole_minutes(now.at - since))
        )
    }

    fn ready(&self, now: &Now) -> String {
        let ready = match self.ready_until {
            None => "clear".to_owned(),
            Some(until) => format!("ready until {}", local(until, now)),
        };
        let flow = self.flow_words().map(|flow| format!("; {flow}"));
        ready + &flow.unwrap_or_default()
    }

    /// That it was read by a flow cup alone, so that its mound is not known: a flow cup's seconds are never turned into
    /// a mound.
    fn flow_words(&self) -> Option<String> {
        let Reading::FlowCup { cup, efflux } = &self.life.known.as_ref()?.reading else {
            return None;
        };
        let viscosity = self.flow_viscosity();
        let viscosity = viscosity.map(|nu| format!(" ({:.0} mm2/s)", nu.get()));
        Some(format!(
            "read by flow cup {} {} s{}, its mound is not known",
            inert(cup),
            efflux.get(),
            viscosity.unwrap_or_default()
        ))
    }

    /// The viscosity its flow cup told, where that was its last reading.
    #[must_use]
    pub fn flow_viscosity(&self) -> Option<SquareMillimetresPerSecond> {
        match &self.life.known.as_ref()?.reading {
            Reading::FlowCup { cup, efflux } => {
                cup.parse::<FlowCup>().ok()?.viscosity(*efflux).ok()
            }
            Reading::Mound(_) => None,
        }
    }

    fn mound_words(&self) -> String {
        self.outlook.mound_mid().map_or_else(
            || "its mound".to_owned(),
            |mound| format!("{:.1} s", mound.get()),
        )
    }
}

/// That no amount its recipe allows brings a cup back: `needs more than the 33 ml that its recipe allows: mix it anew`.
#[must_use]
pub fn beyond_words(limit: Millilitres, measures: Measures) -> String {
    match limit.is_nothing() {
        true => "holds all the thinner that its recipe allows: mix it anew".to_owned(),
        false => format!(
            "needs more than the {} that its recipe allows: mix it anew",
            show_volume(limit, measures)
        ),
    }
}

/// Rounded up, so that a wait never reads as nothing before it is over.
fn whole_minutes(wait: TimeDelta) -> TimeDelta {
    let seconds = wait.num_seconds().max(0);
    TimeDelta::minutes((seconds + 59) / 60)
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
