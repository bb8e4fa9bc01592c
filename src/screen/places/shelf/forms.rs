//! The Shelf's forms, and how what was typed becomes a deed.

use super::{Ask, Deed, Shelf};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::naming;
use crate::studio::orders::{self, BoughtField, BoughtOrder, CountedField, CountedOrder};
use crate::studio::orders::{MaterialField, MaterialOrder};
use crate::studio::{Refusal, ShelfLine};
use crate::trade::amount::Measures;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::recipe::PartOf;

/// Which material; the chosen one is offered.
fn which(field: impl orders::Field, shelf: &Shelf, line: &ShelfLine, measures: Measures) -> Field {
    let lines = shelf.lines.iter();
    let names = lines.map(|line| line.material.name.clone()).collect();
    let field = Field::of(field, measures).one_of(names);
    field.offering(&line.material.name)
}

/// Packs, or an amount where its pack is not known.
pub fn bought(shelf: &Shelf, line: &ShelfLine, measures: Measures) -> Form {
    let start = match line.material.pack_ml {
        Some(_) => BoughtField::Packs,
        None => BoughtField::Amount,
    };
    let fields = vec![
        which(BoughtField::Material, shelf, line, measures),
        Field::of(BoughtField::Packs, measures),
        Field::of(BoughtField::Amount, measures),
        Field::of(BoughtField::Price, measures),
    ];
    Form::new("Something was bought", fields).starting_at(start)
}

/// How much is there.
pub fn counted(shelf: &Shelf, line: &ShelfLine, measures: Measures) -> Form {
    let fields = vec![
        which(CountedField::Material, shelf, line, measures),
        Field::of(CountedField::Amount, measures),
    ];
    Form::new("What is really left", fields).starting_at(CountedField::Amount)
}

/// A new material.
pub fn new(measures: Measures) -> Form {
    let paint = MaterialKind::Paint.to_string();
    let offer = |field| match field {
        MaterialField::Kind => paint.clone(),
        _ => String::new(),
    };
    Form::new("A new material", fields(offer, measures))
}

/// What is known of a material.
pub fn change(material: &Material, measures: Measures) -> Form {
    let offer = |field: MaterialField| field.offer(material, measures);
    let title = format!("Change {}", material.name);
    Form::new(title, fields(offer, measures))
}

fn fields(offer: impl Fn(MaterialField) -> String, measures: Measures) -> Vec<Field> {
    let field = |of: MaterialField| {
        let field = Field::of(of, measures);
        let field = match of {
            MaterialField::Kind => field.one_of(kinds()),
            _ => field,
        };
        field.offering(&offer(of))
    };
    MaterialField::FORM.into_iter().map(field).collect()
}

fn kinds() -> Vec<String> {
    MaterialKind::ALL.iter().map(ToString::to_string).collect()
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(shelf: &Shelf, desk: &Desk, ask: Ask, form: &Form) -> Result<Deed, Fault> {
    let given = desk.given();
    let deed = match ask {
        Ask::Merge(id) => {
            return naming::merged(form, PartOf::Material(id.0), desk).map(Deed::Name);
        }
        Ask::Bought => {
            let even_so = form.is_meant();
            let order = BoughtOrder::read(&form.typed(), &given);
            order.map(|order| Deed::Bought(BoughtOrder { even_so, ..order }))
        }
        Ask::Counted => {
            let even_so = form.is_meant();
            let order = CountedOrder::read(&form.typed(), &given);
            order.map(|order| Deed::Counted(CountedOrder { even_so, ..order }))
        }
        Ask::New => {
            let new = MaterialOrder::new(&form.typed(), &given);
            new.map(|(name, order)| Deed::Add(name, Box::new(order)))
        }
        Ask::Change(id) => {
            let gone = || orders::wrong(MaterialField::Name, Refusal::MaterialGone);
            let before = shelf.numbered(id).ok_or_else(gone);
            let order =
                before.and_then(|line| MaterialOrder::edited(form.typed(), &given, &line.material));
            order.map(|order| Deed::Set(id, Box::new(order)))
        }
    };
    deed.map_err(|wrong| desk.fault(wrong))
}
