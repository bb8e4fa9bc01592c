//! Starter materials and recipes in generic names, for a studio's first hour.

use crate::logbook::Writer;
use crate::studio::orders::Known;
use crate::studio::{
    Answer, MaterialOrder, RecipeOrder, Refusal, Studio, StudioError, TargetsOrder,
};
use crate::studio::{recipes::variants, shelf::materials};
use crate::trade::act::Act;
use crate::trade::colour::Colour;
use crate::trade::instant::Now;
use crate::trade::material::MaterialKind;
use crate::trade::range::Window;
use crate::trade::recipe::LayerKind;
use serde::Deserialize;

const STARTERS: &str = include_str!("../../../assets/starters.json");

/// What was written down, and what was left alone because its name is taken.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Seeded {
    /// The names of the new materials.
    pub materials: Vec<String>,
    /// The names of the new recipes.
    pub recipes: Vec<String>,
    /// Names that were there already.
    pub skipped: Vec<String>,
}

impl Seeded {
    /// Whether nothing was written.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.materials.is_empty() && self.recipes.is_empty()
    }
}

#[derive(Deserialize)]
struct Starters {
    materials: Vec<StarterMaterial>,
    recipes: Vec<StarterRecipe>,
}

#[derive(Deserialize)]
struct StarterMaterial {
    name: String,
    kind: MaterialKind,
    colour_index: Option<String>,
    colour: Option<Colour>,
}

#[derive(Deserialize)]
struct StarterRecipe {
    name: String,
    layer: LayerKind,
    parts: Vec<String>,
    window: Option<String>,
}

impl Studio {
    /// Writes starter materials and recipes down, in one change; names that are taken are left alone, and
    /// nothing is written where all are.
    ///
    /// # Errors
    /// Where the store cannot write.
    pub fn seed_starters(&mut self, now: &Now) -> Answer<Seeded> {
        let starters = starters()?;
        self.book.commit_as(now.at.into(), |write| {
            let mut seeded = Seeded::default();
            for one in &starters.materials {
                let added = materials::add_within(write, &one.name, &one.order());
                sort_in(added, &one.name, &mut seeded.materials, &mut seeded.skipped)?;
            }
            for one in &starters.recipes {
                let added = one.add(write, now);
                sort_in(added, &one.name, &mut seeded.recipes, &mut seeded.skipped)?;
            }
            Ok((seeded, Act::Starters))
        })
    }
}

impl StarterMaterial {
    fn order(&self) -> MaterialOrder {
        MaterialOrder {
            kind: Some(self.kind),
            colour_index: self.colour_index.clone(),
            colour: self.colour,
            ..MaterialOrder::default()
        }
    }
}

impl StarterRecipe {
    fn add(&self, write: &mut Writer<'_>, now: &Now) -> Answer<()> {
        let window = self.window.as_deref().map(Window::parse).transpose()?;
        let read = write.read();
        variants::refuse_taken(&read, &self.name)?;
        let known = Known::within(&read)?;
        let order = RecipeOrder {
            parts: known.parts(self.parts.iter().map(String::as_str))?,
            targets: TargetsOrder {
                window,
                ..TargetsOrder::default()
            },
            ..RecipeOrder::default()
        };
        variants::add_within(write, &self.name, self.layer, &order, now)?;
        Ok(())
    }
}

/// A taken name is no failure here: it is what the painter has made their own.
fn sort_in<T>(
    added: Answer<T>,
    name: &str,
    new: &mut Vec<String>,
    skipped: &mut Vec<String>,
) -> Answer<()> {
    match added {
        Ok(_) => new.push(name.to_owned()),
        Err(StudioError::Refused(Refusal::NameTaken { .. })) => skipped.push(name.to_owned()),
        Err(other) => return Err(other),
    }
    Ok(())
}

fn starters() -> Answer<Starters> {
    serde_json::from_str(STARTERS).map_err(|error| {
        let (what, why) = ("starters", error.to_string());
        Refusal::OwnData { what, why }.into()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::instant::Zone;
    use crate::trade::recipe::PartOf;

    fn at_noon() -> Now {
        let at = chrono::DateTime::parse_from_rfc3339("2026-10-01T12:00:00+02:00").unwrap();
        Now {
            at,
            zone: Zone::Fixed(*at.offset()),
        }
    }

    fn empty() -> (tempfile::TempDir, Studio) {
        let folder = tempfile::tempdir().unwrap();
        let studio = Studio::open(&folder.path().join("studio.db")).unwrap();
        (folder, studio)
    }

    #[test]
    fn starters_are_one_change_that_one_undo_takes_back() {
        let (_folder, mut studio) = empty();
        let seeded = studio.seed_starters(&at_noon()).unwrap();
        assert_eq!(seeded.skipped, Vec::<String>::new());
        assert_eq!(studio.materials().unwrap().len(), seeded.materials.len());
        assert_eq!(studio.recipes().unwrap().len(), seeded.recipes.len());
        studio.undo(&at_noon()).unwrap();
        assert!(studio.materials().unwrap().is_empty());
        assert!(studio.recipes().unwrap().is_empty());
    }

    #[test]
    fn starters_written_twice_change_nothing_and_say_so() {
        let (_folder, mut studio) = empty();
        studio.seed_starters(&at_noon()).unwrap();
        let (materials, changes) = (
            studio.materials().unwrap(),
            studio.history(99).unwrap().len(),
        );
        let again = studio.seed_starters(&at_noon()).unwrap();
        assert!(again.is_empty());
        assert_eq!(again.skipped.len(), 18);
        assert_eq!(studio.materials().unwrap(), materials);
        assert_eq!(studio.history(99).unwrap().len(), changes);
    }

    #[test]
    fn a_name_that_is_taken_stays_as_the_painter_wrote_it() {
        let (_folder, mut studio) = empty();
        let own = MaterialOrder {
            kind: Some(MaterialKind::Additive),
            ..MaterialOrder::default()
        };
        studio.add_material("water", &own, &at_noon()).unwrap();
        let seeded = studio.seed_starters(&at_noon()).unwrap();
        assert_eq!(seeded.skipped, ["Water"]);
        let kinds: Vec<_> = studio
            .materials()
            .unwrap()
            .into_iter()
            .filter(|one| one.name.eq_ignore_ascii_case("water"))
            .map(|one| one.kind)
            .collect();
        assert_eq!(kinds, [MaterialKind::Additive]);
    }

    #[test]
    fn every_layer_has_a_starter_and_colours_hold_the_bottled_medium() {
        let (_folder, mut studio) = empty();
        studio.seed_starters(&at_noon()).unwrap();
        let pages = studio.recipes().unwrap();
        for layer in LayerKind::ALL {
            assert!(pages.iter().any(|page| page.recipe.layer == *layer));
        }
        let colours = pages
            .iter()
            .filter(|page| page.recipe.layer == LayerKind::Colour);
        for page in colours {
            let parts = &page.newest().unwrap().parts;
            assert!(
                parts
                    .iter()
                    .any(|part| matches!(part.of, PartOf::Recipe(_)))
            );
        }
    }
}
