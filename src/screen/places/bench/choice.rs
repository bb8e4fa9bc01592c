//! Which cup is chosen: it stays where a hand was, and goes on once the hand is done.

use crate::screen::kit::known::wants_a_hand;
use crate::screen::kit::list::Chosen;
use crate::screen::kit::step::Step;
use crate::studio::CupStatus;

/// The chosen cup, and where the choice goes once the cups are read again.
#[derive(Debug)]
pub struct Choice {
    chosen: Chosen,
    /// What was chosen, by number, before each of the cups that were mixed since a hand was on one, the newest last; `None`
    /// where no hand had chosen.
    before: Vec<Option<i64>>,
    /// A cup, by number, to choose once it is read.
    wanted: Option<i64>,
    /// A cup, by number, that came back and is to be chosen once it is read.
    back: Option<i64>,
    /// What was tended.
    tended: Option<Tended>,
    /// Whether the choice stands where it does by itself, and no hand was on it since.
    went_on: bool,
    /// The mark of the cup that the choice has just gone on to, until it is said.
    gone_on_to: Option<String>,
    /// Whether something was done in this terminal since the cups were last read.
    own: bool,
    /// Whether the chosen cup went, and by no deed of this terminal: another has slid under the hand.
    slid: bool,
}

impl Default for Choice {
    /// The first cup, which no hand has chosen.
    fn default() -> Self {
        Self {
            chosen: Chosen::default(),
            before: Vec::new(),
            wanted: None,
            back: None,
            tended: None,
            went_on: true,
            gone_on_to: None,
            own: false,
            slid: false,
        }
    }
}

/// A cup that was just tended.
#[derive(Debug)]
struct Tended {
    cup: i64,
    /// The other cups in the order they stood in, those after it first.
    others: Vec<i64>,
}

impl Choice {
    /// Its place.
    pub const fn at(&self) -> usize {
        self.chosen.at()
    }

    /// Another cup.
    pub fn step(&mut self, step: Step, cups: &[CupStatus]) {
        self.chosen.step(step, cups.len());
        self.hold(cups.get(self.at()).map(|cup| cup.cup.id));
    }

    /// The cup at a place.
    pub fn go_to(&mut self, at: usize, cups: &[CupStatus]) {
        self.chosen.go_to(at);
        self.hold(cups.get(at).map(|cup| cup.cup.id));
    }

    /// A hand is on a cup: what was chosen before counts no more.
    fn hold(&mut self, cup: Option<i64>) {
        self.chosen.hold(cup);
        self.before.clear();
        self.went_on = false;
        self.slid = false;
    }

    /// Something was done in this terminal.
    pub const fn after_deed(&mut self) {
        self.own = true;
    }

    /// The cup that the choice went on to by itself, once.
    pub const fn take_gone_on(&mut self) -> Option<String> {
        self.gone_on_to.take()
    }

    /// Whether another cup has slid under the hand, and none was chosen since.
    pub const fn has_slid(&self) -> bool {
        self.slid
    }

    /// Chooses the cup of a number once it is read.
    pub const fn want(&mut self, cup: i64) {
        self.wanted = Some(cup);
    }

    /// Chooses the cup of a number, which came back, once it is read, if it lives.
    pub const fn want_back(&mut self, cup: i64) {
        self.back = Some(cup);
    }

    /// The cup of a number was tended; the cups are as they stood before.
    pub fn tended(&mut self, cup: i64, cups: &[CupStatus]) {
        let Some(place) = cups.iter().position(|one| one.cup.id == cup) else {
            return self.want(cup);
        };
        let ids = |cups: &[CupStatus]| -> Vec<i64> { cups.iter().map(|one| one.cup.id).collect() };
        let others = [ids(&cups[place + 1..]), ids(&cups[..place])].concat();
        // One that wanted no hand was sought out: the hand stays on it.
        if !wants_a_hand(cups[place].state) {
            return self.want(cup);
        }
        self.tended = Some(Tended { cup, others });
    }

    /// The next cup that wants a hand, after the chosen one or from the first on; whether there is one. Where the choice
    /// has just gone on to it by itself, it is that one: a painter who presses the key all the same skips none.
    pub fn next_hand(&mut self, after_chosen: bool, cups: &[CupStatus]) -> bool {
        let wants = |cup: &&CupStatus| wants_a_hand(cup.state);
        let from = match after_chosen {
            true => self.at() + usize::from(!self.went_on),
            false => 0,
        };
        let (before, after) = cups.split_at(from.min(cups.len()));
        let found = after.iter().chain(before).find(wants);
        let found = found.map(|cup| cup.cup.id);
        if found.is_some() {
            self.hold(found);
        }
        found.is_some()
    }

    /// Finds the chosen cup again among those read.
    pub fn find(&mut self, cups: &[CupStatus]) {
        let by_id = |id: i64| cups.iter().find(|one| one.cup.id == id);
        if let Some(back) = self.back.take().filter(|id| by_id(*id).is_some()) {
            self.hold(Some(back));
        }
        if let Some(tended) = self.tended.take() {
            let next = tended.next(cups);
            self.hold(Some(next));
            self.went_on = next != tended.cup;
            let next = by_id(next).filter(|_| self.went_on);
            self.gone_on_to = next.map(|cup| cup.cup.mark.to_string());
        }
        if let Some(wanted) = self.wanted.take().filter(|id| by_id(*id).is_some()) {
            self.before.push(self.chosen.number());
            self.chosen.hold(Some(wanted));
        }
        if self.chosen.number().is_some_and(|id| by_id(id).is_none()) {
            self.step_back(cups);
        }
        self.own = false;
        self.chosen.find(cups.iter().map(|one| one.cup.id));
    }
}

impl Choice {
    /// The chosen cup is gone: what was chosen before it is again.
    fn step_back(&mut self, cups: &[CupStatus]) {
        let lives = |id: i64| cups.iter().any(|one| one.cup.id == id);
        let mut before = std::iter::from_fn(|| self.before.pop());
        let before = before.find(|before| before.is_none_or(lives));
        self.slid = before.is_none() && !self.own;
        if let Some(before) = before {
            self.chosen.hold(before);
        }
    }
}

impl Tended {
    /// The cup that is chosen now: this one while it wants a hand, else the next that does; this one where none does.
    fn next(&self, cups: &[CupStatus]) -> i64 {
        let wants = |id: &i64| {
            let mut cups = cups.iter();
            cups.any(|one| one.cup.id == *id && wants_a_hand(one.state))
        };
        if wants(&self.cup) {
            return self.cup;
        }
        self.others.iter().copied().find(wants).unwrap_or(self.cup)
    }
}
