//! How the Trials look: one a line with how far it is, the chosen one's runs beneath or beside.

use super::Trials;
use super::{Place, effects, runs};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain};
use crate::studio::TrialPage;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

/// From this width on the runs stand beside the trials.
const WIDE: u16 = 120;

/// Draws it.
pub fn view(trials: &Trials, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    match trials.place {
        Place::Effects => return effects::view(trials, desk, frame, area),
        _ if area.width >= WIDE => {}
        Place::Runs => return runs_view(trials, desk, frame, area),
        Place::Rows => return rows_view(trials, desk, frame, area, true),
    }
    let parts = Layout::horizontal([Constraint::Fill(2), Constraint::Fill(3)]).spacing(2);
    let [left, right] = parts.areas(area);
    rows_view(trials, desk, frame, left, false);
    runs_view(trials, desk, frame, right);
}

fn runs_view(trials: &Trials, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if let Some(page) = trials.chosen() {
        let (lines, at) = runs::lines(trials, desk, page, area.width.into());
        list::draw(lines, &at, frame, area);
    }
}

/// The trials; with the runs of the chosen one beneath it, if wished.
fn rows_view(trials: &Trials, desk: &Desk, frame: &mut Frame<'_>, area: Rect, with_runs: bool) {
    let width = usize::from(area.width);
    let mut lines = Vec::new();
    let mut at = 0..0;
    for (place, page) in trials.pages.iter().enumerate() {
        let is_chosen = place == trials.row();
        let first = lines.len();
        lines.push(row(page, is_chosen, width));
        if is_chosen {
            at = first..lines.len();
        }
        if is_chosen && with_runs {
            let (runs, in_hand) = runs::lines(trials, desk, page, width);
            at.end = lines.len() + in_hand.end;
            lines.extend(runs);
        }
    }
    list::draw(lines, &at, frame, area);
}

/// `› trial 2  rest, activator share   3 of 8 poured, 2 judged`.
fn row(page: &TrialPage, is_chosen: bool, width: usize) -> Line<'static> {
    let names: Vec<&str> = page.factors.iter().map(|one| one.name.as_str()).collect();
    let progress = progress(page);
    let name = format!("trial {}", page.id);
    let room = width.saturating_sub(2 + name.len() + 2 + 1 + progress.len());
    let style = if is_chosen { chosen() } else { strong() };
    Line::from(vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(name, style),
        plain("  "),
        plain(fit(&inert(&names.join(", ")), room, Cut::End)),
        plain(format!(" {progress}")),
    ])
}

fn progress(page: &TrialPage) -> String {
    let (done, judged, all) = (page.done(), page.judged(), page.runs.len());
    if page.is_over() {
        return match page.given_up() {
            0 => format!("over, {judged} judged"),
            some => format!("over, {judged} judged, {some} given up"),
        };
    }
    format!("{done} of {all} poured, {judged} judged")
}
