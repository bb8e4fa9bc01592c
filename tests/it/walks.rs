//! Random days of a studio with undo and redo: after each step the whole file is as the steps say, and the program that
//! has run all along answers as one that has only just opened the file.

use chrono::{DateTime, TimeDelta};
use proptest::prelude::*;
use std::path::PathBuf;
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::studio::{
    Answer, JudgeOrder, LayerOrder, MaterialOrder, PourOrder, RecipeOrder, StartOverOrder,
    StoreError, Studio,
};
use stillcup::trade::amount::Amount;
use stillcup::trade::cup::{End, Reading, Seen};
use stillcup::trade::ids::CupId;
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::material::MaterialKind;
use stillcup::trade::panel::Panel;
use stillcup::trade::recipe::LayerKind;
use stillcup::trade::units::{Millilitres, Minutes, Seconds};
use tempfile::TempDir;

/// What a painter may do; a cup is the so-and-so-many-th that lives, where one does.
#[derive(Debug, Clone)]
enum Deed {
    Mix(usize, u32, f64),
    Read(usize, f64),
    Thin(usize, f64, Option<f64>),
    Stir(usize),
    Look(usize, bool),
    Cap(usize),
    Open(usize),
    End(usize),
    Pour(Vec<(usize, f64)>),
    Again(i64),
    Judge(i64, u8),
    Variant(usize, f64),
    Undo,
    Redo,
    Restart,
}

fn deed() -> impl Strategy<Value = Deed> {
    let cup = || 0..6_usize;
    let mound = || 0.5..8.0_f64;
    prop_oneof![
        5 => (0..3_usize, 20..200_u32, mound()).prop_map(|(r, ml, m)| Deed::Mix(r, ml, m)),
        4 => (cup(), mound()).prop_map(|(c, m)| Deed::Read(c, m)),
        4 => (cup(), 0.5..20.0_f64, prop::option::of(mound())).prop_map(|(c, ml, m)| Deed::Thin(c, ml, m)),
        1 => cup().prop_map(Deed::Stir),
        3 => (cup(), any::<bool>()).prop_map(|(c, clear)| Deed::Look(c, clear)),
        1 => cup().prop_map(Deed::Cap),
        1 => cup().prop_map(Deed::Open),
        1 => cup().prop_map(Deed::End),
        2 => prop::collection::vec((cup(), 1.0..60.0_f64), 1..4).prop_map(Deed::Pour),
        1 => (1..5_i64).prop_map(Deed::Again),
        2 => (1..5_i64, 0..6_u8).prop_map(|(p, cells)| Deed::Judge(p, cells)),
        1 => (0..3_usize, 0.1..3.0_f64).prop_map(|(r, share)| Deed::Variant(r, share)),
        6 => Just(Deed::Undo),
        4 => Just(Deed::Redo),
        1 => Just(Deed::Restart),
    ]
}

const RECIPES: [(&str, LayerKind); 3] = [
    ("Floor", LayerKind::Base),
    ("River", LayerKind::Colour),
    ("Foam", LayerKind::Activator),
];

/// A studio on a real file, its clock, and what the file should hold.
struct Day {
    _folder: TempDir,
    file: PathBuf,
    studio: Studio,
    now: Now,
    back: Vec<Vec<String>>,
    forth: Vec<Vec<String>>,
    holds: Vec<String>,
}

impl Day {
    fn begin() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("studio.db");
        let at = DateTime::parse_from_rfc3339("2026-11-24T07:00:00+01:00").unwrap();
        let zone = Zone::Fixed(*at.offset());
        let now = Now { at, zone };
        let mut studio = Studio::open(&file).unwrap();
        furnish(&mut studio, &now);
        let holds = dump(&studio);
        Self {
            _folder: folder,
            file,
            studio,
            now,
            back: Vec::new(),
            forth: Vec::new(),
            holds,
        }
    }

    /// Does one deed; what is refused must change nothing.
    fn step(&mut self, deed: &Deed) {
        self.now.at += TimeDelta::minutes(11);
        match deed {
            Deed::Undo => self.turn(true),
            Deed::Redo => self.turn(false),
            Deed::Restart => self.studio = Studio::open(&self.file).unwrap(),
            deed => {
                let done = perform(&mut self.studio, deed, &self.now);
                let after = dump(&self.studio);
                if done.is_ok() && after != self.holds {
                    self.back.push(std::mem::replace(&mut self.holds, after));
                    self.forth.clear();
                }
            }
        }
        assert_eq!(dump(&self.studio), self.holds, "after {deed:?}");
    }

    fn turn(&mut self, undo: bool) {
        let (from, to) = if undo {
            (&mut self.back, &mut self.forth)
        } else {
            (&mut self.forth, &mut self.back)
        };
        let done = match (undo, from.pop()) {
            (true, Some(before)) => {
                to.push(std::mem::replace(&mut self.holds, before));
                self.studio.undo(&self.now)
            }
            (false, Some(after)) => {
                to.push(std::mem::replace(&mut self.holds, after));
                self.studio.redo(&self.now)
            }
            // The studio was furnished before the walk began: that stands.
            (true, None) => return,
            (false, None) => {
                assert!(self.studio.redo(&self.now).is_err());
                return;
            }
        };
        done.unwrap();
    }

    /// The program that ran all along and one that opens the file now see the same cups in the same way.
    fn answers_as_if_fresh(&self) {
        let fresh = Studio::open(&self.file).unwrap();
        let ran = self.studio.bench(&self.now).unwrap();
        assert_eq!(
            format!("{ran:?}"),
            format!("{:?}", fresh.bench(&self.now).unwrap())
        );
    }
}

fn furnish(studio: &mut Studio, now: &Now) {
    for (name, kind) in [
        ("White", MaterialKind::Paint),
        ("Water", MaterialKind::Thinner),
    ] {
        let order = MaterialOrder {
            kind: Some(kind),
            ..MaterialOrder::default()
        };
        studio.add_material(name, &order, now).unwrap();
    }
    for (name, layer) in RECIPES {
        let order = RecipeOrder {
            parts: studio
                .known([])
                .unwrap()
                .parts(["White 2", "Water 0.2"])
                .unwrap(),
            ..RecipeOrder::default()
        };
        studio.add_recipe(name, layer, &order, now).unwrap();
    }
}

/// Every row of every table but the history, which only grows.
fn dump(studio: &Studio) -> Vec<String> {
    let mut rows = Vec::new();
    let each = |record: &stillcup::studio::Record| {
        if record.table.name != "change" {
            rows.push(format!("{record:?}"));
        }
        Ok::<(), StoreError>(())
    };
    studio.give_out(each).unwrap();
    rows
}

fn perform(studio: &mut Studio, deed: &Deed, now: &Now) -> Answer<()> {
    let living = studio.bench(now)?;
    let known = studio.known([])?;
    let cup = |nth: usize| {
        let cup = living.get(nth % living.len().max(1));
        cup.map_or(CupId(0), |one| CupId(one.cup.id))
    };
    let mound = |seconds: f64| Reading::Mound(Seconds(seconds));
    let mut tend = |order: TendOrder| studio.tend(&order, now).map(drop);
    match deed {
        Deed::Mix(recipe, ml, seconds) => {
            let variant = known.newest(RECIPES[*recipe].0)?;
            let order = MixOrder {
                reading: Some(mound(*seconds)),
                ..MixOrder::of(variant, Millilitres(f64::from(*ml)))
            };
            studio.mix(&order, now).map(drop)
        }
        Deed::Read(nth, seconds) => tend(TendOrder::read(cup(*nth), mound(*seconds))),
        Deed::Thin(nth, ml, seconds) => {
            let (ml, with) = (Millilitres(*ml), known.only_thinner());
            tend(TendOrder::thin(
                cup(*nth),
                ml,
                with,
                false,
                seconds.map(mound),
            ))
        }
        Deed::Stir(nth) => tend(TendOrder::stir(cup(*nth), Minutes(3.0))),
        Deed::Look(nth, clear) => {
            let seen = if *clear { Seen::Clear } else { Seen::Bubbles };
            tend(TendOrder::look(cup(*nth), seen))
        }
        Deed::Cap(nth) => tend(TendOrder::cap(cup(*nth))),
        Deed::Open(nth) => tend(TendOrder::open(cup(*nth))),
        Deed::End(nth) => tend(TendOrder::end(cup(*nth), End::Used)),
        Deed::Pour(layers) => {
            let layer = |(nth, ml): &(usize, f64)| {
                LayerOrder::of(cup(*nth), Amount::Volume(Millilitres(*ml)))
            };
            let panel = Panel::parse("20x30cm").unwrap();
            let order = PourOrder::on(panel, layers.iter().map(layer).collect());
            studio.pour(&order, now).map(drop)
        }
        Deed::Again(pour) => studio
            .start_over(*pour, &StartOverOrder::default(), now)
            .map(drop),
        Deed::Judge(pour, cells) => {
            let order = JudgeOrder {
                cells: *cells,
                ..JudgeOrder::default()
            };
            studio.judge(*pour, &order, now).map(drop)
        }
        Deed::Variant(recipe, share) => {
            let known = studio.known([])?;
            let order = RecipeOrder {
                parts: known.parts(["White 2", &format!("Water {share:.2}")])?,
                ..RecipeOrder::default()
            };
            studio
                .change_recipe(known.recipe(RECIPES[*recipe].0)?, &order, now)
                .map(drop)
        }
        Deed::Undo | Deed::Redo | Deed::Restart => Ok(()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn random_days_are_taken_back_and_done_again_whole(deeds in prop::collection::vec(deed(), 1..40)) {
        let mut day = Day::begin();
        for deed in &deeds {
            day.step(deed);
            day.answers_as_if_fresh();
        }
        while !day.back.is_empty() {
            day.turn(true);
        }
        prop_assert_eq!(dump(&day.studio), day.holds.clone());
        day.answers_as_if_fresh();
    }
}

/// What is learned comes from the newest 400 cups (`DEVELOPERS.md`): the window of them slides with each cup, and back.
#[test]
fn the_window_of_what_is_learned_slides_back_with_an_undo() {
    let mut day = Day::begin();
    for nth in 0..403_u32 {
        day.now.at += TimeDelta::minutes(1);
        // Only the oldest cups were thinned between readings, so that only they teach what thinner does.
        perform(&mut day.studio, &Deed::Mix(1, 120, 3.0), &day.now).unwrap();
        if nth < 3 {
            perform(&mut day.studio, &Deed::Thin(0, 9.0, Some(1.2)), &day.now).unwrap();
        }
        if nth < 402 {
            perform(&mut day.studio, &Deed::End(0), &day.now).unwrap();
        }
        if nth > 397 {
            day.answers_as_if_fresh();
        }
    }
    for _ in 0..8 {
        day.studio.undo(&day.now).unwrap();
        day.answers_as_if_fresh();
    }
}
