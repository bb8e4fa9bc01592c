//! How the stack is built, and what was done to it taken back.

use super::{LIES, Layer, PourDesk, Stack};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::RunInHand;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::Outcome;
use crate::studio::{Answer, CupStatus, LayerOrder, Studio, is_film};
use crate::trade::amount::{Measures, sum_as_shown};
use crate::trade::instant::Now;
use crate::trade::moment::earlier;
use crate::trade::panel::Panel;
use crate::trade::units::{Millilitres, Millimetres};

impl PourDesk {
    /// Puts a cup on top of the stack.
    pub fn add(&mut self, layer: Layer) {
        self.keep_before();
        self.layers.push(layer);
        self.at = self.layers.len() - 1;
        self.current = false;
    }

    /// Every ready cup that is not on the stack yet: by layer, and the thickest lowest.
    pub fn ready(&self, cups: &[CupStatus]) -> Vec<CupStatus> {
        let ready = lowest_first(cups)
            .into_iter()
            .filter(|cup| !self.has(cup) && pourable(cup));
        ready.cloned().collect()
    }

    /// Whether a cup is on the stack.
    pub(super) fn has(&self, cup: &CupStatus) -> bool {
        self.layers.iter().any(|layer| layer.cup.0 == cup.cup.id)
    }

    /// Puts layers on top of the stack.
    pub(super) fn add_layers(&mut self, layers: Vec<Layer>) {
        if layers.is_empty() {
            return;
        }
        self.keep_before();
        self.layers.extend(layers);
        self.at = self.layers.len() - 1;
        self.current = false;
    }

    /// The chosen layer's amount times a factor, to the half millilitre and no more than its cup holds.
    pub(super) fn scale(&mut self, factor: f64, cups: &[CupStatus]) {
        let Some(layer) = self.layers.get_mut(self.at) else {
            return;
        };
        let held = cups.iter().find(|cup| cup.cup.id == layer.cup.0);
        let most = held.map_or(f64::MAX, |cup| cup.life.left.get());
        let ml = (layer.ml.get() * factor * 2.0).round() / 2.0;
        layer.ml = Millilitres(ml.clamp(0.5, most.max(0.5)));
        self.current = false;
    }

    /// The chosen layer away.
    pub fn remove(&mut self) {
        if self.at < self.layers.len() {
            self.layers.remove(self.at);
        }
        self.at = self.at.min(self.layers.len().saturating_sub(1));
        self.current = false;
    }

    /// The chosen layer to another place.
    pub fn shift(&mut self, to: Option<usize>) {
        let Some(to) = to.filter(|to| *to < self.layers.len()) else {
            return;
        };
        self.layers.swap(self.at, to);
        self.at = to;
        self.current = false;
    }

    /// What is being built, to be offered again after a quit or a kill; `None` where nothing is.
    pub fn draft(&self) -> Option<Stack> {
        (!self.is_empty()).then(|| self.as_it_stands())
    }

    /// Takes up what was being built when a screen was left, unless something is in hand already.
    pub fn take_up(&mut self, stack: Stack) -> bool {
        let free = self.is_empty();
        if free {
            self.put(stack);
        }
        free
    }

    /// Keeps what stands, since something is about to be done to it.
    pub(super) fn keep_before(&mut self) {
        let before = self.as_it_stands();
        self.past.push(before);
        self.stepped_back = false;
        self.newer = 0;
    }

    pub(super) fn as_it_stands(&self) -> Stack {
        Stack {
            panel: self.panel,
            layers: self.layers.clone(),
            at: self.at,
            way: self.way.clone(),
            moves: self.moves.clone(),
            air: self.air,
            note: self.note.clone(),
            run: self.run.clone(),
            pouring: self.pouring.clone(),
        }
    }

    pub(super) fn put(&mut self, before: Stack) {
        self.panel = before.panel;
        self.layers = before.layers;
        self.at = before.at;
        self.way = before.way;
        self.moves = before.moves;
        self.air = before.air;
        self.note = before.note;
        self.run = before.run;
        self.pouring = before.pouring;
        self.current = false;
    }

    /// Takes back what was done to the stack last; `false` where nothing was.
    pub(super) fn put_back(&mut self) -> bool {
        let Some(before) = self.past.pop() else {
            return false;
        };
        // What was poured was poured, whatever is taken back of the stack; where a step is no longer so, it counts no more.
        let pouring = self.pouring.take();
        self.put(before);
        self.pouring = pouring;
        self.drop_changed();
        self.stepped_back = true;
        true
    }

    /// The pour whose panel a move is of: the one just made, as long as no other is being built.
    pub(super) fn lying(&self, now: &Now) -> Option<i64> {
        let last = self.last.as_ref().filter(|_| self.is_empty())?;
        let fresh = last.pour.at >= earlier(now.at, LIES) && last.scraped_for.is_none();
        fresh.then_some(last.pour.id)
    }

    /// Whether something is being built, or was until it was taken back just now, and nothing was written down since.
    pub const fn is_in_hand(&self) -> bool {
        self.newer == 0 && (!self.is_empty() || self.stepped_back)
    }

    /// Whether the last undo was of the stack.
    pub const fn has_stepped_back(&self) -> bool {
        self.stepped_back
    }

    /// A deed is about to be taken back.
    pub const fn undoing(&mut self) {
        self.newer = self.newer.saturating_sub(1);
        self.undoing = true;
        self.stepped_back = false;
    }

    /// Whether nothing is being built.
    pub const fn is_empty(&self) -> bool {
        self.layers.is_empty() && self.moves.is_empty()
    }

    /// The next pour is made for this run.
    pub fn take_run(&mut self, run: RunInHand) {
        self.keep_before();
        self.run = Some(run);
    }

    /// After a pour: the stack and the moves are done with, the room is as it was.
    pub fn cleared(&mut self) {
        self.layers.clear();
        self.moves.clear();
        self.note = None;
        self.run = None;
        self.pouring = None;
        self.at = 0;
        self.current = false;
    }

    /// All that is on the stack, as it is shown.
    pub fn total(&self, measures: Measures) -> Millilitres {
        sum_as_shown(self.layers.iter().map(|layer| layer.ml), measures)
    }

    /// A cup may be given another mark while it is on the stack.
    pub(super) fn read_marks(&mut self, desk: &Desk) {
        for layer in &mut self.layers {
            if let Some(cup) = desk.known.cup_of(layer.cup) {
                layer.mark = cup.cup.mark.to_string();
            }
        }
    }

    /// The cups that live, and how much of each is to be poured.
    pub(super) fn amounts<'a>(
        &'a self,
        desk: &'a Desk,
    ) -> impl Iterator<Item = (&'a CupStatus, Millilitres)> {
        let layers = self.layers.iter();
        layers.filter_map(|layer| Some((desk.known.cup_of(layer.cup)?, layer.ml)))
    }

    pub(super) fn all_films(&self, panel: Panel) -> Vec<Millimetres> {
        let layers = self.layers.iter();
        layers.map(|layer| panel.film(layer.ml)).collect()
    }

    /// The wet film of each layer; none where the panel is not known yet, or one is no film.
    pub(super) fn films(&self) -> Vec<Millimetres> {
        let films = self.panel.map(|panel| self.all_films(panel));
        let films = films.unwrap_or_default();
        match films.iter().all(is_film) {
            true => films,
            false => Vec::new(),
        }
    }
}

impl PourDesk {
    /// Puts a cup on top.
    pub(super) fn put_on(
        &mut self,
        studio: &Studio,
        order: &LayerOrder,
        desk: &Desk,
    ) -> Answer<Outcome> {
        let ml = studio.layer_volume(order)?;
        let cup = desk.known.cup_of(order.cup);
        cup.into_iter().for_each(|cup| self.add(Layer::of(cup, ml)));
        Ok(Outcome::taken())
    }

    /// Another amount of the layer at a place.
    pub(super) fn set(
        &mut self,
        studio: &Studio,
        place: usize,
        order: &LayerOrder,
    ) -> Answer<Outcome> {
        let ml = studio.layer_volume(order)?;
        self.keep_before();
        if let Some(layer) = self.layers.get_mut(place) {
            layer.ml = ml;
        }
        self.current = false;
        Ok(Outcome::taken())
    }

    /// Puts ready cups on: as much of each as the panel takes, all of them where no panel was said. A layer that has all of
    /// its cup still takes what the panel needs, too.
    pub(super) fn propose(
        &mut self,
        studio: &Studio,
        cups: &[CupStatus],
        desk: &mut Desk,
    ) -> Answer<Outcome> {
        let Some(panel) = self.panel else {
            let all = cups.iter().map(|cup| Layer::of(cup, cup.life.left));
            self.add_layers(all.collect());
            let words = "All of each cup: once the panel is said (p), A takes what it needs";
            desk.say(Message::new(Tone::Done, words));
            return Ok(Outcome::default());
        };
        let lying: Vec<CupStatus> = self.amounts(desk).map(|(cup, _)| cup.clone()).collect();
        let all: Vec<CupStatus> = lying.iter().chain(cups).cloned().collect();
        let amounts = studio.proposed(panel, self.way.as_deref(), &all)?;
        let (old, new) = amounts.split_at(lying.len());
        let mut layers = self.layers.clone();
        for layer in &mut layers {
            let whole = |cup: &CupStatus| layer.ml + Millilitres::DROP >= cup.life.left;
            let own = |(cup, _): &(&CupStatus, _)| cup.cup.id == layer.cup.0 && whole(cup);
            if let Some((_, ml)) = lying.iter().zip(old).find(own) {
                layer.ml = *ml;
            }
        }
        let new = cups.iter().zip(new);
        let new = new.map(|(cup, ml)| Layer::of(cup, *ml));
        layers.extend(new.filter(|layer| !layer.ml.is_nothing()));
        match layers == self.layers {
            true => desk.refuse("No other cup is ready to be poured"),
            false => self.lay(layers),
        }
        Ok(Outcome::default())
    }

    /// Other layers in place of those that lie there, the top one chosen.
    fn lay(&mut self, layers: Vec<Layer>) {
        self.keep_before();
        self.layers = layers;
        self.at = self.layers.len().saturating_sub(1);
        self.current = false;
    }
}

fn pourable(cup: &CupStatus) -> bool {
    cup.state == crate::trade::life::State::Ready
        && cup.recipe.layer != crate::trade::recipe::LayerKind::Medium
}

/// Cups in the order they would lie: those that may be poured first; by layer, and the thickest lowest.
pub fn lowest_first(cups: &[CupStatus]) -> Vec<&CupStatus> {
    let mut sorted: Vec<_> = cups.iter().collect();
    let mound = |cup: &CupStatus| cup.outlook.mound_mid().map_or(0.0, |mound| mound.get());
    sorted.sort_by(|a, b| {
        let first = |cup: &CupStatus| (!pourable(cup), cup.recipe.layer);
        first(a).cmp(&first(b)).then(mound(b).total_cmp(&mound(a)))
    });
    sorted
}
