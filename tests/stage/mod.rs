//! The stage that the tests of the screen and those of the real terminal share: what a studio holds, and when.

use chrono::{DateTime, TimeDelta};
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::studio::{MaterialOrder, RecipeOrder, Studio};
use stillcup::trade::cup::Reading;
use stillcup::trade::ids::CupId;
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::mark::Mark;
use stillcup::trade::material::MaterialKind;
use stillcup::trade::recipe::LayerKind;
use stillcup::trade::units::{Millilitres, Seconds};

/// When it is, in all of them.
pub fn now() -> Now {
    let at = DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
    Now {
        at,
        zone: Zone::Fixed(*at.offset()),
    }
}

/// Three materials, a recipe for a colour (12 h of rest, 2 to 3 s) and one for an activator (no rest, 1 to 2 s).
pub fn recipes(studio: &mut Studio, now: &Now) {
    for (name, kind) in [
        ("Blue paint", MaterialKind::Paint),
        ("Medium", MaterialKind::Conditioner),
        ("Water", MaterialKind::Thinner),
    ] {
        let order = MaterialOrder {
            kind: Some(kind),
            ..Default::default()
        };
        studio.add_material(name, &order, now).unwrap();
    }
    let (colour, activator) = (["Blue paint 1", "Medium 2"], ["Blue paint 1", "Medium 3"]);
    for (name, layer, parts) in [
        ("River blue", LayerKind::Colour, colour),
        ("Cell opener", LayerKind::Activator, activator),
    ] {
        let order = RecipeOrder {
            parts: studio.known([]).unwrap().parts(parts).unwrap(),
            ..Default::default()
        };
        studio.add_recipe(name, layer, &order, now).unwrap();
    }
}

/// Cups in every state that matters: K7 thick, A3 resting until 19:00, B4 ready to be poured.
pub fn cups(studio: &mut Studio, now: &Now) {
    let (hours, minutes) = (TimeDelta::hours, TimeDelta::minutes);
    let thick = Some((4.2, -minutes(10)));
    let ready = Some((1.5, -minutes(20)));
    mix(studio, ("River blue", "K7"), (-hours(20), thick), now);
    mix(studio, ("River blue", "A3"), (-hours(3), None), now);
    mix(studio, ("Cell opener", "B4"), (-hours(1), ready), now);
}

/// A cup of a recipe under a mark, mixed so long from now, and its mound so long from now.
pub fn mix(
    studio: &mut Studio,
    (recipe, mark): (&str, &str),
    (at, read): (TimeDelta, Option<(f64, TimeDelta)>),
    now: &Now,
) {
    let variant = studio.known([]).unwrap().newest(recipe).unwrap();
    let order = MixOrder {
        mark: Some(Mark::parse(mark).unwrap()),
        at: Some(now.at + at),
        ..MixOrder::of(variant, Millilitres(120.0))
    };
    let mixed = studio.mix(&order, now).unwrap();
    if let Some((seconds, at)) = read {
        let reading = Reading::Mound(Seconds(seconds));
        let cup = CupId(mixed.standing.cup.id);
        let order = TendOrder::read(cup, reading).at(Some(now.at + at));
        studio.tend(&order, now).unwrap();
    }
}
