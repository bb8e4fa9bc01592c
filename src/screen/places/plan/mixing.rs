//! A mixing session from a plan, for hands that are full: what goes into which cup next, ticked off part by part, in letters to
//! be read from two metres. At the end of a cup it is mixed.

use super::deeds::mixed;
use super::update::is_another_day;
use super::{Deed, Plan};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::letters::{Large, large};
use crate::screen::kit::look::strong;
use crate::screen::kit::mark::{Mark, minutes};
use crate::screen::kit::place::Outcome;
use crate::screen::kit::text::lines_of;
use crate::studio::{Answer, MixDraft, MixPart, Studio, local};
use crate::trade::amount::{show_mass, show_volume};
use crate::trade::moment::Moment;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use serde::{Deserialize, Serialize};

/// How far a cup has come; kept when the screen is left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Ticks {
    plan: i64,
    /// The cup's place in the plan.
    place: usize,
    /// How many of its parts are in.
    parts: usize,
    /// When the last of them went in.
    since: Mark,
}

/// The cup that is mixed.
#[derive(Debug, Clone)]
pub struct Mixing {
    ticks: Ticks,
    draft: MixDraft,
    /// When the plan's day has it mixed.
    due: Option<Moment>,
    /// What it will bear on its lid.
    mark: String,
}

impl Mixing {
    /// The next part.
    fn part(&self) -> Option<&MixPart> {
        self.draft.parts.get(self.ticks.parts)
    }
}

impl Plan {
    /// Whether a cup of a plan is mixed part by part.
    pub const fn is_mixing(&self) -> bool {
        self.mixing.is_some()
    }

    /// How far the cup has come that is mixed, or that was left.
    pub fn ticks(&self) -> Option<&Ticks> {
        let mixing = self.mixing.as_ref().map(|mixing| &mixing.ticks);
        mixing.or(self.ticks.as_ref())
    }

    /// Takes up where another screen was left.
    pub fn take_ticks(&mut self, ticks: Ticks) {
        self.ticks = Some(ticks);
    }

    /// The session is left; what is in the cup stays ticked.
    pub(super) fn leave_mixing(&mut self) {
        if let Some(mixing) = self.mixing.take() {
            self.ticks = Some(mixing.ticks).filter(|ticks| ticks.parts > 0);
        }
    }

    /// The part in hand is in; after the last the cup is mixed.
    pub(super) fn tick(&mut self, desk: &Desk) -> Option<Deed> {
        let mixing = self.mixing.as_mut()?;
        if mixing.part().is_none() {
            return Some(Deed::MixTicked(mixing.ticks.plan));
        }
        mixing.ticks.parts += 1;
        mixing.ticks.since = Mark::of(&desk.beat);
        None
    }

    /// The part before was not in; `false` where none was.
    pub(super) fn untick(&mut self) -> bool {
        let ticks = self.mixing.as_mut().map(|mixing| &mut mixing.ticks);
        let ticks = ticks.filter(|ticks| ticks.parts > 0);
        ticks.map(|ticks| ticks.parts -= 1).is_some()
    }

    /// The plan's next cup, with what was ticked of it before; answers whether there is one.
    ///
    /// # Errors
    /// Where the plan is gone, or the store cannot be read.
    pub(super) fn next_cup(&mut self, studio: &Studio, plan: i64, desk: &Desk) -> Answer<bool> {
        let left = self.ticks().cloned();
        self.ticks = None;
        self.mixing = None;
        let Some(next) = studio.next_of_plan(plan, &desk.beat.now)? else {
            return Ok(false);
        };
        let begun = Ticks {
            plan,
            place: next.place,
            parts: 0,
            since: Mark::of(&desk.beat),
        };
        let same = |left: &Ticks| (left.plan, left.place) == (plan, begun.place);
        self.mixing = Some(Mixing {
            ticks: left.filter(same).unwrap_or(begun),
            draft: next.draft,
            due: next.due,
            mark: studio.next_mark()?.to_string(),
        });
        Ok(true)
    }

    /// A cup was mixed otherwise: what was ticked is of no cup any more.
    pub(super) fn forget_ticks(&mut self) {
        self.mixing = None;
        self.ticks = None;
    }

    /// The cup is mixed, and the next one comes up, if it is of this day. One that was mixed elsewhere meanwhile is not mixed
    /// again.
    ///
    /// # Errors
    /// Where the studio refuses, or the store fails.
    pub(super) fn mix_ticked(
        &mut self,
        studio: &mut Studio,
        plan: i64,
        desk: &mut Desk,
    ) -> Answer<Outcome> {
        let place = self.ticks().map(|ticks| ticks.place);
        let mixed = mixed(studio, plan, place, desk);
        self.forget_ticks();
        let mut done = mixed?;
        self.next_cup(studio, plan, desk)?;
        let (due, now) = (
            self.mixing.as_ref().and_then(|next| next.due),
            &desk.beat.now,
        );
        if let Some(due) = due.filter(|due| is_another_day(*due, now)) {
            self.forget_ticks();
            let words = done.wrote.get_or_insert_default();
            *words = format!("{words}. The plan's next cup is mixed {}", local(due, now));
        }
        Ok(done)
    }
}

/// What the hands must do next, in words.
pub fn headline(mixing: &Mixing, desk: &Desk) -> String {
    let cup = inert(&mixing.mark).into_owned();
    let all = mixing.draft.parts.len();
    match mixing.part() {
        Some(part) => {
            let (nth, words) = (mixing.ticks.parts + 1, in_words(part, desk));
            format!("Cup {cup}, {nth} of {all}: {words}. Space when it is in.")
        }
        None => format!("Stir {cup}: Space when it is stirred, and it is mixed."),
    }
}

fn in_words(part: &MixPart, desk: &Desk) -> String {
    let ml = show_volume(part.ml, desk.measures());
    let mass = part
        .g
        .map(|g| format!(" ({})", show_mass(g, desk.measures())));
    format!("{ml}{} {}", mass.unwrap_or_default(), inert(&part.name))
}

/// Draws the part in hand.
pub fn view(mixing: &Mixing, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let lines: Vec<_> = words(mixing, desk)
        .iter()
        .map(|words| Large::new(words, strong()))
        .collect();
    let small = lines_of(&small(mixing, desk), width, 2);
    let high = usize::from(area.height).saturating_sub(small.len());
    let mut all = large(&lines, width, high);
    all.extend(small.into_iter().map(Line::from));
    frame.render_widget(Paragraph::new(all), area);
}

/// What stands in large letters: the part, how much of it, by volume and by weight.
fn words(mixing: &Mixing, desk: &Desk) -> Vec<String> {
    let measures = desk.measures();
    let Some(part) = mixing.part() else {
        let stirred = Mark::of(&desk.beat).after(&mixing.ticks.since);
        return vec![format!("stir {}", mixing.mark), minutes(stirred)];
    };
    let mass = part.g.map(|g| show_mass(g, measures));
    let name = inert(&part.name).into_owned();
    let mut words = vec![name, show_volume(part.ml, measures)];
    words.extend(mass);
    words
}

/// What stands small beneath: whose cup it is, and what goes in next.
fn small(mixing: &Mixing, desk: &Desk) -> String {
    let draft = &mixing.draft;
    let ml = show_volume(draft.volume, desk.measures());
    let cup = format!(
        "{} {} v{}, {ml} in all",
        mixing.mark,
        inert(&draft.recipe.name),
        draft.variant.number
    );
    let then = draft.parts.get(mixing.ticks.parts + 1);
    let then = match (mixing.part(), then) {
        (Some(_), Some(part)) => format!(". Then {}", in_words(part, desk)),
        (Some(_), None) => ". Then it is stirred".to_owned(),
        (None, _) => stirring(draft),
    };
    cup + &then
}

fn stirring(draft: &MixDraft) -> String {
    let stir = draft
        .variant
        .targets
        .stir
        .map(|stir| format!(". Its recipe wants {} min", stir.get()));
    stir.unwrap_or_default()
}
