//! The pour step by step, for hands that are full: which step it is, and when each was done.
//!
//! Steps are what the stack has: its layers, the lowest first, then its moves. A move that was not planned is put in as it
//! is made. Of a stack that was changed meanwhile the steps that still stand are done.

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
    /// Of the next moves, after how many layers each comes; those beyond come last.
    after: Vec<usize>,
    /// Whether it is what the screen shows.
    #[serde(skip)]
    pub open: bool,
}

impl Pouring {
    fn begun(since: Mark) -> Self {
        Self {
            done: Vec::new(),
            since,
            after: Vec::new(),
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

    /// A step is made or left out: what was said of when it comes is over.
    fn over(&mut self, step: &Step) {
        if matches!(step, Step::Move(_)) && !self.after.is_empty() {
            self.after.remove(0);
        }
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

    /// A step that is no longer so counts no more as done.
    pub(super) fn drop_changed(&mut self) {
        let mut layers = self.layers.iter().peekable();
        let mut moves = self.moves.iter().peekable();
        let stands = |done: &Done| match &done.step {
            Step::Layer(cup) => layers.next_if(|layer| layer.cup == *cup).is_some(),
            Step::Move(one) => moves.next_if(|other| *other == one).is_some(),
        };
        if let Some(pouring) = &mut self.pouring {
            pouring.done.retain(stands);
        }
    }

    /// The steps still to be done, the one in hand first.
    pub fn to_do(&self) -> Vec<Step> {
        let Some(pouring) = &self.pouring else {
            return Vec::new();
        };
        let laid = pouring.laid();
        let moves = self.moves.iter().skip(pouring.moved()).cloned();
        let ahead = pouring
            .after
            .iter()
            .copied()
            .chain(std::iter::repeat(usize::MAX));
        let mut moves = moves.map(Step::Move).zip(ahead).peekable();
        let mut steps = Vec::new();
        for (place, layer) in self.layers.iter().enumerate().skip(laid) {
            let comes = |one: &(Step, usize)| one.1 <= place;
            steps.extend(std::iter::from_fn(|| moves.next_if(comes)).map(|(step, _)| step));
            steps.push(Step::Layer(layer.cup));
        }
        steps.extend(moves.map(|(step, _)| step));
        steps
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
        pouring.over(&step);
        pouring.done.push(Done { step, from, to });
        pouring.since = to;
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
            if matches!(last.step, Step::Move(_)) {
                let laid = pouring.laid();
                pouring.after.insert(0, laid);
            }
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
        let laid = pouring.laid();
        pouring.after.insert(0, laid);
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
        pouring.over(&step);
        match step {
            Step::Layer(_) => {
                let laid = pouring.laid();
                self.layers.remove(laid);
                // One layer less lies before what comes later.
                let later = pouring.after.iter_mut().filter(|after| **after > laid);
                later.for_each(|after| *after -= 1);
            }
            Step::Move(_) => drop(self.moves.remove(pouring.moved())),
        }
        pouring.since = Mark::of(beat);
        self.at = self.at.min(self.layers.len().saturating_sub(1));
        self.current = false;
        true
    }

    /// How long the step in hand has been up, or the whole pour took once all is done.
    pub fn step_runs(&self, beat: &Beat) -> Option<Seconds> {
        let pouring = self.pouring.as_ref()?;
        match (self.to_do().is_empty(), pouring.done.as_slice()) {
            (true, [first, .., last]) => Some(last.to.after(&first.from)),
            (true, [only]) => Some(only.to.after(&only.from)),
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
