//! The demo's shelf: opening the studio, buying what runs low, counting now and then.

use super::clock::{FIRST_DAY, later};
use super::hands::Hands;
use super::paint::normal;
use crate::studio::orders::{BoughtOrder, CountedOrder};
use crate::studio::{Answer, ShelfLine};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::material::MaterialKind;
use crate::trade::units::Millilitres;

impl Hands<'_> {
    /// The first day: the settings, the materials with what was bought of them, the recipes.
    pub(super) fn open_studio(&mut self) -> Answer<()> {
        let mut at = self.clock.day(FIRST_DAY, 10.0);
        self.studio.mark_examples(&at)?;
        for (name, value) in &self.cast.settings {
            self.studio.set(name, value, &at)?;
        }
        for material in &self.cast.materials {
            at = later(&at, 2);
            let added = self
                .studio
                .add_material(&material.name, &material.order(), &at)?;
            if material.comes_in_packs() {
                let two = BoughtOrder::packs(MaterialId(added.id), 2.0);
                self.studio.bought(&two, &at)?;
            }
        }
        for recipe in &self.cast.recipes {
            at = later(&at, 6);
            let order = recipe.order(&self.studio.known([])?)?;
            self.studio
                .add_recipe(&recipe.name, recipe.layer, &order, &at)?;
        }
        Ok(())
    }

    /// Buys what runs low, before it is needed.
    pub(super) fn shop(&mut self, at: &Now) -> Answer<()> {
        for line in self.studio.shelf(at)? {
            let (Some(left), Some(pack)) = (line.left, line.material.pack_ml) else {
                continue;
            };
            let packs = ((low_at(&line) - left.get()) / pack.get()).ceil();
            if packs > 0.0 {
                let order = BoughtOrder::packs(MaterialId(line.material.id), packs);
                self.studio.bought(&order, at)?;
            }
        }
        Ok(())
    }

    /// Counts the shelf: a little less is there than the book says.
    pub(super) fn count(&mut self, at: &Now) -> Answer<()> {
        for line in self.studio.shelf(at)? {
            let Some(left) = line.left.filter(|left| left.get() > 20.0) else {
                continue;
            };
            let there = left.get() * normal(&mut self.rng, 0.97, 0.01).min(1.0);
            let order = CountedOrder {
                material: MaterialId(line.material.id),
                ml: Millilitres((there / 5.0).round() * 5.0),
                even_so: true,
            };
            self.studio.counted(&order, at)?;
        }
        Ok(())
    }
}

/// What one session may take, at the most.
const fn low_at(line: &ShelfLine) -> f64 {
    match line.material.kind {
        MaterialKind::Base => 900.0,
        MaterialKind::Conditioner if is_large(line) => 1000.0,
        MaterialKind::Paint => 220.0,
        MaterialKind::Varnish | MaterialKind::Stabiliser => 130.0,
        _ => 40.0,
    }
}

const fn is_large(line: &ShelfLine) -> bool {
    matches!(line.material.pack_ml, Some(pack) if pack.0 > 500.0)
}
