//! The Findings' form: which month.

use super::Window;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::trade::instant::{Now, parse_month};

/// Asks for a month; the last whole one is offered.
pub fn month(now: &Now) -> Form {
    let offer = Window::last_month(now).month();
    let fields = vec![Field::such_as("month", "2026-10", &offer)];
    Form::new("What worked in which month", fields)
}

/// The month that was typed.
///
/// # Errors
/// What is no month, in its field.
pub fn month_of(form: &Form, now: &Now) -> Result<Window, Fault> {
    form.need("month", |text| parse_month(text, now.zone))?;
    let window = Window::of_month(form.value("month"));
    window.ok_or_else(|| Fault::of("month", "is no month, such as 2026-10"))
}
