//! The findings hold what they claim on studios where nothing matters, and stay honest on too little.

use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use stillcup::numbers::statistics::findings::*;

fn factor(name: &str, kind: FactorKind) -> Factor {
    Factor {
        name: name.into(),
        kind,
        unit: "h".into(),
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
        "rest over 13 h: 14 of 14 good; not over: 0 of 14 (q under 0.01). Found by looking, not by a trial."
    );
}

#[test]
fn ten_thousand_rows_of_words() {
    let rows: Vec<Observation> = (0..10_000)
        .map(|i| row(i % 2 == 0, FactorValue::Word(["a", "b", "c"][i % 3].into())))
        .collect();
    let found = &find(&[factor("way", FactorKind::Word)], &rows)[0];
    assert!(found.q.is_some_and(|q| q > 0.1), "{}", found.words);
}
