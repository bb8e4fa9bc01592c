//! What is due, as dates: what clears, wants a look, may be touched or varnished, and the steps of plans to come.

use crate::studio::cups::bench::CupStatus;
use crate::studio::{Answer, PlanSheet, RackLine, Studio, ends};
use crate::trade::cup::Cup;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::moment::Moment;
use chrono::TimeDelta;

/// One thing that is due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reminder {
    /// What it is, for as long as it is meant: the same thing at another time keeps its name.
    pub name: String,
    /// When.
    pub at: Moment,
    /// What it says.
    pub says: String,
    /// What more there is to know.
    pub more: String,
    /// Whether it will not come any more.
    pub off: bool,
}

/// All that is due, of one studio at one state of its history.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reminders {
    /// The studio's own name, made when it was begun; nothing where nothing was ever written down.
    pub studio: String,
    /// The number of its last change: it rises with each.
    pub change: i64,
    /// What is due, the soonest first.
    pub all: Vec<Reminder>,
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
        let mut all: Vec<Reminder> = self.bench(now)?.iter().filter_map(of_cup).collect();
        all.extend(
            self.rack(now)?
                .iter()
                .flat_map(|line| of_picture(line, now)),
        );
        for page in self
            .plans()?
            .iter()
            .filter(|page| page.plan.pour_at > Some(now.at))
        {
            let sheet = self.kept_sheet(page.plan.id, now)?;
            all.extend(sheet.iter().flat_map(|sheet| of_plan(page.plan.id, sheet)));
        }
        all.retain(|one| one.at > now.at);
        all.extend(self.taken_back(now)?);
        all.sort_by(|a, b| (a.at, &a.name).cmp(&(b.at, &b.name)));
        Ok(Reminders {
            studio,
            change,
            all,
        })
    }

    /// What was to come of cups that ended before it.
    fn taken_back(&self, now: &Now) -> Answer<Vec<Reminder>> {
        let read = self.book.read()?;
        let spent = read.spent_since((now.at - TAKEN_BACK).timestamp_millis())?;
        let off = |(cup, at): (Cup, Moment)| {
            [clears(&cup), look(&cup)].map(|name| Reminder {
                name,
                at,
                says: format!("{} is spent", cup.mark),
                more: String::new(),
                off: true,
            })
        };
        Ok(spent.into_iter().flat_map(off).collect())
    }
}

fn clears(cup: &Cup) -> String {
    format!("cup-{}-clears", cup.id)
}

fn look(cup: &Cup) -> String {
    format!("cup-{}-look", cup.id)
}

fn of_cup(one: &CupStatus) -> Option<Reminder> {
    let mark = &one.cup.mark;
    let (name, says) = match one.state {
        State::Resting => (
            clears(&one.cup),
            format!("{mark} clears: look and read its mound"),
        ),
        State::Ready => (
            look(&one.cup),
            format!("{mark} wants a look: it may have thickened"),
        ),
        State::Look | State::Thick | State::Thin | State::Spent => return None,
    };
    Some(Reminder {
        name,
        at: one.turns_at()?,
        says,
        more: format!("{} ({})", one.title(), one.recipe.layer),
        off: false,
    })
}

/// The later end of each band: by then it is so, as far as that can be known.
fn of_picture(line: &RackLine, now: &Now) -> Vec<Reminder> {
    let pour = line.page.pour.id;
    let kinds = [
        ("touch", "dry to the touch", &line.touch),
        (
            "varnish",
            "ready for varnish, if it is judged dry",
            &line.varnish,
        ),
    ];
    let known = kinds.into_iter().filter_map(|(kind, says, band)| {
        let band = band.as_ref().ok()?;
        let (low, high) = ends(*band, now);
        Some(Reminder {
            name: format!("pour-{pour}-{kind}"),
            at: band.high,
            says: format!("Picture {pour}: {says}"),
            more: format!("by its film and the room's air between {low} and {high}"),
            off: false,
        })
    });
    known.collect()
}

fn of_plan(plan: i64, sheet: &PlanSheet) -> Vec<Reminder> {
    let step = |step: &crate::studio::Step| {
        let cup = step.cup.as_ref().map(ToString::to_string);
        let cup = cup.as_deref();
        let named = cup.map(|cup| format!("-{}", plain(cup)));
        Reminder {
            name: format!("plan-{plan}-{}{}", step.deed, named.unwrap_or_default()),
            at: step.at,
            says: match cup {
                Some(cup) => format!("Plan {plan}: {} {cup}", step.deed),
                None => format!("Plan {plan}: {}", step.deed),
            },
            more: String::new(),
            off: false,
        }
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
