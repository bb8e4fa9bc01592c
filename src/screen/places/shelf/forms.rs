//! The Shelf's forms, and how what was typed becomes a deed.

use super::deeds::Purchase;
use super::{Ask, Deed, Shelf};
use crate::screen::kit::amounts::volume;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::{MaterialOrder, ShelfLine};
use crate::trade::amount::show_volume;
use crate::trade::material::{Fact, Material, MaterialKind};
use crate::trade::money::parse_price;
use crate::trade::range::{parse_density, parse_packs};
use crate::trade::units::{Density, Millilitres};

/// Which material; the chosen one is offered.
fn which(shelf: &Shelf, line: &ShelfLine) -> Field {
    let lines = shelf.lines.iter();
    let names = lines.map(|line| line.material.name.clone()).collect();
    let hint = "type some letters, Enter takes it";
    Field::choice("material", hint, names, &line.material.name)
}

/// Packs, or an amount where its pack is not known.
pub fn bought(shelf: &Shelf, line: &ShelfLine) -> Form {
    let start = match line.material.pack_ml {
        Some(_) => "packs",
        None => "amount",
    };
    let fields = vec![
        which(shelf, line),
        Field::text("packs", "how many; empty for one", ""),
        Field::text("amount", "500 ml in all; empty for whole packs", ""),
        Field::text("price", "of one pack: 8.90; empty as before", ""),
    ];
    Form::new("Something was bought", fields).starting_at(start)
}

/// How much is there.
pub fn counted(shelf: &Shelf, line: &ShelfLine) -> Form {
    let fields = vec![
        which(shelf, line),
        Field::text("amount", "what is there: 180 ml; 0 for none", ""),
    ];
    Form::new("What is really left", fields).starting_at("amount")
}

/// A new material.
pub fn new() -> Form {
    let offer = Offer {
        kind: MaterialKind::Paint.to_string(),
        ..Offer::default()
    };
    Form::new("A new material", fields(&offer))
}

/// What is known of a material.
pub fn change(desk: &Desk, line: &ShelfLine) -> Form {
    let name = &line.material.name;
    let offer = Offer::of(desk, &line.material);
    Form::new(format!("Change {name}"), fields(&offer))
}

/// What is offered for each field, as it is typed.
#[derive(Default)]
struct Offer {
    name: String,
    kind: String,
    pack: String,
    price: String,
    density: String,
    index: String,
    hazard: String,
}

impl Offer {
    fn of(desk: &Desk, material: &Material) -> Self {
        let pack = material.pack_ml;
        let pack = pack.map(|ml| show_volume(ml, desk.measures()));
        let density = material.density;
        Self {
            name: material.name.clone(),
            kind: material.kind.to_string(),
            pack: pack.unwrap_or_default(),
            price: material
                .price
                .map(|price| price.to_string())
                .unwrap_or_default(),
            density: density.map(|one| one.get().to_string()).unwrap_or_default(),
            index: material.colour_index.clone().unwrap_or_default(),
            hazard: material.hazard.clone().unwrap_or_default(),
        }
    }
}

fn fields(offer: &Offer) -> Vec<Field> {
    let kinds = MaterialKind::ALL.iter().map(ToString::to_string).collect();
    vec![
        Field::text("name", "as you call it", &offer.name),
        Field::choice("kind", "what it is for", kinds, &offer.kind),
        Field::text("pack", "what one pack holds: 250 ml", &offer.pack),
        Field::text("price", "what one pack costs: 8.90", &offer.price),
        Field::text("density", "in g/ml, for weights: 1.24", &offer.density),
        Field::text(
            "colour index",
            "of its pigment, on the label: PW6",
            &offer.index,
        ),
        Field::text(
            "hazard",
            "what its label warns of, in its words",
            &offer.hazard,
        ),
    ]
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(shelf: &Shelf, desk: &Desk, ask: &Ask, form: &Form) -> Result<Deed, Fault> {
    let deed = match ask {
        Ask::Bought => bought_deed(shelf, desk, form)?,
        Ask::Counted => counted_deed(shelf, desk, form)?,
        Ask::New => {
            let order = order(desk, form, &Offer::default(), None)?;
            let needed = || Fault::of("name", "is needed");
            let name = form.given("name").ok_or_else(needed)?;
            Deed::Add(name, Box::new(order))
        }
        Ask::Change(name) => {
            let gone = || Fault::of("name", "is no longer on the shelf");
            let line = shelf.called(name).ok_or_else(gone)?;
            let offer = Offer::of(desk, &line.material);
            let order = order(desk, form, &offer, line.material.density)?;
            Deed::Set(name.clone(), Box::new(order))
        }
    };
    Ok(deed)
}

fn bought_deed(shelf: &Shelf, desk: &Desk, form: &Form) -> Result<Deed, Fault> {
    Ok(Deed::Bought(Purchase {
        name: form.value("material").to_owned(),
        packs: form.read("packs", parse_packs)?,
        amount: amount(desk, form, density(shelf, form))?,
        price: form.read("price", parse_price)?,
    }))
}

fn counted_deed(shelf: &Shelf, desk: &Desk, form: &Form) -> Result<Deed, Fault> {
    let none = matches!(form.value("amount"), "0" | "0ml" | "0 ml");
    let ml = match none {
        true => Some(Millilitres(0.0)),
        false => amount(desk, form, density(shelf, form))?,
    };
    let ml = ml.ok_or_else(|| Fault::of("amount", "is needed"))?;
    Ok(Deed::Counted(form.value("material").to_owned(), ml))
}

fn density(shelf: &Shelf, form: &Form) -> Option<Density> {
    let line = shelf.called(form.value("material"));
    line.and_then(|line| line.material.density)
}

/// An amount by volume, or by weight where a density is known.
fn amount(
    desk: &Desk,
    form: &Form,
    density: Option<Density>,
) -> Result<Option<Millilitres>, Fault> {
    millilitres(desk, form, "amount", density)
}

fn millilitres(
    desk: &Desk,
    form: &Form,
    field: &'static str,
    density: Option<Density>,
) -> Result<Option<Millilitres>, Fault> {
    let amount = form.read(field, |text| volume(text, desk.measures()))?;
    let ml = amount.map(|amount| amount.volume(density).map(Millilitres::stored));
    let weighed =
        |problem: crate::trade::amount::DensityUnknown| Fault::of(field, problem.to_string());
    ml.transpose().map_err(weighed)
}

/// What differs from what was offered; what was left as it was is not written again, rounded.
fn order(
    desk: &Desk,
    form: &Form,
    offer: &Offer,
    before: Option<Density>,
) -> Result<MaterialOrder, Fault> {
    let changed = |field: &'static str, offered: &str| form.value(field) != offered;
    let said =
        |field: &'static str, offered: &str| form.given(field).filter(|value| value != offered);
    let density = form.read("density", parse_density)?;
    let pack = millilitres(desk, form, "pack", density.or(before))?;
    Ok(MaterialOrder {
        name: said("name", &offer.name),
        kind: MaterialKind::parse(form.value("kind")),
        pack_ml: pack.filter(|_| changed("pack", &offer.pack)),
        price: form.read("price", parse_price)?,
        density: density.filter(|_| changed("density", &offer.density)),
        colour_index: said("colour index", &offer.index),
        hazard: said("hazard", &offer.hazard),
        forget: emptied(form, offer),
    })
}

/// What was known and stands empty now.
fn emptied(form: &Form, offer: &Offer) -> Vec<Fact> {
    let fields = [
        ("pack", &offer.pack, Fact::Pack),
        ("price", &offer.price, Fact::Price),
        ("density", &offer.density, Fact::Density),
        ("colour index", &offer.index, Fact::ColourIndex),
        ("hazard", &offer.hazard, Fact::Hazard),
    ];
    let emptied = fields
        .into_iter()
        .filter(|(field, offered, _)| !offered.is_empty() && form.value(*field).is_empty());
    emptied.map(|(_, _, fact)| fact).collect()
}
