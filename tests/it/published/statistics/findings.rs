//! The sentence of a factor, its counts and its cut, on hand-made pours.

use stillcup::numbers::statistics::averaging::{Lack, Outcome};
use stillcup::numbers::statistics::findings::*;
use stillcup::studio::OutcomeKind;
use stillcup::tell;

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

/// One factor's finding, a pour a day.
fn found(name: &str, kind: FactorKind, rows: &[Observation]) -> Finding {
    let hours: Vec<f64> = (0..rows.len()).map(|at| at as f64 * 24.0).collect();
    let mut found = find(&[factor(name, kind)], rows, &hours, &Outcome::Good);
    found.factors.remove(0)
}

fn words(one: &Finding) -> String {
    tell::findings::factor(one, OutcomeKind::Good)
}

#[test]
fn too_little_is_said_in_words() {
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
        let found = found("rest", FactorKind::Number, &rows);
        assert_eq!(found.inclusion(), None, "{found:?}");
        let words = words(&found);
        assert!(
            words.starts_with("rest: ") && !words.contains("NaN"),
            "{words}"
        );
    }
}

#[test]
fn a_plain_factor_is_found_and_said_in_one_sentence() {
    // Dealt over the days by a stride that shares no factor with 28, so that time says nothing.
    let rows: Vec<Observation> = (0..28)
        .map(|day| (day * 11) % 28)
        .map(|i| row(i >= 14, FactorValue::Number(f64::from(i))))
        .collect();
    let words = words(&found("rest", FactorKind::Number, &rows));
    assert!(
        words
            .starts_with("rest: over 13 h 14 of 14 good, not over 13 h 0 of 14; 16 h more: about "),
        "{words}"
    );
    assert!(
        words.ends_with("over 99 in 100 that it matters."),
        "{words}"
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
    let words = words(&found("rest", FactorKind::Number, &rows));
    assert!(
        words.starts_with("rest: at 12 h 13 of 20 good, under 12 h 7 of 10; "),
        "{words}"
    );
}

#[test]
fn three_words_are_told_apart() {
    // 18, 10 and 2 of 20 good.
    let words = [("a", 18), ("b", 10), ("c", 2)];
    let rows: Vec<Observation> = (0..20)
        .flat_map(|i| words.map(|(w, good)| row((i * 7) % 20 < good, FactorValue::Word(w.into()))))
        .collect();
    let found = found("way", FactorKind::Word, &rows);
    assert!(
        found.inclusion().is_some_and(|chance| chance > 0.99),
        "{found:?}"
    );
    assert!(
        self::words(&found).contains("a instead of c"),
        "{}",
        self::words(&found)
    );
}

#[test]
fn one_way_of_pouring_a_pour_is_too_many_words() {
    let rows: Vec<Observation> = (0..30)
        .map(|i| row(i % 2 == 0, FactorValue::Word(format!("way {i}"))))
        .collect();
    let mut both = rows;
    for (at, one) in both.iter_mut().enumerate() {
        one.factors.push(FactorValue::Number(at as f64 % 5.0));
    }
    let hours: Vec<f64> = (0..30).map(|at| f64::from(at) * 24.0).collect();
    let factors = [
        factor("way", FactorKind::Word),
        factor("rest", FactorKind::Number),
    ];
    let found = find(&factors, &both, &hours, &Outcome::Good).factors;
    let way = found.iter().find(|one| one.name == "way").unwrap();
    assert_eq!(way.standing, Standing::LeftOut(Lack::Words));
}
