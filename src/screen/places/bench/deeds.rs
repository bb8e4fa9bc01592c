//! What the Bench does through the studio.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::place::Outcome;
use crate::studio::orders::Field as _;
use crate::studio::orders::{
    AddOrder, AmendOrder, FirstOrder, LidOrder, MixOrder, SettingsOrder, TendOrder,
};
use crate::studio::{Amended, Answer, CupStatus, MixPart, Mixed, Studio, Tended};
use crate::tell;
use crate::trade::amount::{Measures, show_mass, show_volume};
use crate::trade::ids::CupId;
use crate::trade::ids::EntryId;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::text::inert;
use std::path::{Path, PathBuf};

/// A deed of the Bench.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Mix a cup.
    Mix(Box<MixOrder>),
    /// Work out what would go into it.
    Draft(Box<MixOrder>),
    /// Mix the very first cup: writes down what it is made of as well.
    First(Box<FirstOrder>),
    /// Tend a cup that stands.
    Tend(TendOrder),
    /// Put an entry of a cup's life right.
    Amend(AmendOrder),
    /// Strike one.
    Strike(EntryId),
    /// Paint goes into a cup.
    Add(AddOrder),
    /// Another mark or tape on a lid.
    Lid(LidOrder),
    /// Settings changed.
    Settings(SettingsOrder),
    /// Open the life of the cup that last bore a mark.
    Visit(String),
    /// Put starter materials and recipes in.
    Starters,
    /// Make the demo, in its own file.
    Demo,
    /// Go over to the demo that was made in a file.
    GoToDemo(PathBuf),
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
    let now = &desk.beat.now.clone();
    match deed {
        Deed::Mix(order) => {
            let done = studio.mix(&order, now)?;
            Ok(mixed(done, studio, desk))
        }
        Deed::Draft(order) => Ok(draft(studio, &order, now)),
        Deed::First(order) => {
            let done = studio.first_cup(&order, now)?;
            Ok(mixed(done, studio, desk))
        }
        Deed::Tend(order) => {
            let done = studio.tend(&order, now)?;
            Ok(tended(done, desk))
        }
        Deed::Amend(order) => {
            let done = studio.amend(&order, now)?;
            amended(&done, studio, desk)
        }
        Deed::Strike(entry) => {
            let done = studio.strike(entry, now)?;
            amended(&done, studio, desk)
        }
        Deed::Add(order) => {
            let done = studio.add_paint(&order, now)?;
            Ok(tended(done, desk))
        }
        Deed::Lid(order) => {
            let cup = studio.relabel(&order, now)?;
            let mark = cup.cup.mark.to_string();
            desk.hand(Handover::Cup(CupId(cup.cup.id)));
            let tape = cup.cup.tape.as_deref().map(|tape| format!(", {tape} tape"));
            let words = format!("The lid says {mark}{}", tape.unwrap_or_default());
            Ok(Outcome::wrote(words))
        }
        Deed::Settings(order) => {
            studio.set_all(&order, now)?;
            let set = order.iter().map(|(one, _)| one.label());
            let set: Vec<_> = set.collect();
            Ok(Outcome::wrote(format!("Set: {}", set.join(", "))))
        }
        // What is looked at, or made beside the work, is the place's own.
        Deed::Visit(_) | Deed::Demo => Ok(Outcome::default()),
        Deed::Starters => starters(studio, now),
        Deed::GoToDemo(file) => go_to_demo(studio, &file),
    }
}

/// A lid or an end leaves the choice where it is.
fn tended(tended: Tended, desk: &mut Desk) -> Outcome {
    let cup = CupId(tended.standing.cup.id);
    let what = &tended.entry.what;
    desk.hand(match what.lid().is_some() || what.is_end() {
        true => Handover::Cup(cup),
        false => Handover::Tended(cup),
    });
    told(tended, desk)
}

/// What was put right, and how the cup stands now.
fn amended(amended: &Amended, studio: &Studio, desk: &mut Desk) -> Answer<Outcome> {
    let entries: Vec<_> = std::iter::once(&amended.was)
        .chain(&amended.entry)
        .cloned()
        .collect();
    let (names, measures) = (studio.names(&entries)?, measures(studio));
    let words = tell::amended(amended, &names, measures, &desk.beat.now);
    let how = how(&amended.standing, desk);
    desk.hand(Handover::Cup(CupId(amended.standing.cup.id)));
    Ok(Outcome {
        remarks: amended.remarks.clone(),
        ..Outcome::wrote(format!("{words}; {how}"))
    })
}

fn starters(studio: &mut Studio, now: &Now) -> Answer<Outcome> {
    let seeded = studio.seed_starters(now)?;
    let words = tell::starters(&seeded, tell::Face::Screen);
    Ok(Outcome::wrote(words.join("; ")))
}

/// Goes over to the demo, which has a file of its own beside the studio's.
fn go_to_demo(studio: &mut Studio, file: &Path) -> Answer<Outcome> {
    *studio = Studio::open(file)?;
    Ok(Outcome::wrote(format!(
        "This is the demo, in {}; your own studio is untouched",
        file.display()
    )))
}

fn told(tended: Tended, desk: &Desk) -> Outcome {
    Outcome {
        remarks: tended.remarks,
        ..Outcome::wrote(how(&tended.standing, desk))
    }
}

/// How a cup stands, as a sentence: `K7 is ready until 11:00`, `K7 cleared 03:28: read its mound`.
fn how(cup: &CupStatus, desk: &Desk) -> String {
    let mark = &cup.cup.mark;
    match cup.state {
        State::Look => format!("{mark} {}", desk.words(cup)),
        State::Ready => format!("{mark} is {}", desk.words(cup)),
        state => format!("{mark} is {state}: {}", desk.words(cup)),
    }
}

fn mixed(mixed: Mixed, studio: &Studio, desk: &mut Desk) -> Outcome {
    let mark = mixed.standing.cup.mark.to_string();
    desk.hand(Handover::Cup(CupId(mixed.standing.cup.id)));
    let words = format!(
        "Write {mark} on the lid: {}, {}; {}",
        mixed.standing.title(),
        show_volume(mixed.standing.cup.volume, measures(studio)),
        desk.words(&mixed.standing)
    );
    Outcome {
        remarks: mixed.remarks,
        ..Outcome::wrote(words)
    }
}

/// What would go in; a mixture that makes no sense yet says why in its place.
fn draft(studio: &Studio, order: &MixOrder, now: &Now) -> Outcome {
    let lines = match studio.draft_mix(order) {
        Ok(draft) => {
            let measures = measures(studio);
            let parts = draft.parts.iter().map(|part| part_line(part, measures));
            let notes = draft.notes.iter();
            let notes = notes.map(|one| inert(&tell::words(one, measures, now)).into_owned());
            parts.chain(notes).collect()
        }
        Err(error) => vec![inert(&tell::words(&error, measures(studio), now)).into_owned()],
    };
    Outcome {
        aside: Some(lines),
        ..Outcome::default()
    }
}

/// `40 ml  50 g  Deep paint (from K7)`.
fn part_line(part: &MixPart, measures: Measures) -> String {
    let weight = part.g.map(|g| show_mass(g, measures)).unwrap_or_default();
    let from = part.from.as_ref();
    let from = from
        .map(|mark| format!(" (from {mark})"))
        .or_else(|| part.apart.then(|| " (from the shelf)".to_owned()))
        .unwrap_or_default();
    format!(
        "{:>9} {weight:>8}  {}{from}",
        show_volume(part.ml, measures),
        inert(&part.name)
    )
}

fn measures(studio: &Studio) -> Measures {
    studio
        .settings()
        .map_or(Measures::Metric, |settings| settings.measures)
}
