//! What is due as a calendar file (RFC 5545), for the phone that wakes the painter.
//!
//! A thing that is due keeps its UID, and SEQUENCE is the number of the studio's last change: it rises with each, so that a
//! second import moves an event and never doubles it. Times are in UTC; lines are folded at 75 octets and texts escaped by
//! the library. Nothing of the machine stands in it. No alarm rings within the quiet hours: it waits for their end, and the
//! event stands at its own time.

use super::recalled::recalled;
use crate::studio::{Reminder, Reminders};
use crate::tell::{self, reminders};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::quiet::Quiet;
use crate::trade::text::inert;
use chrono::{DateTime, TimeDelta, Utc};
use icalendar::{Alarm, Calendar, Component, Event, EventLike, EventStatus, Property, Trigger};

/// How long an event lasts that is a moment: long enough to be seen in a day's column.
const LASTS: TimeDelta = TimeDelta::minutes(15);

/// When the alarms of a calendar ring.
#[derive(Debug, Clone, Copy)]
pub struct Alarms {
    /// So long before each event.
    pub before: TimeDelta,
    /// Never within these hours of the wall clock: one that would waits for their end.
    pub quiet: Option<Quiet>,
}

/// What is due as a calendar, with what a former one told and will not come.
#[must_use]
pub fn calendar(
    reminders: &Reminders,
    alarms: Alarms,
    former: Option<&str>,
    measures: Measures,
    now: &Now,
) -> String {
    let mut calendar = Calendar::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", "-//Stillcup//EN"));
    calendar.append_property(Property::new("CALSCALE", "GREGORIAN"));
    calendar.append_property(Property::new("METHOD", "PUBLISH"));
    calendar.name("Stillcup");
    for one in &reminders.all {
        let says = tell::words(one, measures, now);
        let says = inert(&says);
        let mut event = event(one, reminders, &says, now);
        if !one.is_off() {
            event.alarm(Alarm::display(&says, rings(one, alarms, now)));
        }
        calendar.push(event);
    }
    for one in former
        .iter()
        .flat_map(|former| recalled(former, reminders, now))
    {
        let says = inert(&one.says);
        let mut event = stamped(&one.uid, one.at, &says, reminders, now);
        match one.rings {
            Some(rings) => event
                .status(EventStatus::Confirmed)
                .alarm(Alarm::display(&says, Trigger::from(rings))),
            None => event.status(EventStatus::Cancelled),
        };
        calendar.push(event.done());
    }
    own_alarms(&calendar.to_string())
}

/// When an alarm rings: so long before its event, or where that is a quiet hour at the end of these, as an instant of its own.
fn rings(one: &Reminder, alarms: Alarms, now: &Now) -> Trigger {
    let early = one.at - alarms.before;
    let awake = alarms
        .quiet
        .map_or(early, |quiet| quiet.over(early, now.zone));
    match awake == early {
        true => Trigger::before_start(alarms.before),
        false => Trigger::from(awake.with_timezone(&Utc)),
    }
}

/// Without the library's own stamps within alarms: the system's clock, which the standard has no place for there (RFC 5545,
/// 3.6.6), and a name drawn by lot, so that the same state would never give the same file.
fn own_alarms(text: &str) -> String {
    let mut within = false;
    let kept = text.split_inclusive("\r\n").filter(|line| {
        within = (within || line.starts_with("BEGIN:VALARM")) && !line.starts_with("END:VALARM");
        !(within && (line.starts_with("DTSTAMP:") || line.starts_with("UID:")))
    });
    kept.collect()
}

/// The UID of each reminder of a studio.
pub(super) fn uid_in(reminders: &Reminders) -> impl Fn(&Reminder) -> String {
    let studio = reminders.studio.clone();
    move |one| format!("{}@{studio}", one.name())
}

fn event(one: &Reminder, reminders: &Reminders, says: &str, now: &Now) -> Event {
    let uid = uid_in(reminders)(one);
    let mut event = stamped(&uid, one.at.with_timezone(&Utc), says, reminders, now);
    if let Some(more) = reminders::more(one, now) {
        event.description(&inert(&more));
    }
    event.status(match one.is_off() {
        true => EventStatus::Cancelled,
        false => EventStatus::Confirmed,
    });
    event.done()
}

/// An event with what each has.
fn stamped(uid: &str, at: DateTime<Utc>, says: &str, reminders: &Reminders, now: &Now) -> Event {
    let mut event = Event::new();
    event
        .uid(uid)
        .sequence(u32::try_from(reminders.change).unwrap_or(u32::MAX))
        .timestamp(now.at.with_timezone(&Utc))
        .last_modified(now.at.with_timezone(&Utc))
        .summary(says)
        .starts(at)
        .ends(at + LASTS);
    event.done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{Due, DueCup};
    use crate::trade::instant::Zone;
    use crate::trade::recipe::LayerKind;
    use std::collections::HashSet;

    fn now() -> Now {
        let at = DateTime::parse_from_rfc3339("2026-11-24T18:30:00+01:00").unwrap();
        Now {
            at,
            zone: Zone::Fixed(*at.offset()),
        }
    }

    fn made(title: &str) -> String {
        let cup = DueCup {
            cup: 7,
            mark: crate::trade::mark::Mark::parse("K7").unwrap(),
            title: format!("{title}a, b; c\\d\nnext"),
            layer: LayerKind::Colour,
        };
        let one = Reminder {
            at: now().at + TimeDelta::hours(3),
            due: Due::Clears(cup),
        };
        let reminders = Reminders {
            studio: "s".into(),
            change: 41,
            all: vec![one],
            come: HashSet::new(),
        };
        let alarms = Alarms {
            before: TimeDelta::minutes(10),
            quiet: None,
        };
        calendar(&reminders, alarms, None, Measures::Metric, &now())
    }

    // RFC 5545, 3.1: lines end in CRLF and have at most 75 octets; 3.3.5: UTC ends in Z; 3.8.6.3: TRIGGER is a duration.
    #[test]
    fn lines_times_and_alarms_are_as_the_standard_asks() {
        let text = made(&"深い river ".repeat(30));
        assert!(
            text.split_inclusive('\n')
                .all(|line| line.ends_with("\r\n") && line.len() <= 77),
            "{text}"
        );
        assert!(text.contains("DTSTART:20261124T203000Z\r\n"), "{text}");
        assert!(text.contains("TRIGGER;RELATED=START:-PT600S\r\n"), "{text}");
        assert!(
            text.contains("UID:cup-7-clears@s\r\n") && text.contains("SEQUENCE:41\r\n"),
            "{text}"
        );
    }

    #[test]
    fn the_same_state_gives_the_same_file() {
        let (first, second) = (made("K7"), made("K7"));
        assert_eq!(first, second);
        assert_eq!(
            (
                first.matches("DTSTAMP:").count(),
                first.matches("\r\nUID:").count()
            ),
            (1, 1)
        );
    }

    // RFC 5545, 3.3.11: backslash, semicolon, comma and newline are escaped; no control sign goes out.
    #[test]
    fn texts_are_escaped_and_hold_nothing_live() {
        let text = made("a\u{1b}[2J\r\nBEGIN:VEVENT");
        assert_eq!(text.matches("\r\nBEGIN:VEVENT").count(), 1, "{text}");
        assert!(!text.contains('\u{1b}'));
        assert!(text.contains("a\\, b\\; c\\\\d"), "{text}");
    }
}
