//! What the Shelf does through the studio.

use super::words::left_words;
use crate::screen::kit::naming::{self, NameDeed};
use crate::screen::kit::place::Outcome;
use crate::studio::orders::{BoughtOrder, CountedOrder, MaterialOrder};
use crate::studio::{Answer, ShelfLine, Studio};
use crate::tell;
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;

/// A deed of the Shelf.
#[derive(Debug, Clone)]
pub enum Deed {
    /// A purchase.
    Bought(BoughtOrder),
    /// So much is there.
    Counted(CountedOrder),
    /// A new material of a name.
    Add(String, Box<MaterialOrder>),
    /// A material changes.
    Set(MaterialId, Box<MaterialOrder>),
    /// A name is put right.
    Name(NameDeed),
}

/// Does a deed; a new material is the one wanted next.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(
    studio: &mut Studio,
    deed: Deed,
    wanted: &mut Option<i64>,
    now: &Now,
) -> Answer<Outcome> {
    match deed {
        Deed::Name(deed) => naming::perform(studio, deed, now),
        Deed::Bought(order) => {
            let line = studio.bought(&order, now)?;
            stands(studio, "Bought", &line)
        }
        Deed::Counted(order) => {
            let line = studio.counted(&order, now)?;
            stands(studio, "Counted", &line)
        }
        Deed::Add(name, order) => {
            let material = studio.add_material(&name, &order, now)?;
            *wanted = Some(material.id);
            let words = format!("{} is on the shelf: b bought, c counted", material.name);
            Ok(Outcome::wrote(words))
        }
        Deed::Set(id, order) => {
            let material = studio.set_material(id, &order, now)?;
            Ok(Outcome::wrote(format!("{} is changed", material.name)))
        }
    }
}

fn stands(studio: &Studio, done: &str, line: &ShelfLine) -> Answer<Outcome> {
    let settings = studio.settings()?;
    let left = left_words(line, settings.measures);
    let name = &line.material.name;
    let price = tell::price_each(&line.material, &settings.currency, settings.measures);
    let price = price.map(|price| format!(", {price}")).unwrap_or_default();
    Ok(Outcome::wrote(format!("{done} {name}: {left} left{price}")))
}
