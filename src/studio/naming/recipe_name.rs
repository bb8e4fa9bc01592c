//! Another name or layer for a recipe; its variants stay as they are.

use crate::studio::orders::RecipeNameOrder;
use crate::studio::recipes::variants;
use crate::studio::{Answer, RecipePage, Refusal, Studio, Unchanged, lookup};
use crate::trade::act::{Act, Called};
use crate::trade::instant::Now;

impl Studio {
    /// Gives a recipe another name or layer.
    ///
    /// # Errors
    /// Where it is gone, the name is taken or none, or nothing differs.
    pub fn rename_recipe(&mut self, order: &RecipeNameOrder, now: &Now) -> Answer<RecipePage> {
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let before = lookup::recipe(&read, order.recipe)?;
            let mut after = before.clone();
            after.layer = order.layer.unwrap_or(before.layer);
            if let Some(name) = &order.name {
                after.name = lookup::lettered_name(name)?;
            }
            if after == before {
                return Err(Refusal::NoChange(Unchanged::Named(before.name)).into());
            }
            if after.name.to_lowercase() != before.name.to_lowercase() {
                variants::refuse_taken(&read, &after.name)?;
            }
            write.set_recipe(&after)?;
            let act = Act::RecipeRenamed {
                recipe: Called {
                    id: after.id,
                    name: after.name.clone(),
                },
                was: before.name,
                layer: order.layer.filter(|layer| *layer != before.layer),
            };
            Ok((variants::page_within(&write.read(), after)?, act))
        })
    }
}
