//! The guided first cup: its paint, its medium, its recipe and the cup itself, as one change.

use crate::logbook::Writer;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mix::{self, Mixed};
use crate::studio::orders::{FirstOrder, MixOrder};
use crate::studio::recipes::variants;
use crate::studio::shelf::materials;
use crate::studio::{Answer, MaterialOrder, RecipeOrder, Refusal, Studio};
use crate::trade::ids::VariantId;
use crate::trade::instant::Now;
use crate::trade::material::MaterialKind;
use crate::trade::recipe::{Part, PartOf};

impl Studio {
    /// Mixes a first cup, and writes down what it is made of where that is new. It is one change: a cup that is refused
    /// leaves nothing behind, and one undo takes all of it back.
    ///
    /// # Errors
    /// Where the recipe's name is taken, or the cup would be refused.
    pub fn first_cup(&mut self, order: &FirstOrder, now: &Now) -> Answer<Mixed> {
        self.book.commit_as(now.at.into(), |write| {
            let mix = MixOrder {
                reading: order.reading.clone(),
                even_so: order.even_so,
                ..MixOrder::of(made_of(write, order, now)?, order.volume)
            };
            // Nothing of it bears a change's number yet, so memory cannot know it.
            let learned = Learned::read(&write.read())?;
            let mixed = mix::mix_within(write, &learned, &mix, now)?;
            let act = mix::act(&learned, &mixed.standing.cup, None);
            Ok((mixed, act))
        })
    }
}

/// The variant of the new recipe.
fn made_of(write: &mut Writer<'_>, order: &FirstOrder, now: &Now) -> Answer<VariantId> {
    let ((paint, paint_parts), (medium, medium_parts)) = (&order.paint, &order.medium);
    let part = |of, share| Part {
        of: PartOf::Material(of),
        share,
    };
    let paint = bought(write, paint, MaterialKind::Paint)?;
    let medium = bought(write, medium, MaterialKind::Conditioner)?;
    let recipe = RecipeOrder {
        parts: vec![part(paint, *paint_parts), part(medium, *medium_parts)],
        ..RecipeOrder::default()
    };
    let page = variants::add_within(write, &order.name, order.layer, &recipe, now)?;
    let newest = page.newest().ok_or(Refusal::NoParts)?;
    Ok(VariantId(newest.id))
}

/// The number of the material of a name, which is written down where it is new.
fn bought(write: &mut Writer<'_>, name: &str, kind: MaterialKind) -> Answer<i64> {
    if let Some(known) = write.read().material_named(name.trim())? {
        return Ok(known.id);
    }
    let order = MaterialOrder {
        kind: Some(kind),
        ..MaterialOrder::default()
    };
    Ok(materials::add_within(write, name, &order)?.id)
}
