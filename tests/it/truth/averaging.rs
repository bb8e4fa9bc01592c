//! What goes with good pours: how often a factor that does nothing is said, and one that does is found.

use super::shapes::{REAL, SHADOW, Shape, Studio};
use super::{Claim, Measured, Seeds};
use stillcup::numbers::statistics::averaging::{Averaged, Belief, Outcome};

/// The rows of this file.
pub fn claims() -> Vec<Claim> {
    let shapes = [
        ("null", Shape::Null),
        ("sessions that differ by 1.0", Shape::Sessions(1.0)),
        ("a trend of 3 log-odds", Shape::Trend(3.0)),
        ("seasons", Shape::Season),
        ("one jump", Shape::Jump),
        ("air written down by the outcome", Shape::MissingAir),
        ("air hidden on warm bad days", Shape::HiddenAir),
    ];
    let mut claims = Vec::new();
    for (name, shape) in shapes {
        for pours in [60, 200] {
            claims.extend(alarms(name, shape, pours));
        }
    }
    claims.extend(powers());
    claims
}

fn alarms(name: &str, shape: Shape, pours: usize) -> [Claim; 2] {
    let title =
        |outcome| format!("averaging, {name}, {pours} pours: something is said, by {outcome}");
    [
        Claim::new(title("good"), 0.0..=0.10, (0, 400), move |seeds| {
            share(seeds, shape, pours, &Outcome::Good, any)
        }),
        Claim::new(title("cells"), 0.0..=0.10, (8, 400), move |seeds| {
            share(seeds, shape, pours, &Outcome::Score, any)
        }),
    ]
}

fn powers() -> Vec<Claim> {
    let row = |name: &str, wanted, shape, of: fn(&Averaged) -> bool| {
        let name = format!("averaging, 200 pours: {name}");
        Claim::new(name, wanted, (0, 400), move |seeds| {
            share(seeds, shape, 200, &Outcome::Good, of)
        })
    };
    vec![
        row("odds 3 is found", 0.7..=1.0, Shape::Odds(3.0), real),
        row(
            "odds 3, something else is said",
            0.0..=0.1,
            Shape::Odds(3.0),
            wrong,
        ),
        row(
            "odds 5 is found beside a shadow of .7",
            0.9..=1.0,
            Shape::Confounded(5.0, 0.7),
            real,
        ),
        row(
            "odds 5, its shadow of .7 is said",
            0.0..=0.1,
            Shape::Confounded(5.0, 0.7),
            shadow,
        ),
        row(
            "95 % interval of odds 3",
            0.92..=1.0,
            Shape::Odds(3.0),
            |all| held(all, 3.0),
        ),
        row(
            "95 % interval of the first of nothing",
            0.95..=1.0,
            Shape::Null,
            first_holds_none,
        ),
    ]
}

fn share(
    seeds: Seeds,
    shape: Shape,
    pours: usize,
    outcome: &Outcome,
    of: fn(&Averaged) -> bool,
) -> Measured {
    let hit = |seed: &u64| {
        let studio = Studio::new(shape, pours, *seed);
        studio.average(outcome).is_ok_and(|all| of(&all))
    };
    Measured::share(seeds.each().filter(hit).count(), seeds.count)
}

fn said(all: &Averaged) -> impl Iterator<Item = usize> {
    let said = all.beliefs.iter().filter(|one| one.is_said());
    said.flat_map(|one| one.places.clone())
}

fn any(all: &Averaged) -> bool {
    said(all).next().is_some()
}

fn real(all: &Averaged) -> bool {
    said(all).any(|place| place == REAL)
}

fn shadow(all: &Averaged) -> bool {
    said(all).any(|place| place == SHADOW)
}

fn wrong(all: &Averaged) -> bool {
    said(all).any(|place| place != REAL)
}

fn held(all: &Averaged, odds: f64) -> bool {
    let own = |one: &&Belief| one.places.contains(&REAL);
    let own = all.beliefs.iter().find(own);
    own.is_some_and(|one| one.effect.interval.holds(odds))
}

fn first_holds_none(all: &Averaged) -> bool {
    all.beliefs
        .first()
        .is_some_and(|one| one.effect.interval.holds(1.0))
}
