//! What a file will hold, in a few lines, before it is written. Nothing here takes long.

use super::{Outgoing, report};
use crate::exchange::paper::Stock;
use crate::studio::{Answer, Refusal, Studio, TimeWindow, local};
use crate::tell;
use crate::trade::instant::Now;
use crate::trade::text::inert;

/// What it will hold.
///
/// # Errors
/// What is not there to be written of.
pub fn preview(studio: &Studio, what: &Outgoing, now: &Now) -> Answer<Vec<String>> {
    match what {
        Outgoing::Labels(labels) => labels.preview(studio, now),
        Outgoing::Session { plan, stock } => session(studio, *plan, *stock, now),
        Outgoing::Certificate { pour, .. } => certificate(studio, *pour, now),
        Outgoing::Report(window) => {
            let pours = report::pours(studio, *window)?;
            let judged = pours.iter().filter(|one| one.counting().is_some()).count();
            Ok(vec![
                report::span(*window, pours.iter(), now),
                match pours.len() {
                    1 => format!("1 pour, {judged} of them judged"),
                    many => format!("{many} pours, {judged} of them judged"),
                },
            ])
        }
        Outgoing::Ledger { window, .. } => ledger(studio, *window, now),
        Outgoing::Calendar(_) => calendar(studio, now),
    }
}

fn session(studio: &Studio, plan: i64, stock: Option<Stock>, now: &Now) -> Answer<Vec<String>> {
    let plans = studio.plans()?;
    let page = plans.iter().find(|page| page.plan.id == plan);
    let page = page.ok_or(Refusal::NoPlan(plan))?;
    let measures = studio.settings()?.measures;
    let panel = page.plan.panels.panel.show(measures);
    let cups = page.cups.iter();
    let cups = cups.map(|line| inert(&line.variant.to_string()).into_owned());
    let stock = stock.unwrap_or(Stock::usual(measures));
    let pour_at = page
        .plan
        .pour_at
        .map(|at| format!(", to be poured {}", local(at, now)));
    Ok(vec![
        panel + &pour_at.unwrap_or_default(),
        cups.collect::<Vec<_>>().join(", "),
        format!("on {}, for a pencil", stock.word()),
    ])
}

fn certificate(studio: &Studio, pour: i64, now: &Now) -> Answer<Vec<String>> {
    let (facts, settings) = (studio.picture_facts(pour)?, studio.settings()?);
    let said = |missing: &str, text: Option<&String>| {
        text.map_or_else(|| missing.to_owned(), |text| inert(text).into_owned())
    };
    let day = |at| now.zone.tell(at).format("%-d %B %Y").to_string();
    let varnished = facts.varnished.map(|at| format!("varnished {}", day(at)));
    Ok(vec![
        said("no title yet", facts.picture.title.as_ref()),
        format!(
            "{}, made {}",
            facts.page.pour.panel.show(settings.measures),
            day(facts.page.pour.at)
        ),
        varnished.unwrap_or_else(|| "no varnish is written down".to_owned()),
        format!("{} materials by name", facts.materials.len()),
        said(
            "the studio has no name yet: set name",
            settings.name.as_ref(),
        ),
    ])
}

fn ledger(studio: &Studio, window: TimeWindow, now: &Now) -> Answer<Vec<String>> {
    let (ledger, settings) = (studio.ledger(window)?, studio.settings()?);
    let mut lines = vec![tell::outgoing::ledger_sum(&ledger, &settings.currency)];
    let last = ledger.lines.iter().rev().take(3);
    lines.extend(last.map(|line| tell::outgoing::ledger_line(line, &settings, now)));
    Ok(lines)
}

fn calendar(studio: &Studio, now: &Now) -> Answer<Vec<String>> {
    let (reminders, measures) = (studio.reminders(now)?, studio.settings()?.measures);
    let mut lines = vec![format!("{} events", reminders.coming().count())];
    let first = reminders.coming().take(3);
    lines.extend(first.map(|one| tell::outgoing::reminder(one, measures, now)));
    Ok(lines)
}
