//! The best picture of the same variants, to be laid beside another.

use crate::studio::{Answer, PhotoPage, PourPage, Studio};
use chrono::TimeDelta;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Pictures are compared over so long.
const BACK: TimeDelta = TimeDelta::days(730);

impl Studio {
    /// The last photo of the best judged pour that shares the most variants with another; none where none shares one.
    ///
    /// # Errors
    /// Where there is no such pour, or the store cannot be read.
    pub fn best_beside(&self, pour: i64) -> Answer<Option<PhotoPage>> {
        let own = self.pour_page(pour)?;
        let variants = variants(&own);
        let pours = self.pours(Some(own.pour.at - BACK))?.into_iter();
        let rank = |page: &PourPage| {
            let cells = page.counting()?.cells;
            let shared = self::variants(page).intersection(&variants).count();
            (page.pour.id != pour && shared > 0).then_some(Reverse((shared, cells)))
        };
        let mut ranked: Vec<_> = pours
            .filter_map(|page| Some((rank(&page)?, page.pour.id)))
            .collect();
        ranked.sort();
        for (_, other) in ranked {
            if let Some(last) = self.photos(Some(other))?.pop() {
                return Ok(Some(last));
            }
        }
        Ok(None)
    }
}

fn variants(page: &PourPage) -> BTreeSet<(String, i64)> {
    let cups = page.layers.iter().map(|cup| &cup.variant);
    cups.map(|one| (one.recipe.clone(), one.number)).collect()
}
