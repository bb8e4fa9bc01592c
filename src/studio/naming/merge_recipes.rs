//! Two recipes that are one: a variant that is the same stands for the other, and what is not gets a number of its own.

use super::merge::two_things;
use crate::logbook::{Reader, Writer};
use crate::studio::recipes::variants::same_mixture;
use crate::studio::{Answer, Refusal, ThingIs, lookup};
use crate::trade::act::Called;
use crate::trade::ids::RecipeId;
use crate::trade::instant::Now;
use crate::trade::recipe::{PartOf, Variant, leads_to_itself, recipes_in};
use std::collections::HashMap;

/// Merges them inside a commit.
pub(super) fn merge(write: &mut Writer<'_>, from: &Called, into: &Called, now: &Now) -> Answer<()> {
    let read = write.read();
    let goes = lookup::recipe(&read, RecipeId(from.id))?;
    let stays = lookup::recipe(&read, RecipeId(into.id))?;
    if goes.layer != stays.layer {
        let (is, other) = (ThingIs::Layer(goes.layer), ThingIs::Layer(stays.layer));
        return Err(two_things(from, is, into, other));
    }
    refuse_cycle(&read, from, into)?;
    let own = variants_of(&read, into.id)?;
    let newest = own.last().cloned();
    let mut number = newest.as_ref().map_or(0, |one| one.number);
    let mut moved = false;
    write.combine_parts(PartOf::Recipe(from.id), PartOf::Recipe(into.id))?;
    for variant in variants_of(&read, from.id)? {
        match own.iter().find(|one| same_mixture(one, &variant)) {
            Some(same) => write.replace_variant(variant.id, same.id)?,
            None => {
                number += 1;
                write.move_variant(variant.id, into.id, number)?;
                moved = true;
            }
        }
    }
    // What is mixed when nobody says which is as before: the newest of the one that stays.
    if let Some(newest) = newest.filter(|_| moved) {
        write.add_variant(&Variant {
            number: number + 1,
            parent: Some(newest.id),
            at: now.at,
            ..newest
        })?;
    }
    write.repoint("recipe", from.id, into.id)?;
    Ok(write.remove_named(PartOf::Recipe(from.id))?)
}

fn variants_of(read: &Reader<'_>, recipe: i64) -> Answer<Vec<Variant>> {
    let all = read.variants()?.into_iter();
    Ok(all.filter(|one| one.recipe == recipe).collect())
}

/// One that is made of the other, at any depth and in any variant, cannot be the same.
fn refuse_cycle(read: &Reader<'_>, from: &Called, into: &Called) -> Answer<()> {
    let mut made_of: HashMap<i64, Vec<i64>> = HashMap::new();
    let mut parts = Vec::new();
    for variant in read.variants()? {
        let as_one = |recipe: i64| if recipe == from.id { into.id } else { recipe };
        let below = recipes_in(&variant.parts).map(as_one);
        let recipe = as_one(variant.recipe);
        if recipe == into.id {
            parts.extend(variant.parts.iter().copied().map(|mut part| {
                if part.of == PartOf::Recipe(from.id) {
                    part.of = PartOf::Recipe(into.id);
                }
                part
            }));
        }
        made_of.entry(recipe).or_default().extend(below);
    }
    match leads_to_itself(into.id, &parts, &made_of) {
        true => Err(Refusal::Cycle(into.name.clone()).into()),
        false => Ok(()),
    }
}
