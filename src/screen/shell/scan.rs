//! A code reader types the mark of a lid and Enter, faster than any hand: the line of that mark is chosen on whatever list is
//! open, else on the Bench. No driver is needed, and none of its keys is a deed.

use crate::screen::kit::keys::Key;
use crate::screen::shell::keys::Context;
use crate::screen::shell::model::Model;
use crossterm::event::KeyCode;
use std::time::Duration;

/// Two keys of a reader follow each other sooner than this; a hand's do not (ours, no source).
pub const APART: Duration = Duration::from_millis(40);
/// A mark has no more characters.
const LONGEST: usize = 3;

/// Keys that may be what a reader types.
#[derive(Debug, Default)]
pub struct Scan {
    keys: Vec<Key>,
}

impl Scan {
    /// Takes one more key where a reader may have typed it: a capital, then capitals and digits, then Enter.
    pub fn takes(&mut self, key: Key) -> bool {
        let more = !self.is_whole() && self.keys.len() < LONGEST;
        let fits = !key.ctrl
            && match key.code {
                KeyCode::Char(c) if c.is_ascii_uppercase() => more,
                KeyCode::Char(c) if c.is_ascii_digit() => more && !self.keys.is_empty(),
                KeyCode::Enter => self.keys.len() > 1,
                _ => false,
            };
        if fits {
            self.keys.push(key);
        }
        fits
    }

    /// Whether a mark and its Enter were typed.
    pub fn is_whole(&self) -> bool {
        let last = self.keys.last();
        last.is_some_and(|key| key.code == KeyCode::Enter)
    }

    /// The mark.
    pub fn mark(&self) -> String {
        let signs = self.keys.iter().filter_map(|key| match key.code {
            KeyCode::Char(c) => Some(c),
            _ => None,
        });
        signs.collect()
    }

    /// The keys, each for itself.
    pub fn keys(self) -> Vec<Key> {
        self.keys
    }
}

/// Whether a reader's keys would be taken for a hand's: where a text is typed they are its text.
pub fn is_awaited(model: &Model) -> bool {
    !matches!(model.context(), Context::Form | Context::Seeking)
}

/// Chooses the line of a mark on the list that is open; `false` where it has none.
pub fn choose(model: &mut Model, mark: &str) -> bool {
    if !matches!(model.context(), Context::Screen(_)) {
        return false;
    }
    let labels = model.place(model.screen).labels(&model.desk);
    let Some(at) = labels.iter().position(|label| label.mark == mark) else {
        return false;
    };
    let (place, desk) = model.place_mut(model.screen);
    place.choose_at(at, desk);
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::kit::keys::{char, code};

    fn scanned(keys: &[Key]) -> (usize, bool, String) {
        let mut scan = Scan::default();
        let taken = keys.iter().take_while(|key| scan.takes(**key)).count();
        (taken, scan.is_whole(), scan.mark())
    }

    #[test]
    fn a_mark_and_enter_are_a_scan_and_nothing_else_is() {
        let enter = code(KeyCode::Enter);
        assert_eq!(
            scanned(&[char('K'), char('7'), enter]),
            (3, true, "K7".to_owned())
        );
        assert_eq!(scanned(&[char('A'), char('3'), char('3'), enter]).0, 4);
        for (keys, taken) in [
            (vec![char('K'), enter], 1),
            (vec![char('7'), enter], 0),
            (vec![char('k'), char('7'), enter], 0),
            (vec![char('A'), char('3'), char('3'), char('3'), enter], 3),
            (vec![char('R'), char('c')], 1),
        ] {
            let (found, whole, _) = scanned(&keys);
            assert_eq!((found, whole), (taken, false), "{keys:?}");
        }
    }
}
