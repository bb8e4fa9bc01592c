//! The findings hold what they claim on studios where nothing matters, and stay honest on too little.

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use stillcup::numbers::statistics::drift::{Poured, drift};
use stillcup::numbers::statistics::findings::*;
use stillcup::numbers::statistics::joint::joint;
use stillcup::numbers::statistics::pair::pair;

fn factor(name: &str, kind: FactorKind) -> Factor {
    Factor {
        name: name.into(),
        kind,
        unit: "h".into(),
        step: 1.0,
    }
}

fn row(good: bool, value: FactorValue) -> Observation {
    Observation {
        good,
        cells: 0,
        factors: vec![value],
    }
}

#[test]
fn null_studios_seldom_alarm() {
    // Benjamini and Hochberg: with no true factor, the chance of any q under 0.1 is at most 0.1.
    let factors: Vec<Factor> = (0..6)
        .map(|i| {
            factor(
                "f",
                if i < 4 {
                    FactorKind::Number
                } else {
                    FactorKind::Word
                },
            )
        })
        .collect();
    let mut rng = ChaCha8Rng::seed_from_u64(20);
    let mut alarms = 0.0;
    for _ in 0..500 {
        let rows: Vec<Observation> = (0..30)
            .map(|_| Observation {
                good: rng.random_bool(0.5),
                cells: 0,
                factors: (0..6)
                    .map(|i| match i {
                        0..4 => FactorValue::Number(rng.random_range(0.0..20.0)),
                        _ => FactorValue::Word(if rng.random_bool(0.5) { "a" } else { "b" }.into()),
                    })
                    .collect(),
            })
            .collect();
        alarms += f64::from(u8::from(
            find(&factors, &rows)
                .iter()
                .any(|f| f.q.is_some_and(|q| q < 0.1)),
        ));
    }
    let slack = 3.0 * (0.1f64 * 0.9 / 500.0).sqrt();
    assert!(alarms / 500.0 <= 0.1 + slack, "{alarms} of 500");
}

#[test]
fn too_little_is_said_in_words() {
    let rest = [factor("rest", FactorKind::Number)];
    let number = |good, v| row(good, FactorValue::Number(v));
    let cases = [
        vec![],
        vec![number(true, 1.0)],
        vec![number(true, 1.0), number(false, 2.0)],
        (0..20).map(|i| number(true, f64::from(i))).collect(),
        (0..20).map(|i| number(false, f64::from(i))).collect(),
        (0..20).map(|i| number(i % 2 == 0, 5.0)).collect(),
        (0..20).map(|i| number(i % 2 == 0, f64::NAN)).collect(),
    ];
    for rows in cases {
        let found = &find(&rest, &rows)[0];
        assert_eq!(
            (found.p, found.q, found.effect),
            (None, None, None),
            "{}",
            found.words
        );
        assert!(found.words.starts_with("rest: ") && !found.words.contains("NaN"));
    }
}

#[test]
fn a_plain_factor_is_found_and_said() {
    let rows: Vec<Observation> = (0..28)
        .map(|i| row(i >= 14, FactorValue::Number(f64::from(i))))
        .collect();
    let found = &find(&[factor("rest", FactorKind::Number)], &rows)[0];
    assert_eq!(
        found.words,
        "rest over 13 h: 14 of 14 good; not over 13 h: 0 of 14 (q under 0.01). Found by looking, not by a trial."
    );
}

#[test]
fn nothing_found_is_said_by_how_many() {
    let rows = |n: u32| -> Vec<Observation> {
        (0..n)
            .map(|i| row(i % 2 == 0, FactorValue::Number(f64::from(i / 2))))
            .collect()
    };
    let rest = [factor("rest", FactorKind::Number)];
    let words = |n| find(&rest, &rows(n))[0].words.clone();
    assert!(
        words(18).ends_with("Too early to tell from 18 pours."),
        "{}",
        words(18)
    );
    assert!(
        words(20).ends_with("No sign of it in 20 pours."),
        "{}",
        words(20)
    );
}

#[test]
fn a_cut_at_the_highest_value_has_two_sides() {
    // Most pours rested the longest: nothing lies over the median, so the cut is at it.
    let rows: Vec<Observation> = (0..30)
        .map(|i| {
            let rest = if i < 20 { 12.0 } else { 4.0 };
            row(i % 3 != 0, FactorValue::Number(rest))
        })
        .collect();
    let found = &find(&[factor("rest", FactorKind::Number)], &rows)[0];
    assert!(
        found
            .words
            .starts_with("rest at 12 h: 13 of 20 good; under 12 h: 7 of 10 (q "),
        "{}",
        found.words
    );
    assert!(found.effect.is_some());
}

#[test]
fn three_words_are_told_apart() {
    // By hand: 18, 10 and 2 of 20 good; chi-square 25.6 at 2 degrees of freedom, p = exp(-12.8).
    let rows: Vec<Observation> = [("a", 18), ("b", 10), ("c", 2)]
        .iter()
        .flat_map(|(w, good)| (0..20).map(move |i| row(i < *good, FactorValue::Word((*w).into()))))
        .collect();
    let found = &find(&[factor("way", FactorKind::Word)], &rows)[0];
    assert!((found.p.unwrap() / (-12.8f64).exp() - 1.0).abs() < 1e-9);
    // The same too rare for chi-square: dealt anew, never under one in two thousand.
    let few: Vec<Observation> = [("a", 6), ("b", 3), ("c", 0)]
        .iter()
        .flat_map(|(w, good)| (0..6).map(move |i| row(i < *good, FactorValue::Word((*w).into()))))
        .collect();
    let p = find(&[factor("way", FactorKind::Word)], &few)[0].p.unwrap();
    assert!((0.0005..0.01).contains(&p), "{p}");
}

#[test]
fn ten_thousand_rows_of_words() {
    let rows: Vec<Observation> = (0..10_000)
        .map(|i| row(i % 2 == 0, FactorValue::Word(["a", "b", "c"][i % 3].into())))
        .collect();
    let found = &find(&[factor("way", FactorKind::Word)], &rows)[0];
    assert!(found.q.is_some_and(|q| q > 0.1), "{}", found.words);
}

#[test]
fn ten_thousand_pours_are_looked_at_whole() {
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    let rows: Vec<Observation> = (0..10_000)
        .map(|i| {
            let damp = rng.random_range(40.0..70.0);
            let rare = if i % 4999 == 0 { "wave" } else { "swipe" };
            Observation {
                good: rng.random_bool(if damp < 55.0 { 0.6 } else { 0.4 }),
                cells: 3,
                factors: vec![
                    FactorValue::Number(damp),
                    FactorValue::Word(if i % 3 == 0 { "flip" } else { rare }.into()),
                ],
            }
        })
        .collect();
    let factors = [
        factor("humidity", FactorKind::Number),
        factor("way", FactorKind::Word),
    ];
    let found = find(&factors, &rows);
    assert!(found[0].is_sign(), "{}", found[0].words);
    // Two or three of a rare word: dealt anew, for chi-square would not hold.
    assert!(found[1].q.is_some_and(|q| q > 0.001), "{}", found[1].words);
    let joint = joint(&factors, &rows, &found).unwrap();
    assert_eq!(joint.fitted.method, "firth", "{:?}", joint.words);
    let term = &joint.fitted.terms[0];
    assert!(term.odds_ratio < 0.6 && term.interval.high < 1.0 && term.interval.low > 0.3);
    let good: Vec<bool> = rows.iter().map(|row| row.good).collect();
    let table = pair(
        ["humidity", "way"],
        [&found[0].sides, &found[1].sides],
        &good,
    );
    assert_eq!((table.pours(), table.lacking), (10_000, 0));
    let pours: Vec<Poured> = rows
        .iter()
        .enumerate()
        .map(|(i, row)| Poured {
            unit: i as i64 / 700,
            good: row.good,
            cells: if row.good { 4 } else { 1 },
        })
        .collect();
    let drift = drift(&pours);
    assert_eq!(drift.periods.len(), 15);
    assert!(drift.trend.is_some_and(|trend| trend.p > 0.001));
}
