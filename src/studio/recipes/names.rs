//! Names behind the store's numbers, for showing what happened to a cup.

use crate::logbook::Reader;
use crate::studio::file::settings::settings;
use crate::studio::{Answer, RecipeBook, Studio, VariantRef};
use crate::trade::cup::Entry;
use std::collections::HashMap;

/// What materials are called and what marks cups bear, by the store's numbers.
#[derive(Debug, Clone, Default)]
pub struct Names {
    materials: HashMap<i64, String>,
    marks: HashMap<i64, String>,
    recipes: HashMap<i64, String>,
    variants: HashMap<i64, VariantRef>,
    currency: String,
}

impl Names {
    /// A material's name.
    #[must_use]
    pub fn material(&self, id: i64) -> Option<String> {
        self.materials.get(&id).cloned()
    }

    /// A recipe's name.
    #[must_use]
    pub fn recipe(&self, id: i64) -> Option<String> {
        self.recipes.get(&id).cloned()
    }

    /// What a variant is called.
    #[must_use]
    pub fn variant(&self, id: i64) -> Option<VariantRef> {
        self.variants.get(&id).cloned()
    }

    /// The currency that prices are in.
    #[must_use]
    pub fn currency(&self) -> &str {
        &self.currency
    }

    /// A cup's mark.
    #[must_use]
    pub fn mark(&self, cup: i64) -> Option<String> {
        self.marks.get(&cup).cloned()
    }
}

impl Studio {
    /// The names that entries lead to.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn names(&self, entries: &[Entry]) -> Answer<Names> {
        of_entries(&self.book.read()?, entries)
    }

    /// What materials, recipes and variants are called today, for showing what was done.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn names_today(&self) -> Answer<Names> {
        let read = self.book.read()?;
        let cards = RecipeBook::read(&read)?;
        let materials = read.materials()?.into_iter();
        let recipes = cards.recipes.values();
        let variants = cards.variants.keys();
        Ok(Names {
            materials: materials.map(|one| (one.id, one.name)).collect(),
            marks: HashMap::new(),
            recipes: recipes.map(|one| (one.id, one.name.clone())).collect(),
            variants: variants
                .filter_map(|&id| Some((id, cards.variant_ref(id)?)))
                .collect(),
            currency: settings(&read)?.currency,
        })
    }
}

/// The names that entries lead to: the cups they were poured into, the thinners, as they are called today.
pub(in crate::studio) fn of_entries(read: &Reader<'_>, entries: &[Entry]) -> Answer<Names> {
    let materials = read.materials()?;
    let mut marks = HashMap::new();
    for entry in entries {
        let into = entry.what.drawn().and_then(|(_, into)| into.cup());
        let from = entry.what.added().and_then(|(_, from)| from.cup());
        let other = into.or(from);
        if let Some(id) = other
            && let Some(cup) = read.cup(id)?
        {
            marks.insert(id, cup.mark.to_string());
        }
    }
    Ok(Names {
        materials: materials
            .into_iter()
            .map(|one| (one.id, one.name))
            .collect(),
        marks,
        ..Names::default()
    })
}
