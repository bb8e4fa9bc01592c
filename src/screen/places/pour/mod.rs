//! The Pour: the stack of layers as it is built, held to the rules of the trade, and what is done with it.

mod deeds;
mod forms;
mod keys;
mod update;
mod view;

pub use deeds::Deed;
pub use keys::KEYS;

use crate::screen::kit::correct;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::handover::RunInHand;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::{Hands, Next, Outcome, Place};
use crate::screen::kit::refusal::words;
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::orders::{CorrectOrder, PourField};
use crate::studio::{
    Answer, CupStatus, LayerOrder, PourPage, StackAdvice, StackStep, Studio, StudioError, overdrawn,
};
use crate::tell;
use crate::trade::amount::{Measures, sum_as_shown};
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::length::show_length;
use crate::trade::moment::earlier;
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};
use crate::trade::units::{Millilitres, Millimetres};
use chrono::TimeDelta;
use ratatui::Frame;
use ratatui::layout::Rect;
use serde::{Deserialize, Serialize};

/// How far back a pour is still at hand to be judged or begun again.
const AT_HAND: TimeDelta = TimeDelta::days(30);

/// How long what is done with a panel belongs to the pour that was just made (ours): moves mostly happen once the paint
/// lies.
const LIES: TimeDelta = TimeDelta::hours(1);

/// A layer on the stack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Layer {
    /// The cup.
    pub cup: CupId,
    /// Its mark, as it was last seen.
    pub mark: String,
    /// How much of it.
    pub ml: Millilitres,
}

impl Layer {
    /// So much of a cup.
    pub fn of(cup: &CupStatus, ml: Millilitres) -> Self {
        Self {
            cup: CupId(cup.cup.id),
            mark: cup.cup.mark.to_string(),
            ml,
        }
    }
}

/// The stack as it stands at one time: before something was done to it, or when the screen was left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stack {
    panel: Option<Panel>,
    layers: Vec<Layer>,
    at: usize,
    way: Option<String>,
    moves: Vec<Move>,
    air: Option<Air>,
    note: Option<String>,
    run: Option<RunInHand>,
}

/// The stack as it is being built.
#[derive(Debug, Default)]
pub struct PourDesk {
    /// What is poured on.
    pub panel: Option<Panel>,
    /// The layers, lowest first.
    pub layers: Vec<Layer>,
    /// The chosen layer's place from the lowest.
    pub at: usize,
    /// The technique.
    pub way: Option<String>,
    /// What was done with the panel.
    pub moves: Vec<Move>,
    /// The air of the room.
    pub air: Option<Air>,
    /// Anything else.
    pub note: Option<String>,
    /// What is wrong with the stack.
    pub faults: Vec<String>,
    /// Of each step from one layer to the next, lowest first: whether the order holds, what sinks, what would mend it.
    pub steps: Vec<Vec<String>>,
    /// The newest pour.
    pub last: Option<PourPage>,
    /// The stack before each thing that was done to it, the newest last.
    past: Vec<Stack>,
    /// The stack that was poured last, in case the pour is taken back.
    poured: Option<Stack>,
    /// The run of a trial that the next pour is made for.
    pub run: Option<RunInHand>,
    /// The pour that was judged already, and that the next start-over scrapes all the same.
    scraping: Option<i64>,
    /// Whether it is as the store has it.
    current: bool,
}

/// What a key of the Pour wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// The panel and the room, from one field on.
    Setting(PourField),
    /// A cup on top of the stack.
    Add,
    /// Every ready cup that is not on it, the thickest lowest.
    AddReady,
    /// How much of the chosen layer.
    Amount,
    /// The chosen layer away.
    Remove,
    /// The chosen layer one higher.
    Raise,
    /// The chosen layer one lower.
    Lower,
    /// A move of the panel.
    Move(MoveKind),
    /// The pour that was made last put right.
    Correct,
    /// The last move away.
    Unmove,
    /// Pour it.
    Go,
    /// Pour it though a cup was thought to hold less.
    GoEvenSo,
    /// Scrape the last pour and begin again.
    Again,
    /// Judge the last pour.
    Judge,
    /// A twentieth more of the chosen layer.
    More,
    /// A twentieth less.
    Less,
    /// Everything away that is being built.
    Clear,
}

/// Which form of the Pour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// The panel and the room.
    Setting,
    /// A layer on top.
    Add,
    /// How much of the layer at a place.
    Amount(usize),
    /// A move of the panel.
    Move(MoveKind),
    /// A move of the panel that lies there already: of the pour of the number.
    Moved(i64, MoveKind),
    /// The pour of the number put right.
    Correct(i64),
}

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
    fn has(&self, cup: &CupStatus) -> bool {
        self.layers.iter().any(|layer| layer.cup.0 == cup.cup.id)
    }

    /// Puts layers on top of the stack.
    fn add_layers(&mut self, layers: Vec<Layer>) {
        if layers.is_empty() {
            return;
        }
        self.keep_before();
        self.layers.extend(layers);
        self.at = self.layers.len() - 1;
        self.current = false;
    }

    /// The chosen layer's amount times a factor, to the half millilitre and no more than its cup holds.
    fn scale(&mut self, factor: f64, cups: &[CupStatus]) {
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
    fn keep_before(&mut self) {
        let before = self.as_it_stands();
        self.past.push(before);
    }

    fn as_it_stands(&self) -> Stack {
        Stack {
            panel: self.panel,
            layers: self.layers.clone(),
            at: self.at,
            way: self.way.clone(),
            moves: self.moves.clone(),
            air: self.air,
            note: self.note.clone(),
            run: self.run.clone(),
        }
    }

    fn put(&mut self, before: Stack) {
        self.panel = before.panel;
        self.layers = before.layers;
        self.at = before.at;
        self.way = before.way;
        self.moves = before.moves;
        self.air = before.air;
        self.note = before.note;
        self.run = before.run;
        self.current = false;
    }

    /// Takes back what was done to the stack last; `false` where nothing was.
    fn put_back(&mut self) -> bool {
        let before = self.past.pop();
        let was_done = before.is_some();
        before.into_iter().for_each(|before| self.put(before));
        was_done
    }

    /// The pour was taken back: its stack and moves are in hand again, unless another is being built.
    pub fn bring_back(&mut self) {
        if self.is_empty()
            && let Some(before) = self.poured.take()
        {
            self.put(before);
        }
    }

    /// The pour whose panel a move is of: the one just made, as long as no other is being built.
    fn lying(&self, now: &Now) -> Option<i64> {
        let last = self.last.as_ref().filter(|_| self.is_empty())?;
        let fresh = last.pour.at >= earlier(now.at, LIES) && last.scraped_for.is_none();
        fresh.then_some(last.pour.id)
    }

    /// Whether nothing is being built.
    pub const fn is_empty(&self) -> bool {
        self.layers.is_empty() && self.moves.is_empty()
    }

    /// It was poured: what was built is done with, and kept in case that is taken back.
    fn poured(&mut self) {
        if !self.is_empty() {
            self.poured = Some(self.as_it_stands());
        }
        self.past.clear();
        self.cleared();
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
        self.at = 0;
        self.current = false;
    }

    /// All that is on the stack, as it is shown.
    pub fn total(&self, measures: Measures) -> Millilitres {
        sum_as_shown(self.layers.iter().map(|layer| layer.ml), measures)
    }

    /// A cup may be given another mark while it is on the stack.
    fn read_marks(&mut self, desk: &Desk) {
        for layer in &mut self.layers {
            if let Some(cup) = desk.known.cup_of(layer.cup) {
                layer.mark = cup.cup.mark.to_string();
            }
        }
    }

    /// The cups that live, and how much of each is to be poured.
    fn amounts<'a>(&'a self, desk: &'a Desk) -> impl Iterator<Item = (&'a CupStatus, Millilitres)> {
        let layers = self.layers.iter();
        layers.filter_map(|layer| Some((desk.known.cup_of(layer.cup)?, layer.ml)))
    }

    fn all_films(&self, panel: Panel) -> Vec<Millimetres> {
        let layers = self.layers.iter();
        layers.map(|layer| panel.film(layer.ml)).collect()
    }

    /// The wet film of each layer; none where the panel is not known yet, or one is no film.
    fn films(&self) -> Vec<Millimetres> {
        let films = self.panel.map(|panel| self.all_films(panel));
        let films = films.unwrap_or_default();
        let known = films.iter().all(|film| (0.01..=20.0).contains(&film.get()));
        if known { films } else { Vec::new() }
    }
}

impl Place for PourDesk {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        let now = &desk.beat.now;
        self.read_marks(desk);
        let cups: Vec<_> = self.layers.iter().map(|layer| layer.cup).collect();
        let measures = desk.measures();
        let all = self.panel.map(|panel| self.all_films(panel));
        self.faults = match studio.check_stack(&cups, &all.unwrap_or_default(), now) {
            Ok(check) => {
                let more = overdrawn(self.amounts(desk));
                let faults = more.iter().chain(&check.faults);
                faults.map(|one| tell::words(one, measures, now)).collect()
            }
            Err(error @ StudioError::Refused(_)) => vec![words(&error, measures, now)],
            Err(error) => return Err(error),
        };
        self.steps = match studio.stack(&cups, &self.films(), now) {
            Ok(sheet) => {
                let steps = sheet.steps.iter();
                let words = |step| step_words(step, measures, now);
                steps.map(words).collect()
            }
            // The same refusal stands among the faults.
            Err(StudioError::Refused(_)) => Vec::new(),
            Err(error) => return Err(error),
        };
        let pours = studio.pours(Some(earlier(now.at, AT_HAND)))?;
        self.last = pours.into_iter().next();
        self.current = true;
        Ok(())
    }
    /// Up is nearer to the top of the stack.
    fn step(&mut self, step: Step, _desk: &Desk) {
        let count = self.layers.len();
        let from_top = count.saturating_sub(1 + self.at);
        self.at = count.saturating_sub(1 + step.from(from_top, count));
    }

    fn labels(&self, desk: &Desk) -> Vec<Label> {
        let name = |layer: &Layer| desk.known.cup_of(layer.cup).map(CupStatus::title);
        let layers = self.layers.iter();
        layers
            .map(|layer| Label::new(&layer.mark, name(layer).unwrap_or_default()))
            .collect()
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        self.at = at;
    }

    fn headline(&self, desk: &Desk) -> String {
        view::headline(self, desk)
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        view::view(self, desk, frame, area);
    }

    fn take_back(&mut self, desk: &mut Desk) -> bool {
        let done = self.put_back();
        if done {
            desk.say(Message::new(
                Tone::Done,
                "The stack is as it was before that",
            ));
        }
        done
    }
}

impl Hands for PourDesk {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        update::update(self, wish, desk)
    }

    fn changed(&self, ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        if *ask == Ask::Add {
            forms::changed(desk, form);
        }
        None
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let page = self.last.as_ref();
        match ask {
            Ask::Correct(pour) => {
                let page = page.filter(|page| page.pour.id == *pour);
                let order = page
                    .map(|page| correct::order(page, form, desk))
                    .transpose()?;
                Ok(order.map(|order| Deed::Correct(*pour, Box::new(order))))
            }
            Ask::Moved(pour, _) => {
                let order = CorrectOrder {
                    more_moves: forms::moves(desk, form)?,
                    ..CorrectOrder::default()
                };
                Ok(Some(Deed::Correct(*pour, Box::new(order))))
            }
            Ask::Setting => forms::keep_setting(self, desk, form).map(|()| None),
            Ask::Move(_) => forms::keep_moves(self, desk, form).map(|()| None),
            Ask::Add => Ok(Some(Deed::Put(forms::layer(desk, form)?))),
            Ask::Amount(place) => {
                let layer = self.layers.get(*place).map(|layer| layer.cup);
                let order = layer
                    .map(|cup| forms::amount_of(cup, desk, form))
                    .transpose()?;
                Ok(order.map(|order| Deed::Set(*place, order)))
            }
        }
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        match deed {
            Deed::Propose(cups) => return self.propose(studio, cups, desk),
            Deed::Put(order) => return self.put_on(studio, &order, desk),
            Deed::Set(place, order) => return self.set(studio, place, &order),
            _ => {}
        }
        let pours = !matches!(deed, Deed::Correct(..));
        let done = deeds::perform(studio, deed, &desk.beat.now)?;
        if pours {
            self.poured();
        }
        Ok(done)
    }
}

impl PourDesk {
    /// Puts a cup on top.
    fn put_on(&mut self, studio: &Studio, order: &LayerOrder, desk: &Desk) -> Answer<Outcome> {
        let ml = studio.layer_volume(order)?;
        let cup = desk.known.cup_of(order.cup);
        cup.into_iter().for_each(|cup| self.add(Layer::of(cup, ml)));
        Ok(Outcome::taken())
    }

    /// Another amount of the layer at a place.
    fn set(&mut self, studio: &Studio, place: usize, order: &LayerOrder) -> Answer<Outcome> {
        let ml = studio.layer_volume(order)?;
        self.keep_before();
        if let Some(layer) = self.layers.get_mut(place) {
            layer.ml = ml;
        }
        self.current = false;
        Ok(Outcome::taken())
    }

    /// Puts ready cups on: as much of each as the panel takes, all of them where no panel was said.
    fn propose(
        &mut self,
        studio: &Studio,
        cups: Vec<CupStatus>,
        desk: &mut Desk,
    ) -> Answer<Outcome> {
        let amounts = match self.panel {
            Some(panel) => studio.proposed(panel, self.way.as_deref(), &cups)?,
            None => cups.iter().map(|cup| cup.life.left).collect(),
        };
        let layers = cups.iter().zip(amounts);
        let layers = layers.map(|(cup, ml)| Layer::of(cup, ml));
        self.add_layers(layers.filter(|layer| !layer.ml.is_nothing()).collect());
        if self.panel.is_none() {
            let words = "All of each cup: once the panel is said (p), A takes what it needs";
            desk.say(Message::new(Tone::Done, words));
        }
        Ok(Outcome::default())
    }
}

/// What one step of the ladder says: the chance that its order holds, cells by density as a band, and what would mend
/// it. Its faults stand among those of the stack.
fn step_words(step: &StackStep, measures: Measures, now: &Now) -> Vec<String> {
    let mut words = Vec::new();
    if let Some(holds) = step.order_holds {
        let percent = holds.get() * 100.0;
        words.push(match percent >= 50.0 {
            true => format!("probably thinner than the layer below ({percent:.0} %)"),
            false => format!(
                "probably not thinner than the layer below ({:.0} %)",
                100.0 - percent
            ),
        });
    }
    if let (Some(spacing), Some(shows)) = (step.spacing, step.shows_in) {
        words.push(format!(
            "heavier than the one below: cells about {} apart, {} (surface tension is not in this)",
            show_length(spacing.mid, measures),
            tell::shows(shows)
        ));
    }
    let unshown = step.spacing.is_none();
    let notes = step.check.notes.iter().filter(|_| unshown);
    words.extend(notes.map(|note| tell::words(note, measures, now)));
    let mends = |advice: &&StackAdvice| match advice {
        StackAdvice::Thin { .. } | StackAdvice::Swap { .. } | StackAdvice::Read { .. } => true,
        StackAdvice::ActivatorOnTop { .. } => false,
    };
    let advice = step.advice.as_ref().filter(mends);
    words.extend(advice.map(|advice| tell::words(advice, measures, now)));
    words
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
