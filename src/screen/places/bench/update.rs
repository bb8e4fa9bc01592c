//! What the Bench's keys change, and what is to be done about them.

use super::clock::{Timed, Watch};
use super::{Ask, Bench, Deed, Over, Wish, forms};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::place;
use crate::studio::orders::{MixField, TendOrder};
use crate::trade::cup::{Reading, Seen};
use crate::trade::ids::{CupId, EntryId};
use crate::trade::units::{Minutes, Seconds};

type Next = place::Next<Ask, Deed>;

/// Takes a wish.
pub fn update(bench: &mut Bench, wish: Wish, desk: &mut Desk) -> Option<Next> {
    match wish {
        Wish::Mix => mix(desk),
        Wish::Visit => Next::ask(Ask::Visit, forms::visit(desk)),
        Wish::Like => like(desk),
        Wish::First => Next::ask(Ask::First, forms::first(&desk.known)),
        Wish::Settings => settings(desk),
        Wish::Starters => Some(Next::Do(Deed::Starters)),
        Wish::Demo => Some(Next::Do(Deed::Demo)),
        Wish::Press => press(bench, desk),
        Wish::KeepTimed => keep_timed(bench),
        Wish::Never => never(bench, desk),
        Wish::Amend | Wish::Strike => put_right(bench, wish, desk),
        Wish::Ended(end) => match bench.over.take() {
            Some(Over::Ending(cup, _)) => tend(TendOrder::end(cup, end)),
            _ => None,
        },
        wish => with_cup(bench, wish, desk),
    }
}

/// The settings, once they were read.
fn settings(desk: &Desk) -> Option<Next> {
    let settings = desk.known.settings.as_ref()?;
    Next::ask(Ask::Settings, forms::settings(settings))
}

fn tend(order: TendOrder) -> Option<Next> {
    Some(Next::Do(Deed::Tend(order)))
}

/// A wish about the chosen cup.
fn with_cup(bench: &mut Bench, wish: Wish, desk: &mut Desk) -> Option<Next> {
    let Some(cup) = bench.chosen(desk) else {
        desk.refuse("There is no cup on the bench: m mixes one");
        return None;
    };
    let (id, mark) = (CupId(cup.cup.id), cup.cup.mark.to_string());
    if bench.choice.has_slid() {
        let words = format!(
            "The cup that was chosen has left the bench, and {mark} stands there now: choose a cup first"
        );
        desk.refuse(&words);
        return None;
    }
    // The life of another cup may be open: its keys are not about the chosen one.
    if bench.visits_another(cup.cup.id) {
        desk.refuse("This cup is not the chosen one on the Bench: Esc, then / and its mark");
        return None;
    }
    match wish {
        Wish::Thin => Next::ask(Ask::Thin(id), forms::thin(cup, desk)),
        Wish::Add => Next::ask(Ask::Add(id), forms::add(cup, &desk.known)),
        Wish::Tag => Next::ask(Ask::Lid(id), forms::lid(cup, &desk.known)),
        Wish::Read => Next::ask(Ask::Read(id), forms::read(cup, &desk.known)),
        Wish::Simple(deed) => tend(TendOrder::simple(id, deed)),
        Wish::Lid if cup.life.capped => tend(TendOrder::open(id)),
        Wish::Lid => tend(TendOrder::cap(id)),
        Wish::Stack => {
            let left = cup.life.left;
            desk.hand(Handover::Stack { cup: id, left });
            None
        }
        Wish::Life => {
            // The last entry is the likeliest to be wrong.
            let entries = bench.life.as_ref().map_or(0, |life| life.entries.len());
            bench.visited = None;
            bench.over = Some(Over::Life(entries.saturating_sub(1)));
            None
        }
        wish => {
            bench.over = Some(over(wish, (id, mark), desk));
            None
        }
    }
}

/// What is laid over the cups. Stirring has begun when the clock is called; a mound begins at the next press.
fn over(wish: Wish, (cup, mark): (CupId, String), desk: &Desk) -> Over {
    let clock = |mark, what, since| {
        Over::Clock(Watch {
            cup,
            mark,
            what,
            since,
            stopped: None,
        })
    };
    match wish {
        Wish::Watch => clock(mark, Timed::Mound, None),
        Wish::Stir => clock(mark, Timed::Stirring, Some(desk.beat.elapsed)),
        _ => Over::Ending(cup, mark),
    }
}

fn put_right(bench: &Bench, wish: Wish, desk: &Desk) -> Option<Next> {
    let entry = bench.entry_in_hand(desk)?;
    match wish {
        Wish::Strike => Some(Next::Do(Deed::Strike(EntryId(entry.id)))),
        _ => Next::ask(
            Ask::Amend(entry.clone()),
            forms::amend(entry, bench.mark_in_hand(desk)?, desk),
        ),
    }
}

/// The clock's key: starts it; once it runs, stops it and writes it down.
fn press(bench: &mut Bench, desk: &Desk) -> Option<Next> {
    let Some(Over::Clock(watch)) = &mut bench.over else {
        return None;
    };
    // Wet hands bounce: the key that stopped it does not keep what is doubted.
    let (None, Some(since)) = (watch.stopped, watch.since) else {
        watch.stopped = None;
        watch.since = Some(desk.beat.elapsed);
        return None;
    };
    let ran = desk.beat.elapsed.saturating_sub(since).as_secs_f64();
    watch.stopped = Some(ran);
    tend(timed(watch, ran))
}

/// Keeps what the clock stopped at though it is far from what was expected.
fn keep_timed(bench: &Bench) -> Option<Next> {
    let Some(Over::Clock(watch)) = &bench.over else {
        return None;
    };
    tend(timed(watch, watch.stopped?).even_so(true))
}

/// The clock's other key: the mound that is timed does not fade.
fn never(bench: &mut Bench, desk: &mut Desk) -> Option<Next> {
    let Some(Over::Clock(watch)) = &bench.over else {
        return None;
    };
    if watch.since.is_none() {
        desk.refuse(
            "Nothing was drizzled yet: Space as the drizzle ends, then n if it never fades",
        );
        return None;
    }
    let gelled = TendOrder::look(watch.cup, Seen::Gelled);
    bench.over = None;
    tend(gelled)
}

/// A mound is kept to the tenth of a second, stirring to the tenth of a minute; neither is ever nothing.
fn timed(watch: &Watch, seconds: f64) -> TendOrder {
    let tenths = |number: f64| (number * 10.0).round().max(1.0) / 10.0;
    match watch.what {
        Timed::Mound => {
            let mound = Reading::Mound(Seconds(tenths(seconds)));
            TendOrder::read(watch.cup, mound)
        }
        Timed::Stirring => TendOrder::stir(watch.cup, Minutes(tenths(seconds / 60.0))),
    }
}

fn mix(desk: &mut Desk) -> Option<Next> {
    if desk.known.recipes.is_empty() {
        desk.refuse("There is no recipe yet: a on the Recipes (7) writes one down");
        return None;
    }
    Next::ask(Ask::Mix, forms::mix(&Ask::Mix, &desk.known))
}

fn like(desk: &mut Desk) -> Option<Next> {
    let Some(cup) = desk.known.newest_cup() else {
        desk.refuse("No cup lives that this one could be like: m mixes by a recipe");
        return None;
    };
    let ask = Ask::Like(cup.cup.mark.to_string());
    let form = forms::mix(&ask, &desk.known);
    Next::ask(ask, form)
}

impl Bench {
    /// The mixing form with a recipe in it, and one of its variants, which need not be the newest.
    pub fn mix_by(recipe: &str, variant: Option<i64>, desk: &Desk) -> Option<Next> {
        let meant = desk.known.names.recipe(recipe).ok();
        let ask = match meant.zip(variant) {
            Some((recipe, number)) => Ask::Of(recipe, number),
            None => Ask::Mix,
        };
        let mut form = forms::mix(&ask, &desk.known);
        if let Some(field) = form.field_mut(MixField::Recipe) {
            *field = field.clone().offering(recipe);
        }
        Next::ask(ask, form.starting_at(MixField::Amount))
    }
}
