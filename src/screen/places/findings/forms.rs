//! The Findings' form: which month.

use super::Window;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::orders::WindowField;

/// Asks for a month; the last whole one is offered.
pub fn month(desk: &Desk) -> Form {
    let offer = Window::last_month(&desk.beat.now).month();
    let field = Field::of(WindowField::Month, desk.measures());
    let fields = vec![field.offering(&offer)];
    Form::new("What worked in which month", fields)
}

/// The month that was typed.
///
/// # Errors
/// What is no month, in its field.
pub fn month_of(form: &Form, desk: &Desk) -> Result<Window, Fault> {
    let month = WindowField::order(&form.typed(), &desk.given());
    let month = month.map_err(|wrong| desk.fault(wrong))?;
    Ok(month.from.map_or(Window::All, Window::of_month))
}
