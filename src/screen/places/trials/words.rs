//! What the hands must do for a trial, and what it found, in sentences.

use super::{KEYS, Place, Trials, Wish};
use crate::screen::kit::keys::key_of;
use crate::screen::kit::sheet::Sheet;
use crate::studio::{TrialLine, TrialPage};
use crate::tell;
use crate::trade::text::inert;

fn key(wish: Wish) -> String {
    key_of(KEYS, &wish)
}

/// What the hands must do next, in words.
pub fn headline(trials: &Trials) -> String {
    let Some(page) = trials.chosen() else {
        let new = key(Wish::New);
        return format!("There is no trial yet: {new} sets one up.");
    };
    match (&trials.found, page.next()) {
        (Some(found), _) => over(page, found, trials.place),
        (None, Some(run)) => pour_next(page, run),
        (None, None) => judge_next(page),
    }
}

/// `Trial 2, run 3 of 8: rest 24h, activator share 5%: pour it (p).`
fn pour_next(page: &TrialPage, run: usize) -> String {
    let head = format!("{}, run {run} of {}", titled(page, run), page.runs.len());
    let pour = key(Wish::Pour);
    let hidden = page.run(run).is_none_or(|line| line.levels.is_none());
    let what = match page.run(run).filter(|_| !hidden) {
        Some(line) => format!("{}: pour it ({pour})", seen(page, line)),
        None => format!(
            "{} shows the mixing hand its settings, {pour} pours it",
            key(Wish::Settings)
        ),
    };
    format!("{head}: {what}.{}", waiting(page))
}

/// `Trial 2`, with its day where there are several.
fn titled(page: &TrialPage, run: usize) -> String {
    let day = page.run(run).map_or(1, |line| line.block);
    match days(page) {
        0 | 1 => format!("Trial {}", page.id),
        _ => format!("Trial {}, day {day}", page.id),
    }
}

/// Over how many days a trial is spread.
pub fn days(page: &TrialPage) -> u32 {
    page.runs.iter().map(|run| run.block).max().unwrap_or(0)
}

fn waiting(page: &TrialPage) -> String {
    let waits = page.runs.iter();
    let waits = waits.filter(|run| run.pour.is_some() && !run.is_over());
    match waits.count() {
        0 => String::new(),
        some => format!(" {some} to judge ({}).", key(Wish::Judge)),
    }
}

fn judge_next(page: &TrialPage) -> String {
    let Some((run, pour)) = page
        .to_judge()
        .and_then(|line| Some((line.run, line.pour?)))
    else {
        return format!("Trial {} has no runs.", page.id);
    };
    let (id, all, judge) = (page.id, page.runs.len(), key(Wish::Judge));
    format!("Trial {id} is poured: judge pour {pour}, run {run} of {all} ({judge}).")
}

fn over(
    page: &TrialPage,
    found: &Result<crate::studio::TrialFindings, String>,
    place: Place,
) -> String {
    let first = match found {
        Ok(found) => tell::trials::words(found)
            .into_iter()
            .next()
            .unwrap_or_default(),
        Err(why) => why.clone(),
    };
    let draws = match place {
        Place::Effects => String::new(),
        _ => format!(" {} draws what it found.", key(Wish::Effects)),
    };
    inert(&format!("Trial {} is over: {first}.{draws}", page.id)).into_owned()
}

/// `rest 24h, activator share 5%`, or that it is hidden; safe to show.
pub fn seen(page: &TrialPage, line: &TrialLine) -> String {
    let Some(settings) = page.settings(line) else {
        return "settings hidden".to_owned();
    };
    let both = page.factors.iter().zip(settings);
    let each: Vec<String> = both
        .map(|(factor, setting)| format!("{} {setting}", factor.name))
        .collect();
    inert(&each.join(", ")).into_owned()
}

/// A run's settings, for the hand that mixes.
pub fn mixing(page: &TrialPage, run: usize) -> Sheet {
    let title = format!("Trial {}, run {run}: for the hand that mixes", page.id);
    let mut sheet = Sheet::titled(&title);
    let settings = page.run(run).and_then(|line| page.settings(line));
    for (factor, setting) in page.factors.iter().zip(settings.unwrap_or_default()) {
        sheet.beside(&factor.name, &setting);
    }
    if page.blind {
        sheet.words("The eye that judges should not see this.");
    }
    sheet
}
