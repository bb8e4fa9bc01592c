//! What practice says at first becomes the studio's own: days of cups through the public studio, whose truth is far from
//! practice, until the answer's backing is `yours` and its number has gone over to what was logged.
//!
//! Practice is 12 h of rest, .18 an hour of thickening and 10 % of thinner for half a mound (all from memory, no source);
//! what this studio logs is twice the rest, a third of the thickening, half the thinner's strength.

use crate::near::near;
use chrono::{DateTime, TimeDelta};
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::studio::{CupStatus, MaterialOrder, RecipeOrder, Studio};
use stillcup::trade::cup::{End, Reading, Seen};
use stillcup::trade::ids::CupId;
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::material::MaterialKind;
use stillcup::trade::moment::Moment;
use stillcup::trade::recipe::LayerKind;
use stillcup::trade::units::{Backing, Millilitres, Seconds};
use tempfile::TempDir;

/// A studio with one recipe, and its clock.
struct Log {
    _folder: TempDir,
    studio: Studio,
    now: Now,
}

impl Log {
    fn begin() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let at = DateTime::parse_from_rfc3339("2026-11-02T08:00:00+01:00").unwrap();
        let zone = Zone::Fixed(*at.offset());
        let now = Now { at, zone };
        let mut studio = Studio::open(&folder.path().join("studio.db")).unwrap();
        for (name, kind) in [
            ("White", MaterialKind::Paint),
            ("Water", MaterialKind::Thinner),
        ] {
            let order = MaterialOrder {
                kind: Some(kind),
                ..MaterialOrder::default()
            };
            studio.add_material(name, &order, &now).unwrap();
        }
        let parts = studio.known([]).unwrap().parts(["White 20", "Water 1"]);
        let order = RecipeOrder {
            parts: parts.unwrap(),
            ..RecipeOrder::default()
        };
        studio
            .add_recipe("River", LayerKind::Colour, &order, &now)
            .unwrap();
        Self {
            _folder: folder,
            studio,
            now,
        }
    }

    fn wait(&mut self, hours: i64) {
        self.now.at += TimeDelta::hours(hours);
    }

    /// Mixes 100 ml, and reads it where it has a mound.
    fn mix(&mut self, mound: Option<f64>) -> CupId {
        let variant = self.studio.known([]).unwrap().newest("River").unwrap();
        let order = MixOrder {
            reading: mound.map(|it| Reading::Mound(Seconds(it))),
            ..MixOrder::of(variant, Millilitres(100.0))
        };
        CupId(self.studio.mix(&order, &self.now).unwrap().standing.cup.id)
    }

    fn tend(&mut self, order: &TendOrder) {
        self.studio.tend(order, &self.now).unwrap();
    }

    fn read(&mut self, cup: CupId, mound: f64) {
        self.tend(&TendOrder::read(cup, Reading::Mound(Seconds(mound))));
    }

    /// Ends a cup, and waits for the next day.
    fn end(&mut self, cup: CupId) {
        self.tend(&TendOrder::end(cup, End::Used));
        self.wait(16);
    }

    fn stands(&self, cup: CupId) -> CupStatus {
        let bench = self.studio.bench(&self.now).unwrap();
        bench.into_iter().find(|one| one.cup.id == cup.0).unwrap()
    }
}

/// Bubbles are still seen after 21 h, none after 27: a cup of 3 s clears in about 24.
#[test]
fn the_rest_becomes_the_studios_own_and_goes_over_to_what_was_seen() {
    let mut log = Log::begin();
    let mut told = Vec::new();
    for _ in 0..8 {
        let cup = log.mix(Some(3.0));
        told.push(log.stands(cup).outlook.rest);
        log.wait(21);
        log.tend(&TendOrder::look(cup, Seen::Bubbles));
        log.wait(6);
        log.tend(&TendOrder::look(cup, Seen::Clear));
        log.end(cup);
    }
    let (first, last) = (told[0], told[7]);
    assert_eq!((first.from, first.readings), (Backing::Practice, 0));
    near(first.band.mid.0, 12.0, 1e-9);
    assert_eq!(told[1].from, Backing::Both, "{:?}", told[1]);
    assert_eq!(last.from, Backing::Yours, "{last:?}");
    assert_eq!(last.readings, 14, "two looks of each of seven cups");
    assert!((21.0..27.0).contains(&last.band.mid.0), "{last:?}");
    assert!(told.is_sorted_by_key(|rest| rest.band.mid.0), "{told:?}");
    let wide = |nth: usize| (told[nth].band.high.0 / told[nth].band.low.0).ln();
    assert!(wide(7) < wide(0), "{last:?}");
}

/// A capped cup's mound grows by .06 an hour, where practice says .18: it stays ready for longer.
#[test]
fn the_thickening_becomes_the_studios_own_and_goes_over_to_what_was_read() {
    let mut log = Log::begin();
    let mut told = Vec::new();
    for _ in 0..8 {
        let cup = log.mix(None);
        log.wait(24);
        log.read(cup, 2.2);
        let until = log.stands(cup).ready_until.unwrap() - Moment::from(log.now.at);
        log.wait(3);
        told.push((log.stands(cup).outlook.mound.unwrap(), until));
        log.read(cup, 2.2 * (0.06_f64 * 3.0).exp());
        log.end(cup);
    }
    let ((first, practice), (last, own)) = (told[0], told[7]);
    assert_eq!((first.from, first.readings), (Backing::Practice, 0));
    near(first.band.mid.0, 2.2 * (0.18_f64 * 3.0).exp(), 1e-9);
    assert_eq!(last.from, Backing::Yours, "{last:?}");
    let rate = (last.band.mid.0 / 2.2).ln() / 3.0;
    assert!((0.05..0.09).contains(&rate), "{rate}");
    assert!(own > practice, "{own} after {practice}");
}

/// 15 ml in 100 lower ln(mound) by 3.45 times its share, where practice says 6.9: more is needed.
#[test]
fn the_thinners_strength_becomes_the_studios_own_and_goes_over_to_what_was_read() {
    let mut log = Log::begin();
    let mut told = Vec::new();
    for _ in 0..10 {
        let cup = log.mix(None);
        log.wait(24);
        log.read(cup, 4.0);
        let mark = log.stands(cup).cup.mark.to_string();
        told.push(log.studio.how_much(&mark, &log.now).unwrap().likely);
        let thinned = 4.0 * (-3.45_f64 * 15.0 / 115.0).exp();
        let (ml, with) = (
            Millilitres(15.0),
            log.studio.known([]).unwrap().only_thinner(),
        );
        let reading = Some(Reading::Mound(Seconds(thinned)));
        log.tend(&TendOrder::thin(cup, ml, with, false, reading));
        log.end(cup);
    }
    // To 2.5 s, the middle of the window of a colour.
    let need = |strength: f64| {
        let share = (4.0_f64 / 2.5).ln() / strength;
        100.0 * share / (1.0 - share)
    };
    let (first, last) = (told[0], told[9]);
    assert_eq!((first.from, first.readings), (Backing::Practice, 0));
    near(first.band.mid.0, need(6.9), 0.05);
    assert_eq!((last.from, last.readings), (Backing::Yours, 9));
    assert!(
        (need(4.2)..need(3.2)).contains(&last.band.mid.0),
        "{last:?}"
    );
    assert!(told.is_sorted_by_key(|one| one.band.mid.0), "{told:?}");
}
