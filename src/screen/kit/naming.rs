//! Names put right, on the Shelf and the Recipes alike: two of one thing merged, one retired, brought back or removed.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::place::Outcome;
use crate::studio::orders::{MergeField, MergeOrder};
use crate::studio::{Answer, Studio};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::recipe::PartOf;
use crate::trade::text::inert;

/// What is done to a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NameDeed {
    /// Two names of one thing become one.
    Merge(MergeOrder),
    /// It is brought back where it is retired; else removed where nothing ever used it; else retired.
    PutAway {
        /// What it is.
        of: PartOf,
        /// Whether it is retired.
        retired: bool,
    },
}

/// The form that asks what a thing is really called, of all names of its kind.
pub fn merge(name: &str, others: impl Iterator<Item = String>, measures: Measures) -> Form {
    let others = others.filter(|other| other != name).collect();
    let field = Field::of(MergeField::Into, measures).one_of(others);
    let mut form = Form::new(format!("{name} is another name of…"), vec![field]);
    let name = inert(name);
    form.aside = vec![format!(
        "All that was done with {name} is of that one then, and the name {name} goes."
    )];
    form
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The fault in its field.
pub fn merged(form: &Form, from: PartOf, desk: &Desk) -> Result<NameDeed, Fault> {
    let order = MergeOrder::read(&form.typed(), &desk.given(), from);
    order
        .map(NameDeed::Merge)
        .map_err(|wrong| desk.fault(wrong))
}

/// Does it.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: NameDeed, now: &Now) -> Answer<Outcome> {
    let measures = studio.settings()?.measures;
    let words = match deed {
        NameDeed::Merge(order) => {
            let merged = studio.merge(&order, now)?;
            tell::words(&merged, measures, now)
        }
        NameDeed::PutAway { of, retired } if !retired && studio.is_unused(of)? => {
            tell::removed(&studio.remove(of, now)?)
        }
        NameDeed::PutAway { of, retired } => {
            let done = studio.retire(of, !retired, now)?;
            tell::words(&done, measures, now)
        }
    };
    Ok(Outcome::wrote(words))
}
