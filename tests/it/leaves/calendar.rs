//! Calendars, read back by two parsers that share no code with the writer: the crate `ical`, and Python's `icalendar` and
//! `vobject`.

use super::printed;
use crate::command::Rehearsal;
use ical::parser::ical::component::IcalEvent;
use std::collections::BTreeMap;
use std::path::Path;

fn value(event: &IcalEvent, name: &str) -> String {
    let found = event.properties.iter().find(|one| one.name == name);
    found.and_then(|one| one.value.clone()).unwrap_or_default()
}

/// The events of a file by UID, each with its SEQUENCE and DTSTART.
fn events(file: &Path) -> BTreeMap<String, (u32, String)> {
    let text = std::fs::read(file).unwrap();
    let mut calendars = ical::IcalParser::new(text.as_slice());
    let calendar = calendars.next().unwrap().unwrap();
    assert!(calendars.next().is_none());
    let told = |event: &IcalEvent| {
        assert_eq!(
            event.alarms.len(),
            usize::from(value(event, "STATUS") == "CONFIRMED")
        );
        (
            value(event, "UID"),
            (
                value(event, "SEQUENCE").parse().unwrap(),
                value(event, "DTSTART"),
            ),
        )
    };
    let all: Vec<_> = calendar.events.iter().map(told).collect();
    let by_name: BTreeMap<_, _> = all.iter().cloned().collect();
    assert_eq!(by_name.len(), all.len(), "no event stands twice");
    by_name
}

fn named<'a>(events: &'a BTreeMap<String, (u32, String)>, beginning: &str) -> &'a (u32, String) {
    let found = events.iter().find(|(uid, _)| uid.starts_with(beginning));
    found
        .unwrap_or_else(|| panic!("{beginning} in {events:?}"))
        .1
}

fn evening() -> Rehearsal {
    let desk = Rehearsal::stocked();
    for words in [
        "mix|River blue|--volume|90ml|--mark|K7",
        "mix|Ground|--volume|120ml|--mark|B2",
        "pour|--panel|20x30cm|--layer|B2:60ml",
        "plan|--panel|40x50cm|--pour|2026-11-26T18:00:00+01:00|--recipe|Ground|--recipe|River blue|--keep",
    ] {
        desk.does(words);
    }
    desk
}

/// K7 rests 12 h from 18:00 at +01:00: it clears at 05:00 UTC. Stirred again at 19:00 it clears at 06:00 UTC: the same
/// event at another time, with a higher SEQUENCE (RFC 5545, 3.8.7.4).
#[test]
fn a_second_import_moves_an_event_and_never_doubles_it() {
    let mut desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    let write = format!("calendar|--out|{}|--alarm|10m|--replace", out.display());
    desk.does(&write);
    let first = events(&out);
    assert_eq!(named(&first, "cup-1-clears@").1, "20261125T050000Z");
    assert_eq!(named(&first, "plan-1-pour@").1, "20261126T170000Z");
    desk.does(&write);
    assert_eq!(events(&out), first, "nothing happened: nothing moves");
    desk.clock("2026-11-24T19:00:00+01:00");
    desk.does("stir|K7|4m");
    desk.does(&write);
    let second = events(&out);
    let (before, after) = (
        named(&first, "cup-1-clears@"),
        named(&second, "cup-1-clears@"),
    );
    assert_eq!(after.1, "20261125T060000Z");
    assert!(after.0 > before.0, "{before:?} {after:?}");
    let uid = |all: &BTreeMap<String, _>| {
        all.keys()
            .find(|uid| uid.starts_with("cup-1-clears@"))
            .cloned()
    };
    assert_eq!(uid(&first), uid(&second));
}

#[test]
fn a_cup_that_ended_takes_its_events_back() {
    let mut desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    desk.clock("2026-11-24T19:00:00+01:00");
    desk.does("end|K7|binned");
    desk.does(&format!("calendar|--out|{}", out.display()));
    let text = std::fs::read_to_string(&out).unwrap();
    let event = text
        .split("BEGIN:VEVENT")
        .find(|event| event.contains("UID:cup-1-clears@"))
        .unwrap();
    assert!(event.contains("STATUS:CANCELLED"), "{event}");
}

/// The event of a UID that begins so, as its lines.
fn lines_of(file: &Path, beginning: &str) -> String {
    let text = std::fs::read_to_string(file).unwrap();
    let mut events = text.split("BEGIN:VEVENT");
    let uid = format!("UID:{beginning}");
    events
        .find(|event| event.contains(&uid))
        .unwrap_or_default()
        .to_owned()
}

/// K7 would clear at 06:00 by the wall clock; it was looked at and is clear already, so its alarm must ring for nothing no more. What
/// was told and has come is not told again. A plan's step goes as the plan's pour is put off.
#[test]
fn what_a_former_calendar_told_and_will_not_come_is_taken_back() {
    let mut desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    let write = format!("calendar|--out|{}|--replace", out.display());
    desk.does(&write);
    let before = events(&out);
    desk.clock("2026-11-24T19:00:00+01:00");
    desk.does("look|K7|clear");
    for _ in 0..2 {
        desk.does(&write);
        let event = lines_of(&out, "cup-1-clears@");
        assert!(
            event.contains("STATUS:CANCELLED") && !event.contains("VALARM"),
            "{event}"
        );
        assert!(event.contains("DTSTART:20261125T050000Z"), "{event}");
        let (sequence, _) = *named(&events(&out), "cup-1-clears@");
        assert!(sequence > named(&before, "cup-1-clears@").0);
    }
    // B2 clears at 06:00 and nobody looks: it came, and is over.
    desk.clock("2026-11-25T12:00:00+01:00");
    desk.does(&write);
    assert_eq!(lines_of(&out, "cup-2-clears@"), "");
    // Another studio's calendar, and what is none, are replaced and nothing more.
    let foreign = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nBEGIN:VEVENT\r\nUID:x@elsewhere\r\nDTSTART:20270101T000000Z\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
    for former in [foreign, "no calendar", ""] {
        std::fs::write(&out, former).unwrap();
        desk.does(&write);
        let now = std::fs::read_to_string(&out).unwrap();
        assert!(
            !now.contains("elsewhere") && now.ends_with("END:VCALENDAR\r\n"),
            "{now}"
        );
    }
}

/// K7 clears at 05:00 UTC, 06:00 by the wall: the quiet hours end at 07:00 there. RFC 5545, 3.8.6.3: a trigger may be an instant in UTC.
#[test]
fn no_alarm_rings_in_the_quiet_hours_and_the_event_stays_at_its_time() {
    let desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    let write = format!("calendar|--out|{}|--alarm|10m|--replace", out.display());
    desk.does(&write);
    let night = lines_of(&out, "cup-1-clears@");
    assert!(night.contains("DTSTART:20261125T050000Z"), "{night}");
    assert!(
        night.contains("TRIGGER;VALUE=DATE-TIME:20261125T060000Z\r\n"),
        "{night}"
    );
    let day = lines_of(&out, "plan-1-pour@");
    assert!(day.contains(":-PT600S\r\n"), "{day}");
    desk.does("set|quiet-hours|none");
    desk.does(&write);
    let night = lines_of(&out, "cup-1-clears@");
    assert!(night.contains(":-PT600S\r\n"), "{night}");
}

/// Both clear at 06:00 and their alarms wait for 07:00. Read between, K7 is taken back; B2 still wants its alarm, and
/// once that has rung is not told again.
#[test]
fn an_event_whose_alarm_still_waits_is_taken_back() {
    let mut desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    let write = format!("calendar|--out|{}|--replace", out.display());
    desk.does(&write);
    desk.clock("2026-11-25T06:30:00+01:00");
    desk.does("read|K7|2.6");
    desk.does(&write);
    let event = lines_of(&out, "cup-1-clears@");
    assert!(
        event.contains("STATUS:CANCELLED") && !event.contains("VALARM"),
        "{event}"
    );
    for _ in 0..2 {
        desk.does(&write);
        let event = lines_of(&out, "cup-2-clears@");
        assert!(event.contains("STATUS:CONFIRMED"), "{event}");
        assert!(event.contains("DTSTART:20261125T050000Z"), "{event}");
        assert!(
            event.contains("TRIGGER;VALUE=DATE-TIME:20261125T060000Z"),
            "{event}"
        );
    }
    desk.clock("2026-11-25T07:30:00+01:00");
    desk.does("look|B2|clear");
    desk.does(&write);
    assert_eq!(lines_of(&out, "cup-2-clears@"), "");
}

/// Python's two parsers count the same events and read the same instants.
#[test]
fn two_more_parsers_read_the_same_events() {
    let desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    desk.does(&format!("calendar|--out|{}", out.display()));
    let mut wanted: Vec<String> = events(&out)
        .into_iter()
        .map(|(uid, (_, at))| format!("{uid} {at}"))
        .collect();
    wanted.sort();
    for (module, script) in [
        (
            "icalendar",
            "import icalendar,sys\nc=icalendar.Calendar.from_ical(open(sys.argv[1],'rb').read())\n\
          print('\\n'.join(sorted(str(e['UID'])+' '+e['DTSTART'].to_ical().decode() for e in c.walk('VEVENT'))))",
        ),
        (
            "vobject",
            "import vobject,sys\nc=vobject.readOne(open(sys.argv[1],newline='').read())\n\
          print('\\n'.join(sorted(e.uid.value+' '+e.dtstart.value.strftime('%Y%m%dT%H%M%SZ') for e in c.vevent_list)))",
        ),
    ] {
        let there = std::process::Command::new("python3")
            .args(["-c", &format!("import {module}")])
            .output();
        if !there.is_ok_and(|done| done.status.success()) {
            eprintln!("skipped: no python3 with {module}");
            continue;
        }
        let read = printed("python3", &["-c", script, out.to_str().unwrap()]).unwrap();
        let read: Vec<String> = String::from_utf8(read)
            .unwrap()
            .lines()
            .map(str::to_owned)
            .collect();
        assert_eq!(read, wanted, "{module}");
    }
}

#[test]
fn what_is_no_calendar_is_refused_with_a_sentence() {
    let desk = evening();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("cups.ics");
    desk.refuses(&format!("calendar|--out|{}|--alarm|soon", out.display()));
    assert!(!out.exists());
    desk.refuses(&format!(
        "calendar|--out|{}",
        folder.path().join("no/cups.ics").display()
    ));
    desk.refuses(&format!(
        "calendar|--out|{}|--replace",
        desk.file().display()
    ));
}

/// The file is waited for, however long it takes; the following ends with the test.
#[test]
fn a_followed_calendar_is_written_anew_at_each_change_and_is_whole_whenever_it_is_read() {
    let desk = Rehearsal::stocked();
    desk.does("mix|River blue|--volume|90ml|--mark|K7");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("cups.ics");
    let mut following = std::process::Command::new(env!("CARGO_BIN_EXE_stillcup"))
        .env_clear()
        .env("STILLCUP_STUDIO", desk.file())
        .env("STILLCUP_NOW", "2026-11-24T18:00:00+01:00")
        .args(["calendar", "--follow", "--out", file.to_str().unwrap()])
        .stdout(std::process::Stdio::null())
        .spawn()
        .unwrap();
    let until = |holds: &dyn Fn(&str) -> bool| loop {
        // Before the first writing there is none.
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        assert!(
            text.is_empty() || text.ends_with("END:VCALENDAR\r\n"),
            "{text}"
        );
        if holds(&text) {
            break text;
        }
        std::thread::yield_now();
    };
    let sequence = |text: &str| -> u64 {
        let line = text.lines().find_map(|line| line.strip_prefix("SEQUENCE:"));
        line.unwrap().parse().unwrap()
    };
    let first = until(&|text| text.contains("K7 clears"));
    desk.does("mix|River blue|--volume|90ml|--mark|A3");
    let second = until(&|text| text.contains("A3 clears"));
    assert!(second.contains("K7 clears") && sequence(&second) > sequence(&first));
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        1,
        "nothing is left beside it"
    );
    following.kill().unwrap();
    following.wait().unwrap();
}
