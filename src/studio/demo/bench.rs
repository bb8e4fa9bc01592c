//! The demo's last day: a bench in full life at the present instant.

use super::hands::Hands;
use crate::studio::Answer;
use crate::trade::cup::{Happened, Reading, Seen};
use crate::trade::ids::CupId;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Millilitres, Seconds};

/// A cup that stands on the bench now: what was done to it, in minutes before the present.
struct CupStatus {
    recipe: &'static str,
    layer: LayerKind,
    ml: f64,
    mixed: i64,
    looked: Option<(i64, Seen)>,
    read: Option<(i64, f64)>,
    /// Thinned with so much, then read so.
    thinned: Option<(i64, f64, f64)>,
}

impl CupStatus {
    const fn mixed(recipe: &'static str, layer: LayerKind, ml: f64, ago: i64) -> Self {
        Self {
            recipe,
            layer,
            ml,
            mixed: ago,
            looked: None,
            read: None,
            thinned: None,
        }
    }

    const fn cleared(self, ago: i64) -> Self {
        Self {
            looked: Some((ago, Seen::Clear)),
            ..self
        }
    }

    const fn read(self, ago: i64, mound: f64) -> Self {
        Self {
            read: Some((ago, mound)),
            ..self
        }
    }

    const fn thinned(self, ago: i64, ml: f64, mound: f64) -> Self {
        Self {
            thinned: Some((ago, ml, mound)),
            ..self
        }
    }
}

/// What stands there, the oldest first: two bases and colours ready, one thick, one over-thinned, one to be looked at,
/// two resting, and an activator just mixed.
const BENCH: [CupStatus; 8] = [
    CupStatus::mixed("Base white", LayerKind::Base, 320.0, 1_260)
        .cleared(70)
        .read(11, 3.6),
    CupStatus::mixed("River blue", LayerKind::Colour, 140.0, 1_245)
        .cleared(64)
        .read(21, 3.5)
        .thinned(9, 5.5, 2.5),
    CupStatus::mixed("Heather", LayerKind::Colour, 120.0, 1_230)
        .cleared(60)
        .read(14, 3.8),
    CupStatus::mixed("Straw", LayerKind::Colour, 120.0, 1_215)
        .cleared(58)
        .read(40, 3.4)
        .thinned(17, 12.0, 1.6),
    CupStatus::mixed("Deep cobalt", LayerKind::Colour, 120.0, 1_080).cleared(35),
    CupStatus::mixed("Peat", LayerKind::Colour, 100.0, 250),
    CupStatus::mixed("Base white", LayerKind::Base, 260.0, 95),
    CupStatus::mixed("Foam", LayerKind::Activator, 70.0, 6),
];

enum Deed {
    Look(Seen),
    Read(f64),
    Thin(f64, f64),
}

impl Hands<'_> {
    /// Sets the bench, deed by deed in the order of time.
    pub(super) fn set_bench(&mut self) -> Answer<()> {
        let bottled = self.clock.before(1_900);
        self.judge_dry(&bottled)?;
        self.shop(&bottled)?;
        let bottle = self.mix("House medium", LayerKind::Medium, 900.0, &bottled)?;
        self.bottle = Some(bottle);
        let mut deeds: Vec<(i64, CupId, Deed)> = Vec::new();
        for cup in BENCH {
            self.run(&mut deeds, cup.mixed)?;
            let at = self.clock.before(cup.mixed);
            let mixed = self.mix(cup.recipe, cup.layer, cup.ml, &at)?.cup;
            deeds.extend(cup.looked.map(|(ago, seen)| (ago, mixed, Deed::Look(seen))));
            deeds.extend(cup.read.map(|(ago, mound)| (ago, mixed, Deed::Read(mound))));
            let thin = cup.thinned;
            deeds.extend(thin.map(|(ago, ml, mound)| (ago, mixed, Deed::Thin(ml, mound))));
        }
        self.run(&mut deeds, 0)
    }

    /// Does what was done earlier than some minutes before the present.
    fn run(&mut self, deeds: &mut Vec<(i64, CupId, Deed)>, until: i64) -> Answer<()> {
        deeds.sort_by_key(|(ago, ..)| -ago);
        while deeds.first().is_some_and(|(ago, ..)| *ago > until) {
            let (ago, cup, deed) = deeds.remove(0);
            self.perform(ago, cup, &deed)?;
        }
        Ok(())
    }

    fn perform(&mut self, ago: i64, cup: CupId, deed: &Deed) -> Answer<()> {
        let at = self.clock.before(ago);
        let mound = |seconds: f64| Reading::Mound(Seconds(seconds));
        match deed {
            Deed::Look(seen) => self.studio.jot(cup, Happened::Looked(*seen), &at),
            Deed::Read(seconds) => self.studio.jot(cup, Happened::Read(mound(*seconds)), &at),
            Deed::Thin(ml, seconds) => self.thinned(cup, Millilitres(*ml), mound(*seconds), &at),
        }
    }
}
