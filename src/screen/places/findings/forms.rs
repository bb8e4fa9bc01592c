//! The Findings' form: which month.

use super::{Ask, Window};
use crate::screen::kit::form::{self, Fault, Field, Form};
use crate::screen::shell::model::Model;
use crate::trade::instant::{Now, parse_month};

/// Asks for a month; the last whole one is offered.
pub fn month(now: &Now) -> Form {
    let offer = Window::last_month(now).month();
    let fields = vec![Field::such_as("month", "2026-10", &offer)];
    Form::new(
        form::Ask::Findings(Ask::Month),
        "What worked in which month",
        fields,
    )
}

/// Looks at the month that was typed.
///
/// # Errors
/// What is no month, in its field.
pub fn keep(model: &mut Model, ask: Ask, form: &Form) -> Result<(), Fault> {
    let Ask::Month = ask;
    let zone = model.beat.now.zone;
    form.need("month", |text| parse_month(text, zone))?;
    let window = Window::of_month(form.value("month"));
    let window = window.ok_or_else(|| Fault::of("month", "is no month, such as 2026-10"))?;
    model.findings.look(window);
    Ok(())
}
