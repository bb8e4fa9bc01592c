//! Keys as this room names them, and the one table that says what each does where.
//!
//! The footer and the help are drawn from the same table, so that a hint cannot drift from a key.

use crate::screen::kit::keys::Key;
use crate::screen::shell::action::Action;
use crate::screen::{
    Screen,
    kit::form,
    places::{bench, findings, plan, pour, rack, recipes, shelf, trials},
    shell::everywhere,
};

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
    /// A clock that runs or is about to.
    Clock,
    /// How a cup ended is asked.
    Ending,
    /// How many cells are asked.
    Judging,
    /// A page that is read: help, history, a cup's life, messages.
    Page,
    /// Why pours came out as they did, and what to try next.
    Why,
    /// The pours behind a row of the Findings.
    Behind,
    /// A plan's sheet.
    Sheet,
    /// The runs of a trial.
    Runs,
    /// What a trial found.
    Effects,
}

impl Context {
    /// Where a key is looked up next if it is not bound here.
    const fn beneath(self) -> Option<Self> {
        match self {
            Self::Screen(_) | Self::Why | Self::Behind | Self::Sheet | Self::Effects => {
                Some(Self::Shell)
            }
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
            Self::Clock => "Clock",
            Self::Ending => "Ending a cup",
            Self::Judging => "Judging",
            Self::Page => "Reading a page",
            Self::Why => "Why, and what next",
            Self::Behind => "Pours behind a row",
            Self::Sheet => "Plan's sheet",
            Self::Runs => "Runs of a trial",
            Self::Effects => "What a trial found",
        }
    }
}

/// One line of the table: these keys, there, do that.
#[derive(Debug)]
pub struct Binding {
    /// Where.
    pub context: Context,
    /// Which keys.
    pub keys: &'static [Key],
    /// What they do.
    pub action: Action,
    /// In a word, for the footer; empty where the footer does not show it.
    pub word: &'static str,
    /// In a sentence, for the help.
    pub help: &'static str,
}

impl Binding {
    /// A line of the table.
    pub const fn at(
        context: Context,
        keys: &'static [Key],
        action: Action,
        word: &'static str,
        help: &'static str,
    ) -> Self {
        Self {
            context,
            keys,
            action,
            word,
            help,
        }
    }
}

/// All tables: one for each room, in the order the help shows them.
pub const TABLES: [&[Binding]; 11] = [
    bench::KEYS,
    pour::KEYS,
    rack::KEYS,
    findings::KEYS,
    shelf::KEYS,
    plan::KEYS,
    recipes::KEYS,
    trials::KEYS,
    form::KEYS,
    everywhere::OVER_KEYS,
    everywhere::KEYS,
];

/// Every line that holds in one place, in order; not what lies beneath it.
pub fn bindings(context: Context) -> impl Iterator<Item = &'static Binding> {
    let here = move |binding: &&Binding| binding.context == context;
    TABLES.into_iter().flatten().filter(here)
}

/// What a key does in a place, or beneath it.
pub fn find(context: Context, key: Key) -> Option<Action> {
    let mut place = Some(context);
    while let Some(here) = place {
        let bound = bindings(here).find(|binding| binding.keys.contains(&key));
        if let Some(binding) = bound {
            return Some(binding.action);
        }
        place = here.beneath();
    }
    None
}

/// The key of an action, as the table has it, for a sentence that names it; empty where none has it.
pub fn key_of(action: Action) -> String {
    let mut all = TABLES.into_iter().flatten();
    let bound = all.find(|binding| binding.action == action);
    let first = bound.and_then(|binding| binding.keys.first());
    first.map(|key| key.name()).unwrap_or_default()
}

/// What the footer of a place shows: its own lines, then those beneath it.
pub fn footer(context: Context) -> Vec<&'static Binding> {
    let mut shown: Vec<&Binding> = Vec::new();
    let mut place = Some(context);
    while let Some(here) = place {
        let some = bindings(here).filter(|binding| !binding.word.is_empty());
        shown.extend(some.filter(|binding| can_be_done(context, binding)));
        place = here.beneath();
    }
    shown
}

/// In an empty studio there is nothing to thin, to end or to take back.
fn can_be_done(context: Context, binding: &Binding) -> bool {
    let nothing = context == Context::Greeting;
    let of_cups = binding.context == Context::Screen(Screen::Bench);
    !nothing || !(of_cups || binding.action == Action::Undo)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_does_two_things_in_one_place() {
        let all: Vec<&Binding> = TABLES.into_iter().flatten().collect();
        for (place, one) in all.iter().enumerate() {
            for other in &all[place + 1..] {
                let clash = one.keys.iter().find(|key| other.keys.contains(key));
                assert!(
                    one.context != other.context || clash.is_none(),
                    "{clash:?} twice in {:?}",
                    one.context
                );
            }
        }
    }

    #[test]
    fn no_screen_hides_a_key_that_holds_everywhere() {
        for shell in bindings(Context::Shell) {
            for screen in Screen::ALL {
                let hidden = bindings(Context::Screen(screen))
                    .find(|binding| binding.keys.iter().any(|key| shell.keys.contains(key)));
                assert!(hidden.is_none(), "{hidden:?} hides {shell:?}");
            }
        }
    }

    #[test]
    fn every_line_says_what_it_does() {
        for binding in TABLES.into_iter().flatten() {
            assert!(!binding.keys.is_empty() && !binding.help.is_empty());
        }
    }
}
