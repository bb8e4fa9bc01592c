//! What `cells` answers: a photo, its panel, its cells and colours.

use crate::numbers::cells::colour::rgb_of;
use crate::numbers::cells::{Cell, METHOD, Point};
use crate::studio::PhotoMeasured;
use schemars::JsonSchema;
use serde::Serialize;

/// A photo measured. Lengths are in millimetres, null where the panel's size is not known.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CellsView {
    /// The photo.
    pub photo: PhotoView,
    /// The panel's sides as it lies in the photo, width first.
    pub panel_mm: Option<[f64; 2]>,
    /// Where the panel is.
    pub corners: CornersView,
    /// The part of the panel that glare hides.
    pub glare: f64,
    /// How many cells are in sight.
    pub cells: usize,
    /// How many to a square decimetre.
    pub per_dm2: Option<f64>,
    /// The part of what is in sight that they cover.
    pub share: f64,
    /// Their diameters.
    pub diameter_mm: Option<DiametersView>,
    /// The coefficient of variation of the diameters.
    pub evenness_cv: Option<f64>,
    /// The mean distance to the nearest neighbour.
    pub spacing_mm: Option<f64>,
    /// The same over that of as many strewn at random.
    pub spacing_ratio: Option<f64>,
    /// The mean roundness of those large enough for it.
    pub roundness: Option<f64>,
    /// The palette.
    pub colours: Vec<ColourView>,
    /// The method's version.
    pub method: &'static str,
    /// What is odd.
    pub warnings: Vec<String>,
    /// Each cell, where asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub each: Option<Vec<CellView>>,
}

/// A photo's file.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PhotoView {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// `jpeg`, `png`, `webp` or `heic`.
    pub format: &'static str,
    /// When it was taken, as its EXIF tells.
    pub taken_at: Option<String>,
}

/// Where the panel is in the photo.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CornersView {
    /// `found`, `given` or `whole`.
    pub how: &'static str,
    /// From the top left, clockwise, in pixels.
    pub px: [[f64; 2]; 4],
    /// 0 sure, towards 1 the less so; null where the corners were said.
    pub doubt: Option<f64>,
}

/// Diameters in millimetres.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DiametersView {
    /// Their mean.
    pub mean: f64,
    /// Their median.
    pub median: f64,
    /// A tenth are smaller.
    pub p10: f64,
    /// A tenth are larger.
    pub p90: f64,
    /// The 80 % band of the median.
    pub band: Option<[f64; 2]>,
}

/// One colour of the palette.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ColourView {
    /// In CIELAB.
    pub lab: [f64; 3],
    /// As the screen shows it.
    pub srgb: String,
    /// Its part of what is in sight.
    pub share: f64,
}

/// One cell.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CellView {
    /// From the panel's left edge.
    pub x_mm: f64,
    /// From its upper edge.
    pub y_mm: f64,
    /// The diameter of the disc of the same area.
    pub diameter_mm: f64,
    /// 1 for a disc; null where it is too small to tell.
    pub roundness: Option<f64>,
}

/// To so many decimals: a camera tells no more.
fn rounded(value: f64, decimals: i32) -> f64 {
    let scale = 10_f64.powi(decimals);
    (value * scale).round() / scale
}

impl CellsView {
    /// The view of a measurement; `each` with every cell.
    #[must_use]
    pub fn new(photo: PhotoView, found: &PhotoMeasured, warnings: Vec<String>, each: bool) -> Self {
        let (figures, in_mm) = (&found.summary, found.size.is_some());
        let three = |value: Option<f64>| value.map(|value| rounded(value, 3));
        let sizes = figures
            .diameters
            .filter(|_| in_mm)
            .map(|sizes| DiametersView {
                mean: rounded(sizes.mean, 3),
                median: rounded(sizes.median, 3),
                p10: rounded(sizes.p10, 3),
                p90: rounded(sizes.p90, 3),
                band: sizes
                    .band
                    .map(|(low, high)| [rounded(low, 3), rounded(high, 3)]),
            });
        Self {
            photo,
            panel_mm: found
                .size
                .map(|(width, height)| [width.get(), height.get()]),
            corners: CornersView {
                how: found.how.word(),
                px: found
                    .corners
                    .map(|Point { x, y }| [rounded(x, 2), rounded(y, 2)]),
                doubt: three(found.doubt),
            },
            glare: rounded(figures.glare, 4),
            cells: figures.cells,
            per_dm2: three(figures.per_dm2),
            share: rounded(figures.share, 4),
            diameter_mm: sizes,
            evenness_cv: three(figures.evenness),
            spacing_mm: three(figures.spacing.filter(|_| in_mm)),
            spacing_ratio: three(figures.spacing_ratio),
            roundness: three(figures.roundness),
            colours: figures
                .colours
                .iter()
                .map(|one| colour(one.lab, one.share))
                .collect(),
            method: METHOD,
            warnings,
            each: (each && in_mm).then(|| found.measured.cells.iter().map(cell).collect()),
        }
    }
}

fn colour(lab: [f32; 3], share: f64) -> ColourView {
    let lab = lab.map(f64::from);
    let [r, g, b] = rgb_of(lab);
    ColourView {
        lab: lab.map(|one| rounded(one, 1)),
        srgb: format!("#{r:02x}{g:02x}{b:02x}"),
        share: rounded(share, 4),
    }
}

fn cell(cell: &Cell) -> CellView {
    CellView {
        x_mm: rounded(cell.middle.x, 2),
        y_mm: rounded(cell.middle.y, 2),
        diameter_mm: rounded(cell.diameter, 3),
        roundness: cell.roundness.map(|one| rounded(one, 3)),
    }
}
