//! A pour put right afterwards. Stock, states and what is learned follow; the history keeps what was written before.

use crate::logbook::{Reader, Writer};
use crate::studio::cups::{amend, tend};
use crate::studio::orders::CorrectOrder;
use crate::studio::pours::stack;
use crate::studio::{Answer, Refusal, Remarks, Studio, Warning};
use crate::trade::act::Act;
use crate::trade::cup::{DrawnInto, Entry, Happened};
use crate::trade::instant::Now;
use crate::trade::pour::{Move, Pour};
use crate::trade::units::Millilitres;

impl Studio {
    /// Puts a pour right; the answer is what is odd about it now.
    ///
    /// # Errors
    /// Where there is no such pour, nothing would change, or a cup holds less than was poured of it.
    pub fn correct_pour(&mut self, pour: i64, order: &CorrectOrder, now: &Now) -> Answer<Remarks> {
        self.book.commit_as(now.at.into(), |write| {
            let was = write.read().pour(pour)?.ok_or(Refusal::NoPour(pour))?;
            let is = put_right(&was, order);
            if is == was {
                return Err(Refusal::NothingAmended.into());
            }
            write.change_pour(&is)?;
            for (place, ml) in &order.layers {
                redraw(write, &was, *place, *ml, order.even_so, now)?;
            }
            let film = is.panel.film(is.layers.iter().map(|layer| layer.ml).sum());
            let odd = stack::odd_film(film).map(Warning::Stack);
            let remarks = Remarks::from(odd.into_iter().collect::<Vec<_>>());
            let moves = order.more_moves.clone();
            Ok((remarks, Act::PourCorrected { pour, moves }))
        })
    }
}

fn put_right(was: &Pour, order: &CorrectOrder) -> Pour {
    let mut is = was.clone();
    is.panel = order.panel.unwrap_or(was.panel);
    is.way = order.way.clone().unwrap_or_else(|| was.way.clone());
    is.air = order.air.unwrap_or(was.air);
    is.note = order.note.clone().unwrap_or_else(|| was.note.clone());
    is.moves = match &order.moves {
        Some(moves) => timed_again(moves, &was.moves),
        None => was.moves.clone(),
    };
    is.moves.extend(order.more_moves.iter().cloned());
    for (place, ml) in &order.layers {
        if let Some(layer) = is.layers.get_mut(*place) {
            layer.ml = *ml;
        }
    }
    is
}

/// Moves as they are said now; one that was done so before was done then, and took as long.
fn timed_again(moves: &[Move], was: &[Move]) -> Vec<Move> {
    let mut before = was.to_vec();
    let again = |one: &Move| {
        let place = before.iter().position(|old| old.untimed() == one.untimed());
        place.map_or_else(|| one.clone(), |place| before.remove(place))
    };
    moves.iter().map(again).collect()
}

/// Another amount out of a cup: its entry says so, and it may be spent by it or live again.
fn redraw(
    write: &mut Writer<'_>,
    was: &Pour,
    place: usize,
    ml: Millilitres,
    even_so: bool,
    now: &Now,
) -> Answer<()> {
    let Some(layer) = was.layers.get(place) else {
        return Ok(());
    };
    let before = was.layers[..place].iter();
    let nth = before.filter(|other| other.cup == layer.cup).count();
    let cup = write.read().cup(layer.cup)?.ok_or(Refusal::CupGone)?;
    let drawn = drawn(&write.read(), cup.id, was.id, nth)?;
    let more = Millilitres((ml.get() - layer.ml.get()).max(0.0));
    tend::refuse_too_much(&write.read(), &cup, more, even_so)?;
    let into = DrawnInto::Pour(was.id);
    let entry = Entry {
        what: Happened::Drawn { ml, into },
        ..drawn
    };
    write.change_entry(cup.id, &entry)?;
    amend::respend(write, &cup, now)
}

/// The entry by which a cup gave paint to a pour: the nth, where it lies in it twice.
fn drawn(read: &Reader<'_>, cup: i64, pour: i64, nth: usize) -> Answer<Entry> {
    let into_it = |(_, into)| into == DrawnInto::Pour(pour);
    let of_pour = |entry: &Entry| entry.what.drawn().is_some_and(into_it);
    let entries = read.entries(cup)?.into_iter();
    Ok(entries.filter(of_pour).nth(nth).ok_or(Refusal::EntryGone)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::units::Seconds;

    // One move put right, and one put before the others: the rest were made when they were made.
    #[test]
    fn moves_that_stay_keep_their_times_whatever_is_put_right_before_them() {
        let said = |text: &str| Move::parse_all(text).unwrap();
        let mut was = said("tilt left 2, spin right 1, tilt left 1");
        for (at, one) in was.iter_mut().enumerate() {
            one.took = Some(Seconds(at as f64 + 1.0));
        }
        let took = |text: &str| -> Vec<Option<f64>> {
            let again = timed_again(&said(text), &was);
            again.iter().map(|one| one.took.map(Seconds::get)).collect()
        };
        assert_eq!(
            took("tilt left 3, spin right 1, tilt left 1"),
            [None, Some(2.0), Some(3.0)]
        );
        assert_eq!(
            took("blow, tilt left 2, tilt left 1"),
            [None, Some(1.0), Some(3.0)]
        );
        assert_eq!(took("tilt left 1, tilt left 1"), [Some(3.0), None]);
    }
}
