//! A file in the making, on a thread of its own.

use crate::exchange::outgoing::{OutgoingOrder, send};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::later::Later;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::refusal::words;
use crate::studio::orders::OutgoingKind;
use crate::studio::{Answer, Studio};
use crate::tell;
use crate::trade::instant::Now;

/// How many signs its bar has.
const BAR: usize = 20;

/// A file in the making.
#[derive(Debug)]
pub struct Writing {
    kind: OutgoingKind,
    file: String,
    /// How far it is, in hundredths.
    later: Later<Answer<usize>>,
}

impl Writing {
    /// Begins to write a file of a studio. None where no thread is to be had.
    pub fn begin(studio: &Studio, order: OutgoingOrder, now: Now) -> Option<Self> {
        let (kind, file) = (order.what.kind(), order.file.display().to_string());
        let from = studio.file().to_owned();
        let later = Later::begin(move |told| {
            let studio = Studio::open(&from)?;
            send(&studio, &order, &now, &|done, of| {
                told(done * 100 / of.max(1));
            })
        })?;
        Some(Self { kind, file, later })
    }

    /// How far it is, with a bar.
    pub fn told(&self) -> String {
        let hundredths = self.later.steps().min(100);
        let full = hundredths * BAR / 100;
        let (full, rest) = ("█".repeat(full), "·".repeat(BAR - full));
        let name = tell::outgoing::name(self.kind);
        format!("Writing the {name} {full}{rest} {hundredths} %; go on meanwhile")
    }

    /// Whether it still goes on; what came of it is said once it does not.
    pub fn is_going_on(&self, desk: &mut Desk) -> bool {
        let (measures, now) = (desk.measures(), desk.beat.now);
        match self.later.result() {
            Ok(None) => return true,
            Ok(Some(Ok(holds))) => {
                let words = match self.kind {
                    OutgoingKind::Labels => tell::outgoing::labels_written(holds, &self.file),
                    kind => tell::outgoing::written(kind, &self.file),
                };
                desk.say(Message::new(Tone::Done, &words));
            }
            Ok(Some(Err(error))) => desk.refuse(&words(&error, measures, &now)),
            Err(_) => desk.refuse("the writing came to no end: do it again"),
        }
        false
    }
}
