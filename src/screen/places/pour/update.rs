//! What the Pour's keys change, and what is to be done about them.

use super::{Deed, Wish, forms};
use crate::screen::kit::form::Form;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::Effect;
use crate::screen::shell::keys::key_of;
use crate::screen::shell::model::{Model, Over};
use crate::studio::{AgainOrder, JudgeOrder, LayerOrder, PourOrder};
use crate::trade::amount::{Amount, show_volume};
use crate::trade::units::Millilitres;

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    match wish {
        Wish::Go => return go(model, false),
        Wish::GoEvenSo => return go(model, true),
        Wish::Again => return again(model),
        Wish::Judged(cells) => return judged(model, cells),
        Wish::Judge => judge(model),
        Wish::Dry => dry(model),
        Wish::Setting(_) | Wish::Add | Wish::Amount | Wish::Move(_) => ask(model, wish),
        wish => build(model, wish),
    }
    Vec::new()
}

/// Wishes that change the stack at once.
fn build(model: &mut Model, wish: Wish) {
    let desk = &mut model.pour;
    match wish {
        Wish::Remove | Wish::Unmove | Wish::Clear => desk.keep_taken(model.trials.to_pour),
        _ => desk.settle(),
    }
    match wish {
        Wish::AddReady => {
            let before = desk.layers.len();
            desk.add_ready(&model.bench.cups);
            if desk.layers.len() == before {
                model.refuse("No other cup is ready to be poured");
            }
        }
        Wish::Remove => desk.remove(),
        Wish::Raise => desk.shift(Some(desk.at + 1)),
        Wish::Lower => desk.shift(desk.at.checked_sub(1)),
        Wish::Unmove => {
            desk.moves.pop();
        }
        _ => {
            desk.cleared();
            desk.panel = None;
            desk.way = None;
            model.trials.to_pour = None;
        }
    }
}

/// Puts back what was taken off the stack, if that was the last thing done; answers whether it was.
pub fn put_back(model: &mut Model) -> bool {
    let Some(run) = model.pour.put_back() else {
        return false;
    };
    model.trials.to_pour = run;
    model.say(Message::new(Tone::Done, "The stack is as it was before"));
    true
}

fn ask(model: &mut Model, wish: Wish) {
    let form: Option<Form> = match wish {
        Wish::Setting(field) => Some(forms::setting(model).starting_at(field)),
        Wish::Add => forms::add(model),
        Wish::Amount => forms::amount(model),
        Wish::Move(kind) => Some(forms::moved(kind)),
        _ => None,
    };
    match form {
        Some(form) => model.ask(form),
        None => model.refuse("There is no cup for it: a puts one on, and the Bench mixes one"),
    }
}

fn deed(deed: Deed) -> Vec<Effect> {
    vec![Effect::Pour(deed)]
}

fn go(model: &mut Model, even_so: bool) -> Vec<Effect> {
    let desk = &model.pour;
    let Some(panel) = desk.panel else {
        model.ask(forms::setting(model).starting_at("panel"));
        return Vec::new();
    };
    let order = PourOrder {
        panel,
        layers: layers(model),
        way: desk.way.clone(),
        moves: desk.moves.clone(),
        air: desk.air,
        note: desk.note.clone(),
        even_so,
        at: None,
    };
    deed(Deed::Pour(Box::new(order), model.trials.to_pour))
}

fn layers(model: &Model) -> Vec<LayerOrder> {
    let order = |layer: &super::Layer| LayerOrder {
        mark: layer.mark.clone(),
        amount: Amount::Volume(layer.ml),
    };
    model.pour.layers.iter().map(order).collect()
}

/// A start-over takes the stack that is being built, else the one that is scraped.
fn again(model: &mut Model) -> Vec<Effect> {
    let Some(number) = last(model) else {
        return Vec::new();
    };
    if let Some(words) = emptied(model) {
        model.refuse(&words);
        return Vec::new();
    }
    let desk = &model.pour;
    let order = AgainOrder {
        layers: layers(model),
        way: desk.way.clone(),
        moves: desk.moves.clone(),
        air: desk.air,
        note: desk.note.clone(),
        ..AgainOrder::default()
    };
    deed(Deed::Again(number, Box::new(order)))
}

/// Why the last pour's own stack cannot be poured again, and how to go on; a stack that is built needs it not.
fn emptied(model: &Model) -> Option<String> {
    let page = model.pour.last.as_ref();
    let page = page.filter(|_| model.pour.layers.is_empty())?;
    let cup = |id| model.bench.cups.iter().find(|cup| cup.cup.id == id);
    let layers = page.pour.layers.iter().zip(&page.layers);
    let mut short = layers.filter_map(|(layer, (mark, _))| match cup(layer.cup) {
        None => Some(format!("{mark} is spent")),
        Some(cup) if cup.life.left + Millilitres::DROP < layer.ml => Some(format!(
            "{mark} holds {}",
            show_volume(cup.life.left, model.known.measures())
        )),
        Some(_) => None,
    });
    let (short, number) = (short.next()?, page.pour.id);
    let (add, all) = (Action::Pour(Wish::Add), Action::Pour(Wish::AddReady));
    let again = key_of(Action::Pour(Wish::Again));
    Some(format!(
        "{short}: put other cups on the stack ({} or {}), then {again} starts pour {number} over with them",
        key_of(add),
        key_of(all)
    ))
}

fn last(model: &mut Model) -> Option<i64> {
    let number = model.pour.last.as_ref().map(|page| page.pour.id);
    if number.is_none() {
        model.refuse("Nothing was poured in the last 30 days: the Rack has what is older");
    }
    number
}

fn judge(model: &mut Model) {
    if let Some(number) = last(model) {
        model.over = Some(Over::Judging(number, false));
    }
}

fn dry(model: &mut Model) {
    if let Some(Over::Judging(_, dry)) = &mut model.over {
        *dry = !*dry;
    }
}

fn judged(model: &mut Model, cells: u8) -> Vec<Effect> {
    let Some(Over::Judging(pour, dry)) = model.over.take() else {
        return Vec::new();
    };
    let order = JudgeOrder {
        cells,
        dry,
        ..JudgeOrder::default()
    };
    deed(Deed::Judge(pour, Box::new(order)))
}
