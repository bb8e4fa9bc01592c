//! Another mark or tape on a cup's lid.

use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::tend;
use crate::studio::file::settings;
use crate::studio::orders::LidOrder;
use crate::studio::{Answer, Refusal, Studio, Unchanged};
use crate::trade::act::Act;
use crate::trade::cup::Cup;
use crate::trade::instant::Now;

impl Studio {
    /// Gives a cup another mark or tape.
    ///
    /// # Errors
    /// Where it is gone, the mark is on a living cup, the tape is kept for another layer, or nothing differs.
    pub fn relabel(&mut self, order: &LidOrder, now: &Now) -> Answer<CupStatus> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let learned = memory.recall(&read)?;
            let before = read.cup(order.cup.0)?.ok_or(Refusal::CupGone)?;
            let after = relabelled(&before, order);
            if after == before {
                return Err(Refusal::NoChange(Unchanged::Cup(before.mark)).into());
            }
            if after.mark != before.mark {
                let taken = read.cup_marked(&after.mark)?.filter(|one| !one.spent);
                if taken.is_some() && !before.spent {
                    return Err(Refusal::MarkInUse(after.mark).into());
                }
                write.set_mark(after.id, &after.mark)?;
            }
            if after.tape != before.tape {
                if let Some(layer) = learned.mixture.layer_of(after.variant) {
                    settings::check_tape(&read, layer, after.tape.as_deref())?;
                    settings::keep_tape(write, layer, after.tape.as_deref())?;
                }
                write.set_tape(after.id, after.tape.as_deref())?;
            }
            let act = Act::Relabelled {
                cup: tend::called(&after),
                was: before.mark.to_string(),
                tape: after.tape.clone().filter(|_| after.tape != before.tape),
            };
            let read = write.read();
            Ok((learned.stand(&read, after, now)?, act))
        })
    }
}

fn relabelled(before: &Cup, order: &LidOrder) -> Cup {
    let tape = match &order.tape {
        None => before.tape.clone(),
        Some(tape) => Some(tape.clone()).filter(|tape| !tape.is_empty()),
    };
    Cup {
        mark: order.mark.clone().unwrap_or_else(|| before.mark.clone()),
        tape,
        ..before.clone()
    }
}
