//! The Pour's forms. What they say goes onto the desk; nothing is written down before the pour.

use super::{Ask, PourDesk, lowest_first};
use crate::screen::kit::amounts::{panels, volume};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::field::Line;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::place::Place as _;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::pour::{Move, MoveKind};
use crate::trade::units::Millilitres;

/// The panel and the room; the last pour's panel is offered.
pub fn setting(pour: &PourDesk, desk: &Desk) -> Form {
    let measures = desk.measures();
    let last = pour.last.as_ref().map(|page| page.pour.panel);
    let panel = pour.panel.or(last).map(|panel| panel.show(measures));
    let air = pour.air.map(|air| air.show(measures)).unwrap_or_default();
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let fields = vec![
        Field::such_as("panel", panels(measures), &panel.unwrap_or_default()),
        Field::text("technique", "in your words", &text(&pour.way)),
        Field::such_as("air", airs(measures), &air),
        Field::text("note", "anything", &text(&pour.note)),
    ];
    Form::new("The panel and the room", fields)
}

/// A cup for the top of the stack; `None` where no cup lives.
pub fn add(pour: &PourDesk, desk: &Desk) -> Option<Form> {
    let on = |mark: &str| pour.layers.iter().any(|layer| layer.mark == mark);
    let sorted = lowest_first(&desk.known.cups);
    let next = sorted.iter().find(|cup| !on(cup.cup.mark.as_str()));
    let first = next.or(sorted.first())?;
    let mark = first.cup.mark.to_string();
    let left = show_volume(first.life.left, desk.measures());
    let marks = sorted.iter().map(|cup| cup.cup.mark.to_string()).collect();
    let fields = vec![
        Field::choice("cup", "ready ones first, the thickest lowest", marks, &mark),
        Field::such_as("amount", little(desk), &left),
    ];
    Some(Form::new("The next layer, on top", fields))
}

/// How much of the chosen layer; `None` where there is none.
pub fn amount(pour: &PourDesk, desk: &Desk) -> Option<Form> {
    let layer = pour.layers.get(pour.at)?;
    let ml = show_volume(layer.ml, desk.measures());
    let fields = vec![Field::such_as("amount", little(desk), &ml)];
    Some(Form::new(format!("How much of {}", layer.mark), fields))
}

fn little(desk: &Desk) -> &'static str {
    match desk.measures() {
        Measures::Metric => "60 ml",
        Measures::UsCustomary => "2 fl oz",
    }
}

const fn airs(measures: Measures) -> &'static str {
    match measures {
        Measures::Metric => "21C,45%",
        Measures::UsCustomary => "70F,45%",
    }
}

/// A move of the panel that is being built, or of the pour that lies there.
pub fn moved(kind: MoveKind, lies: Option<i64>) -> Form {
    let (offer, hint) = match kind {
        MoveKind::Spin => ("right 1", "right (clockwise) or left, and how many turns"),
        MoveKind::Torch => (
            "",
            "never over mixes thinned with solvent or alcohol; empty is fine",
        ),
        _ => ("", "a direction, and how often: left 2; empty is fine"),
    };
    let fields = vec![Field::text("how", hint, offer)];
    let title = match lies {
        Some(pour) => format!("The panel of pour {pour}: {kind}"),
        None => format!("The panel: {kind}"),
    };
    Form::new(title, fields)
}

/// The move that was typed.
///
/// # Errors
/// Where it cannot be read.
pub fn one_move(kind: MoveKind, form: &Form) -> Result<Move, Fault> {
    let parsed = Move::parse(kind, form.value("how"));
    parsed.map_err(|problem| Fault::of("how", problem.to_string()))
}

/// What follows from an edit: the amount follows the cup until it was typed.
pub fn changed(desk: &Desk, form: &mut Form) {
    let cup = desk.known.cup(form.value("cup"));
    let amount = form.field_mut("amount");
    if let (Some(cup), Some(amount)) = (cup, amount)
        && amount.line.is_offered()
    {
        amount.line = Line::offering(&show_volume(cup.life.left, desk.measures()));
    }
}

/// Takes what was typed onto the stack.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(pour: &mut PourDesk, desk: &Desk, ask: &Ask, form: &Form) -> Result<(), Fault> {
    match ask {
        Ask::Setting => keep_setting(pour, desk, form)?,
        Ask::Add => {
            let ml = millilitres(desk, form)?;
            pour.add(form.value("cup"), ml);
        }
        Ask::Amount(place) => {
            let ml = millilitres(desk, form)?;
            pour.keep_before();
            if let Some(layer) = pour.layers.get_mut(*place) {
                layer.ml = ml;
            }
        }
        Ask::Move(kind) => {
            let moved = one_move(*kind, form)?;
            pour.keep_before();
            pour.moves.push(moved);
        }
        // Those are deeds: nothing of them goes onto the stack.
        Ask::Moved(..) | Ask::Correct(_) => {}
    }
    pour.mark_stale();
    Ok(())
}

fn keep_setting(pour: &mut PourDesk, desk: &Desk, form: &Form) -> Result<(), Fault> {
    let given = desk.given();
    let panel = form.need("panel", |text| given.panel(text))?;
    let air = form.read("air", |text| given.air(text))?;
    pour.keep_before();
    pour.panel = Some(panel);
    pour.air = air;
    pour.way = form.given("technique");
    pour.note = form.given("note");
    Ok(())
}

fn millilitres(desk: &Desk, form: &Form) -> Result<Millilitres, Fault> {
    let amount = form.need("amount", |text| volume(text, desk.measures()))?;
    let weighed = |_| Fault::of("amount", "write it in ml: the stack is counted by volume");
    amount.volume(None).map_err(weighed)
}
