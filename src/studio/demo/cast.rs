//! What the demo is played with: the invented names, materials, recipes and texts of `assets/demo.json`.

use crate::studio::orders::Known;
use crate::studio::{Answer, MaterialOrder, RecipeOrder, Refusal, TargetsOrder};
use crate::trade::colour::Colour;
use crate::trade::duration;
use crate::trade::material::MaterialKind;
use crate::trade::panel::Panel;
use crate::trade::range::Window;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Density, Millilitres};
use rust_decimal::Decimal;
use serde::Deserialize;

const DEMO: &str = include_str!("../../../assets/demo.json");

#[derive(Deserialize)]
pub(super) struct Cast {
    pub(super) settings: Vec<(String, String)>,
    pub(super) materials: Vec<DemoMaterial>,
    pub(super) recipes: Vec<DemoRecipe>,
    pub(super) changes: Vec<DemoChange>,
    panels: Vec<String>,
    pub(super) ways: Vec<String>,
    pub(super) tapes: Vec<String>,
    pub(super) pour_notes: Vec<String>,
    pub(super) cup_notes: Vec<String>,
    pub(super) wet_notes: Vec<String>,
    pub(super) dry_notes: Vec<String>,
}

#[derive(Deserialize)]
pub(super) struct DemoMaterial {
    pub(super) name: String,
    kind: MaterialKind,
    pack: Option<f64>,
    price: Option<Decimal>,
    density: Option<f64>,
    colour_index: Option<String>,
    hazard: Option<String>,
    colour: Option<Colour>,
}

#[derive(Deserialize)]
pub(super) struct DemoRecipe {
    pub(super) name: String,
    pub(super) layer: LayerKind,
    parts: Vec<String>,
    window: Option<String>,
    /// What it adds to the cells, which the studio does not know.
    pub(super) lift: f64,
}

#[derive(Deserialize)]
pub(super) struct DemoChange {
    /// Before which session it is made.
    pub(super) session: usize,
    pub(super) name: String,
    #[serde(default)]
    parts: Vec<String>,
    rest: Option<String>,
    note: String,
    pub(super) lift: f64,
}

impl Cast {
    pub(super) fn read() -> Answer<Self> {
        serde_json::from_str(DEMO).map_err(|error| {
            let (what, why) = ("demo", error.to_string());
            Refusal::OwnData { what, why }.into()
        })
    }

    pub(super) fn panels(&self) -> Answer<Vec<Panel>> {
        let panels = self.panels.iter().map(|text| Ok(Panel::parse(text)?));
        panels.collect()
    }

    pub(super) fn colours(&self) -> Vec<String> {
        let colours = self
            .recipes
            .iter()
            .filter(|one| one.layer == LayerKind::Colour);
        colours.map(|one| one.name.clone()).collect()
    }

    /// The hidden lift of each of a recipe's variants that was written before a session, oldest first.
    pub(super) fn lifts(&self, recipe: &str, session: usize) -> Vec<f64> {
        let first = self.recipes.iter().filter(|one| one.name == recipe);
        let later = self
            .changes
            .iter()
            .filter(|one| one.name == recipe && one.session <= session);
        let first = first.map(|one| one.lift);
        first.chain(later.map(|one| one.lift)).collect()
    }
}

impl DemoMaterial {
    pub(super) fn order(&self) -> MaterialOrder {
        MaterialOrder {
            name: None,
            kind: Some(self.kind),
            pack_ml: self.pack.map(Millilitres),
            price: self.price,
            density: self.density.map(Density),
            colour_index: self.colour_index.clone(),
            hazard: self.hazard.clone(),
            colour: self.colour,
            forget: Vec::new(),
        }
    }

    pub(super) const fn comes_in_packs(&self) -> bool {
        self.pack.is_some()
    }
}

impl DemoRecipe {
    pub(super) fn order(&self, known: &Known) -> Answer<RecipeOrder> {
        let window = self.window.as_deref().map(Window::parse).transpose()?;
        let targets = TargetsOrder {
            window,
            ..TargetsOrder::default()
        };
        Ok(RecipeOrder {
            parts: known.parts(self.parts.iter().map(String::as_str))?,
            targets,
            ..RecipeOrder::default()
        })
    }
}

impl DemoChange {
    pub(super) fn order(&self, known: &Known) -> Answer<RecipeOrder> {
        let rest = self.rest.as_deref().map(duration::parse).transpose()?;
        let targets = TargetsOrder {
            rest,
            ..TargetsOrder::default()
        };
        Ok(RecipeOrder {
            parts: known.parts(self.parts.iter().map(String::as_str))?,
            targets,
            note: Some(self.note.clone()),
            ..RecipeOrder::default()
        })
    }
}
