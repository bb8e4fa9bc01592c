//! The Pour's forms. What they say goes onto the desk; nothing is written down before the pour.

use super::PourDesk;
use super::stack::lowest_first;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::place::Place as _;
use crate::studio::LayerOrder;
use crate::studio::orders::PourField;
use crate::trade::amount::{exactly, show_volume};
use crate::trade::ids::CupId;
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};

/// The panel and the room; the last pour's panel is offered.
pub fn setting(pour: &PourDesk, desk: &Desk) -> Form {
    let measures = desk.measures();
    let last = pour.last.as_ref().map(|page| page.pour.panel);
    let panel = pour.panel.or(last);
    let shown = panel.map(|panel| panel.show(measures)).unwrap_or_default();
    let panel = panel.map(|panel| panel.to_string()).unwrap_or_default();
    let air = pour.air.map(|air| air.show(measures)).unwrap_or_default();
    let air_exactly = pour.air.map(Air::exactly).unwrap_or_default();
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let field = |field, offer: &str| Field::of(field, measures).offering(offer);
    let fields = vec![
        field(PourField::Panel, "").showing(&shown, panel),
        field(PourField::Way, &text(&pour.way)),
        field(PourField::Air, "").showing(&air, air_exactly),
        field(PourField::Note, &text(&pour.note)),
    ];
    Form::new("The panel and the room", fields)
}

/// A cup for the top of the stack; `None` where no cup lives.
pub fn add(pour: &PourDesk, desk: &Desk) -> Option<Form> {
    let sorted = lowest_first(&desk.known.cups);
    let next = sorted.iter().find(|cup| !pour.has(cup));
    let first = next.or(sorted.first())?;
    let mark = first.cup.mark.to_string();
    let left = first.life.left;
    let shown = show_volume(left, desk.measures());
    let marks = sorted.iter().map(|cup| cup.cup.mark.to_string()).collect();
    let field = |field| Field::of(field, desk.measures());
    let fields = vec![
        field(PourField::Cup).one_of(marks).offering(&mark),
        field(PourField::Amount).showing(&shown, exactly(left)),
    ];
    Some(Form::new("The next layer, on top", fields))
}

/// How much of the chosen layer; `None` where there is none.
pub fn amount(pour: &PourDesk, desk: &Desk) -> Option<Form> {
    let layer = pour.layers.get(pour.at)?;
    let shown = show_volume(layer.ml, desk.measures());
    let field = Field::of(PourField::Amount, desk.measures());
    let fields = vec![field.showing(&shown, exactly(layer.ml))];
    Some(Form::new(format!("How much of {}", layer.mark), fields))
}

/// A move of the panel that is being built, or of the pour that lies there.
pub fn moved(kind: MoveKind, lies: Option<i64>, desk: &Desk) -> Form {
    let offer = match kind {
        MoveKind::Spin => "right 1",
        MoveKind::Tilt | MoveKind::Blow | MoveKind::Swipe | MoveKind::Torch => "",
    };
    let field = Field::of(PourField::Move(kind), desk.measures());
    let title = match lies {
        Some(pour) => format!("The panel of pour {pour}: {kind}"),
        None => format!("The panel: {kind}"),
    };
    Form::new(title, vec![field.offering(offer)])
}

/// The move that was typed; one of which nothing is said is one too.
///
/// # Errors
/// Where it cannot be read.
pub fn moves(desk: &Desk, form: &Form) -> Result<Vec<Move>, Fault> {
    PourField::moves(&form.as_typed()).map_err(|wrong| desk.fault(wrong))
}

/// What follows from an edit: the amount follows the cup until it was typed.
pub fn changed(desk: &Desk, form: &mut Form) {
    let cup = desk.known.cup(form.value(PourField::Cup));
    let amount = form.field_mut(PourField::Amount);
    if let (Some(cup), Some(amount)) = (cup, amount)
        && amount.line.is_offered()
    {
        let left = cup.life.left;
        amount.show(&show_volume(left, desk.measures()), exactly(left));
    }
}

/// The cup that was typed, and how much of it.
///
/// # Errors
/// The first fault, in its field; so below.
pub fn layer(desk: &Desk, form: &Form) -> Result<LayerOrder, Fault> {
    let order = PourField::layer(&form.typed(), &desk.given());
    order.map_err(|wrong| desk.fault(wrong))
}

/// How much of a cup.
pub fn amount_of(cup: CupId, desk: &Desk, form: &Form) -> Result<LayerOrder, Fault> {
    let amount = PourField::amount(&form.typed(), &desk.given());
    let amount = amount.map_err(|wrong| desk.fault(wrong))?;
    Ok(LayerOrder::of(cup, amount))
}

/// Takes the move that was typed.
pub fn keep_moves(pour: &mut PourDesk, desk: &Desk, form: &Form) -> Result<(), Fault> {
    let moves = moves(desk, form)?;
    pour.keep_before();
    pour.moves.extend(moves);
    pour.mark_stale();
    Ok(())
}

/// The panel and the room's air that were typed.
pub fn settings(desk: &Desk, form: &Form) -> Result<(Panel, Option<Air>), Fault> {
    let (typed, given) = (form.typed::<PourField>(), desk.given());
    let panel = PourField::panel(&typed, &given).map_err(|wrong| desk.fault(wrong))?;
    let air = PourField::air(&typed, &given).map_err(|wrong| desk.fault(wrong))?;
    Ok((panel, air))
}

/// Takes the panel and the room.
pub fn keep_setting(pour: &mut PourDesk, desk: &Desk, form: &Form) -> Result<(), Fault> {
    let typed = form.typed::<PourField>();
    let (panel, air) = settings(desk, form)?;
    pour.keep_before();
    pour.panel = Some(panel);
    pour.air = air;
    pour.way = typed.note(PourField::Way);
    pour.note = typed.note(PourField::Note);
    pour.mark_stale();
    Ok(())
}
