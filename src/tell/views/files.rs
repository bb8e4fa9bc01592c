//! Files that go out and come in, the first hour, and the settings.

use crate::studio::{DemoSeeded, PhotosCarried, Seeded, Settings, Taken};
use crate::tell;
use crate::trade::amount::Measures;
use schemars::JsonSchema;
use serde::Serialize;

/// A file that was written.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FileView {
    /// Where it is.
    pub file: String,
}

/// A studio that was written out.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ExportView {
    /// Where it is.
    file: String,
    /// The photos' originals, where they went along.
    photos: Option<OriginalsView>,
}

/// Originals that went along.
#[derive(Debug, Serialize, JsonSchema)]
struct OriginalsView {
    /// How many were copied.
    copied: usize,
    /// How many were there already.
    there: usize,
    /// Photos whose original is gone or changed.
    lost: Vec<i64>,
}

impl ExportView {
    /// A studio that was written out.
    #[must_use]
    pub fn of(file: String, carried: Option<&PhotosCarried>) -> Self {
        let photos = carried.map(|one| OriginalsView {
            copied: one.copied,
            there: one.there,
            lost: one.lost.clone(),
        });
        Self { file, photos }
    }
}

/// A list that was printed.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CsvView {
    /// The list.
    pub csv: String,
}

/// A whole copy that was taken.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CopyView {
    /// Where it is.
    pub file: String,
    /// How large it is.
    pub bytes: u64,
}

/// A dated copy.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DatedCopyView {
    /// Where it is.
    pub file: String,
    /// When it was taken.
    pub at: String,
    /// How large it is.
    pub bytes: u64,
}

/// The dated copies.
#[derive(Debug, Serialize, JsonSchema)]
pub struct BackupsView {
    /// Each of them, the newest first.
    pub backups: Vec<DatedCopyView>,
}

/// A copy that was brought back.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RestoredView {
    /// Which.
    pub from: String,
    /// Where what stood there before is kept.
    pub aside: Option<String>,
}

/// What gave way to a name that was here before.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RenamedView {
    what: String,
    was: String,
    is: String,
}

/// What came in.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TakenView {
    exact: bool,
    new: u64,
    known: u64,
    /// What differs, and was left as it is here.
    pub differing: Vec<String>,
    renamed: Vec<RenamedView>,
    history_left: u64,
    /// What cannot all be true, and was taken in even so.
    pub contradictions: Vec<String>,
    /// How many originals of photos came in; null where no folder of them was said.
    originals: Option<usize>,
}

impl TakenView {
    /// What came in.
    #[must_use]
    pub fn of(taken: &Taken, originals: Option<usize>, measures: Measures) -> Self {
        let renamed = taken.renamed.iter().map(|one| RenamedView {
            what: one.what.to_string(),
            was: one.was.clone(),
            is: one.is.clone(),
        });
        Self {
            exact: taken.exact,
            new: taken.new,
            known: taken.known,
            differing: taken.differing.iter().map(tell::differing).collect(),
            renamed: renamed.collect(),
            history_left: taken.history_left,
            contradictions: tell::contradictions(&taken.contradictions, measures),
            originals,
        }
    }
}

/// What the demo holds.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DemoView {
    file: String,
    cups: usize,
    pours: usize,
    judged: usize,
}

impl DemoView {
    /// What was seeded into a file.
    #[must_use]
    pub fn of(seeded: &DemoSeeded, file: &str) -> Self {
        Self {
            file: file.to_owned(),
            cups: seeded.cups,
            pours: seeded.pours,
            judged: seeded.judged,
        }
    }
}

/// The starters that were written down.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StartersView {
    materials: Vec<String>,
    recipes: Vec<String>,
    /// What was there already, and left alone.
    skipped: Vec<String>,
}

impl StartersView {
    /// What was seeded.
    #[must_use]
    pub fn of(seeded: &Seeded) -> Self {
        Self {
            materials: seeded.materials.clone(),
            recipes: seeded.recipes.clone(),
            skipped: seeded.skipped.clone(),
        }
    }
}

/// The settings.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub struct SettingsView {
    name: Option<String>,
    currency: Option<String>,
    /// `metric` or `us`.
    measures: &'static str,
    activator_tape: Option<String>,
    good_from: u8,
    address: Option<String>,
    air_from: Option<String>,
    air_by: Option<String>,
    /// The folder that new photos come to.
    photos_from: Option<String>,
    /// How pictures are shown on the screen: `words` or `blocks`; null as the terminal can.
    pictures: Option<String>,
    /// In days.
    half_life: f64,
    /// From when to when no step of a plan is to be done, such as `22..7`; null where any hour will do.
    quiet_hours: Option<String>,
}

impl SettingsView {
    /// The settings.
    #[must_use]
    pub fn of(settings: &Settings) -> Self {
        Self {
            name: settings.name.clone(),
            currency: Some(settings.currency.clone()).filter(|one| !one.is_empty()),
            measures: settings.measures.word(),
            activator_tape: settings.activator_tape.clone(),
            good_from: settings.good_from,
            address: settings.address.clone(),
            air_from: settings.air_from.clone(),
            air_by: settings.air_by.clone(),
            photos_from: settings.photos_from.clone(),
            pictures: settings.pictures.clone(),
            half_life: settings.half_life,
            quiet_hours: settings.quiet.map(|quiet| quiet.to_string()),
        }
    }
}
