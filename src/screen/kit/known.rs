//! Names and settings that forms choose among, read again only when something was written.

use crate::studio::{Answer, Settings, Studio};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::material::MaterialKind;
use crate::trade::recipe::LayerKind;

/// What the studio has, by name.
#[derive(Debug, Default)]
pub struct Known {
    /// Recipes and the layer each is for, by name.
    pub recipes: Vec<(String, LayerKind)>,
    /// Materials and what each is for, by name.
    pub materials: Vec<(String, MaterialKind)>,
    /// The mark the next cup is given; empty where none is left.
    pub next_mark: String,
    /// The settings; `None` before they were read.
    pub settings: Option<Settings>,
    /// Whether it is as the store has it.
    pub fresh: bool,
}

impl Known {
    /// Reads it again.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, _now: &Now) -> Answer<()> {
        let recipes = studio.recipes()?.into_iter();
        self.recipes = recipes
            .map(|page| (page.recipe.name, page.recipe.layer))
            .collect();
        let materials = studio.materials()?.into_iter();
        self.materials = materials.map(|one| (one.name, one.kind)).collect();
        self.next_mark = studio
            .next_mark()
            .map(|mark| mark.to_string())
            .unwrap_or_default();
        self.settings = Some(studio.settings()?);
        self.fresh = true;
        Ok(())
    }

    /// Metric or US customary.
    pub fn measures(&self) -> Measures {
        self.settings
            .as_ref()
            .map_or(Measures::Metric, |settings| settings.measures)
    }

    /// The recipes' names.
    pub fn recipe_names(&self) -> Vec<String> {
        self.recipes.iter().map(|(name, _)| name.clone()).collect()
    }

    /// The thinners' names.
    pub fn thinners(&self) -> Vec<String> {
        let thinners = self.materials.iter();
        thinners
            .filter(|(_, kind)| *kind == MaterialKind::Thinner)
            .map(|(name, _)| name.clone())
            .collect()
    }
}
