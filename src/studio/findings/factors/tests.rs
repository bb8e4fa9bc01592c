//! A day that was logged through the studio gives each factor the value worked out by hand.

use super::table;
use crate::numbers::statistics::findings::FactorValue;
use crate::studio::orders::{MixOrder, TargetsOrder, TendOrder};
use crate::studio::{Asked, JudgeOrder, MaterialOrder, PourOrder, RecipeOrder, Studio};
use crate::trade::amount::Amount;
use crate::trade::cup::{Happened, Reading};
use crate::trade::ids::CupId;
use crate::trade::instant::{Now, Zone};
use crate::trade::mark::Mark;
use crate::trade::material::MaterialKind;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};
use crate::trade::range::Window;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Celsius, Millilitres, Seconds, Share};
use chrono::DateTime;
use std::collections::BTreeMap;

fn at(text: &str) -> Moment {
    DateTime::parse_from_rfc3339(&format!("2026-11-{text}:00+01:00")).unwrap()
}

fn now() -> Now {
    let at = at("26T20:00");
    let zone = Zone::Fixed(*at.offset());
    Now { at, zone }
}

/// A studio in a file of its own, with what a day needs.
struct Day {
    studio: Studio,
    _dir: tempfile::TempDir,
}

impl Day {
    fn begin() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let mut studio = Studio::open(&dir.path().join("studio.db")).unwrap();
        for (name, kind) in [
            ("White paint", MaterialKind::Paint),
            ("Blue paint", MaterialKind::Paint),
            ("Medium", MaterialKind::Conditioner),
        ] {
            let order = MaterialOrder {
                kind: Some(kind),
                ..MaterialOrder::default()
            };
            studio.add_material(name, &order, &now()).unwrap();
        }
        let mut day = Self { studio, _dir: dir };
        day.recipe(
            "Base white",
            LayerKind::Base,
            ["White paint 1", "Medium 2"],
            (3.0, 5.0),
        );
        day.recipe(
            "River blue",
            LayerKind::Colour,
            ["Blue paint 1", "Medium 2"],
            (2.0, 4.0),
        );
        day.recipe(
            "Cell opener",
            LayerKind::Activator,
            ["Blue paint 1", "Medium 3"],
            (1.0, 2.0),
        );
        day
    }

    fn recipe(&mut self, name: &str, layer: LayerKind, parts: [&str; 2], window: (f64, f64)) {
        let order = RecipeOrder {
            parts: self.studio.known([]).unwrap().parts(parts).unwrap(),
            targets: TargetsOrder {
                window: Some(Window {
                    low: Seconds(window.0),
                    high: Seconds(window.1),
                }),
                ..TargetsOrder::default()
            },
            ..RecipeOrder::default()
        };
        self.studio.add_recipe(name, layer, &order, &now()).unwrap();
    }

    fn cup(&mut self, recipe: &str, mark: &str, mixed: &str, read: (f64, &str)) {
        let variant = self.studio.known([]).unwrap().newest(recipe).unwrap();
        let order = MixOrder {
            mark: Some(Mark::parse(mark).unwrap()),
            at: Some(at(mixed)),
            ..MixOrder::of(variant, Millilitres(600.0))
        };
        let mixed = self.studio.mix(&order, &now()).unwrap();
        let (seconds, when) = read;
        let cup = CupId(mixed.standing.cup.id);
        let order = TendOrder::read(cup, Reading::Mound(Seconds(seconds))).at(Some(at(when)));
        self.studio.tend(&order, &now()).unwrap();
    }

    fn thin(&mut self, mark: &str, ml: f64, when: &str) {
        let cup = self.studio.known([mark]).unwrap().cup(mark).unwrap();
        let what = Happened::Thinned {
            ml: Millilitres(ml),
            with: None,
            hard: false,
            reading: Some(Reading::Mound(Seconds(2.6))),
        };
        let order = TendOrder {
            cup,
            what,
            at: Some(at(when)),
            even_so: true,
        };
        self.studio.tend(&order, &now()).unwrap();
    }

    fn pour(&mut self, when: &str, cells: u8) {
        let known = self.studio.known([]).unwrap();
        let layer =
            |(mark, ml): (&str, f64)| known.layer(mark, Amount::Volume(Millilitres(ml))).unwrap();
        let layers = [("W2", 60.0), ("K7", 30.0), ("B4", 10.0)].map(layer);
        let spin = |direction: &str, times| Move {
            direction: Some(direction.to_owned()),
            times: Some(times),
            ..Move::of(MoveKind::Spin)
        };
        let order = PourOrder {
            way: Some("ring pour".to_owned()),
            moves: vec![spin("cw", 2.0), spin("ccw", 1.0)],
            air: Some(Air {
                celsius: Some(Celsius(21.0)),
                humidity: Some(Share(0.48)),
            }),
            at: Some(at(when)),
            ..PourOrder::on(Panel::parse("20x25cm").unwrap(), layers.to_vec())
        };
        let pour = self.studio.pour(&order, &now()).unwrap().pour.id;
        let order = JudgeOrder {
            cells,
            at: Some(at(when)),
            ..JudgeOrder::default()
        };
        self.studio.judge(pour, &order, &now()).unwrap();
    }

    /// What the first pour had of every factor, and how many cells.
    fn first(&self) -> (BTreeMap<String, FactorValue>, u8) {
        let back = self.studio.look_back(&Asked::default()).unwrap();
        let read = self.studio.book.read().unwrap();
        let super::Factors { factors, rows, .. } =
            table(&read, &back.judged, back.found.bar, &now()).unwrap();
        // The newest comes first.
        let row = rows.last().unwrap();
        let names = factors.into_iter().map(|factor| factor.name);
        (names.zip(row.factors.clone()).collect(), row.cells)
    }
}

#[test]
fn a_logged_day_gives_every_factor_its_value() {
    let mut day = Day::begin();
    day.cup("Base white", "W2", "25T18:00", (3.6, "26T10:00"));
    day.cup("River blue", "K7", "25T20:00", (2.8, "26T10:00"));
    day.cup("Cell opener", "B4", "26T08:00", (1.5, "26T09:40"));
    day.pour("26T10:00", 3);
    // A part is a factor from eight pours on.
    (1..8).for_each(|minute| day.pour(&format!("26T10:0{minute}"), 4));
    let (found, cells) = day.first();
    assert_eq!(cells, 3);
    // The activator was read 20 min before: by practice, .18 an hour under its lid, it mounds 1.5 e^.06 = 1.59275 s.
    let numbers = [
        ("rest", 14.0),
        ("mound of the base", 3.6),
        ("mound of the colours", 2.8),
        ("mound of the activator", 1.592_755),
        ("gap base to colours", 0.8),
        ("gap colours to activator", 2.8 - 1.592_755),
        ("activator share", 10.0),
        // 100 ml on 500 cm2.
        ("film", 2.0),
        ("spins", 3.0),
        ("temperature", 21.0),
        ("humidity", 48.0),
        ("start-over", 0.0),
        ("hour", 10.0),
        ("age of the oldest cup", 16.0),
        // A third of 60 ml; a third of 30 and a quarter of 10; two thirds of 90 and three quarters of 10.
        ("share of White paint", 20.0),
        ("share of Blue paint", 12.5),
        ("share of Medium", 67.5),
    ];
    let words = [
        ("every cup ready", FactorValue::Answer(true)),
        ("technique", FactorValue::Word("ring pour".into())),
        ("spin reversed", FactorValue::Answer(true)),
        ("weekday", FactorValue::Word("Thu".into())),
        ("a cup stood open", FactorValue::Answer(false)),
    ];
    for (name, told) in numbers {
        match found.get(name) {
            Some(FactorValue::Number(value)) => {
                assert!((value - told).abs() < 2e-6, "{name}: {value}, not {told}");
            }
            other => panic!("{name}: {other:?}, not {told}"),
        }
    }
    for (name, told) in &words {
        assert_eq!(found.get(*name), Some(told), "{name}");
    }
    // No cup was ever thinned: there is no such time, though one was read 20 min before.
    let never = found.get("minutes since thinning");
    assert!(
        matches!(never, None | Some(FactorValue::Missing)),
        "{never:?}"
    );
    let others = found
        .keys()
        .filter(|name| *name != "minutes since thinning");
    assert_eq!(others.count(), numbers.len() + words.len(), "{found:?}");
}

/// From the thinning, and not from the reading after it; of several cups from the one that was thinned first.
#[test]
fn minutes_since_thinning_are_those_since_a_thinning() {
    let mut day = Day::begin();
    day.cup("Base white", "W2", "25T18:00", (3.6, "26T09:00"));
    day.cup("River blue", "K7", "25T20:00", (3.4, "26T09:00"));
    day.cup("Cell opener", "B4", "26T08:00", (1.5, "26T09:00"));
    day.thin("K7", 6.0, "26T09:20");
    day.thin("W2", 6.0, "26T09:35");
    let cup = day.studio.known(["K7"]).unwrap().cup("K7").unwrap();
    let order = TendOrder::read(cup, Reading::Mound(Seconds(2.6))).at(Some(at("26T09:50")));
    day.studio.tend(&order, &now()).unwrap();
    (0..8).for_each(|minute| day.pour(&format!("26T10:0{minute}"), 4));
    let (found, _) = day.first();
    assert_eq!(
        found.get("minutes since thinning"),
        Some(&FactorValue::Number(40.0))
    );
}
