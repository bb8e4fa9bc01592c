//! What a file will hold, before it is written. Nothing here takes long.

use super::{Outgoing, report};
use crate::studio::{Answer, Preview, Refusal, Studio};
use crate::trade::instant::Now;
use crate::trade::paper::PaperSize;

/// So many events of a calendar are shown.
const FIRST: usize = 3;

/// What it will hold.
///
/// # Errors
/// What is not there to be written of.
pub fn preview(studio: &Studio, what: &Outgoing, now: &Now) -> Answer<Preview> {
    Ok(match what {
        Outgoing::Labels(labels) => labels.preview(studio, now)?,
        Outgoing::Session { plan, paper } => session(studio, *plan, *paper)?,
        Outgoing::Certificate { pour, .. } => {
            let facts = Box::new(studio.picture_facts(*pour)?);
            Preview::Certificate(facts, studio.settings()?.name)
        }
        Outgoing::Report(window) => {
            let pours = report::pours(studio, *window)?;
            let (from, to) = report::span(*window, pours.iter(), now);
            let judged = pours.iter().filter(|one| one.counting().is_some());
            Preview::Report {
                from,
                to,
                judged: judged.count(),
                pours: pours.len(),
            }
        }
        Outgoing::Ledger { window, .. } => Preview::Ledger(studio.ledger(*window)?),
        Outgoing::Calendar(_) => {
            let reminders = studio.reminders(now)?;
            let first = reminders.coming().take(FIRST).cloned();
            Preview::Calendar(reminders.coming().count(), first.collect())
        }
    })
}

fn session(studio: &Studio, plan: i64, paper: Option<PaperSize>) -> Answer<Preview> {
    let mut plans = studio.plans()?.into_iter();
    let page = plans.find(|page| page.plan.id == plan);
    let page = page.ok_or(Refusal::NoPlan(plan))?;
    let usual = PaperSize::usual(studio.settings()?.measures);
    Ok(Preview::Session {
        panel: page.plan.panels.panel,
        pour_at: page.plan.pour_at,
        cups: page.cups.into_iter().map(|line| line.variant).collect(),
        paper: paper.unwrap_or(usual),
    })
}
