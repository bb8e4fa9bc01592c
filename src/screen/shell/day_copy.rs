//! The day's copy of a large studio, on a thread of its own and through a studio of its own: the picture comes first.

use crate::screen::kit::later::Later;
use crate::studio::{Answer, Studio};
use crate::trade::instant::Now;

/// A copy in the making.
#[derive(Debug)]
pub struct DayCopy(Later<Answer<()>>);

impl DayCopy {
    /// Begins the day's copy, where it is still to be taken and takes its time. None where it is taken at once, or not at all.
    ///
    /// # Errors
    /// Where the store or the folder of copies cannot be read.
    pub fn begin(studio: &Studio, now: &Now) -> Answer<Option<Self>> {
        let beside = studio.copies_slowly() && !studio.is_held_alone();
        if !beside || !studio.lacks_copy_of_the_day(now)? {
            return Ok(None);
        }
        let (file, now) = (studio.file().to_owned(), *now);
        let later = Later::begin(move |told| {
            let mut studio = Studio::open(&file)?;
            let taken = studio.copy_of_the_day(&now, &|done, of| told(done * 100 / of.max(1)));
            taken.map(drop)
        });
        Ok(later.map(Self))
    }

    /// How far it is, in words.
    pub fn told(&self) -> String {
        match self.0.steps().min(100) {
            100 => "Checking today's copy; go on meanwhile".to_owned(),
            hundredths => format!("Taking today's copy: {hundredths} %; go on meanwhile"),
        }
    }

    /// What came of it, once it is there; nothing is waited for. A thread that came to no end leaves the copy to the next start.
    pub fn result(&self) -> Option<Answer<()>> {
        self.0.glance().unwrap_or(Some(Ok(())))
    }

    /// What came of it, waited for.
    pub fn wait(self) -> Answer<()> {
        self.0.wait().unwrap_or(Ok(()))
    }
}
