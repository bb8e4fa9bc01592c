//! What a calendar file that is written anew has told, and what will not come of it: sent once more as cancelled.
//!
//! An event that is no longer due would stand in the phone, and its alarm would ring, until someone removed it by hand: a
//! calendar that is imported again changes only what it holds (RFC 5546, 3.2.5: STATUS is CANCELLED, SEQUENCE has risen).
//! What was sent is read from the file that is replaced; nothing is kept about it.

use crate::studio::Reminders;
use crate::trade::instant::Now;
use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};
use icalendar::{
    Calendar, CalendarComponent, CalendarDateTime, Component, DatePerhapsTime, Event, EventStatus,
};
use std::collections::HashSet;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// So long after its time an event is still told as cancelled.
const TOLD_FOR: TimeDelta = TimeDelta::days(14);
/// A longer file is no calendar of ours.
const LONGEST: u64 = 8 << 20;

/// An event that was told and is due no more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Recalled {
    pub(super) uid: String,
    pub(super) at: DateTime<Utc>,
    pub(super) says: String,
    /// When its alarm still has to ring, where it has come meanwhile and stands; else it will not come.
    pub(super) rings: Option<DateTime<Utc>>,
}

/// The text of a calendar file that will be replaced; none where there is none that can be read.
pub(super) fn former(file: &Path) -> Option<String> {
    let is_file = std::fs::metadata(file).is_ok_and(|about| about.is_file());
    let open = File::open(file).ok().filter(|_| is_file)?;
    let mut text = String::new();
    open.take(LONGEST).read_to_string(&mut text).ok()?;
    Some(text)
}

/// What a former calendar of this studio told that was still to come and is due no more, or was cancelled before; and what
/// has come while its alarm waits.
pub(super) fn recalled(former: &str, reminders: &Reminders, now: &Now) -> Vec<Recalled> {
    let Ok(calendar) = former.parse::<Calendar>() else {
        return Vec::new();
    };
    let here = format!("@{}", reminders.studio);
    let names: HashSet<String> = reminders
        .all
        .iter()
        .map(super::calendar::uid_in(reminders))
        .collect();
    let events = calendar.components.iter().filter_map(|one| match one {
        CalendarComponent::Event(event) => Some(event),
        _ => None,
    });
    let told = events.filter_map(|event| told(event, now));
    let ours = told.filter(|one| one.uid.ends_with(&here) && !names.contains(&one.uid));
    let stands = |uid: &str| {
        let name = uid.strip_suffix(&here);
        name.is_some_and(|name| reminders.come.contains(name))
    };
    ours.map(|one| Recalled {
        rings: one.rings.filter(|_| stands(&one.uid)),
        ..one
    })
    .collect()
}

/// An event, where it has to be told as cancelled: it or its alarm was to come, or it is not long over and was cancelled
/// already.
fn told(event: &Event, now: &Now) -> Option<Recalled> {
    let at = match event.get_start()? {
        DatePerhapsTime::DateTime(CalendarDateTime::Utc(at)) => at,
        _ => return None,
    };
    let off = event.get_status() == Some(EventStatus::Cancelled);
    let present = now.at.with_timezone(&Utc);
    let rings = alarm(event).filter(|rings| *rings > present);
    let to_come = at > present || rings.is_some();
    let not_long_over = at > present - TOLD_FOR;
    (to_come || off && not_long_over).then(|| Recalled {
        uid: event.get_uid().unwrap_or_default().to_owned(),
        at,
        says: event.get_summary().unwrap_or_default().to_owned(),
        rings: rings.filter(|_| at <= present),
    })
}

/// When an alarm rings that waits for the end of the quiet hours: an instant in UTC (RFC 5545, 3.8.6.3). Others ring before
/// their event.
fn alarm(event: &Event) -> Option<DateTime<Utc>> {
    let within = event.components().iter();
    let mut triggers = within.filter_map(|one| one.property_value("TRIGGER"));
    let instant =
        triggers.find_map(|trigger| NaiveDateTime::parse_from_str(trigger, "%Y%m%dT%H%M%SZ").ok());
    instant.map(|at| at.and_utc())
}
