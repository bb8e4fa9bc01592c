//! What is due, as dates: what clears, wants a look, may be touched or varnished, and the steps of plans to come.

use crate::studio::cups::bench::CupStatus;
use crate::studio::{Answer, PlanSheet, RackLine, Step, Studio};
use crate::trade::cup::Cup;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::recipe::LayerKind;
use crate::trade::units::Band;
use chrono::TimeDelta;
use std::collections::HashSet;

/// One thing that is due.
#[derive(Debug, Clone, PartialEq)]
pub struct Reminder {
    /// When.
    pub at: Moment,
    /// What.
    pub due: Due,
}

/// What is due.
#[derive(Debug, Clone, PartialEq)]
pub enum Due {
    /// A resting cup clears.
    Clears(DueCup),
    /// A ready cup may have thickened.
    Look(DueCup),
    /// What was to come of a cup will not: it is spent.
    Spent {
        /// The cup's number.
        cup: i64,
        /// Its mark.
        mark: Mark,
        /// Which of its reminders is taken back.
        was: CupTurn,
    },
    /// A picture is dry to the touch, or ready for varnish, by its film and the room's air.
    Picture {
        /// Its number.
        pour: i64,
        /// How far it has dried.
        dry: Dry,
        /// From when to when that may be.
        band: Band<Moment>,
    },
    /// A step of a kept plan.
    Step {
        /// The plan's number.
        plan: i64,
        /// Its step.
        step: Step,
    },
}

/// A cup of which something is due.
#[derive(Debug, Clone, PartialEq)]
pub struct DueCup {
    /// Its number.
    pub cup: i64,
    /// Its mark.
    pub mark: Mark,
    /// What is in it.
    pub title: String,
    /// The layer it is for.
    pub layer: LayerKind,
}

/// A turn of a cup's life that can be reminded of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CupTurn {
    /// It clears.
    Clears,
    /// It wants a look.
    Look,
}

/// How far a picture has dried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dry {
    /// It may be touched.
    Touch,
    /// It may be varnished.
    Varnish,
}

impl Reminder {
    /// Whether it will not come any more.
    #[must_use]
    pub fn is_off(&self) -> bool {
        matches!(self.due, Due::Spent { .. })
    }

    /// The name by which a calendar knows it: the same thing at another time keeps it.
    #[must_use]
    pub fn name(&self) -> String {
        match &self.due {
            Due::Clears(cup) => of_turn(cup.cup, CupTurn::Clears),
            Due::Look(cup) => of_turn(cup.cup, CupTurn::Look),
            Due::Spent { cup, was, .. } => of_turn(*cup, *was),
            Due::Picture { pour, dry, .. } => match dry {
                Dry::Touch => format!("pour-{pour}-touch"),
                Dry::Varnish => format!("pour-{pour}-varnish"),
            },
            Due::Step { plan, step } => {
                let cup = step.cup.as_ref().map(|cup| plain(&cup.to_string()));
                let cup = cup.map(|cup| format!("-{cup}")).unwrap_or_default();
                format!("plan-{plan}-{}{cup}", step.deed)
            }
        }
    }
}

fn of_turn(cup: i64, turn: CupTurn) -> String {
    match turn {
        CupTurn::Clears => format!("cup-{cup}-clears"),
        CupTurn::Look => format!("cup-{cup}-look"),
    }
}

/// All that is due, of one studio at one state of its history.
#[derive(Debug, Clone, PartialEq)]
pub struct Reminders {
    /// The studio's own name, made when it was begun; nothing where nothing was ever written down.
    pub studio: String,
    /// The number of its last change: it rises with each.
    pub change: i64,
    /// What is due, the soonest first.
    pub all: Vec<Reminder>,
    /// What has come and stands, by the names of its reminders: an alarm that still waits for it must ring.
    pub come: HashSet<String>,
}

impl Reminders {
    /// What is still to come, the soonest first.
    pub fn coming(&self) -> impl Iterator<Item = &Reminder> {
        self.all.iter().filter(|one| !one.is_off())
    }
}

/// So long after its end a cup's reminders are still taken back.
const TAKEN_BACK: TimeDelta = TimeDelta::days(14);

impl Studio {
    /// What is due after now.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reminders(&self, now: &Now) -> Answer<Reminders> {
        let (studio, change) = self.book.read()?.identity()?;
        let cups = self.bench(now)?;
        let mut all: Vec<Reminder> = cups.iter().filter_map(of_cup).collect();
        all.extend(self.rack(now)?.iter().flat_map(of_picture));
        for page in self
            .plans()?
            .iter()
            .filter(|page| page.plan.pour_at > Some(now.at))
        {
            let sheet = self.kept_sheet(page.plan.id, now)?;
            all.extend(sheet.iter().flat_map(|sheet| of_plan(page.plan.id, sheet)));
        }
        let (mut all, past): (Vec<Reminder>, Vec<Reminder>) =
            all.into_iter().partition(|one| one.at > now.at);
        let mut come: HashSet<String> = past.iter().map(Reminder::name).collect();
        come.extend(cups.iter().flat_map(came_of_cup));
        all.extend(self.taken_back(now)?);
        all.sort_by_cached_key(|one| (one.at, one.name()));
        Ok(Reminders {
            studio,
            change,
            all,
            come,
        })
    }

    /// What was to come of cups that ended before it.
    fn taken_back(&self, now: &Now) -> Answer<Vec<Reminder>> {
        let read = self.book.read()?;
        let spent = read.spent_since((now.at - TAKEN_BACK).timestamp_millis())?;
        let off = |(cup, at): (Cup, Moment)| {
            [CupTurn::Clears, CupTurn::Look].map(|was| Reminder {
                at,
                due: Due::Spent {
                    cup: cup.id,
                    mark: cup.mark.clone(),
                    was,
                },
            })
        };
        Ok(spent.into_iter().flat_map(off).collect())
    }
}

fn of_cup(one: &CupStatus) -> Option<Reminder> {
    let cup = || DueCup {
        cup: one.cup.id,
        mark: one.cup.mark.clone(),
        title: one.title(),
        layer: one.recipe.layer,
    };
    let due = match one.state {
        State::Resting => Due::Clears(cup()),
        State::Ready => Due::Look(cup()),
        State::Look | State::Thick | State::Thin | State::Spent => return None,
    };
    let at = one.turns_at()?;
    Some(Reminder { at, due })
}

/// What came of a cup that now waits to be looked at.
fn came_of_cup(one: &CupStatus) -> impl Iterator<Item = String> {
    let waits = one.state == State::Look;
    let turns = [CupTurn::Clears, CupTurn::Look].into_iter();
    let cup = one.cup.id;
    turns
        .filter(move |_| waits)
        .map(move |turn| of_turn(cup, turn))
}

/// The later end of each band: by then it is so, as far as that can be known.
fn of_picture(line: &RackLine) -> Vec<Reminder> {
    let pour = line.page.pour.id;
    let kinds = [(Dry::Touch, &line.touch), (Dry::Varnish, &line.varnish)];
    let known = kinds.into_iter().filter_map(|(dry, band)| {
        let band = *band.as_ref().ok()?;
        Some(Reminder {
            at: band.high,
            due: Due::Picture { pour, dry, band },
        })
    });
    known.collect()
}

fn of_plan(plan: i64, sheet: &PlanSheet) -> Vec<Reminder> {
    let step = |step: &Step| Reminder {
        at: step.at,
        due: Due::Step {
            plan,
            step: step.clone(),
        },
    };
    sheet.schedule.iter().map(step).collect()
}

/// A name in letters that every calendar keeps as they are.
fn plain(name: &str) -> String {
    let letter = |c: char| match c {
        _ if c.is_ascii_alphanumeric() => c.to_ascii_lowercase().to_string(),
        ' ' => "-".to_owned(),
        _ => format!("{:x}", u32::from(c)),
    };
    name.chars().map(letter).collect()
}
