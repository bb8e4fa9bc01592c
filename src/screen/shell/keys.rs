//! The one table that says what each key does where.
//!
//! The footer and the help are drawn from the same table, so that a hint cannot drift from a key.

use crate::screen::Screen;
use crate::screen::kit::form;
use crate::screen::kit::keys::{Binding, Key};
use crate::screen::places::{
    bench, findings, judging, outgoing, photos, plan, pour, rack, recipes, shelf, trials,
};
use crate::screen::shell::action::Action;
use crate::screen::shell::{everywhere, own_keys};

/// Where a key is pressed. What lies over a screen takes its keys first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Context {
    /// Wherever no text is typed.
    Shell,
    /// One of the screens.
    Screen(Screen),
    /// The Bench of an empty studio.
    Greeting,
    /// A form: what is not bound is typed.
    Form,
    /// A clock that times a mound, or is about to.
    Clock,
    /// A clock that runs while a cup is stirred.
    Stirring,
    /// A cup's life, with one of its entries chosen.
    Life,
    /// What was done, with one deed chosen.
    History,
    /// How a cup ended is asked.
    Ending,
    /// How many cells are asked.
    Judging,
    /// Which file is to be written.
    Outgoing,
    /// The photos of a pour.
    Photos,
    /// The corners of a panel in a photo.
    Corners,
    /// A line is sought by what is typed.
    Seeking,
    /// A page that is read: help, history, a cup's life, messages.
    Page,
    /// Why pours came out as they did, and what to try next.
    Why,
    /// The best settings of the Findings.
    Best,
    /// What the photos say, on the Findings.
    Measured,
    /// The pours behind a row of the Findings.
    Behind,
    /// The pour step by step.
    Pouring,
    /// A plan's cup, part by part.
    Mixing,
    /// A plan's sheet.
    Sheet,
    /// The runs of a trial.
    Runs,
    /// What a trial found.
    Effects,
}

impl Context {
    /// Where a key is looked up next if it is not bound here.
    pub const fn beneath(self) -> Option<Self> {
        match self {
            Self::Screen(_)
            | Self::Why
            | Self::Best
            | Self::Measured
            | Self::Behind
            | Self::Sheet
            | Self::Effects
            | Self::Photos
            | Self::Life
            | Self::History
            | Self::Page => Some(Self::Shell),
            Self::Runs => Some(Self::Screen(Screen::Trials)),
            Self::Greeting => Some(Self::Screen(Screen::Bench)),
            _ => None,
        }
    }

    /// What the help calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Shell => "Everywhere",
            Self::Screen(screen) => screen.title(),
            Self::Greeting => "Bench of an empty studio",
            Self::Form => "While filling in",
            Self::Clock => "Timing a mound",
            Self::Stirring => "Stirring a cup",
            Self::Ending => "Ending a cup",
            Self::Life => "A cup's life",
            Self::History => "What was done",
            Self::Judging => "Judging",
            Self::Outgoing => "Writing into a file",
            Self::Photos => "Photos of a pour",
            Self::Corners => "Corners of a panel",
            Self::Seeking => "Finding a line",
            Self::Page => "Reading a page",
            Self::Why => "Why, and what next",
            Self::Best => "Best settings",
            Self::Measured => "By what the photos say",
            Self::Behind => "Pours behind a row",
            Self::Pouring => "Pouring step by step",
            Self::Mixing => "Mixing part by part",
            Self::Sheet => "Plan's sheet",
            Self::Runs => "Runs of a trial",
            Self::Effects => "What a trial found",
        }
    }
}

/// Every line that holds in one place, in order; not what lies beneath it.
pub fn bindings(context: Context) -> Vec<Binding<Action>> {
    let table = as_they_come(context);
    match own_keys::taken() {
        Some(own) => own.apply(context, table),
        None => table,
    }
}

/// The same, whatever keys of their own a painter has.
pub fn as_they_come(context: Context) -> Vec<Binding<Action>> {
    match context {
        Context::Shell => everywhere::KEYS.to_vec(),
        Context::Screen(screen) => of_screen(screen),
        Context::Greeting => of(bench::GREETING, Action::Bench),
        Context::Form => both(of(form::KEYS, Action::Form), everywhere::FORM),
        Context::Clock => both(of(bench::CLOCK, Action::Bench), everywhere::CLOCK),
        Context::Stirring => both(of(bench::STIRRING, Action::Bench), everywhere::CLOCK),
        Context::Life => both(of(bench::LIFE, Action::Bench), everywhere::PAGE),
        Context::History => both(everywhere::HISTORY.to_vec(), everywhere::PAGE),
        Context::Ending => with_screens(both(of(bench::ENDING, Action::Bench), everywhere::ENDING)),
        Context::Judging => both(of(judging::KEYS, Action::Judging), everywhere::JUDGING),
        Context::Outgoing => both(of(outgoing::KEYS, Action::Outgoing), everywhere::OUTGOING),
        Context::Photos => of(photos::KEYS, Action::Photos),
        Context::Corners => with_screens(both(
            of(photos::CORNERS, Action::Photos),
            everywhere::CORNERS,
        )),
        Context::Seeking => everywhere::SEEKING.to_vec(),
        Context::Page => everywhere::PAGE.to_vec(),
        Context::Why => of(findings::WHY, Action::Findings),
        Context::Best => of(findings::BEST, Action::Findings),
        Context::Measured => of(findings::MEASURED, Action::Findings),
        Context::Behind => of(findings::BEHIND, Action::Findings),
        Context::Pouring => both(of(pour::POURING, Action::Pour), everywhere::STEPS),
        Context::Mixing => both(of(plan::MIXING, Action::Plan), everywhere::STEPS),
        Context::Sheet => of(plan::SHEET, Action::Plan),
        Context::Runs => of(trials::RUNS, Action::Trials),
        Context::Effects => of(trials::EFFECTS, Action::Trials),
    }
}

fn of_screen(screen: Screen) -> Vec<Binding<Action>> {
    match screen {
        Screen::Bench => of(bench::KEYS, Action::Bench),
        Screen::Pour => of(pour::KEYS, Action::Pour),
        Screen::Rack => of(rack::KEYS, Action::Rack),
        Screen::Findings => of(findings::KEYS, Action::Findings),
        Screen::Shelf => of(shelf::KEYS, Action::Shelf),
        Screen::Plan => of(plan::KEYS, Action::Plan),
        Screen::Recipes => of(recipes::KEYS, Action::Recipes),
        Screen::Trials => of(trials::KEYS, Action::Trials),
    }
}

/// A place's own table, its wishes as actions.
fn of<W: Copy>(table: &[Binding<W>], action: fn(W) -> Action) -> Vec<Binding<Action>> {
    let lines = table.iter().map(|line| Binding {
        keys: line.keys,
        wish: action(line.wish),
        word: line.word,
        help: line.help,
        anyway: line.anyway,
    });
    lines.collect()
}

fn with_screens(mut table: Vec<Binding<Action>>) -> Vec<Binding<Action>> {
    table.extend(everywhere::screens());
    table
}

fn both(mut table: Vec<Binding<Action>>, more: &[Binding<Action>]) -> Vec<Binding<Action>> {
    table.extend_from_slice(more);
    table
}

/// What a key does in a place, or beneath it.
pub fn find(context: Context, key: Key) -> Option<Action> {
    let mut place = Some(context);
    while let Some(here) = place {
        let mut table = bindings(here).into_iter();
        if let Some(binding) = table.find(|binding| binding.keys.contains(&key)) {
            return Some(binding.wish);
        }
        place = here.beneath();
    }
    None
}

/// What the footer of a place shows: its own lines, then those beneath it. Of a place with nothing in it only what does
/// something there; the help tells the rest.
pub fn footer(context: Context, bare: bool) -> Vec<Binding<Action>> {
    let mut shown = Vec::new();
    let mut place = Some(context);
    while let Some(here) = place {
        let table = bindings(here).into_iter();
        let table = table.filter(|binding| !binding.word.is_empty());
        let own = !matches!(here, Context::Shell | Context::Greeting);
        shown.extend(table.filter(|binding| !(bare && own) || binding.anyway));
        place = here.beneath();
    }
    shown.retain(|binding| can_be_done(context, binding));
    shown
}

/// In an empty studio there is nothing to take back, and the greeting has its own ways in.
fn can_be_done(context: Context, binding: &Binding<Action>) -> bool {
    let of_cups = matches!(binding.wish, Action::Bench(wish) if !bench::GREETING.iter().any(|one| one.wish == wish));
    context != Context::Greeting || !(of_cups || binding.wish == Action::Undo)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every place where a key may be pressed.
    fn contexts() -> Vec<Context> {
        let mut all = Screen::ALL.map(Context::Screen).to_vec();
        all.extend([
            Context::Shell,
            Context::Greeting,
            Context::Form,
            Context::Clock,
            Context::Stirring,
            Context::Ending,
            Context::Judging,
            Context::Outgoing,
            Context::Seeking,
            Context::Photos,
            Context::Corners,
            Context::Page,
            Context::Life,
            Context::History,
            Context::Why,
            Context::Best,
            Context::Measured,
            Context::Behind,
            Context::Pouring,
            Context::Mixing,
            Context::Sheet,
            Context::Runs,
            Context::Effects,
        ]);
        all
    }

    #[test]
    fn no_key_does_two_things_in_one_place() {
        for context in contexts() {
            let all = bindings(context);
            for (place, one) in all.iter().enumerate() {
                for other in &all[place + 1..] {
                    let clash = one.keys.iter().find(|key| other.keys.contains(key));
                    assert!(clash.is_none(), "{clash:?} twice in {context:?}");
                }
            }
        }
    }

    #[test]
    fn no_screen_hides_a_key_that_holds_everywhere() {
        for shell in bindings(Context::Shell) {
            for screen in Screen::ALL {
                let mut table = bindings(Context::Screen(screen)).into_iter();
                let hidden =
                    table.find(|binding| binding.keys.iter().any(|key| shell.keys.contains(key)));
                assert!(hidden.is_none(), "{hidden:?} hides {shell:?}");
            }
        }
    }

    #[test]
    fn every_line_says_what_it_does() {
        for binding in contexts().into_iter().flat_map(bindings) {
            assert!(!binding.keys.is_empty() && !binding.help.is_empty());
        }
    }
}
