//! What was poured here, in case the pour is taken back: then its stack is in hand again, as far as it was built and
//! each thing that was done to it.

use super::{PourDesk, Stack};
use crate::studio::{Answer, LastTouched, Studio};

/// A stack that was poured.
#[derive(Debug)]
pub(super) struct Poured {
    /// The pour's number.
    pour: i64,
    stack: Stack,
    /// The stack before each thing that was done to it.
    past: Vec<Stack>,
    /// Whether the pour was taken back, and this is in hand again.
    in_hand: bool,
}

impl PourDesk {
    /// It was poured, with the number: what was built is done with. A start-over by the layers of the pour that it scrapes
    /// builds nothing.
    pub(super) fn poured(&mut self, pour: i64) {
        let past = std::mem::take(&mut self.past);
        self.poured.retain(|one| one.pour != pour && !one.in_hand);
        if !self.is_empty() {
            let stack = self.as_it_stands();
            self.poured.push(Poured {
                pour,
                stack,
                past,
                in_hand: false,
            });
        }
        self.cleared();
    }

    /// Something was taken back, or done again: a pour that stands no more gives its stack back, unless another is being
    /// built; one that stands again takes it.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn follow(&mut self, touched: &LastTouched, studio: &Studio) -> Answer<()> {
        self.stepped_back = false;
        if !touched.pours {
            return Ok(());
        }
        for mut one in std::mem::take(&mut self.poured).into_iter().rev() {
            let stands = studio.has_pour(one.pour)?;
            if stands && one.in_hand {
                one.in_hand = false;
                self.give_up(&one);
            } else if !stands && !one.in_hand && self.is_empty() {
                one.in_hand = true;
                self.put(one.stack.clone());
                self.past.clone_from(&one.past);
            }
            if stands || one.in_hand {
                self.poured.insert(0, one);
            }
        }
        Ok(())
    }

    /// The stack lies on the panel again; what was built beyond it stays in hand.
    fn give_up(&mut self, poured: &Poured) {
        let now = self.as_it_stands();
        if now == poured.stack || poured.past.contains(&now) {
            self.past.clear();
            self.cleared();
        }
    }
}
