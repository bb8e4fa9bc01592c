//! The wording of what a studio's file says of itself: an odd clock, and the way back to a whole state.

use crate::studio::{ClockOddity, WayBack, local};
use crate::tell::Told;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use std::path::Path;

impl Told for ClockOddity {
    fn told(&self, _: Measures, now: &Now) -> String {
        match self {
            Self::Behind { clock, last } => format!(
                "the clock stands at {}, before the last thing done here ({}): the order of entry holds, but set it right",
                local(*clock, now),
                local(*last, now)
            ),
            Self::EntryAhead { mark, at } => {
                let mark = inert(mark);
                let at = at.map(|at| format!(" ({})", local(at, now)));
                let at = at.unwrap_or_default();
                format!(
                    "an entry of {mark} stands ahead of the clock{at}: the order of entry holds"
                )
            }
        }
    }
}

/// The command that brings the newest whole state back: a damaged studio is mended there, whichever face tells of it.
impl Told for WayBack {
    fn told(&self, _: Measures, now: &Now) -> String {
        let state = &self.state;
        let (which, taken) = match state.place {
            Some(place) => (place.to_string(), "taken"),
            None => (quoted(&state.path), "put aside"),
        };
        let at = local(now.zone.tell(state.at), now);
        let file = quoted(&self.file);
        let path = state.path.display();
        let aside = state.aside.iter();
        let aside: String = aside
            .map(|other| format!("; kept aside too: {}", other.display()))
            .collect();
        format!(
            "bring back the newest whole copy: stillcup --studio {file} restore {which} ({taken} {at}: {path}){aside}"
        )
    }
}

/// A path as a shell takes it for one word.
fn quoted(path: &Path) -> String {
    let path = path.display().to_string();
    let plain = |c: char| c.is_ascii_alphanumeric() || "/._-+,:@%".contains(c);
    if path.chars().all(plain) {
        return path;
    }
    format!("'{}'", path.replace('\'', r"'\''"))
}
