//! The demo's hands: single deeds on cups, each through the studio, with the truth followed beside them.

use super::cast::Cast;
use super::clock::{Clock, later};
use super::paint::{Paint, chance, normal};
use crate::studio::orders::{FilledFrom, MixOrder};
use crate::studio::{Answer, JudgeOrder, Studio};
use crate::trade::cup::{End, Happened, Reading, Seen};
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Millilitres, Millimetres, Minutes, Seconds};
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};

/// How much medium a bottle is mixed with.
const BOTTLE_ML: f64 = 900.0;

pub(super) struct Hands<'a> {
    pub(super) studio: &'a mut Studio,
    pub(super) cast: Cast,
    pub(super) clock: Clock,
    pub(super) rng: ChaCha8Rng,
    pub(super) bottle: Option<Paint>,
    /// Judgements of dry pictures that are still to come.
    pub(super) drying: Vec<(Now, i64, JudgeOrder)>,
    pub(super) session: usize,
    pub(super) cups: usize,
    pub(super) pours: usize,
}

impl<'a> Hands<'a> {
    pub(super) fn new(studio: &'a mut Studio, cast: Cast, clock: Clock) -> Self {
        Self {
            studio,
            cast,
            clock,
            rng: ChaCha8Rng::seed_from_u64(2_026),
            bottle: None,
            drying: Vec::new(),
            session: 0,
            cups: 0,
            pours: 0,
        }
    }

    /// One of several.
    pub(super) fn one_of(&mut self, texts: &[String]) -> Option<String> {
        if texts.is_empty() {
            return None;
        }
        texts.get(self.rng.random_range(0..texts.len())).cloned()
    }

    /// A note, now and then.
    pub(super) fn note(&mut self, texts: &[String], share: f64) -> Option<String> {
        if chance(&mut self.rng, share) {
            return self.one_of(texts);
        }
        None
    }

    /// Mixes a cup of a recipe, mostly by its newest variant, and reads it.
    pub(super) fn mix(
        &mut self,
        recipe: &str,
        layer: LayerKind,
        ml: f64,
        at: &Now,
    ) -> Answer<Paint> {
        let lifts = self.cast.lifts(recipe, self.session);
        let older = lifts.len() > 1 && chance(&mut self.rng, 0.3);
        let variant = lifts.len() - usize::from(older);
        let volume = (ml / 10.0).ceil() * 10.0;
        let depth = self.depth(layer);
        let known = self.studio.known([])?;
        let mixed_by = known.variant(known.recipe(recipe)?, i64::try_from(variant).ok())?;
        let mut order = MixOrder {
            stirred: Some(Minutes(f64::from(self.rng.random_range(3..6)))),
            tape: self.tape(layer),
            depth: Some(Millimetres(depth)),
            note: self.note(&self.cast.cup_notes.clone(), 0.06),
            ..MixOrder::of(mixed_by, Millilitres(volume))
        };
        if matches!(layer, LayerKind::Colour | LayerKind::Activator) {
            order.from = FilledFrom::Cup(self.bottle_for(volume, at)?);
        }
        let lift = lifts.get(variant.saturating_sub(1)).copied().unwrap_or(0.0);
        let what = (volume, depth, lift);
        let mut paint = Paint::mixed(CupId(0), layer, what, at.at, &mut self.rng);
        if layer != LayerKind::Medium {
            order.reading = Some(Reading::Mound(paint.read(at.at, &mut self.rng)));
        }
        let (cup, parts) = self.studio.jot_mix(&order, at)?;
        self.draw_from_bottle(&parts);
        self.cups += 1;
        paint.cup = CupId(cup.id);
        Ok(paint)
    }

    fn depth(&mut self, layer: LayerKind) -> f64 {
        match layer {
            LayerKind::Medium => 140.0,
            LayerKind::Activator => 35.0,
            _ => f64::from(self.rng.random_range(45..70)),
        }
    }

    fn tape(&mut self, layer: LayerKind) -> Option<String> {
        match layer {
            LayerKind::Activator => Some("red".to_owned()),
            LayerKind::Medium => None,
            _ => self.one_of(&self.cast.tapes.clone()),
        }
    }

    /// A medium bottle that holds enough; a new one is mixed where the old one does not.
    fn bottle_for(&mut self, ml: f64, at: &Now) -> Answer<CupId> {
        if let Some(bottle) = self.bottle.as_ref().filter(|one| one.left > ml) {
            return Ok(bottle.cup);
        }
        if let Some(old) = self.bottle.take() {
            self.studio.jot(old.cup, Happened::Ended(End::Used), at)?;
        }
        let bottle = self.mix("House medium", LayerKind::Medium, BOTTLE_ML, at)?;
        let cup = bottle.cup;
        self.bottle = Some(bottle);
        Ok(cup)
    }

    fn draw_from_bottle(&mut self, parts: &[crate::studio::MixPart]) {
        let drawn = parts.iter().filter(|part| part.from.is_some());
        let drawn: f64 = drawn.map(|part| part.ml.get()).sum();
        if let Some(bottle) = &mut self.bottle {
            bottle.left -= drawn;
        }
    }

    /// Looks at a cup, and says whether it was clear.
    pub(super) fn look(&mut self, cup: &Paint, at: &Now) -> Answer<bool> {
        let clear = cup.is_clear(at.at);
        let seen = if clear { Seen::Clear } else { Seen::Bubbles };
        self.studio.jot(cup.cup, Happened::Looked(seen), at)?;
        Ok(clear)
    }

    /// Reads a cup; now and then the point is forgotten, seen and taken back.
    pub(super) fn read(&mut self, cup: &Paint, at: &Now) -> Answer<Seconds> {
        let read = cup.read(at.at, &mut self.rng);
        if chance(&mut self.rng, 0.03) {
            let slip = Happened::Read(Reading::Mound(read * 10.0));
            self.studio.jot(cup.cup, slip, at)?;
            self.studio.undo(at)?;
        }
        let reading = Happened::Read(Reading::Mound(read));
        self.studio.jot(cup.cup, reading, at)?;
        Ok(read)
    }

    /// Thins a cup that was read toward a mound, and reads it again.
    pub(super) fn thin(
        &mut self,
        cup: &mut Paint,
        read: Seconds,
        aim: f64,
        at: &Now,
    ) -> Answer<()> {
        let ml = cup.thinner(read, aim, &mut self.rng);
        let at = later(at, 2);
        cup.thin(ml, at.at, &mut self.rng);
        let reading = Reading::Mound(cup.read(at.at, &mut self.rng));
        self.thinned(cup.cup, ml, reading, &at)
    }

    /// Writes a thinning with water down.
    pub(super) fn thinned(
        &mut self,
        cup: CupId,
        ml: Millilitres,
        reading: Reading,
        at: &Now,
    ) -> Answer<()> {
        let thinned = Happened::Thinned {
            ml,
            with: self.studio.only_thinner()?.map(|water| water.id),
            hard: false,
            reading: Some(reading),
        };
        self.studio.jot(cup, thinned, at)
    }

    /// Reads a cup and thins it where it is above its window.
    pub(super) fn check(&mut self, cup: &mut Paint, at: &Now) -> Answer<()> {
        let read = self.read(cup, at)?;
        let (aim, high) = match cup.layer {
            LayerKind::Base => (3.5, 4.0),
            LayerKind::Activator => (1.4, 2.0),
            LayerKind::Colour | LayerKind::Medium => (2.5, 3.0),
        };
        if read.get() > high {
            self.thin(cup, read, aim, at)?;
        }
        Ok(())
    }

    /// Ends a cup.
    pub(super) fn end(&mut self, cup: &Paint, at: &Now) -> Answer<()> {
        let end = match normal(&mut self.rng, cup.left, 10.0) {
            left if left < 30.0 => End::Used,
            left if left < 45.0 => End::Skinned,
            _ => End::Binned,
        };
        self.studio.jot(cup.cup, Happened::Ended(end), at)
    }
}
