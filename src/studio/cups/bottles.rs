//! The cups that parts of a mixture are drawn from: a medium that was mixed ahead, before the shelf.
//!
//! The oldest that is enough alone is taken. Where none is, each in turn, the oldest first, and the shelf for the rest.

use crate::logbook::Reader;
use crate::studio::Answer;
use crate::studio::cups::mixture::Mixture;
use crate::studio::cups::tend;
use crate::trade::cup::Cup;
use crate::trade::moment::Moment;
use crate::trade::recipe::PartOf;
use crate::trade::units::Millilitres;
use std::collections::BTreeSet;

/// A cup that may be drawn from, and what is left in it.
#[derive(Debug, Clone)]
struct Bottle {
    cup: Cup,
    recipe: i64,
    left: Millilitres,
}

/// The standing cups of some recipes, the oldest first.
#[derive(Debug, Clone, Default)]
pub(crate) struct Bottles {
    standing: Vec<Bottle>,
}

impl Bottles {
    /// The living cups of all recipes that `parts` are made of, at any depth; of those mixed by an instant, where one
    /// is said. One that has gelled is of no use.
    pub(crate) fn read(
        read: &Reader<'_>,
        mixture: &Mixture,
        parts: impl Iterator<Item = PartOf>,
        by: Option<Moment>,
    ) -> Answer<Self> {
        let wanted = mixture.recipes_below(parts);
        if wanted.is_empty() {
            return Ok(Self::default());
        }
        let mut standing = Vec::new();
        for cup in read.living_cups()? {
            let holds = mixture.recipe_of(&cup).filter(|id| wanted.contains(id));
            let Some(recipe) = holds.filter(|_| by.is_none_or(|by| cup.mixed_at <= by)) else {
                continue;
            };
            let life = tend::life(read, &cup)?;
            if !life.gelled && !life.left.is_nothing() {
                let left = life.left;
                standing.push(Bottle { cup, recipe, left });
            }
        }
        standing.sort_by_key(|one| (one.cup.mixed_at, one.cup.id));
        Ok(Self { standing })
    }

    /// Leaves a cup out: it is drawn from by name, or is the one that is filled.
    pub(crate) fn without(mut self, cup: i64) -> Self {
        self.standing.retain(|one| one.cup.id != cup);
        self
    }

    /// Takes so much of a recipe: of which cups how much, and what of it none of them has.
    pub(crate) fn take(
        &mut self,
        recipe: i64,
        wanted: Millilitres,
    ) -> (Vec<(Cup, Millilitres)>, Millilitres) {
        let mut own: Vec<&mut Bottle> = self.of(recipe).collect();
        // What is written down is kept to the microlitre, and less than a drop is nothing.
        let enough = |one: &&mut Bottle| one.left + Millilitres::DROP >= wanted;
        if let Some(one) = own.iter().position(enough) {
            own = vec![own.swap_remove(one)];
        }
        let mut lacks = wanted;
        let mut taken = Vec::new();
        for bottle in own {
            if lacks.is_nothing() {
                break;
            }
            let ml = match bottle.left + Millilitres::DROP >= lacks {
                true => lacks,
                false => bottle.left,
            };
            bottle.left = (bottle.left - ml).max(Millilitres::ZERO);
            lacks = (lacks - ml).max(Millilitres::ZERO);
            taken.push((bottle.cup.clone(), ml));
        }
        (taken, lacks)
    }

    fn of(&mut self, recipe: i64) -> impl Iterator<Item = &mut Bottle> {
        let fits = move |one: &&mut Bottle| one.recipe == recipe && !one.left.is_nothing();
        self.standing.iter_mut().filter(fits)
    }
}

impl Mixture {
    /// The recipes that parts are made of, at any depth.
    fn recipes_below(&self, parts: impl Iterator<Item = PartOf>) -> BTreeSet<i64> {
        let mut open: Vec<PartOf> = parts.collect();
        let mut found = BTreeSet::new();
        while let Some(part) = open.pop() {
            if let PartOf::Recipe(recipe) = part
                && found.insert(recipe)
            {
                let newest = self.newest(recipe).into_iter();
                open.extend(newest.flat_map(|one| one.parts.iter().map(|part| part.of)));
            }
        }
        found
    }
}
