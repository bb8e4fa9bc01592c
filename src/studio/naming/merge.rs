//! Two names of one thing become one: all that was done with the first is of the second.

use super::merge_recipes;
use super::{called, is_recipe};
use crate::logbook::{Reader, Stock, Writer};
use crate::studio::orders::MergeOrder;
use crate::studio::shelf::stock;
use crate::studio::{Answer, Refusal, Studio, StudioError, ThingIs, lookup};
use crate::trade::act::{Act, Called};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::material::Material;
use crate::trade::recipe::PartOf;
use crate::trade::units::Millilitres;

/// What was merged.
#[derive(Debug, Clone)]
pub struct Merged {
    /// The name that is gone.
    pub from: String,
    /// The name that stays.
    pub into: String,
}

impl Studio {
    /// Merges two materials, or two recipes, that are one thing.
    ///
    /// # Errors
    /// Where one is gone, they are of two kinds or layers, or one is made of the other.
    pub fn merge(&mut self, order: &MergeOrder, now: &Now) -> Answer<Merged> {
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let (from, into) = (called(&read, order.from)?, called(&read, order.into)?);
            if order.from == order.into {
                return Err(Refusal::MergedWithItself.into());
            }
            match (order.from, order.into) {
                (PartOf::Material(_), PartOf::Material(_)) => {
                    materials(write, &from, &into, now)?;
                }
                (PartOf::Recipe(_), PartOf::Recipe(_)) => {
                    merge_recipes::merge(write, &from, &into, now)?;
                }
                (PartOf::Material(_), PartOf::Recipe(_)) => {
                    return Err(two_things(&from, ThingIs::Material, &into, ThingIs::Recipe));
                }
                (PartOf::Recipe(_), PartOf::Material(_)) => {
                    return Err(two_things(&from, ThingIs::Recipe, &into, ThingIs::Material));
                }
            }
            let merged = Merged {
                from: from.name.clone(),
                into: into.name.clone(),
            };
            let recipe = is_recipe(order.into);
            Ok((merged, Act::Merged { from, into, recipe }))
        })
    }
}

/// The refusal of two things that cannot be one.
pub(super) fn two_things(from: &Called, is: ThingIs, into: &Called, other: ThingIs) -> StudioError {
    let (from, into) = (from.name.clone(), into.name.clone());
    let refusal = Refusal::TwoThings {
        from,
        is,
        into,
        other,
    };
    refusal.into()
}

fn materials(write: &mut Writer<'_>, from: &Called, into: &Called, now: &Now) -> Answer<()> {
    let read = write.read();
    let (one, other) = (MaterialId(from.id), MaterialId(into.id));
    let goes = lookup::material(&read, one)?;
    let stays = lookup::material(&read, other)?;
    if goes.kind != stays.kind {
        let (is, other) = (ThingIs::Kind(goes.kind), ThingIs::Kind(stays.kind));
        return Err(two_things(from, is, into, other));
    }
    let left = left(&read, [one, other], now)?;
    write.combine_parts(PartOf::Material(from.id), PartOf::Material(into.id))?;
    write.repoint("material", from.id, into.id)?;
    write.remove_named(PartOf::Material(from.id))?;
    write.set_material(&filled(goes, stays))?;
    // Each was counted by itself: what is there now is both together.
    if let Some(ml) = left {
        write.add_stock(&Stock {
            material: into.id,
            at: now.at,
            counted: true,
            ml,
            price: None,
        })?;
    }
    Ok(())
}

/// What is left of some materials together; `None` where that of none is known.
fn left(read: &Reader<'_>, of: [MaterialId; 2], now: &Now) -> Answer<Option<Millilitres>> {
    let lines = stock::shelf(read, now)?.into_iter();
    let own = lines.filter(|line| of.iter().any(|id| id.0 == line.material.id));
    let left: Vec<Millilitres> = own.filter_map(|line| line.left).collect();
    let sum: Millilitres = left.iter().copied().sum();
    Ok((!left.is_empty()).then_some(sum.max(Millilitres::ZERO).stored()))
}

/// What is known of the one that stays, and what only the other told.
fn filled(goes: Material, stays: Material) -> Material {
    let unpriced = stays.paid().is_none();
    let (price, priced_ml) = match unpriced && goes.paid().is_some() {
        true => (goes.price, goes.priced_ml.or(goes.pack_ml)),
        false => (stays.price, stays.priced_ml),
    };
    Material {
        pack_ml: stays.pack_ml.or(goes.pack_ml),
        price,
        priced_ml,
        density: stays.density.or(goes.density),
        colour_index: stays.colour_index.or(goes.colour_index),
        hazard: stays.hazard.or(goes.hazard),
        colour: stays.colour.or(goes.colour),
        id: stays.id,
        name: stays.name,
        kind: stays.kind,
        retired: stays.retired,
    }
}
