//! What really went into a cup: `Titan white 41 ml, Deep blue 20 ml`; an amount alone is of the one part that fits.

use super::Given;
use crate::studio::Refusal;
use crate::trade::amount::{Amount, show_volume};
use crate::trade::ids::VariantId;
use crate::trade::recipe::PartOf;
use crate::trade::units::Millilitres;

/// How many times more or less than the recipe says an amount may be and still fit a part (our own choice).
const FITS: f64 = 1.5;

/// What a cup is mixed of as the recipe says, against which amounts are read.
#[derive(Debug)]
pub(super) struct Planned<'a> {
    given: &'a Given<'a>,
    parts: Vec<(PartOf, Millilitres)>,
}

impl<'a> Planned<'a> {
    /// The parts of so much of a variant; none where it is not known how much.
    pub(super) fn of(
        given: &'a Given<'a>,
        variant: VariantId,
        volume: Option<Millilitres>,
    ) -> Self {
        let parts = volume.map(|volume| given.known.scaled(variant, volume));
        Self {
            given,
            parts: parts.unwrap_or_default(),
        }
    }

    /// What went in instead, and how much.
    ///
    /// # Errors
    /// No amount, a name that is nowhere, or an amount alone that fits no part or several.
    pub(super) fn puts(&self, text: &str) -> Result<Vec<(PartOf, Millilitres)>, Refusal> {
        let all = text.split(", ").filter(|put| !put.trim().is_empty());
        all.map(|put| self.put(put.trim())).collect()
    }

    /// `Titan white 41 ml`: the longest name before what reads as an amount; or the amount alone.
    fn put(&self, text: &str) -> Result<(PartOf, Millilitres), Refusal> {
        if let Ok(amount) = self.given.amount(text) {
            return self.fitting(text, amount);
        }
        let mut gaps = text.match_indices(char::is_whitespace);
        let parted = gaps.find_map(|(at, _)| {
            let (name, amount) = (text[..at].trim(), text[at..].trim());
            Some((name, self.given.amount(amount).ok()?))
        });
        let (name, amount) = match parted {
            Some(parted) => parted,
            // Then the last word says why it is no amount.
            None => {
                let last = text.rsplit(char::is_whitespace).next().unwrap_or(text);
                (text, self.given.amount(last)?)
            }
        };
        let known = self.given.known;
        let named = known.part(name);
        let parts: Vec<_> = self.parts.iter().map(|(of, _)| *of).collect();
        // What several things are called is that one of them which the recipe has.
        let own = |wrong| known.part_among(name, &parts).ok_or(wrong);
        let of = named.or_else(own)?;
        Ok((of, amount.volume(known.density(of))?.stored()))
    }

    /// The only part of which the recipe says about so much.
    fn fitting(&self, text: &str, amount: Amount) -> Result<(PartOf, Millilitres), Refusal> {
        let fitting = self.parts.iter().filter_map(|&(of, planned)| {
            let ml = amount.volume(self.given.known.density(of)).ok()?.stored();
            (self.parts.len() == 1 || fits(ml, planned)).then_some((of, ml))
        });
        let fitting: Vec<_> = fitting.collect();
        match fitting.as_slice() {
            [only] => Ok(*only),
            _ => Err(Refusal::WhichPart(text.to_owned(), self.named())),
        }
    }

    /// The parts with what the recipe says of each.
    fn named(&self) -> Vec<String> {
        let known = self.given.known;
        let named = |&(of, ml): &(PartOf, Millilitres)| {
            let ml = show_volume(ml, known.measures());
            format!("{} {ml}", known.part_name(of))
        };
        self.parts.iter().map(named).collect()
    }
}

/// Whether an amount is about as much as was planned.
pub(super) fn fits(said: Millilitres, planned: Millilitres) -> bool {
    (1.0 / FITS..=FITS).contains(&(said.get() / planned.get()))
}
