//! Too little, too alike, too much: an honest sentence on every factor, no p for nothing, nothing that is no number.

use super::studios::{factors, studio};
use stillcup::numbers::statistics::averaging::Outcome;
use stillcup::numbers::statistics::beta_binomial::standings;
use stillcup::numbers::statistics::choice::{Belief, chance_of_best};
use stillcup::numbers::statistics::findings::*;
use stillcup::numbers::statistics::proportion::Tally;
use stillcup::studio::OutcomeKind;
use stillcup::tell::findings::factor;

/// Weighs every factor; fails on anything that is no number, or no sentence. How many were weighed.
#[track_caller]
fn looked(rows: &[Observation]) -> usize {
    let found = found(rows);
    assert_eq!(found.len(), factors().len());
    for one in &found {
        sentence(&factor(one, OutcomeKind::Good));
        let Standing::Weighed {
            inclusion, effect, ..
        } = &one.standing
        else {
            continue;
        };
        let range = effect.interval;
        assert!((0.0..=1.0).contains(inclusion), "{one:?}");
        assert!(
            effect.value.is_finite() && effect.strength.abs() <= 1.0,
            "{one:?}"
        );
        assert!(range.low.is_finite() && range.high.is_finite(), "{one:?}");
        assert!(
            range.low <= effect.value && effect.value <= range.high,
            "{one:?}"
        );
    }
    found.iter().filter(|one| one.inclusion().is_some()).count()
}

/// In the order of the factors.
fn found(rows: &[Observation]) -> Vec<Finding> {
    let hours: Vec<f64> = (0..rows.len()).map(|at| at as f64 * 24.0).collect();
    let mut found = find(&factors(), rows, &hours, &Outcome::Good).factors;
    found.sort_by_key(|one| place(&one.name));
    found
}

#[track_caller]
fn sentence(words: &str) {
    assert!(words.ends_with('.'), "{words}");
    assert!(!words.contains("NaN") && !words.contains("inf "), "{words}");
}

fn place(name: &str) -> usize {
    factors().iter().position(|f| f.name == name).unwrap()
}

fn weighed(rows: &[Observation]) -> Vec<usize> {
    let found = found(rows);
    let stands = |at: &usize| matches!(found[*at].standing, Standing::Weighed { .. });
    (0..found.len()).filter(stands).collect()
}

fn words(rows: &[Observation], name: &str) -> String {
    factor(&found(rows)[place(name)], OutcomeKind::Good)
}

#[test]
fn from_one_pour_or_none_nothing_is_told() {
    assert_eq!(looked(&[]), 0);
    assert_eq!(
        words(&[], "rest"),
        "rest: too early to tell from 0 pours; 20 are needed."
    );
    for pours in 1..6 {
        assert_eq!(looked(&studio(pours, 8.0, 1)), 0, "{pours} pours");
    }
}

#[test]
fn where_all_came_out_alike_nothing_is_told() {
    for good in [true, false] {
        let mut rows = studio(60, 8.0, 2);
        rows.iter_mut().for_each(|row| row.good = good);
        assert_eq!(looked(&rows), 0);
        let all = if good {
            "every pour was good"
        } else {
            "no pour was good"
        };
        assert!(words(&rows, "rest").contains(all));
    }
}

#[test]
fn what_is_the_same_on_every_pour_is_said_to_be() {
    let mut rows = studio(60, 8.0, 3);
    let first = rows[0].factors.clone();
    let before = weighed(&rows);
    let same = ["rest", "technique"].map(place);
    for name in ["rest", "technique"] {
        let at = place(name);
        rows.iter_mut()
            .for_each(|row| row.factors[at] = first[at].clone());
        assert!(words(&rows, name).ends_with("the same on every pour, so it cannot be told."));
    }
    // What was their twin may be weighed for itself now; nothing else is lost.
    let after = weighed(&rows);
    assert!(same.iter().all(|one| !after.contains(one)));
    let others = before.iter().filter(|one| !same.contains(one));
    assert!(
        others.clone().all(|one| after.contains(one)),
        "{before:?} {after:?}"
    );
}

#[test]
fn a_factor_that_is_another_is_told_alike_and_fitted_once() {
    let mut rows = studio(60, 8.0, 4);
    let (rest, age) = (place("rest"), place("age of the oldest cup"));
    rows.iter_mut()
        .for_each(|row| row.factors[age] = row.factors[rest].clone());
    looked(&rows);
    let (lead, other) = (words(&rows, "rest"), words(&rows, "age of the oldest cup"));
    assert!(
        lead.contains("rest, or age") || other.contains("cup, or rest"),
        "{lead} {other}"
    );
    assert!(lead.contains("they are one") || other.contains("they are one"));
}

#[test]
fn one_pour_of_each_technique_tells_nothing_of_techniques() {
    let mut rows = studio(60, 8.0, 5);
    let at = place("technique");
    (0..60).for_each(|i| rows[i].factors[at] = FactorValue::Word(format!("way {i}")));
    looked(&rows);
    assert_eq!(
        words(&rows, "technique"),
        "technique: too many different words for so few pours."
    );
}

#[test]
fn no_variant_none_poured_and_very_many_pours_have_a_standing() {
    assert!(standings(&[]).is_empty());
    let tallies = [
        (0, 0),
        (0, 1),
        (1, 1),
        (0, 5000),
        (5000, 5000),
        (4999, 5000),
    ]
    .map(|(g, n)| Tally::new(g, n));
    for of in [&tallies[..1], &tallies[..3], &tallies] {
        for standing in standings(of) {
            let in_order =
                standing.low10 <= standing.mean + 1e-4 && standing.mean <= standing.high90 + 1e-4;
            assert!(
                in_order && (0.0..=1.0).contains(&standing.mean),
                "{standing:?}"
            );
        }
        let beliefs: Vec<Belief> = of.iter().map(|t| Belief::after(*t)).collect();
        assert!((chance_of_best(&beliefs).iter().sum::<f64>() - 1.0).abs() < 1e-6);
    }
}
