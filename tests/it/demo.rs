//! The demo and the starters, on real files: the same instant gives the same studio, and it looks like life.

use chrono::{DateTime, FixedOffset};
use std::collections::BTreeSet;
use stillcup::studio::{DemoSeeded, Refusal, Studio, StudioError, TimeWindow};
use stillcup::trade::act::Act;
use stillcup::trade::cup::Happened;
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::life::State;
use tempfile::TempDir;

fn at(text: &str) -> Now {
    let at: DateTime<FixedOffset> = DateTime::parse_from_rfc3339(text).unwrap();
    let zone = Zone::Fixed(*at.offset());
    Now { at, zone }
}

fn autumn() -> Now {
    at("2026-11-25T16:20:00+01:00")
}

struct Demo {
    _folder: TempDir,
    studio: Studio,
    told: DemoSeeded,
    now: Now,
}

fn demo(now: Now) -> Demo {
    let folder = tempfile::tempdir().unwrap();
    let mut studio = Studio::open(&folder.path().join("demo.db")).unwrap();
    let told = studio.seed_demo(&now).unwrap();
    Demo {
        _folder: folder,
        studio,
        told,
        now,
    }
}

/// All that a painter sees of it, as text; the store's own random names stay out.
fn seen(demo: &Demo) -> String {
    let Demo { studio, now, .. } = demo;
    let bench = studio.bench(now).unwrap();
    let findings = studio.findings(TimeWindow::default()).unwrap();
    let pours = studio.pours(None).unwrap();
    format!("{bench:?}\n{findings:?}\n{pours:?}\n{:?}", demo.told)
}

#[test]
fn the_same_instant_gives_the_same_studio() {
    assert!(seen(&demo(autumn())) == seen(&demo(autumn())));
}

#[test]
fn months_of_pours_are_behind_it_and_a_bench_in_full_life_before_it() {
    let demo = demo(autumn());
    let (studio, now) = (&demo.studio, &demo.now);
    assert!(studio.settings().unwrap().examples);
    assert!((150..=250).contains(&demo.told.cups), "{:?}", demo.told);
    assert!((60..=90).contains(&demo.told.judged), "{:?}", demo.told);
    assert!(demo.told.pours > demo.told.judged, "start-overs are usual");

    let bench = studio.bench(now).unwrap();
    let states: Vec<State> = bench.iter().map(|one| one.state).collect();
    let count = |state| states.iter().filter(|one| **one == state).count();
    assert_eq!(count(State::Resting), 2);
    assert_eq!(count(State::Look), 1);
    assert_eq!(count(State::Thick), 1);
    assert_eq!(count(State::Thin), 1);
    assert!(
        count(State::Ready) >= 4,
        "base, colour, activator, medium: {states:?}"
    );

    let findings = studio.findings(TimeWindow::default()).unwrap();
    let share = findings.good as f64 / findings.pours as f64;
    assert!((0.3..0.75).contains(&share), "{share}");
    assert!(findings.variants.iter().any(|one| one.variant > 1));
    let pours = studio.pours(None).unwrap();
    let goes = pours.iter().filter(|page| page.scraped_for.is_none());
    let goes: Vec<i64> = goes.map(|page| page.pour.go).collect();
    let mean = goes.iter().sum::<i64>() as f64 / goes.len() as f64;
    assert!(
        (1.4..3.0).contains(&mean),
        "two or three starts are usual: {mean}"
    );
    let unready = pours
        .iter()
        .flat_map(|page| &page.pour.layers)
        .filter(|layer| layer.state != State::Ready);
    assert!(unready.count() > 5, "life is not always by the book");

    for line in studio.shelf(now).unwrap() {
        let left = line.left.map_or(0.0, |left| left.get());
        assert!(left >= 0.0, "{} {left}", line.material.name);
    }
    let history = studio.history(10_000).unwrap();
    assert!(
        history
            .windows(2)
            .all(|pair| pair[0].at.at_ms >= pair[1].at.at_ms)
    );
}

#[test]
fn its_last_deeds_can_be_taken_back() {
    let mut demo = demo(at("2027-03-28T01:15:00-07:00"));
    let living = demo.studio.bench(&demo.now).unwrap().len();
    let undone = demo.studio.undo(&demo.now).unwrap();
    assert!(matches!(
        undone.act,
        Some(Act::Mixed { .. } | Act::Tended { .. })
    ));
    for _ in 0..40 {
        demo.studio.undo(&demo.now).unwrap();
    }
    assert!(demo.studio.bench(&demo.now).unwrap().len() < living);
    for _ in 0..41 {
        demo.studio.redo(&demo.now).unwrap();
    }
    assert_eq!(demo.studio.bench(&demo.now).unwrap().len(), living);
}

#[test]
fn another_day_and_a_named_zone_do_as_well_and_nothing_lies_after_now_or_before_its_cup() {
    let named = Zone::Named(chrono_tz::Tz::Europe__Berlin);
    let spring = at("2027-04-02T03:30:00+02:00");
    let demo = demo(Now {
        zone: named,
        ..spring
    });
    assert!((60..=90).contains(&demo.told.judged), "{:?}", demo.told);
    let states: BTreeSet<State> = demo
        .studio
        .bench(&demo.now)
        .unwrap()
        .iter()
        .map(|one| one.state)
        .collect();
    let all = [
        State::Look,
        State::Thick,
        State::Thin,
        State::Ready,
        State::Resting,
    ];
    assert_eq!(states, BTreeSet::from(all));
    for standing in demo.studio.bench(&demo.now).unwrap() {
        let page = demo.studio.cup_page(standing.cup.mark.as_str(), &demo.now);
        let page = page.unwrap();
        assert!(matches!(page.entries[0].what, Happened::Mixed { .. }));
        let mixed = page.standing.cup.mixed_at;
        let times = page.entries.iter().map(|entry| entry.at);
        assert!(times.clone().all(|at| mixed <= at && at <= demo.now.at));
        assert!(!page.standing.life.clock_went_back);
    }
}

#[test]
fn a_studio_that_is_not_empty_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let mut studio = Studio::open(&folder.path().join("own.db")).unwrap();
    studio.seed_starters(&autumn()).unwrap();
    let before = studio.history(100).unwrap().len();
    let refused = studio.seed_demo(&autumn()).unwrap_err();
    assert!(matches!(
        refused,
        StudioError::Refused(Refusal::DemoNotHere)
    ));
    assert_eq!(studio.history(100).unwrap().len(), before);
    assert_eq!(before, 1);
}
