//! The day's copy, beside what was asked: of a small file at once, so that it is of before the day's first deed; of a large
//! one once the answer was told, with a bar.

use super::Verb;
use super::bar::Bar;
use crate::studio::{Answer, HowFar, Studio};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use std::cell::RefCell;

/// When the day's copy is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum When {
    /// What is asked is a copy itself.
    Never,
    /// Before anything else.
    First,
    /// Once the answer was told.
    Afterwards,
}

/// When it is taken beside a verb: a whole file that comes in is copied from first, and what runs for hours begins with it.
pub(super) fn when(verb: &Verb, studio: &Studio) -> When {
    match verb {
        Verb::Backup(backup) if backup.file.is_none() => When::Never,
        Verb::Import(_) | Verb::Watch(_) => When::First,
        _ if studio.copies_slowly() => When::Afterwards,
        _ => When::First,
    }
}

/// Takes it; answers why it was not taken.
pub(super) fn take(studio: &mut Studio, now: &Now, measures: Measures) -> Option<String> {
    let taken = with_bar(|told| studio.copy_of_the_day(now, told).map(drop));
    let why = tell::words(&taken.err()?, measures, now);
    Some(format!("no copy was taken today: {why}"))
}

/// Copies with a bar of how far it is, where a terminal shows it.
pub(super) fn with_bar<T>(copy: impl FnOnce(HowFar<'_>) -> Answer<T>) -> Answer<T> {
    let bar = RefCell::new(None);
    copy(&|done, of| {
        let mut shown = bar.borrow_mut();
        shown
            .get_or_insert_with(|| Bar::new("copying and checking", of))
            .at(done);
    })
}
