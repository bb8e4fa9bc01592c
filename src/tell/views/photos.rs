//! What `photo` and `photos` answer.

use crate::studio::{PhotoFault, PhotoPage, PhotosChecked, local};
use crate::trade::instant::Now;
use crate::trade::photo::{Measurement, Patch};
use crate::trade::units::{Millimetres, Share};
use chrono::DateTime;
use schemars::JsonSchema;
use serde::Serialize;

/// A kept photo.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct KeptPhotoView {
    /// Its number.
    pub photo: i64,
    /// The pour it shows.
    pub pour: i64,
    /// Whether the film was dry.
    pub dry: bool,
    /// When it was taken.
    pub taken_at: String,
    /// Who says so: `exif`, `file` or `said`.
    pub taken_by: &'static str,
    /// The original's SHA-256.
    pub sha256: String,
    /// The original's format.
    pub format: String,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Anything else.
    pub note: Option<String>,
    /// Why it was not measured just now.
    pub not_measured: Option<&'static str>,
    /// What was measured, the last first.
    pub measured: Vec<MeasurementView>,
}

/// Photos.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PhotosView {
    /// In the order they were taken, or were kept just now.
    pub photos: Vec<KeptPhotoView>,
}

/// What was measured in a photo.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MeasurementView {
    /// When.
    pub at: String,
    /// By which version of the method.
    pub method: String,
    /// The panel's corners.
    pub corners: String,
    /// How they came about.
    pub how: String,
    /// Cells in sight.
    pub cells: i64,
    /// To a square decimetre.
    pub per_dm2: Option<f64>,
    /// The part of what is in sight that they cover.
    pub share: Share,
    /// The part that glare hides.
    pub glare: Share,
    /// The median diameter.
    pub median_mm: Option<Millimetres>,
    /// The mean diameter.
    pub mean_mm: Option<Millimetres>,
    /// A tenth are smaller.
    pub p10_mm: Option<Millimetres>,
    /// A tenth are larger.
    pub p90_mm: Option<Millimetres>,
    /// The 80 % band of the median.
    pub band_mm: Option<(Millimetres, Millimetres)>,
    /// The coefficient of variation of the diameters.
    pub evenness_cv: Option<f64>,
    /// The mean distance to the nearest neighbour.
    pub spacing_mm: Option<Millimetres>,
    /// The same over that of chance.
    pub spacing_ratio: Option<f64>,
    /// The mean roundness.
    pub roundness: Option<f64>,
    /// `#rrggbb:share`, one a word.
    pub colours: String,
}

impl KeptPhotoView {
    /// The view of a photo.
    #[must_use]
    pub fn of(page: &PhotoPage, fault: Option<PhotoFault>) -> Self {
        let photo = &page.photo;
        Self {
            photo: photo.id,
            pour: photo.pour,
            dry: photo.dry,
            taken_at: photo.taken.to_rfc3339(),
            taken_by: photo.taken_by.word(),
            sha256: photo.sha256.clone(),
            format: photo.format.clone(),
            width: photo.pixels.0,
            height: photo.pixels.1,
            note: photo.note.clone(),
            not_measured: fault.map(super::super::photos::fault),
            measured: page.measured.iter().map(MeasurementView::of).collect(),
        }
    }
}

impl MeasurementView {
    pub(super) fn of(one: &Measurement) -> Self {
        Self {
            at: one.at.to_rfc3339(),
            method: one.method.clone(),
            corners: one.corners.clone(),
            how: one.how.clone(),
            cells: one.cells,
            per_dm2: one.per_dm2,
            share: one.share,
            glare: one.glare,
            median_mm: one.median,
            mean_mm: one.mean,
            p10_mm: one.p10,
            p90_mm: one.p90,
            band_mm: one.band,
            evenness_cv: one.evenness,
            spacing_mm: one.spacing,
            spacing_ratio: one.spacing_ratio,
            roundness: one.roundness,
            colours: Patch::written(&one.colours),
        }
    }
}

/// A folder's photos beside the pours they most likely show.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PhotosTakenView {
    /// How many were kept.
    pub kept: usize,
    /// Each file.
    pub photos: Vec<ProposalView>,
}

/// A file beside the pour it most likely shows.
#[derive(Debug, Clone, Default, Serialize, JsonSchema)]
pub struct ProposalView {
    /// The file.
    pub file: String,
    /// When it was taken.
    pub taken_at: Option<String>,
    /// Who says so.
    pub taken_by: Option<&'static str>,
    /// The pour.
    pub pour: Option<i64>,
    /// Whether it is dry by then.
    pub dry: Option<bool>,
    /// Whether nothing else is likely.
    pub certain: bool,
    /// Whether it is kept already.
    pub known: bool,
    /// The number it was kept under just now.
    pub photo: Option<i64>,
    /// Why it is not kept.
    pub problem: Option<String>,
}

impl ProposalView {
    /// Its row in a table.
    #[must_use]
    pub fn cells(&self, now: &Now) -> [String; 5] {
        let taken = self
            .taken_at
            .as_deref()
            .and_then(|at| DateTime::parse_from_rfc3339(at).ok());
        let film = self
            .dry
            .map(|dry| if dry { "dry" } else { "wet" }.to_owned());
        let what = match self {
            Self {
                photo: Some(photo), ..
            } => format!("kept as photo {photo}"),
            Self {
                problem: Some(problem),
                ..
            } => problem.clone(),
            Self { known: true, .. } => "kept already".into(),
            Self { certain: true, .. } => "certain".into(),
            Self {
                taken_by: Some("file"),
                ..
            } => "not certain: only its file has a date".into(),
            _ => "not certain: other pours are near".into(),
        };
        [
            self.file.clone(),
            taken.map(|at| local(at, now)).unwrap_or_default(),
            self.pour.map(|pour| pour.to_string()).unwrap_or_default(),
            film.unwrap_or_default(),
            what,
        ]
    }
}

/// What is wrong with the kept photos.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PhotosCheckedView {
    /// How many are whole.
    pub whole: usize,
    /// Photos whose original is gone.
    pub missing: Vec<i64>,
    /// Photos whose original is no longer what it was.
    pub changed: Vec<i64>,
    /// Originals that no photo and no undo needs.
    pub needless: Vec<String>,
}

impl From<&PhotosChecked> for PhotosCheckedView {
    fn from(checked: &PhotosChecked) -> Self {
        Self {
            whole: checked.whole,
            missing: checked.missing.clone(),
            changed: checked.changed.clone(),
            needless: checked.needless.clone(),
        }
    }
}
