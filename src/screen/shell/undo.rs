//! What `u` takes back: here and mine. First what is only built, then the last thing done in this terminal; what was
//! done on another bench, or leads away from the stack in hand, is asked about once.

use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::place::Outcome;
use crate::screen::shell::model::{Model, Question};
use crate::studio::{Answer, Candidate, Change, Studio, Whose, local};
use crate::tell;
use crate::trade::ids::CupId;

/// Takes back what this terminal did last; asks first where it is another's.
pub fn undo(studio: &mut Studio, model: &mut Model) -> Answer<Outcome> {
    let candidate = studio.to_undo()?;
    let change = &candidate.change;
    let what = told(studio, change)?;
    if let Some(question) = question(&candidate, &what, model) {
        model.asked = Some(Question::Undo(change.id));
        model.desk.say(Message::new(Tone::Odd, &question));
        return Ok(Outcome::default());
    }
    model.asked = None;
    studio.undo_one(change.id, &model.desk.beat.now)?;
    model.pour.undoing();
    follow(studio, model)?;
    Ok(Outcome::wrote(format!("taken back: {what}")))
}

/// Does again what was taken back here; asks first where that was done elsewhere, or while a stack is being built.
pub fn redo(studio: &mut Studio, model: &mut Model) -> Answer<Outcome> {
    if model.has_stepped_back() {
        let words =
            "U does deeds again, and no steps of a stack: 1 and then U does the last deed again";
        model.desk.refuse(words);
        return Ok(Outcome::default());
    }
    if model.undone == 0 && model.asked != Some(Question::Redo) {
        model.asked = Some(Question::Redo);
        let words = "Nothing that was taken back here is left to be done again. U again does again what was taken back elsewhere, or before you came";
        model.desk.say(Message::new(Tone::Odd, words));
        return Ok(Outcome::default());
    }
    model.asked = None;
    let redone = studio.redo(&model.desk.beat.now)?;
    let redone = told(studio, &redone)?;
    follow(studio, model)?;
    Ok(Outcome::wrote(format!("done again: {redone}")))
}

/// Takes back a deed that was chosen in the history, where nothing later rests on it.
pub fn one(studio: &mut Studio, model: &mut Model, change: i64) -> Answer<Outcome> {
    let undone = studio.undo_one(change, &model.desk.beat.now)?;
    let what = told(studio, &undone)?;
    model.pour.undoing();
    follow(studio, model)?;
    Ok(Outcome::wrote(format!("taken back: {what}")))
}

/// What a change did, in today's names.
pub fn told(studio: &Studio, change: &Change) -> Answer<String> {
    let (names, measures) = (studio.names_today()?, studio.settings()?.measures);
    Ok(tell::change(change, &names, measures))
}

/// What is asked before a deed is taken back that a painter may not have in mind; nothing where it was asked.
fn question(candidate: &Candidate, what: &str, model: &Model) -> Option<String> {
    if model.asked == Some(Question::Undo(candidate.change.id)) {
        return None;
    }
    let now = &model.desk.beat.now;
    let at = candidate.change.at.local().map(|at| local(at, now));
    let at = at.unwrap_or_default();
    match candidate.whose {
        Whose::Others => Some(format!(
            "Nothing that was done here is left to take back. On another bench, {at}: {what}. u again takes that back"
        )),
        Whose::Earlier => Some(format!(
            "Nothing done since you came is left to take back. Before that, {at}: {what}. u again takes that back"
        )),
        Whose::Own if model.asks_before_logbook() => Some(format!(
            "Nothing more is built here. u again takes back: {what}"
        )),
        Whose::Own => None,
    }
}

/// The choice follows what came back: the cup, or the stack of a pour.
pub fn follow(studio: &Studio, model: &mut Model) -> Answer<()> {
    let touched = studio.last_touched()?;
    model.pour.follow(&touched, studio)?;
    if let Some(cup) = touched.cups.first() {
        model.bench.choose_back(CupId(*cup));
    }
    Ok(())
}
