//! What is no longer offered, and what nothing ever used.

use super::{called, is_recipe};
use crate::logbook::{Reader, Writer};
use crate::studio::cups::mixture::Mixture;
use crate::studio::{Answer, Refusal, Studio};
use crate::trade::act::{Act, Called};
use crate::trade::instant::Now;
use crate::trade::recipe::PartOf;

/// What was retired, or is offered again.
#[derive(Debug, Clone)]
pub struct Retired {
    /// What it is called.
    pub name: String,
    /// Whether it is no longer offered.
    pub retired: bool,
    /// The recipes that are offered and ask for it still.
    pub asked_by: Vec<String>,
}

impl Studio {
    /// Says that a material or a recipe is no longer offered, or is again. It stays in all that was.
    ///
    /// # Errors
    /// Where it is gone, or is so already.
    pub fn retire(&mut self, of: PartOf, retired: bool, now: &Now) -> Answer<Retired> {
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let named = called(&read, of)?;
            let mixture = Mixture::read(&read)?;
            if is_retired(&mixture, of) == retired {
                return Err(Refusal::RetiredAlready(named.name, retired).into());
            }
            write.set_retired(of, retired.then_some(now.at))?;
            let asked_by = match retired {
                true => asked_by(&mixture, of),
                false => Vec::new(),
            };
            let name = named.name.clone();
            let act = Act::Retired {
                named,
                recipe: is_recipe(of),
                retired,
            };
            let done = Retired {
                name,
                retired,
                asked_by,
            };
            Ok((done, act))
        })
    }

    /// Removes a material or a recipe that nothing ever used.
    ///
    /// # Errors
    /// Where it is gone, or something used it.
    pub fn remove(&mut self, of: PartOf, now: &Now) -> Answer<String> {
        self.book.commit_as(now.at.into(), |write| {
            let named = called(&write.read(), of)?;
            refuse_used(&write.read(), &named, of)?;
            remove_within(write, of)?;
            let name = named.name.clone();
            let recipe = is_recipe(of);
            Ok((name, Act::Removed { named, recipe }))
        })
    }

    /// Whether nothing ever used a material or a recipe, so that it can be removed.
    ///
    /// # Errors
    /// Where it is gone, or the store cannot be read.
    pub fn is_unused(&self, of: PartOf) -> Answer<bool> {
        Ok(uses(&self.book.read()?, of)? == (0, 0))
    }
}

fn is_retired(mixture: &Mixture, of: PartOf) -> bool {
    match of {
        PartOf::Material(id) => mixture.material(id).is_some_and(|one| one.retired),
        PartOf::Recipe(id) => mixture
            .cards
            .recipes
            .get(&id)
            .is_some_and(|one| one.retired),
    }
}

/// The recipes that are offered and whose newest variant asks for it.
fn asked_by(mixture: &Mixture, of: PartOf) -> Vec<String> {
    let recipes = mixture.cards.recipes.values();
    let asks = |one: &&crate::trade::recipe::Recipe| {
        let newest = mixture.newest(one.id);
        newest.is_some_and(|newest| newest.parts.iter().any(|part| part.of == of))
    };
    let offered = recipes.filter(|one| !one.retired);
    let mut names: Vec<String> = offered.filter(asks).map(|one| one.name.clone()).collect();
    names.sort();
    names
}

/// In how many variants it is a part, and into how many cups it went or was mixed by it.
fn uses(read: &Reader<'_>, of: PartOf) -> Answer<(usize, usize)> {
    Ok(match of {
        PartOf::Material(id) => {
            let parts = read.references("part", "material", id)?;
            let puts = read.references("put", "material", id)?;
            (parts, puts + read.references("entry", "material", id)?)
        }
        PartOf::Recipe(id) => {
            let mut cups = 0;
            for variant in variants_of(read, id)? {
                cups += read.references("cup", "variant", variant)?;
                cups += read.references("planned_cup", "variant", variant)?;
            }
            (read.references("part", "recipe", id)?, cups)
        }
    })
}

fn refuse_used(read: &Reader<'_>, named: &Called, of: PartOf) -> Answer<()> {
    match uses(read, of)? {
        (0, 0) => Ok(()),
        (recipes, cups) => Err(Refusal::InUse {
            name: named.name.clone(),
            recipes,
            cups,
        }
        .into()),
    }
}

fn variants_of(read: &Reader<'_>, recipe: i64) -> Answer<Vec<i64>> {
    let all = read.variants()?.into_iter();
    let own = all.filter(|one| one.recipe == recipe);
    Ok(own.map(|one| one.id).collect())
}

fn remove_within(write: &mut Writer<'_>, of: PartOf) -> Answer<()> {
    match of {
        PartOf::Material(id) => write.remove_stock(id)?,
        PartOf::Recipe(id) => {
            // The newest first: each refers to the one that it was changed from.
            for variant in variants_of(&write.read(), id)?.into_iter().rev() {
                write.remove_variant(variant)?;
            }
        }
    }
    Ok(write.remove_named(of)?)
}
