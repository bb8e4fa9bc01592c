//! The form that puts a pour right, from the Pour and from the Rack alike.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::place::Outcome;
use crate::studio::orders::{CorrectField, CorrectOrder, Typed};
use crate::studio::{Answer, PourPage, Studio};
use crate::tell;
use crate::trade::amount::show_volume;
use crate::trade::instant::Now;
use crate::trade::pour::Move;

/// A pour as it is written down, to be put right.
pub fn form(page: &PourPage, desk: &Desk) -> Form {
    let (pour, measures) = (&page.pour, desk.measures());
    let layer = |(ml, mark): (_, &String)| format!("{mark} {}", show_volume(ml, measures));
    let amounts = pour.layers.iter().map(|layer| layer.ml);
    let marks = page.layers.iter().map(|layer| &layer.mark);
    let layers: Vec<String> = amounts.zip(marks).map(layer).collect();
    let moves: Vec<String> = pour.moves.iter().map(Move::written).collect();
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let air = pour.air.map(|air| air.show(measures)).unwrap_or_default();
    let field = |field, offer: &str| Field::of(field, measures).offering(offer);
    let fields = vec![
        field(CorrectField::Panel, &pour.panel.show(measures)),
        field(CorrectField::Way, &text(&pour.way)),
        field(CorrectField::Layers, &layers.join(", ")),
        field(CorrectField::Moves, &moves.join(", ")),
        field(CorrectField::Air, &air),
        field(CorrectField::Note, &text(&pour.note)),
    ];
    Form::new(format!("Put pour {} right", pour.id), fields)
}

/// What was typed of a pour. Amounts that were only shown, rounded, are left as they are.
///
/// # Errors
/// The first fault, in its field.
pub fn order(page: &PourPage, form: &Form, desk: &Desk) -> Result<CorrectOrder, Fault> {
    let typed = form.typed::<CorrectField>();
    let shown = [
        CorrectField::Layers,
        CorrectField::Panel,
        CorrectField::Moves,
    ];
    let typed = shown
        .into_iter()
        .filter(|field| !form.is_typed(*field))
        .fold(typed, Typed::without);
    let order = CorrectField::order(&typed, true, page, &desk.given());
    let order = order.map_err(|wrong| desk.fault(wrong))?;
    // Air is shown rounded too, and a move that came in from elsewhere may be told in words that cannot be read.
    let air = order.air.filter(|_| form.is_typed(CorrectField::Air));
    let moves = order.moves.filter(|_| form.is_typed(CorrectField::Moves));
    Ok(CorrectOrder {
        air,
        moves,
        even_so: form.is_meant(),
        ..order
    })
}

/// Does it.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, pour: i64, order: &CorrectOrder, now: &Now) -> Answer<Outcome> {
    let remarks = studio.correct_pour(pour, order, now)?;
    let words = tell::corrected(pour, order);
    Ok(Outcome {
        remarks,
        ..Outcome::wrote(words)
    })
}
