//! Times and mounds that no studio has, out of a file: what is asked of them is answered or refused, and nothing ends.

use super::{Place, empty, now, out, small, take};
use chrono::TimeDelta;
use stillcup::studio::{PlanOrder, RecipeOrder, Studio, TargetsOrder, TimeWindow};
use stillcup::tell::{self, Face};
use stillcup::trade::ids::{CupId, RecipeId};
use stillcup::trade::panel::Panel;
use stillcup::trade::plan::Panels;
use stillcup::trade::range::Window;
use stillcup::trade::units::{Millimetres, Seconds};

/// Asks all that adds to instants.
fn asked(studio: &Studio) {
    let recipes = studio.recipes().unwrap().into_iter();
    let order = PlanOrder {
        panels: Panels {
            panel: Panel::parse("40x50cm").unwrap(),
            count: 1,
            edge: Millimetres::ZERO,
        },
        way: None,
        pour_at: None,
        film: Some(Millimetres(1.8)),
        recipes: recipes.map(|page| RecipeId(page.recipe.id)).collect(),
        holds: None,
        note: None,
        fresh: false,
    };
    let planned = studio.plan(&order, &now(20_000)).unwrap();
    assert!(planned.pour_at > now(20_000).at);
    let bench = studio.bench(&now(20_000)).unwrap();
    let cups = bench.iter().map(|cup| CupId(cup.cup.id));
    let _ = studio.stack(&cups.collect::<Vec<_>>(), &[], &now(20_000));
    let _ = studio.findings(TimeWindow::default());
    let _ = studio.rack(&now(20_000));
    for page in studio.plans().unwrap() {
        let _ = studio.kept_sheet(page.plan.id, &now(20_000));
    }
}

/// A studio whose cups aim at such a mound, and rest and are looked at again after such a time.
fn far(high: f64, wait: TimeDelta) -> Place {
    let mut place = small();
    let targets = TargetsOrder {
        window: Some(Window {
            low: Seconds(2.0),
            high: Seconds(high),
        }),
        rest: Some(wait),
        recheck_after: Some(wait),
        ..TargetsOrder::default()
    };
    let order = RecipeOrder {
        targets,
        ..RecipeOrder::default()
    };
    let names = place.studio.recipes().unwrap().into_iter();
    for recipe in names.map(|page| RecipeId(page.recipe.id)) {
        let changed = place.studio.change_recipe(recipe, &order, &now(2_000));
        assert!(changed.is_ok(), "{recipe:?}");
    }
    place
}

#[test]
fn a_mound_or_a_wait_of_years_overflows_no_instant() {
    let day = TimeDelta::days(1);
    for (high, wait) in [
        (1e9, day),
        (1e300, day),
        (3.0, TimeDelta::days(300_000_000)),
    ] {
        let written = far(high, wait);
        asked(&written.studio);
        let mut place = empty();
        match take(&mut place, &out(&written)) {
            Ok(_) => asked(&place.studio),
            // What is refused at the door needs no more.
            Err(why) => assert!(!tell::hint(&why, Face::CommandLine).is_empty()),
        }
    }
}
