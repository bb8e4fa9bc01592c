//! What the Pour's keys change, and what is to be done about them.

use super::{Ask, Deed, KEYS, PourDesk, Wish, forms};
use crate::screen::kit::correct;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::keys::key_of;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place;
use crate::studio::orders::{CorrectOrder, PourField};
use crate::studio::{PourOrder, PouredCup, StartOverOrder};
use crate::trade::amount::show_volume;
use crate::trade::units::Millilitres;

type Next = place::Next<Ask, Deed>;

/// Takes a wish.
pub fn update(pour: &mut PourDesk, wish: Wish, desk: &mut Desk) -> Option<Next> {
    let scraping = pour.scraping.take();
    match wish {
        Wish::AddReady => {
            let ready = pour.ready(&desk.known.cups);
            if ready.is_empty() && (pour.layers.is_empty() || pour.panel.is_none()) {
                desk.refuse("No other cup is ready to be poured");
                return None;
            }
            Some(Next::Do(Deed::Propose(ready)))
        }
        Wish::Begin => begin(pour, desk),
        Wish::Next if pour.step_done(&desk.beat) => None,
        Wish::Next | Wish::Go => go(pour, desk, false),
        Wish::Previous | Wish::LeaveOut | Wish::MoveNow(_) => other_step(pour, wish, desk),
        Wish::GoEvenSo if pour.is_pouring() && !pour.to_do().is_empty() => {
            desk.refuse("Steps are left: each is done, or left out, before it is written down");
            None
        }
        Wish::GoEvenSo => go(pour, desk, true),
        Wish::StartOver if asks_first(pour, scraping, desk) => None,
        Wish::StartOver => start_over(pour, desk),
        Wish::Judge => {
            let page = pour.last.as_ref();
            let seen = page.map(|page| page.judgements.clone());
            let (pour, dry) = (last(pour, desk)?, false);
            desk.hand(Handover::Judge { pour, dry, seen });
            None
        }
        Wish::Correct => {
            last(pour, desk)?;
            let page = pour.last.as_ref()?;
            Next::ask(Ask::Correct(page.pour.id), correct::form(page, desk))
        }
        Wish::Unmove if pour.moves.is_empty() && pour.lying(&desk.beat.now).is_some() => {
            unmove(pour, desk)
        }
        Wish::Setting(_) | Wish::Add | Wish::Amount | Wish::Move(_) => ask(pour, wish, desk),
        wish => {
            build(pour, wish, desk);
            None
        }
    }
}

/// Wishes that change the stack at once.
fn build(pour: &mut PourDesk, wish: Wish, desk: &mut Desk) {
    let changes = match wish {
        Wish::Remove | Wish::More | Wish::Less => !pour.layers.is_empty(),
        Wish::Raise => pour.at + 1 < pour.layers.len(),
        Wish::Lower => pour.at > 0,
        Wish::Unmove => !pour.moves.is_empty(),
        _ => true,
    };
    match changes {
        true => pour.keep_before(),
        false => return desk.refuse(nothing_to(wish, pour)),
    }
    match wish {
        Wish::More => pour.scale(1.05, &desk.known.cups),
        Wish::Less => pour.scale(0.95, &desk.known.cups),
        Wish::Remove => pour.remove(),
        Wish::Raise => pour.shift(Some(pour.at + 1)),
        Wish::Lower => pour.shift(pour.at.checked_sub(1)),
        Wish::Unmove => {
            pour.moves.pop();
        }
        _ => {
            pour.cleared();
            pour.panel = None;
            pour.way = None;
        }
    }
}

/// The last move away of the pour whose panel lies there still.
fn unmove(pour: &PourDesk, desk: &mut Desk) -> Option<Next> {
    let page = pour.last.as_ref()?;
    let Some((_, left)) = page.pour.moves.split_last() else {
        desk.refuse(nothing_to(Wish::Unmove, pour));
        return None;
    };
    let order = CorrectOrder {
        moves: Some(left.to_vec()),
        ..CorrectOrder::default()
    };
    Some(Next::Do(Deed::Correct(page.pour.id, Box::new(order))))
}

/// Why a key changes nothing.
const fn nothing_to(wish: Wish, pour: &PourDesk) -> &'static str {
    match wish {
        Wish::Unmove => "No move is written down that could go",
        _ if pour.layers.is_empty() => "The stack is empty: a puts a cup on",
        Wish::Raise => "It is the top layer already",
        _ => "It is the lowest layer already",
    }
}

fn ask(pour: &PourDesk, wish: Wish, desk: &mut Desk) -> Option<Next> {
    let asked = match wish {
        Wish::Setting(field) => {
            let form = forms::setting(pour, desk).starting_at(field);
            Some((Ask::Setting, form))
        }
        Wish::Add => forms::add(pour, desk).map(|form| (Ask::Add, form)),
        Wish::Amount => forms::amount(pour, desk).map(|form| (Ask::Amount(pour.at), form)),
        Wish::Move(kind) => Some(match pour.lying(&desk.beat.now) {
            Some(lies) => (Ask::Moved(lies, kind), forms::moved(kind, Some(lies), desk)),
            None => (Ask::Move(kind), forms::moved(kind, None, desk)),
        }),
        _ => None,
    };
    if asked.is_none() {
        desk.refuse("There is no cup for it: a puts one on, and the Bench mixes one");
    }
    let (ask, form) = asked?;
    Next::ask(ask, form)
}

/// Step by step, once it is said on what.
fn begin(pour: &mut PourDesk, desk: &mut Desk) -> Option<Next> {
    if pour.panel.is_none() {
        return go(pour, desk, false);
    }
    match pour.layers.is_empty() {
        true => desk.refuse("The stack is empty: a puts a cup on, A all that are ready"),
        false => pour.begin(&desk.beat),
    }
    None
}

/// Another step than the next one.
fn other_step(pour: &mut PourDesk, wish: Wish, desk: &mut Desk) -> Option<Next> {
    let (done, why) = match wish {
        Wish::Previous => (
            pour.step_back(),
            "It is the first step: Esc leads back to the stack",
        ),
        Wish::MoveNow(kind) => (pour.move_now(kind, &desk.beat), ""),
        _ => (
            pour.leave_out(&desk.beat),
            "No step is left: Space writes the pour down",
        ),
    };
    if !done {
        desk.refuse(why);
    }
    None
}

fn go(pour: &PourDesk, desk: &Desk, even_so: bool) -> Option<Next> {
    let Some(panel) = pour.panel else {
        let form = forms::setting(pour, desk).starting_at(PourField::Panel);
        return Next::ask(Ask::Setting, form);
    };
    let order = PourOrder {
        panel,
        layers: pour.layer_orders(),
        way: pour.way.clone(),
        moves: pour.timed_moves(),
        air: pour.air,
        note: pour.note.clone(),
        even_so,
        at: None,
    };
    let run = pour.run.as_ref().map(|run| (run.trial, run.run));
    Some(Next::Do(Deed::Pour(Box::new(order), run)))
}

/// A picture that was judged is scraped only at the second word.
fn asks_first(pour: &mut PourDesk, scraping: Option<i64>, desk: &mut Desk) -> bool {
    // What cannot be started over is not asked about.
    if emptied(pour, desk).is_some() {
        return false;
    }
    let page = pour.last.as_ref();
    let judged = page.and_then(|page| Some((page.pour.id, page.counting()?.cells)));
    let asked = judged.filter(|(pour, _)| scraping != Some(*pour));
    let Some((number, cells)) = asked else {
        return false;
    };
    pour.scraping = Some(number);
    let key = key_of(KEYS, &Wish::StartOver);
    let words =
        format!("Pour {number} was judged, cells {cells}: {key} again scrapes it all the same");
    desk.say(Message::new(Tone::Odd, &words));
    true
}

/// A start-over takes the stack that is being built, else the one that is scraped.
fn start_over(pour: &PourDesk, desk: &mut Desk) -> Option<Next> {
    let number = last(pour, desk)?;
    if let Some(words) = emptied(pour, desk) {
        desk.refuse(&words);
        return None;
    }
    let order = StartOverOrder {
        layers: pour.layer_orders(),
        way: pour.way.clone(),
        moves: pour.timed_moves(),
        air: pour.air,
        note: pour.note.clone(),
        ..StartOverOrder::default()
    };
    Some(Next::Do(Deed::StartOver(number, Box::new(order))))
}

/// Why the last pour's own stack cannot be poured again, and how to go on; a stack that is built needs it not.
fn emptied(pour: &PourDesk, desk: &Desk) -> Option<String> {
    let page = pour.last.as_ref();
    let page = page.filter(|_| pour.layers.is_empty())?;
    let cup = |id| desk.known.cups.iter().find(|cup| cup.cup.id == id);
    let layers = page.pour.layers.iter().zip(&page.layers);
    let mut short = layers.filter_map(|(layer, PouredCup { mark, .. })| match cup(layer.cup) {
        None => Some(format!("{mark} is spent")),
        Some(cup) if cup.life.left + Millilitres::DROP < layer.ml => Some(format!(
            "{mark} holds {}",
            show_volume(cup.life.left, desk.measures())
        )),
        Some(_) => None,
    });
    let (short, number) = (short.next()?, page.pour.id);
    let key = |wish| key_of(KEYS, &wish);
    let (add, all, again) = (key(Wish::Add), key(Wish::AddReady), key(Wish::StartOver));
    Some(format!(
        "{short}: put other cups on the stack ({add} or {all}), then {again} starts pour {number} over with them"
    ))
}

fn last(pour: &PourDesk, desk: &mut Desk) -> Option<i64> {
    let number = pour.last.as_ref().map(|page| page.pour.id);
    if number.is_none() {
        desk.refuse("Nothing was poured in the last 30 days: the Rack has what is older");
    }
    number
}
