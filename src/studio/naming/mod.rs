//! Names put right: renamed, merged where they are of one thing, retired or removed. Every one can be taken back.

mod lid;
mod merge;
mod merge_recipes;
mod recipe_name;
mod retire;

pub use merge::Merged;
pub use retire::Retired;

use crate::logbook::Reader;
use crate::studio::{Answer, lookup};
use crate::trade::act::Called;
use crate::trade::ids::{MaterialId, RecipeId};
use crate::trade::recipe::PartOf;

/// What a material or a recipe is called, as the history keeps it.
fn called(read: &Reader<'_>, of: PartOf) -> Answer<Called> {
    let (id, name) = match of {
        PartOf::Material(id) => (id, lookup::material(read, MaterialId(id))?.name),
        PartOf::Recipe(id) => (id, lookup::recipe(read, RecipeId(id))?.name),
    };
    Ok(Called { id, name })
}

/// Whether it is a recipe.
const fn is_recipe(of: PartOf) -> bool {
    matches!(of, PartOf::Recipe(_))
}
