//! Looking back: which variants gave good cells in a window of time.

use crate::numbers::statistics::proportion::Tally;
use crate::studio::{Answer, PourPage, Studio};
use crate::trade::moment::Moment;
use std::collections::{BTreeMap, BTreeSet};

/// A window of time; either end may be open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Since {
    /// From this instant on.
    pub from: Option<Moment>,
    /// Before this instant.
    pub to: Option<Moment>,
}

/// What worked in a window of time.
#[derive(Debug, Clone)]
pub struct Findings {
    /// The window.
    pub window: Since,
    /// From how many cells a pour counts as good.
    pub bar: u8,
    /// Judged pours in the window.
    pub pours: usize,
    /// Good ones among them.
    pub good: usize,
    /// Every variant that was poured and judged, the surest first.
    pub variants: Vec<VariantTally>,
}

/// How a variant did. A pour counts once for each variant that lies in it.
#[derive(Debug, Clone, PartialEq)]
pub struct VariantTally {
    /// The recipe's name.
    pub recipe: String,
    /// The variant's number.
    pub variant: i64,
    /// Judged pours with it.
    pub pours: usize,
    /// Good ones among them.
    pub good: usize,
    /// The share of good ones.
    pub rate: f64,
    /// Its 95 % Wilson interval.
    pub wilson: (f64, f64),
    /// The numbers of those pours, newest first.
    pub behind: Vec<i64>,
}

impl Studio {
    /// What worked in a window of time.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn findings(&self, window: Since) -> Answer<Findings> {
        let bar = self.settings()?.good_from;
        let judged = self.judged(window)?;
        let mut tallies: BTreeMap<&str, (usize, Vec<i64>)> = BTreeMap::new();
        for (page, good) in &judged {
            let good = usize::from(*good >= bar);
            let variants: BTreeSet<&str> = page
                .layers
                .iter()
                .map(|(_, title)| title.as_str())
                .collect();
            for variant in variants {
                let tally = tallies.entry(variant).or_default();
                tally.0 += good;
                tally.1.push(page.pour.id);
            }
        }
        let mut variants: Vec<_> = tallies
            .into_iter()
            .filter_map(|(title, (good, behind))| tally(title, good, behind))
            .collect();
        variants.sort_by(|a, b| b.wilson.0.total_cmp(&a.wilson.0));
        let good = judged.iter().filter(|(_, cells)| *cells >= bar).count();
        Ok(Findings {
            window,
            bar,
            pours: judged.len(),
            good,
            variants,
        })
    }

    /// Every pour of a window that was judged, with the cells that count.
    fn judged(&self, window: Since) -> Answer<Vec<(PourPage, u8)>> {
        let pours = self.pours(window.from)?.into_iter();
        let within = pours.filter(|page| window.to.is_none_or(|to| page.pour.at < to));
        let judged = within.filter_map(|page| {
            let cells = page.counting()?.cells;
            Some((page, cells))
        });
        Ok(judged.collect())
    }
}

fn tally(title: &str, good: usize, behind: Vec<i64>) -> Option<VariantTally> {
    let (recipe, variant) = title.rsplit_once(" v")?;
    let pours = behind.len();
    let tally = Tally::new(u32::try_from(good).ok()?, u32::try_from(pours).ok()?);
    let wilson = tally.wilson();
    Some(VariantTally {
        recipe: recipe.to_owned(),
        variant: variant.parse().ok()?,
        pours,
        good,
        rate: tally.share()?,
        wilson: (wilson.low, wilson.high),
        behind,
    })
}
