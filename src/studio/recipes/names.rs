//! Names behind the store's numbers, for showing what happened to a cup.

use crate::studio::{Answer, Studio};
use crate::trade::cup::{DrawnInto, Entry, Happened};
use std::collections::HashMap;

/// What materials are called and what marks cups bear, by the store's numbers.
#[derive(Debug, Clone, Default)]
pub struct Names {
    materials: HashMap<i64, String>,
    marks: HashMap<i64, String>,
}

impl Names {
    /// A material's name.
    #[must_use]
    pub fn material(&self, id: i64) -> Option<String> {
        self.materials.get(&id).cloned()
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
        let read = self.book.read()?;
        let materials = read.materials()?;
        let mut marks = HashMap::new();
        for entry in entries {
            if let Happened::Drawn {
                into: DrawnInto::Cup(id),
                ..
            } = entry.what
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
        })
    }
}
