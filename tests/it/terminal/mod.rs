//! The real program on a real (pseudo) terminal, its screen read cell by cell.

mod budgets;
mod given_back;
pub(crate) mod hands;
mod hostile;
mod hung_up;
mod leaving;
mod others;
mod trials;
mod turning;

use chrono::{DateTime, FixedOffset, TimeDelta};
use std::path::PathBuf;
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::studio::{MaterialOrder, RecipeOrder, Studio};
use stillcup::trade::cup::Reading;
use stillcup::trade::ids::CupId;
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::mark::Mark;
use stillcup::trade::material::MaterialKind;
use stillcup::trade::recipe::LayerKind;
use stillcup::trade::units::{Millilitres, Seconds};

/// A studio in a folder of its own: K7 thick, A3 resting until 19:00, B4 ready to be poured.
pub struct Stage {
    dir: tempfile::TempDir,
}

pub fn at() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap()
}

pub fn now() -> Now {
    let at = at();
    Now {
        at,
        zone: Zone::Fixed(*at.offset()),
    }
}

impl Stage {
    pub fn empty() -> Self {
        let dir = tempfile::tempdir().unwrap();
        Self { dir }
    }

    pub fn with_cups() -> Self {
        let stage = Self::empty();
        let mut studio = stage.studio();
        for (name, kind) in [
            ("Blue paint", MaterialKind::Paint),
            ("Medium", MaterialKind::Conditioner),
            ("Water", MaterialKind::Thinner),
        ] {
            let order = MaterialOrder {
                kind: Some(kind),
                ..Default::default()
            };
            studio.add_material(name, &order, &now()).unwrap();
        }
        for (name, layer, parts) in [
            (
                "River blue",
                LayerKind::Colour,
                ["Blue paint 1", "Medium 2"],
            ),
            (
                "Cell opener",
                LayerKind::Activator,
                ["Blue paint 1", "Medium 3"],
            ),
        ] {
            let parts = studio.known([]).unwrap().parts(parts).unwrap();
            let order = RecipeOrder {
                parts,
                ..Default::default()
            };
            studio.add_recipe(name, layer, &order, &now()).unwrap();
        }
        mix(&mut studio, "River blue", "K7", 20 * 60, Some((4.2, 10)));
        mix(&mut studio, "River blue", "A3", 3 * 60, None);
        mix(&mut studio, "Cell opener", "B4", 60, Some((1.5, 20)));
        stage
    }

    pub fn file(&self) -> PathBuf {
        self.dir.path().join("studio.db")
    }

    pub fn studio(&self) -> Studio {
        Studio::open(&self.file()).unwrap()
    }
}

/// A cup mixed so many minutes ago, and read so many minutes ago.
fn mix(studio: &mut Studio, recipe: &str, mark: &str, ago: i64, read: Option<(f64, i64)>) {
    let before = |minutes| Some(at() - TimeDelta::minutes(minutes));
    let variant = studio.known([]).unwrap().newest(recipe).unwrap();
    let order = MixOrder {
        mark: Some(Mark::parse(mark).unwrap()),
        at: before(ago),
        ..MixOrder::of(variant, Millilitres(120.0))
    };
    let mixed = studio.mix(&order, &now()).unwrap();
    if let Some((seconds, ago)) = read {
        let reading = Reading::Mound(Seconds(seconds));
        let cup = CupId(mixed.standing.cup.id);
        let order = TendOrder::read(cup, reading).at(before(ago));
        studio.tend(&order, &now()).unwrap();
    }
}
