//! The Pour's forms. What they say goes onto the desk; nothing is written down before the pour.

use super::{Ask, Layer, lowest_first};
use crate::screen::kit::field::Line;
use crate::screen::kit::form::{self, Fault, Field, Form};
use crate::screen::places::bench::volume;
use crate::screen::shell::model::Model;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};
use crate::trade::units::Millilitres;

fn form(ask: Ask, title: impl Into<String>, fields: Vec<Field>) -> Form {
    Form::new(form::Ask::Pour(ask), title, fields)
}

/// The panel and the room; the last pour's panel is offered.
pub fn setting(model: &Model) -> Form {
    let (desk, measures) = (&model.pour, model.known.measures());
    let last = desk.last.as_ref().map(|page| page.pour.panel);
    let panel = desk.panel.or(last).map(|panel| panel.show(measures));
    let air = desk.air.map(|air| air.show(measures)).unwrap_or_default();
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let fields = vec![
        Field::such_as("panel", panels(measures), &panel.unwrap_or_default()),
        Field::text("way", "the technique, in your words", &text(&desk.way)),
        Field::such_as("air", airs(measures), &air),
        Field::text("note", "anything", &text(&desk.note)),
    ];
    form(Ask::Setting, "The panel and the room", fields)
}

/// A cup for the top of the stack; `None` where no cup lives.
pub fn add(model: &Model) -> Option<Form> {
    let on = |mark: &str| model.pour.layers.iter().any(|layer| layer.mark == mark);
    let sorted = lowest_first(&model.bench.cups);
    let next = sorted.iter().find(|cup| !on(cup.cup.mark.as_str()));
    let first = next.or(sorted.first())?;
    let mark = first.cup.mark.to_string();
    let left = show_volume(first.life.left, model.known.measures());
    let marks = sorted.iter().map(|cup| cup.cup.mark.to_string()).collect();
    let fields = vec![
        Field::choice("cup", "ready ones first, the thickest lowest", marks, &mark),
        Field::such_as("amount", little(model), &left),
    ];
    Some(form(Ask::Add, "The next layer, on top", fields))
}

/// How much of the chosen layer; `None` where there is none.
pub fn amount(model: &Model) -> Option<Form> {
    let layer = model.pour.layers.get(model.pour.at)?;
    let ml = show_volume(layer.ml, model.known.measures());
    let fields = vec![Field::such_as("amount", little(model), &ml)];
    Some(form(
        Ask::Amount(model.pour.at),
        format!("How much of {}", layer.mark),
        fields,
    ))
}

fn little(model: &Model) -> &'static str {
    match model.known.measures() {
        Measures::Metric => "60 ml",
        Measures::UsCustomary => "2 fl oz",
    }
}

/// Panels, in the studio's measures.
pub const fn panels(measures: Measures) -> &'static str {
    match measures {
        Measures::Metric => "40x50cm or round 30cm",
        Measures::UsCustomary => "16x20in or round 12in",
    }
}

const fn airs(measures: Measures) -> &'static str {
    match measures {
        Measures::Metric => "21C,45%",
        Measures::UsCustomary => "70F,45%",
    }
}

/// A move of the panel.
pub fn moved(kind: MoveKind) -> Form {
    let (offer, hint) = match kind {
        MoveKind::Spin => ("cw:1", "cw or ccw, and turns after a colon"),
        MoveKind::Torch => (
            "",
            "never over mixes thinned with solvent or alcohol; empty is fine",
        ),
        _ => (
            "",
            "a direction, and how often after a colon: left:2; empty is fine",
        ),
    };
    let fields = vec![Field::text("how", hint, offer)];
    form(Ask::Move(kind), format!("The panel: {kind}"), fields)
}

/// What follows from an edit: the amount follows the cup until it was typed.
pub fn changed(model: &Model, form: &mut Form) {
    if form.ask != form::Ask::Pour(Ask::Add) {
        return;
    }
    let mark = form.value("cup").to_owned();
    let cup = model
        .bench
        .cups
        .iter()
        .find(|cup| cup.cup.mark.as_str() == mark);
    let amount = form.fields.iter_mut().find(|field| field.name == "amount");
    if let (Some(cup), Some(amount)) = (cup, amount)
        && amount.line.is_offered()
    {
        amount.line = Line::offering(&show_volume(cup.life.left, model.known.measures()));
    }
}

/// Takes what was typed onto the desk.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(model: &mut Model, ask: &Ask, form: &Form) -> Result<(), Fault> {
    match ask {
        Ask::Setting => keep_setting(model, form)?,
        Ask::Add => {
            let mark = form.value("cup").to_owned();
            let ml = millilitres(model, form)?;
            model.pour.add(&mark, ml);
        }
        Ask::Amount(place) => {
            let ml = millilitres(model, form)?;
            if let Some(layer) = model.pour.layers.get_mut(*place) {
                *layer = Layer {
                    ml,
                    ..layer.clone()
                };
            }
        }
        Ask::Move(kind) => {
            let parsed = Move::parse(*kind, form.value("how"));
            let moved = parsed.map_err(|problem| Fault::of("how", problem.to_string()))?;
            model.pour.moves.push(moved);
        }
    }
    model.pour.settle();
    model.pour.fresh = false;
    Ok(())
}

fn keep_setting(model: &mut Model, form: &Form) -> Result<(), Fault> {
    let panel = form.need("panel", Panel::parse)?;
    let air = form.read("air", Air::parse)?;
    let desk = &mut model.pour;
    desk.panel = Some(panel);
    desk.air = air;
    desk.way = form.given("way");
    desk.note = form.given("note");
    Ok(())
}

fn millilitres(model: &Model, form: &Form) -> Result<Millilitres, Fault> {
    let amount = form.need("amount", |text| volume(text, model.known.measures()))?;
    let weighed = |_| Fault::of("amount", "write it in ml: the stack is counted by volume");
    amount.volume(None).map_err(weighed)
}
