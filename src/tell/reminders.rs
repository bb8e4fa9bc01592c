//! The wording of what is due, for a calendar and for the line that says it was written.

use crate::studio::{Dry, Due, Reminder, ends};
use crate::tell::Told;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;

impl Told for Reminder {
    fn told(&self, _: Measures, _: &Now) -> String {
        match &self.due {
            Due::Clears(cup) => format!("{} clears: look and read its mound", cup.mark),
            Due::Look(cup) => format!("{} wants a look: it may have thickened", cup.mark),
            Due::Spent { mark, .. } => format!("{mark} is spent"),
            Due::Picture { pour, dry, .. } => match dry {
                Dry::Touch => format!("Picture {pour}: dry to the touch"),
                Dry::Varnish => format!("Picture {pour}: ready for varnish, if it is judged dry"),
            },
            Due::Step { plan, step } => match &step.cup {
                Some(cup) => format!("Plan {plan}: {} {cup}", step.deed),
                None => format!("Plan {plan}: {}", step.deed),
            },
        }
    }
}

/// What more there is to know of it, where there is more.
#[must_use]
pub fn more(reminder: &Reminder, now: &Now) -> Option<String> {
    match &reminder.due {
        Due::Clears(cup) | Due::Look(cup) => Some(format!("{} ({})", cup.title, cup.layer)),
        Due::Picture { band, .. } => {
            let (low, high) = ends(*band, now);
            Some(format!(
                "by its film and the room's air between {low} and {high}"
            ))
        }
        Due::Spent { .. } | Due::Step { .. } => None,
    }
}
