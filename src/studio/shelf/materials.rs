//! What is bought: writing materials down and changing what is known of them.

use crate::logbook::Writer;
use crate::studio::orders::MaterialOrder;
use crate::studio::recipes::variants::refuse_taken;
use crate::studio::{Answer, Limit, Refusal, Studio, Unchanged, WordOf, lookup};
use crate::trade::act::{Act, Called};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::material::{Fact, Material, MaterialKind};
use crate::trade::units::Density;

impl Studio {
    /// Every material, by name; what is no longer offered comes last.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn materials(&self) -> Answer<Vec<Material>> {
        let mut all = self.book.read()?.materials()?;
        all.sort_by_key(|one| one.retired);
        Ok(all)
    }

    /// Writes down a new material.
    ///
    /// # Errors
    /// Where the name is taken, or something said of it makes no sense.
    pub fn add_material(
        &mut self,
        name: &str,
        order: &MaterialOrder,
        now: &Now,
    ) -> Answer<Material> {
        self.book.commit_as(now.at.into(), |write| {
            let added = add_within(write, name, order)?;
            let material = called(&added);
            Ok((added, Act::MaterialAdded { material }))
        })
    }

    /// Changes what is known of a material.
    ///
    /// # Errors
    /// Where it is gone, or something said of it makes no sense.
    pub fn set_material(
        &mut self,
        material: MaterialId,
        order: &MaterialOrder,
        now: &Now,
    ) -> Answer<Material> {
        self.book.commit_as(now.at.into(), |write| {
            let before = lookup::material(&write.read(), material)?;
            let mut after = before.clone();
            take(&mut after, order)?;
            if let Some(new_name) = &order.name {
                after.name = lookup::lettered_name(new_name)?;
            }
            if after == before {
                return Err(Refusal::NoChange(Unchanged::Named(before.name)).into());
            }
            if after.name.to_lowercase() != before.name.to_lowercase() {
                refuse_taken(&write.read(), &after.name)?;
            }
            write.set_material(&after)?;
            let material = called(&after);
            Ok((after, Act::MaterialChanged { material }))
        })
    }
}

/// A material as the history keeps it.
pub(in crate::studio) fn called(material: &Material) -> Called {
    Called {
        id: material.id,
        name: material.name.clone(),
    }
}

/// Writes down a new material inside a commit.
pub(crate) fn add_within(
    write: &mut Writer<'_>,
    name: &str,
    order: &MaterialOrder,
) -> Answer<Material> {
    let name = lookup::lettered_name(name)?;
    let mut new = Material {
        id: 0,
        name,
        kind: order.kind.unwrap_or(MaterialKind::Paint),
        pack_ml: None,
        price: None,
        density: None,
        colour_index: None,
        hazard: None,
        colour: None,
        priced_ml: None,
        retired: false,
    };
    take(&mut new, order)?;
    refuse_taken(&write.read(), &new.name)?;
    new.id = write.add_material(&new)?;
    Ok(new)
}

fn take(material: &mut Material, order: &MaterialOrder) -> Answer<()> {
    order.forget.iter().for_each(|fact| forget(material, *fact));
    if let Some(density) = order.density {
        material.density = Some(checked_density(density)?);
    }
    if let Some(name) = &order.colour_index {
        material.colour_index = Some(checked_colour_index(name)?);
    }
    material.kind = order.kind.unwrap_or(material.kind);
    material.pack_ml = order.pack_ml.or(material.pack_ml);
    if let Some(price) = order.price {
        material.price = Some(price);
        // It is of one pack now, where it is known what that holds.
        let of_pack = material.pack_ml.is_some();
        material.priced_ml = material.priced_ml.filter(|_| !of_pack);
    }
    material.hazard = order.hazard.clone().or_else(|| material.hazard.take());
    material.colour = order.colour.or(material.colour);
    Ok(())
}

fn forget(material: &mut Material, fact: Fact) {
    match fact {
        Fact::Pack => material.pack_ml = None,
        Fact::Price => {
            material.price = None;
            material.priced_ml = None;
        }
        Fact::Density => material.density = None,
        Fact::ColourIndex => material.colour_index = None,
        Fact::Hazard => material.hazard = None,
        Fact::Colour => material.colour = None,
    }
}

/// Liquids and pastes of the trade lie between spirits and dense whites.
fn checked_density(density: Density) -> Answer<Density> {
    if (0.5..=5.0).contains(&density.get()) {
        return Ok(density);
    }
    Err(Refusal::Range(Limit::Density).into())
}

/// A Colour Index generic name: P, a hue's letters, a number, perhaps a form: `PW6`, `PBk7`, `PB15:3`.
///
/// Source of the pattern: Colour Index generic names as ASTM D5067 requires them on labels.
fn checked_colour_index(name: &str) -> Answer<String> {
    let name = name.trim();
    let fits = |rest: &str| {
        let (number, form) = rest
            .split_once(':')
            .map_or((rest, None), |(n, f)| (n, Some(f)));
        let digits = |text: &str| {
            !text.is_empty() && text.len() <= 4 && text.bytes().all(|b| b.is_ascii_digit())
        };
        digits(number) && form.is_none_or(digits)
    };
    let hues = ["PBk", "PBr", "PW", "PY", "PO", "PR", "PV", "PB", "PG", "PM"];
    let known = hues
        .iter()
        .any(|hue| name.strip_prefix(hue).is_some_and(fits));
    if known {
        return Ok(name.to_owned());
    }
    let (of, said) = (WordOf::ColourIndex, name.to_owned());
    Err(Refusal::Word { of, said }.into())
}
