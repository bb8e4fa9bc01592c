//! The pour step by step, for hands that are full: which step it is, and when each was done.
//!
//! Steps are what the stack has: its layers, the lowest first, then its moves. A move that was not planned is put in as it
//! is made. What is left of a stack that was changed meanwhile goes on from the first step that is another.

use super::PourDesk;
use crate::screen::kit::beat::Beat;
use crate::screen::kit::mark::Mark;
use crate::studio::LayerOrder;
use crate::trade::amount::Amount;
use crate::trade::ids::CupId;
use crate::trade::pour::{Move, MoveKind};
use crate::trade::units::Seconds;
use serde::{Deserialize, Serialize};

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Step {
    /// A cup onto the panel.
    Layer(CupId),
    /// The panel moved.
    Move(Move),
}

/// A step that was done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Done {
    step: Step,
    from: Mark,
    to: Mark,
}

/// A pour that is under way.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pouring {
    done: Vec<Done>,
    /// When the step in hand came up.
    since: Mark,
    /// Whether a move is made before the next layer.
    moves_first: bool,
    /// Whether it is what the screen shows.
    #[serde(skip)]
    pub open: bool,
}

impl Pouring {
    fn begun(since: Mark) -> Self {
        Self {
            done: Vec::new(),
            since,
            moves_first: false,
            open: true,
        }
    }

    fn laid(&self) -> usize {
        let layers = self.done.iter();
        layers
            .filter(|one| matches!(one.step, Step::Layer(_)))
            .count()
    }

    fn moved(&self) -> usize {
        self.done.len() - self.laid()
    }
}

impl PourDesk {
    /// Whether the pour is shown step by step.
    pub fn is_pouring(&self) -> bool {
        self.pouring.as_ref().is_some_and(|one| one.open)
    }

    /// Begins, or goes on where it was left: the watch of the step in hand begins anew.
    pub(super) fn begin(&mut self, beat: &Beat) {
        let mark = Mark::of(beat);
        let pouring = self.pouring.get_or_insert_with(|| Pouring::begun(mark));
        pouring.open = true;
        pouring.since = mark;
        self.drop_changed();
    }

    /// It is left; what was done so far is kept.
    pub(super) fn leave_steps(&mut self) {
        if let Some(pouring) = &mut self.pouring {
            pouring.open = false;
        }
    }

    /// Steps from the first on that is no longer so, were not done.
    fn drop_changed(&mut self) {
        let (mut layers, mut moves) = (self.layers.iter(), self.moves.iter());
        let mut stands = |done: &Done| match &done.step {
            Step::Layer(cup) => layers.next().is_some_and(|layer| layer.cup == *cup),
            Step::Move(one) => moves.next() == Some(one),
        };
        if let Some(pouring) = &mut self.pouring {
            let kept = pouring.done.iter().take_while(|done| stands(done)).count();
            pouring.done.truncate(kept);
        }
    }

    /// The steps still to be done, the one in hand first.
    pub fn to_do(&self) -> Vec<Step> {
        let Some(pouring) = &self.pouring else {
            return Vec::new();
        };
        let layers = self.layers.iter().skip(pouring.laid());
        let layers = layers.map(|layer| Step::Layer(layer.cup));
        let moves = self.moves.iter().skip(pouring.moved()).cloned();
        let mut moves = moves.map(Step::Move);
        let first = pouring.moves_first.then(|| moves.next()).flatten();
        first.into_iter().chain(layers).chain(moves).collect()
    }

    /// How many steps were done.
    pub fn steps_done(&self) -> usize {
        self.pouring.as_ref().map_or(0, |one| one.done.len())
    }

    /// The step in hand is done; `false` where none is left.
    pub(super) fn step_done(&mut self, beat: &Beat) -> bool {
        let next = self.to_do().into_iter().next();
        let both = self.pouring.as_mut().zip(next);
        let Some((pouring, step)) = both else {
            return false;
        };
        let (from, to) = (pouring.since, Mark::of(beat));
        pouring.done.push(Done { step, from, to });
        pouring.since = to;
        pouring.moves_first = false;
        true
    }

    /// The step before was not done after all; `false` where none was.
    pub(super) fn step_back(&mut self) -> bool {
        let Some(pouring) = &mut self.pouring else {
            return false;
        };
        let last = pouring.done.pop();
        if let Some(last) = &last {
            pouring.since = last.from;
            pouring.moves_first = matches!(last.step, Step::Move(_));
        }
        last.is_some()
    }

    /// A move that is made now.
    pub(super) fn move_now(&mut self, kind: MoveKind, beat: &Beat) -> bool {
        self.keep_before();
        let Some(pouring) = &mut self.pouring else {
            return false;
        };
        let place = pouring.moved().min(self.moves.len());
        self.moves.insert(place, Move::of(kind));
        pouring.moves_first = true;
        pouring.since = Mark::of(beat);
        true
    }

    /// The step in hand is not made at all: the move or the layer goes.
    pub(super) fn leave_out(&mut self, beat: &Beat) -> bool {
        let next = self.to_do().into_iter().next();
        let Some(step) = next else {
            return false;
        };
        self.keep_before();
        let Some(pouring) = &mut self.pouring else {
            return false;
        };
        match step {
            Step::Layer(_) => drop(self.layers.remove(pouring.laid())),
            Step::Move(_) => drop(self.moves.remove(pouring.moved())),
        }
        pouring.moves_first = false;
        pouring.since = Mark::of(beat);
        self.at = self.at.min(self.layers.len().saturating_sub(1));
        self.current = false;
        true
    }

    /// How long the step in hand has been up, or the whole pour took once all is done.
    pub fn step_runs(&self, beat: &Beat) -> Option<Seconds> {
        let pouring = self.pouring.as_ref()?;
        match (self.to_do().is_empty(), pouring.done.first()) {
            (true, Some(first)) => Some(pouring.since.after(&first.from)),
            _ => Some(Mark::of(beat).after(&pouring.since)),
        }
    }

    /// The layers to be poured, each with the instant at which it lay, where that was kept.
    pub(super) fn layer_orders(&self) -> Vec<LayerOrder> {
        let mut lay = self
            .timed()
            .filter(|done| matches!(done.step, Step::Layer(_)));
        let order = |layer: &super::Layer| LayerOrder {
            at: lay.next().map(|done| done.to.at),
            ..LayerOrder::of(layer.cup, Amount::Volume(layer.ml))
        };
        self.layers.iter().map(order).collect()
    }

    /// The moves, each with when it was begun and how long it took, where that was kept.
    pub(super) fn timed_moves(&self) -> Vec<Move> {
        let mut made = self
            .timed()
            .filter(|done| matches!(done.step, Step::Move(_)));
        let timed = |one: &Move| {
            let done = made.next();
            Move {
                begun: done.map(|done| done.from.at),
                took: done.map(|done| done.to.after(&done.from)),
                ..one.clone()
            }
        };
        self.moves.iter().map(timed).collect()
    }

    fn timed(&self) -> impl Iterator<Item = &Done> {
        self.pouring.iter().flat_map(|pouring| &pouring.done)
    }
}
