//! Trials: set up, their runs as pours to do in the order drawn, and what came of them.

mod deeds;
mod effects;
mod forms;
mod keys;
mod runs;
mod update;
mod view;
mod words;

pub use deeds::Deed;
pub use keys::{EFFECTS, KEYS, RUNS};

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::list::Chosen;
use crate::screen::kit::place::{self, Hands, Next, Outcome};
use crate::screen::kit::seek::Label;
use crate::screen::kit::step::Step;
use crate::studio::{Answer, Studio, StudioError, TrialFindings, TrialLine, TrialPage};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::Rect;

/// What the Trials screen has read, and what is chosen on it.
#[derive(Debug, Default)]
pub struct Trials {
    /// The trials, newest first.
    pub pages: Vec<TrialPage>,
    chosen: Chosen,
    /// The chosen run's number, once one was chosen by hand; the next to be poured otherwise.
    run: Option<usize>,
    /// What is looked at.
    place: Place,
    /// What the chosen trial found, once it is over, or why that cannot be said.
    found: Option<Result<TrialFindings, String>>,
    /// The first line of the effects in sight.
    from: usize,
    /// Whether it is as the store has it.
    current: bool,
}

/// What of the trials is looked at.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Place {
    /// The trials, with the runs of the chosen one.
    #[default]
    Rows,
    /// The runs of the chosen trial, one of them chosen.
    Runs,
    /// What it found.
    Effects,
}

/// What a key of the Trials wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Set a trial up.
    New,
    /// Pour the run: the next pour is made for it.
    Pour,
    /// The newest pour was made for the run.
    Link,
    /// Judge the run's picture.
    Judge,
    /// Give the run up.
    Skip,
    /// The run's settings, for the hand that mixes.
    Settings,
    /// The chosen trial's runs.
    Runs,
    /// What the chosen trial found.
    Effects,
    /// Back to the trials.
    Rows,
}

/// Which form of the Trials.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    /// A trial to be set up.
    New,
    /// Why the run of a trial is given up.
    Skip(i64, usize),
}

impl Trials {
    /// Where a key is pressed.
    pub const fn mode(&self) -> Place {
        self.place
    }

    fn stepped(&self, step: Step) -> Option<usize> {
        let page = self.chosen()?;
        let at = page
            .runs
            .iter()
            .position(|run| Some(run.run) == self.at_run());
        let to = step.from(at.unwrap_or(0), page.runs.len());
        page.runs.get(to).map(|run| run.run)
    }

    /// No fewer lines than the effects take in a narrow place.
    fn most_lines(&self) -> usize {
        let found = self.found.as_ref().and_then(|found| found.as_ref().ok());
        found.map_or(0, |found| {
            4 * found.shown().len() + 4 * tell::trials::notes(found).len() + 12
        })
    }

    /// Its place.
    const fn row(&self) -> usize {
        self.chosen.at()
    }

    /// The chosen trial.
    pub fn chosen(&self) -> Option<&TrialPage> {
        self.pages.get(self.row())
    }

    /// The run in hand: the one chosen, else the next to be poured, else the next to be judged.
    fn at_run(&self) -> Option<usize> {
        let page = self.chosen()?;
        let chosen = self.run.filter(|_| self.place == Place::Runs);
        let waits = || page.to_judge().map(|line| line.run);
        let first = || (self.place == Place::Runs).then_some(1);
        let next = chosen.or_else(|| page.next()).or_else(waits);
        next.or_else(first)
    }

    /// The run whose picture is judged next, where none was chosen by hand.
    fn to_judge(&self) -> Option<usize> {
        let page = self.chosen().filter(|_| self.place != Place::Runs)?;
        page.to_judge().map(|line| line.run)
    }

    fn is_over(&self) -> bool {
        self.chosen().is_some_and(TrialPage::is_over)
    }

    fn line(&self) -> Option<(&TrialPage, &TrialLine)> {
        let page = self.chosen()?;
        Some((page, page.run(self.at_run()?)?))
    }

    /// A trial by its number, as it was read last.
    fn called(&self, trial: i64) -> Option<&TrialPage> {
        self.pages.iter().find(|page| page.id == trial)
    }
}

impl place::Place for Trials {
    fn mark_stale(&mut self) {
        self.current = false;
    }

    fn is_stale(&self) -> bool {
        !self.current
    }

    fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        self.pages = studio.trials()?;
        self.chosen.find(self.pages.iter().map(|page| page.id));
        self.found = match self.chosen().filter(|page| page.is_over()) {
            Some(page) => Some(found(studio, page.id, &desk.beat.now)?),
            None => None,
        };
        let gone = match self.place {
            Place::Rows => false,
            Place::Runs => self.pages.is_empty(),
            Place::Effects => self.found.is_none(),
        };
        if gone {
            self.place = Place::Rows;
        }
        self.current = true;
        Ok(())
    }
    /// Another trial, another run, or the effects further on.
    fn step(&mut self, step: Step, _desk: &Desk) {
        match self.place {
            Place::Rows => {
                self.chosen.step(step, self.pages.len());
                let number = self.chosen().map(|page| page.id);
                self.chosen.hold(number);
                self.run = None;
                self.current = false;
            }
            Place::Runs => self.run = self.stepped(step),
            Place::Effects => self.from = step.from(self.from, self.most_lines()),
        }
    }

    fn close(&mut self) {
        (self.place, self.run) = (Place::Rows, None);
    }

    fn labels(&self, _desk: &Desk) -> Vec<Label> {
        match self.place {
            Place::Rows => self.pages.iter().map(label).collect(),
            Place::Runs => {
                let runs = self.chosen().map(|page| &page.runs).into_iter().flatten();
                runs.map(|run| Label::new(run.run, "")).collect()
            }
            Place::Effects => Vec::new(),
        }
    }

    fn chosen_at(&self, _desk: &Desk) -> usize {
        match self.place {
            Place::Runs => self.at_run().map_or(0, |run| run.saturating_sub(1)),
            Place::Rows | Place::Effects => self.row(),
        }
    }

    fn choose_at(&mut self, at: usize, _desk: &Desk) {
        if self.place == Place::Runs {
            let run = self.chosen().and_then(|page| page.runs.get(at));
            self.run = run.map(|run| run.run);
            return;
        }
        self.chosen.go_to(at);
        let number = self.chosen().map(|page| page.id);
        self.chosen.hold(number);
        self.run = None;
        self.current = false;
    }

    fn headline(&self, _desk: &Desk) -> String {
        words::headline(self)
    }

    fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        view::view(self, desk, frame, area);
    }
}

impl Hands for Trials {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        update::update(self, wish, desk)
    }

    fn changed(&self, ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        if *ask == Ask::New {
            forms::changed(form, &desk.beat.now);
        }
        None
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        forms::read(desk, *ask, form).map(drop)
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let deed = forms::read(desk, *ask, form)?;
        if *ask == Ask::New {
            self.chosen.hold(None);
        }
        Ok(Some(deed))
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        deeds::perform(studio, deed, &desk.beat.now)
    }
}

fn found(studio: &Studio, trial: i64, now: &Now) -> Answer<Result<TrialFindings, String>> {
    match studio.trial_findings(trial) {
        Ok(found) => Ok(Ok(found)),
        Err(error @ StudioError::Refused(_)) => {
            // No refusal of a design holds a quantity.
            let words = tell::words(&error, Measures::default(), now);
            Ok(Err(inert(&words).into_owned()))
        }
        Err(error) => Err(error),
    }
}

/// A trial is found by its number, its factors and what it is to find out.
fn label(page: &TrialPage) -> Label {
    let factors = page.factors.iter().map(|factor| factor.name.as_str());
    let words: Vec<_> = factors.chain(page.note.as_deref()).collect();
    Label::new(page.id, words.join(" "))
}
