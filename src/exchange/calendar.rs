//! What is due as a calendar file (RFC 5545), for the phone that wakes the painter.
//!
//! A thing that is due keeps its UID, and SEQUENCE is the number of the studio's last change: it rises with each, so that a
//! second import moves an event and never doubles it. Times are in UTC; lines are folded at 75 octets and texts escaped by
//! the library. Nothing of the machine stands in it.

use crate::studio::{Reminder, Reminders};
use crate::tell::{self, reminders};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use chrono::{TimeDelta, Utc};
use icalendar::{Alarm, Calendar, Component, Event, EventLike, EventStatus, Property, Trigger};

/// How long an event lasts that is a moment: long enough to be seen in a day's column.
const LASTS: TimeDelta = TimeDelta::minutes(15);

/// What is due as a calendar; each alarm rings so long before it.
#[must_use]
pub fn calendar(reminders: &Reminders, before: TimeDelta, measures: Measures, now: &Now) -> String {
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
            event.alarm(Alarm::display(&says, Trigger::before_start(before)));
        }
        calendar.push(event);
    }
    own_alarms(&calendar.to_string())
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

fn event(one: &Reminder, reminders: &Reminders, says: &str, now: &Now) -> Event {
    let at = one.at.with_timezone(&Utc);
    let mut event = Event::new();
    event
        .uid(&format!("{}@{}", one.name(), reminders.studio))
        .sequence(u32::try_from(reminders.change).unwrap_or(u32::MAX))
        .timestamp(now.at.with_timezone(&Utc))
        .last_modified(now.at.with_timezone(&Utc))
        .summary(says)
        .starts(at)
        .ends(at + LASTS);
    if let Some(more) = reminders::more(one, now) {
        event.description(&inert(&more));
    }
    event.status(match one.is_off() {
        true => EventStatus::Cancelled,
        false => EventStatus::Confirmed,
    });
    event.done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{Due, DueCup};
    use crate::trade::instant::Zone;
    use crate::trade::recipe::LayerKind;
    use chrono::DateTime;

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
        };
        calendar(&reminders, TimeDelta::minutes(10), Measures::Metric, &now())
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
