//! What the Shelf does through the studio.

use super::words::left_words;
use crate::screen::kit::place::Outcome;
use crate::studio::{Answer, MaterialOrder, ShelfLine, Studio};
use crate::trade::instant::Now;
use crate::trade::units::Millilitres;
use rust_decimal::Decimal;

/// A deed of the Shelf; materials by their names.
#[derive(Debug, Clone)]
pub enum Deed {
    /// A purchase.
    Bought(Purchase),
    /// So much is there.
    Counted(String, Millilitres),
    /// A new material.
    Add(String, Box<MaterialOrder>),
    /// A material changes.
    Set(String, Box<MaterialOrder>),
}

/// What was bought.
#[derive(Debug, Clone)]
pub struct Purchase {
    /// The material's name.
    pub name: String,
    /// How many packs; one otherwise.
    pub packs: Option<f64>,
    /// How much in all; whole packs otherwise.
    pub amount: Option<Millilitres>,
    /// What one pack cost; as before otherwise.
    pub price: Option<Decimal>,
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, now: &Now) -> Answer<Outcome> {
    match deed {
        Deed::Bought(what) => {
            let line = studio.bought(&what.name, what.packs, what.amount, what.price, now)?;
            stands(studio, "Bought", &line)
        }
        Deed::Counted(name, ml) => {
            let line = studio.counted(&name, ml, now)?;
            stands(studio, "Counted", &line)
        }
        Deed::Add(name, order) => {
            let material = studio.add_material(&name, &order, now)?;
            let words = format!("{} is on the shelf: b bought, c counted", material.name);
            Ok(Outcome::wrote(words))
        }
        Deed::Set(name, order) => {
            let material = studio.set_material(&name, &order, now)?;
            Ok(Outcome::wrote(format!("{} is changed", material.name)))
        }
    }
}

fn stands(studio: &Studio, done: &str, line: &ShelfLine) -> Answer<Outcome> {
    let left = left_words(line, studio.settings()?.measures);
    let name = &line.material.name;
    Ok(Outcome::wrote(format!("{done} {name}: {left} left")))
}
