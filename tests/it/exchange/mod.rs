//! What goes out and comes in: the whole studio as JSON, plain tables as CSV.

mod broken;
mod far;
mod merging;
mod sheets;
mod twins;

use chrono::DateTime;
use stillcup::exchange::{Names, export, import};
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::studio::{
    Answer, JudgeOrder, LayerOrder, MaterialOrder, PourOrder, RecipeOrder, StartOverOrder, Studio,
    StudioError, Taken,
};
use stillcup::tell;
use stillcup::trade::amount::{Amount, Measures};
use stillcup::trade::cup::Reading;
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::mark::Mark;
use stillcup::trade::recipe::LayerKind;
use stillcup::trade::units::{Density, Millilitres, Seconds};
use tempfile::TempDir;

/// Escape codes, a bidi override, a zero width space, NUL, quotes, a formula, and signs outside the first plane.
pub const HOSTILE: &str =
    "=\u{1b}]0;x\u{7} \u{202e}abc\u{202c} \u{200b}\0 \"quoted\", 'so'\r\n\u{2028}🎨 e\u{301}";

pub fn now(minutes: i64) -> Now {
    let at = DateTime::parse_from_rfc3339("2026-03-01T12:00:00+01:00").unwrap();
    Now {
        at: at + chrono::TimeDelta::minutes(minutes),
        zone: Zone::Named(chrono_tz::Europe::Berlin),
    }
}

/// A studio in a folder of its own.
pub struct Place {
    pub studio: Studio,
    pub folder: TempDir,
}

pub fn empty() -> Place {
    let folder = tempfile::tempdir().unwrap();
    let studio = Studio::open(&folder.path().join("studio.db")).unwrap();
    Place { studio, folder }
}

pub fn out(place: &Place) -> Vec<u8> {
    let mut bytes = Vec::new();
    export(&place.studio, Names::Go, &mut bytes).unwrap();
    bytes
}

pub fn text(place: &Place) -> String {
    String::from_utf8(out(place)).unwrap()
}

pub fn take(place: &mut Place, bytes: &[u8]) -> Answer<Taken> {
    import(&mut place.studio, bytes, &now(10_000))
}

/// What a person reads of an import that was refused.
pub fn words(error: &StudioError) -> String {
    tell::words(error, Measures::Metric, &now(0))
}

pub fn add_material(place: &mut Place, name: &str, hazard: Option<&str>) {
    let order = MaterialOrder {
        density: Some(Density(1.0 + 0.1 + 0.2)),
        hazard: hazard.map(str::to_owned),
        ..MaterialOrder::default()
    };
    place.studio.add_material(name, &order, &now(0)).unwrap();
}

pub fn add_recipe(place: &mut Place, name: &str, layer: LayerKind, parts: &[&str]) {
    let known = place.studio.known([]).unwrap();
    let order = RecipeOrder {
        parts: known.parts(parts.iter().copied()).unwrap(),
        ..RecipeOrder::default()
    };
    place
        .studio
        .add_recipe(name, layer, &order, &now(0))
        .unwrap();
}

pub fn mix(place: &mut Place, recipe: &str, mark: &str, ml: f64, note: Option<&str>) {
    let variant = place.studio.known([]).unwrap().newest(recipe).unwrap();
    let order = MixOrder {
        mark: Some(Mark::parse(mark).unwrap()),
        note: note.map(str::to_owned),
        ..MixOrder::of(variant, Millilitres(ml))
    };
    place.studio.mix(&order, &now(1)).unwrap();
}

fn layer(place: &Place, mark: &str, ml: f64) -> LayerOrder {
    let known = place.studio.known([]).unwrap();
    known.layer(mark, Amount::Volume(Millilitres(ml))).unwrap()
}

fn pour_and_judge(place: &mut Place) {
    let layers = vec![layer(place, "K7", 60.0), layer(place, "A3", 33.3)];
    let order = PourOrder {
        way: Some("swirl".into()),
        note: Some(HOSTILE.into()),
        even_so: true,
        ..PourOrder::on("40x50cm".parse().unwrap(), layers)
    };
    let pour = place.studio.pour(&order, &now(900)).unwrap().pour.id;
    let again = StartOverOrder {
        layers: vec![layer(place, "K7", 20.0)],
        even_so: true,
        ..StartOverOrder::default()
    };
    let again = place
        .studio
        .start_over(pour, &again, &now(910))
        .unwrap()
        .pour
        .id;
    let judged = JudgeOrder {
        cells: 4,
        note: Some("+4, \"good\"".into()),
        ..JudgeOrder::default()
    };
    place.studio.judge(again, &judged, &now(920)).unwrap();
}

/// A studio with something in every part of a day, hostile text, a megabyte note, and things taken back.
pub fn rich() -> Place {
    let mut place = empty();
    place.studio.set("currency", "EUR", &now(0)).unwrap();
    add_material(&mut place, "White", Some(HOSTILE));
    add_material(&mut place, "Water", None);
    add_recipe(&mut place, "Medium", LayerKind::Medium, &["Water 1"]);
    add_recipe(
        &mut place,
        "White base",
        LayerKind::Base,
        &["White 2", "Medium 1"],
    );
    add_recipe(
        &mut place,
        "Opener",
        LayerKind::Activator,
        &["White 1", "Water 0.3"],
    );
    mix(&mut place, "White base", "K7", 120.0, Some(HOSTILE));
    mix(
        &mut place,
        "Opener",
        "A3",
        40.1,
        Some(&"n\u{1b}".repeat(500_000)),
    );
    let known = place.studio.known([]).unwrap();
    let thin = TendOrder::thin(
        known.cup("K7").unwrap(),
        Millilitres(3.3),
        known.only_thinner(),
        false,
        Some(Reading::Mound(Seconds(2.7))),
    );
    place.studio.tend(&thin, &now(800)).unwrap();
    pour_and_judge(&mut place);
    place.studio.undo(&now(930)).unwrap();
    place.studio.redo(&now(931)).unwrap();
    place.studio.undo(&now(932)).unwrap();
    place.studio.redo(&now(933)).unwrap();
    place
}

/// The same without the megabyte.
pub fn small() -> Place {
    let mut place = empty();
    add_material(&mut place, "White", Some(HOSTILE));
    add_material(&mut place, "Water", None);
    add_recipe(
        &mut place,
        "White base",
        LayerKind::Base,
        &["White 2", "Water 1"],
    );
    add_recipe(
        &mut place,
        "Opener",
        LayerKind::Activator,
        &["White base 1", "Water 0.3"],
    );
    mix(&mut place, "White base", "K7", 120.0, None);
    mix(&mut place, "Opener", "A3", 40.1, None);
    pour_and_judge(&mut place);
    place
}
