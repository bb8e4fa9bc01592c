//! What a photo's cells are together: the figures that are kept, compared and shown.

use super::measure::{Cell, Measured};
use super::palette::Colour;
use super::spread::{mean, median_band, quantile, spacing, spacing_ratio, variation};

/// Where the bootstrap begins, so that the same photo always has the same band.
const SEED: u64 = 20_260_101;
/// Square millimetres of a square decimetre.
const DM2: f64 = 10_000.0;

/// Diameters, in the measurement's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diameters {
    /// Their mean.
    pub mean: f64,
    /// Their median.
    pub median: f64,
    /// A tenth are smaller.
    pub p10: f64,
    /// A tenth are larger.
    pub p90: f64,
    /// The 80 % band of the median.
    pub band: Option<(f64, f64)>,
}

/// The figures of one photo. Lengths are in millimetres, or in pixels where the panel's size is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// How many cells are in sight.
    pub cells: usize,
    /// How many to a square decimetre of what is in sight; none where the panel's size is not known.
    pub per_dm2: Option<f64>,
    /// The part of what is in sight that they cover.
    pub share: f64,
    /// Their diameters, if there are cells.
    pub diameters: Option<Diameters>,
    /// The coefficient of variation of the diameters.
    pub evenness: Option<f64>,
    /// The mean distance to the nearest neighbour, middle to middle.
    pub spacing: Option<f64>,
    /// The same over that of as many strewn at random.
    pub spacing_ratio: Option<f64>,
    /// The mean roundness of the cells that are large enough for it.
    pub roundness: Option<f64>,
    /// The part of the panel that glare hides.
    pub glare: f64,
    /// The palette.
    pub colours: Vec<Colour>,
}

impl Summary {
    /// The figures of a measurement; `in_mm` where its lengths are millimetres.
    #[must_use]
    pub fn of(measured: &Measured, in_mm: bool) -> Self {
        let cells = &measured.cells;
        let mut sizes: Vec<f64> = cells.iter().map(|cell| cell.diameter).collect();
        sizes.sort_by(f64::total_cmp);
        let places: Vec<(f64, f64)> = cells
            .iter()
            .map(|cell| (cell.middle.x, cell.middle.y))
            .collect();
        let round: Vec<f64> = cells
            .iter()
            .filter_map(|cell: &Cell| cell.roundness)
            .collect();
        Self {
            cells: cells.len(),
            per_dm2: in_mm.then(|| cells.len() as f64 / (measured.area / DM2)),
            share: measured.share,
            diameters: diameters(&sizes),
            evenness: variation(&sizes),
            spacing: spacing(&places),
            spacing_ratio: spacing_ratio(&places, measured.area),
            roundness: mean(&round),
            glare: measured.glare,
            colours: measured.colours.clone(),
        }
    }
}

fn diameters(sorted: &[f64]) -> Option<Diameters> {
    Some(Diameters {
        mean: mean(sorted)?,
        median: quantile(sorted, 0.5)?,
        p10: quantile(sorted, 0.1)?,
        p90: quantile(sorted, 0.9)?,
        band: median_band(sorted, SEED),
    })
}
