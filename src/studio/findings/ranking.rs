//! Looking back: which variants gave good cells in a window of time.

use crate::numbers::statistics::beta_binomial::{Belief, standings};
use crate::numbers::statistics::findings::{LEAST_OF_EACH, LEAST_ROWS};
use crate::numbers::statistics::proportion::Tally;
use crate::studio::{Answer, PourPage, Studio, TimeWindow};
use crate::trade::photo::Measurement;
use crate::trade::recipe::LayerKind;
use crate::trade::units::Millimetres;
use crate::trade::words::word_enum;
use std::collections::{BTreeMap, BTreeSet, HashMap};

word_enum! {
    /// What the factors of a pour are held against.
    OutcomeKind {
        /// Whether it was good.
        Good = "good",
        /// How many cells it was given, 0 to 5.
        Cells = "cells",
        /// The part of the panel that cells cover, as it was measured.
        Share = "share",
        /// Their median diameter.
        Diameter = "diameter",
        /// By how much their diameters vary: the less, the evener.
        Evenness = "evenness",
        /// How many there are to a square decimetre.
        Number = "number",
    }
}

impl OutcomeKind {
    /// Whether the camera tells it, and not the painter.
    #[must_use]
    pub const fn is_measured(self) -> bool {
        !matches!(self, Self::Good | Self::Cells)
    }

    /// Whether less of it is better.
    #[must_use]
    pub const fn less_is_better(self) -> bool {
        matches!(self, Self::Evenness)
    }

    /// Its value in a measurement: percent, millimetres, percent, cells to a square decimetre.
    #[must_use]
    pub fn of(self, one: &Measurement) -> Option<f64> {
        let value = match self {
            Self::Good | Self::Cells => None,
            Self::Share => Some(100.0 * one.share.get()),
            Self::Diameter => one.median.map(Millimetres::get),
            Self::Evenness => one.evenness.map(|cv| 100.0 * cv),
            Self::Number => one.per_dm2,
        };
        value.filter(|value| value.is_finite())
    }
}

/// What is asked of the pours; all of it may be left open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Asked {
    /// The window of time.
    pub window: TimeWindow,
    /// From how many cells a pour counts as good; the studio's setting otherwise.
    pub bar: Option<u8>,
    /// Only dry judgements, or only wet ones; the one that counts otherwise.
    pub dry: Option<bool>,
    /// Only variants of one layer.
    pub layer: Option<LayerKind>,
    /// What the factors are held against; whether the pour was good otherwise.
    pub outcome: Option<OutcomeKind>,
}

/// What worked in a window of time.
#[derive(Debug, Clone)]
pub struct Findings {
    /// The window.
    pub window: TimeWindow,
    /// From how many cells a pour counts as good.
    pub bar: u8,
    /// Judged pours in the window.
    pub pours: usize,
    /// Good ones among them.
    pub good: usize,
    /// Whether it is too early to tell anything.
    pub too_early: bool,
    /// Every variant that was poured and judged, the surest first.
    pub variants: Vec<VariantTally>,
}

/// What worked, and the pours that say so.
#[derive(Debug, Clone)]
pub struct LookedBack {
    /// What worked.
    pub found: Findings,
    /// Every judged pour with the cells that count, newest first.
    pub judged: Vec<(PourPage, u8)>,
    /// What the factors are held against.
    pub outcome: OutcomeKind,
}

/// A share of good pours as it is believed to be, shrunk toward what all variants do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Posterior {
    /// Its mean.
    pub mean: f64,
    /// One tenth of the belief lies below this; variants are ordered by it, so that one lucky pour never leads.
    pub low10: f64,
    /// One tenth of the belief lies above this.
    pub high90: f64,
}

impl From<Belief> for Posterior {
    fn from(one: Belief) -> Self {
        Self {
            mean: one.mean,
            low10: one.low10,
            high90: one.high90,
        }
    }
}

/// From this many judged pours on a variant's place says something (our own choice: of four, all good, the 95 %
/// interval still begins at 51 %, so that the order of shorter rows is mostly chance).
pub const RANKED_FROM: usize = 5;

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
    /// Where in the stack it goes.
    pub layer: LayerKind,
    /// What all variants together say of it: mean, and the points with a tenth below and above.
    pub posterior: Posterior,
    /// The numbers of those pours, newest first.
    pub behind: Vec<i64>,
}

impl VariantTally {
    /// Whether it was judged too seldom for its place to say much.
    #[must_use]
    pub const fn is_early(&self) -> bool {
        self.pours < RANKED_FROM
    }
}

impl Studio {
    /// What worked in a window of time.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn findings(&self, window: TimeWindow) -> Answer<Findings> {
        let asked = Asked {
            window,
            ..Asked::default()
        };
        Ok(self.look_back(&asked)?.found)
    }

    /// What worked, as it is asked: in a window, from another bar, wet or dry only, of one layer only; with the pours
    /// it rests on.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn look_back(&self, asked: &Asked) -> Answer<LookedBack> {
        let window = asked.window;
        let bar = asked.bar.map_or_else(
            || Ok::<u8, crate::studio::StudioError>(self.settings()?.good_from),
            Ok,
        )?;
        let judged = self.judged(asked)?;
        let mut variants = tallied(&judged, bar, &self.layers_by_name()?);
        believe(&mut variants);
        variants.retain(|one| asked.layer.is_none_or(|layer| one.layer == layer));
        let good = judged.iter().filter(|(_, cells)| *cells >= bar).count();
        let bad = judged.len() - good;
        let found = Findings {
            window,
            bar,
            pours: judged.len(),
            good,
            too_early: judged.len() < LEAST_ROWS || good.min(bad) < LEAST_OF_EACH,
            variants,
        };
        Ok(LookedBack {
            found,
            judged,
            outcome: asked.outcome.unwrap_or(OutcomeKind::Good),
        })
    }

    pub(super) fn layers_by_name(&self) -> Answer<HashMap<String, LayerKind>> {
        let recipes = self.book.read()?.recipes()?;
        Ok(recipes
            .into_iter()
            .map(|recipe| (recipe.name, recipe.layer))
            .collect())
    }

    /// Every pour of a window that was judged, with the cells that count.
    fn judged(&self, asked: &Asked) -> Answer<Vec<(PourPage, u8)>> {
        let pours = self.pours(asked.window.from)?.into_iter();
        let within = pours.filter(|page| asked.window.to.is_none_or(|to| page.pour.at < to));
        let judged = within.filter_map(|page| {
            let last = |dry: bool| page.judgements.iter().rev().find(move |one| one.dry == dry);
            let cells = asked.dry.map_or_else(|| page.counting(), last)?.cells;
            Some((page, cells))
        });
        Ok(judged.collect())
    }
}

/// Every variant that lies in a judged pour, by its name.
fn tallied(
    judged: &[(PourPage, u8)],
    bar: u8,
    layers: &HashMap<String, LayerKind>,
) -> Vec<VariantTally> {
    let mut tallies: BTreeMap<(&str, i64), (usize, Vec<i64>)> = BTreeMap::new();
    for (page, cells) in judged {
        let variants = page.layers.iter().map(|cup| &cup.variant);
        let variants = variants.map(|one| (one.recipe.as_str(), one.number));
        for variant in variants.collect::<BTreeSet<_>>() {
            let tally = tallies.entry(variant).or_default();
            tally.0 += usize::from(*cells >= bar);
            tally.1.push(page.pour.id);
        }
    }
    let tallies = tallies.into_iter();
    tallies
        .filter_map(|(variant, (good, behind))| tally(variant, good, behind, layers))
        .collect()
}

fn tally(
    (recipe, variant): (&str, i64),
    good: usize,
    behind: Vec<i64>,
    layers: &HashMap<String, LayerKind>,
) -> Option<VariantTally> {
    let pours = behind.len();
    let tally = Tally::new(u32::try_from(good).ok()?, u32::try_from(pours).ok()?);
    let wilson = tally.wilson();
    let rate = tally.share()?;
    Some(VariantTally {
        recipe: recipe.to_owned(),
        variant,
        pours,
        good,
        rate,
        wilson: (wilson.low, wilson.high),
        layer: layers.get(recipe).copied()?,
        posterior: Posterior {
            mean: rate,
            low10: rate,
            high90: rate,
        },
        behind,
    })
}

/// Lets all variants of a layer together say what each is believed to do, and orders them by it. One pool a layer: a
/// pour lies in a base, a colour and an activator at once, and must not count three times.
fn believe(variants: &mut [VariantTally]) {
    for layer in LayerKind::ALL {
        believe_layer(
            variants
                .iter_mut()
                .filter(|one| one.layer == *layer)
                .collect(),
        );
    }
    variants.sort_by(|a, b| b.posterior.low10.total_cmp(&a.posterior.low10));
}

fn believe_layer(mut variants: Vec<&mut VariantTally>) {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let tally = |one: &&mut VariantTally| Tally::new(count(one.good), count(one.pours));
    let tallies: Vec<Tally> = variants.iter().map(tally).collect();
    for (one, standing) in variants.iter_mut().zip(standings(&tallies)) {
        one.posterior = standing.into();
    }
}
