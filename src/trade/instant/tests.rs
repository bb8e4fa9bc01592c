//! Checks of the words for instants.

use super::*;
use proptest::prelude::*;

fn at(text: &str) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339(text).unwrap()
}

/// A Wednesday, in winter.
fn now() -> Now {
    now_at("2026-11-25T10:00:00+01:00")
}

fn now_at(text: &str) -> Now {
    Now {
        at: at(text),
        zone: Zone::Named(chrono_tz::Europe::Berlin),
    }
}

fn read(text: &str, lean: Lean) -> String {
    match parse_instant(text, &now(), lean) {
        Ok(at) => at.to_rfc3339(),
        Err(problem) => format!("{:?}", problem.why),
    }
}

#[test]
fn what_is_said_outright_leans_nowhere() {
    let table = [
        ("2026-11-24T18:30:00Z", "2026-11-24T18:30:00+00:00"),
        ("2026-11-24T18:30:00-05:00", "2026-11-24T18:30:00-05:00"),
        ("2026-12-31T23:59:60Z", "2026-12-31T23:59:59+00:00"),
        ("2026-11-24 18:30", "2026-11-24T18:30:00+01:00"),
        ("2026-11-24T18:30", "2026-11-24T18:30:00+01:00"),
        ("2026-07-24 18:30:15", "2026-07-24T18:30:15+02:00"),
        ("2027-01-02 6:30pm", "2027-01-02T18:30:00+01:00"),
        ("now", "2026-11-25T10:00:00+01:00"),
        ("NOW", "2026-11-25T10:00:00+01:00"),
        ("today 9:00", "2026-11-25T09:00:00+01:00"),
        ("today 23:00", "2026-11-25T23:00:00+01:00"),
        ("yesterday 18:30", "2026-11-24T18:30:00+01:00"),
        ("Yesterday at 6:30 PM", "2026-11-24T18:30:00+01:00"),
        ("tomorrow, 10:00", "2026-11-26T10:00:00+01:00"),
        ("24 nov 2025 18:30", "2025-11-24T18:30:00+01:00"),
        ("November 24, 2025 6pm", "2025-11-24T18:00:00+01:00"),
        ("2h ago", "2026-11-25T08:00:00+01:00"),
        ("90m ago", "2026-11-25T08:30:00+01:00"),
        ("1,5 h ago", "2026-11-25T08:30:00+01:00"),
        ("in 3h", "2026-11-25T13:00:00+01:00"),
        ("40 days ago", "2026-10-16T11:00:00+02:00"),
    ];
    for (said, wanted) in table {
        assert_eq!(read(said, Lean::Past), wanted, "{said}");
        assert_eq!(read(said, Lean::Future), wanted, "{said}");
    }
}

/// Said at 10:00 on Wednesday, 25 November 2026.
#[test]
fn what_is_left_open_leans() {
    let table = [
        ("9:59", "2026-11-25T09:59:00", "2026-11-26T09:59:00"),
        ("10:00", "2026-11-25T10:00:00", "2026-11-25T10:00:00"),
        ("16:01", "2026-11-24T16:01:00", "2026-11-25T16:01:00"),
        ("18:30", "2026-11-24T18:30:00", "2026-11-25T18:30:00"),
        ("6:30pm", "2026-11-24T18:30:00", "2026-11-25T18:30:00"),
        ("12am", "2026-11-25T00:00:00", "2026-11-26T00:00:00"),
        ("5:15 pm", "2026-11-24T17:15:00", "2026-11-25T17:15:00"),
        ("friday 18:30", "2026-11-20T18:30:00", "2026-11-27T18:30:00"),
        ("Fri 18:30", "2026-11-20T18:30:00", "2026-11-27T18:30:00"),
        (
            "wednesday 9:00",
            "2026-11-25T09:00:00",
            "2026-12-02T09:00:00",
        ),
        ("wed 17:00", "2026-11-18T17:00:00", "2026-11-25T17:00:00"),
        ("24 nov 18:30", "2026-11-24T18:30:00", "2027-11-24T18:30:00"),
        ("nov 26 18:30", "2025-11-26T18:30:00", "2026-11-26T18:30:00"),
        ("29 feb 12:00", "2024-02-29T12:00:00", "2028-02-29T12:00:00"),
    ];
    for (said, past, future) in table {
        assert_eq!(read(said, Lean::Past), format!("{past}+01:00"), "{said}");
        assert_eq!(
            read(said, Lean::Future),
            format!("{future}+01:00"),
            "{said}"
        );
    }
}

// A slip that lies a little ahead is no time of yesterday, of last week or of last year.
#[test]
fn a_time_that_is_about_to_come_is_not_taken_for_the_day_before() {
    let table = [
        ("10:01", "2026-11-24T10:01:00+01:00", true),
        ("12:15 pm", "2026-11-24T12:15:00+01:00", true),
        ("16:00", "2026-11-24T16:00:00+01:00", true),
        ("wed 11:00", "2026-11-18T11:00:00+01:00", false),
        ("25 nov 11:00", "2025-11-25T11:00:00+01:00", false),
    ];
    for (said, last, yesterday) in table {
        let problem = parse_instant(said, &now(), Lean::Past).unwrap_err();
        let last = at(last);
        assert_eq!(
            problem.why,
            Misread::StillToCome { last, yesterday },
            "{said}"
        );
    }
    // After midnight last evening is meant, though not said.
    let night = now_at("2026-11-25T01:00:00+01:00");
    let late = parse_instant("23:50", &night, Lean::Past).unwrap();
    assert_eq!(late.to_rfc3339(), "2026-11-24T23:50:00+01:00");
}

#[test]
fn what_is_no_instant_is_refused_with_its_reason() {
    let table = [
        ("", Misread::Empty),
        ("soon", Misread::NotOne),
        ("18", Misread::NotOne),
        ("18:60", Misread::NotOne),
        ("24:00", Misread::NotOne),
        ("13pm", Misread::NotOne),
        ("0:30am", Misread::NotOne),
        ("-1:30", Misread::NotOne),
        ("friday", Misread::NoTimeOfDay),
        ("2026-11-24", Misread::NoTimeOfDay),
        ("24 nov", Misread::NoTimeOfDay),
        ("someday 18:30", Misread::UnknownDay),
        ("2026-02-30 18:30", Misread::UnknownDay),
        ("24/11/2026 18:30", Misread::UnknownDay),
        ("30 feb 18:30", Misread::NoSuchDay),
        ("31 nov 18:30", Misread::NoSuchDay),
        ("0026-11-24 18:30", Misread::OutOfRange),
        ("2h30 ago ago", Misread::UnknownUnit("ago".to_owned())),
        ("5 ago", Misread::NoUnit),
        ("in 11 years", Misread::MonthsOrYears),
        ("in", Misread::Empty),
    ];
    for (said, why) in table {
        let problem = parse_instant(said, &now(), Lean::Past).unwrap_err();
        assert_eq!(problem.why, why, "{said}");
    }
}

/// The clock goes from 02:00 to 03:00 on 29 March 2026, and from 03:00 to 02:00 on 25 October
/// (Directive 2000/84/EC).
#[test]
fn a_skipped_time_is_refused_and_the_earlier_of_two_is_meant() {
    let spring = now_at("2026-03-29T10:00:00+02:00");
    for said in [
        "2:30",
        "today 2:30",
        "2026-03-29 02:30",
        "sunday 2:30",
        "29 mar 2:30",
    ] {
        let problem = parse_instant(said, &spring, Lean::Past).unwrap_err();
        assert_eq!(problem.why, Misread::SkippedHour, "{said}");
    }
    let before = now_at("2026-03-29T01:30:00+01:00");
    assert_eq!(
        parse_instant("2:30", &before, Lean::Past).unwrap(),
        at("2026-03-28T02:30:00+01:00")
    );
    assert!(parse_instant("2:30", &before, Lean::Future).is_err());
    let earlier = at("2026-10-25T02:30:00+02:00");
    for second_pass in ["2026-10-25T02:10:00+01:00", "2026-10-25T10:00:00+01:00"] {
        let now = now_at(second_pass);
        assert_eq!(parse_instant("2:30", &now, Lean::Past).unwrap(), earlier);
        assert_eq!(
            parse_instant("today 2:30", &now, Lean::Past).unwrap(),
            earlier
        );
    }
}

#[test]
fn days_and_months_run_to_the_next() {
    let zone = now().zone;
    let (start, end) = parse_month("2026-10", zone).unwrap();
    assert_eq!(start, at("2026-10-01T00:00:00+02:00"));
    assert_eq!(end, at("2026-11-01T00:00:00+01:00"));
    let (start, end) = parse_month("2026-12", zone).unwrap();
    assert_eq!((end - start).num_days(), 31);
    // March 2026 has the hour less that the clock is put forward over.
    let (start, end) = parse_month("2026-03", zone).unwrap();
    assert_eq!(end - start, TimeDelta::hours(31 * 24 - 1));
    assert_eq!(
        parse_date(" 2024-02-29 ").unwrap(),
        NaiveDate::from_ymd_opt(2024, 2, 29).unwrap()
    );
    for said in [
        "", "2026-13", "2026", "26-10", "2026-1", "+026-10", "0026-10",
    ] {
        assert!(parse_month(said, zone).is_err(), "{said}");
    }
    for said in [
        "",
        "2026-02-29",
        "2026-11",
        "24.11.2026",
        "2026-1-1",
        "2200-01-01",
    ] {
        assert!(parse_date(said).is_err(), "{said}");
    }
}

fn any_now() -> impl Strategy<Value = Now> {
    // 1990 to 2060.
    let at = (631_152_000..2_840_140_800_i64).prop_map(|s| DateTime::from_timestamp(s, 0).unwrap());
    let zone = prop_oneof![
        Just(Zone::Named(chrono_tz::Europe::Berlin)),
        Just(Zone::Named(chrono_tz::Australia::Lord_Howe)),
        Just(Zone::Named(chrono_tz::Pacific::Apia)),
        // RFC 3339 tells offsets in whole minutes.
        (-840..=840).prop_map(|m| Zone::Fixed(FixedOffset::east_opt(m * 60).unwrap())),
    ];
    (at, zone).prop_map(|(at, zone)| Now {
        at: zone.tell(at),
        zone,
    })
}

proptest! {
    #[test]
    fn no_text_panics(
        text in any::<String>(),
        like in "(fri |24 nov |today |in |2026-0[0-9]-[0-3][0-9][T ])?[0-9]{0,2}:?[0-9]{0,3}( ?pm| ago|h)?",
        now in any_now(),
    ) {
        let long = text.repeat(1 + 1_000_000 / (1 + text.len()));
        for said in [&text, &like, &long] {
            for lean in [Lean::Past, Lean::Future] {
                let _ = parse_instant(said, &now, lean);
            }
            let _ = parse_date(said);
            let _ = parse_month(said, now.zone);
        }
    }

    #[test]
    fn rfc_3339_reads_back_the_same(now in any_now()) {
        let back = parse_instant(&now.at.to_rfc3339(), &now, Lean::Past).unwrap();
        prop_assert_eq!((back, back.offset()), (now.at, now.at.offset()));
    }

    /// Between one 18:30 and the next lie 23 to 25 hours, where a clock changes in between.
    #[test]
    fn a_time_alone_is_the_last_or_next(now in any_now(), hour in 4..24_u32, minute in 0..60_u32) {
        let said = format!("{hour}:{minute:02}");
        if let Ok(at) = parse_instant(&said, &now, Lean::Past) {
            prop_assert!(at <= now.at && now.at - at <= TimeDelta::hours(25), "{at} {:?}", now);
        }
        if let Ok(at) = parse_instant(&said, &now, Lean::Future) {
            prop_assert!(at >= now.at && at - now.at <= TimeDelta::hours(25), "{at} {:?}", now);
        }
    }
}

#[test]
fn the_calendars_ends_do_not_panic() {
    for edge in [
        DateTime::<chrono::Utc>::MIN_UTC,
        DateTime::<chrono::Utc>::MAX_UTC,
    ] {
        for seconds in [-80_000, 0, 80_000] {
            let zone = Zone::Fixed(FixedOffset::east_opt(seconds).unwrap());
            let now = Now {
                at: edge.fixed_offset(),
                zone,
            };
            for said in [
                "18:30",
                "now",
                "yesterday 1:00",
                "tomorrow 1:00",
                "2h ago",
                "in 9d",
            ] {
                assert!(parse_instant(said, &now, Lean::Past).is_err());
                assert!(parse_instant(said, &now, Lean::Future).is_err());
            }
        }
    }
}
