//! The Findings' form: which month.

use super::Window;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::orders::MonthField;

/// Asks for a month; the last whole one is offered.
pub fn month(desk: &Desk) -> Form {
    let offer = Window::last_month(&desk.beat.now).month();
    let field = Field::of(MonthField::Month, desk.measures());
    let fields = vec![field.offering(&offer)];
    Form::new("What worked in which month", fields)
}

/// The month that was typed.
///
/// # Errors
/// What is no month, in its field.
pub fn month_of(form: &Form, desk: &Desk) -> Result<Window, Fault> {
    let month = MonthField::order(&form.typed(), &desk.given());
    let (first, _) = month.map_err(|wrong| desk.fault(wrong))?;
    Ok(Window::of_month(first))
}
