//! What `--json` answers, as types: each view is one object, and its schema stands in `assets/json-schema/`.
//!
//! Volumes are in ml, instants in RFC 3339 at the studio's offset; what is not known is null. A key that stands here is
//! kept: programs read it. A new one may be added; a changed one goes into the CHANGELOG.

mod best;
mod cells;
mod checkup;
mod compare;
mod cups;
mod drying;
mod entries;
mod files;
mod findings;
mod history;
mod looked_back;
mod manners;
mod measured;
mod naming;
mod paper;
mod photos;
mod plans;
mod pours;
mod recipes;
mod remarks;
mod sales;
mod schemas;
mod shelf;
mod stack;
mod trials;
mod watch;

pub use best::{AdviceView, BestView, CurveView, SettingView};
pub use cells::{CellView, CellsView, ColourView, CornersView, DiametersView, PhotoView};
pub use checkup::CheckupView;
pub use compare::{ComparedView, ComparisonView};
pub use cups::{
    AmendedView, CupPageView, CupView, CupsView, MixedView, PartView, TendedView, ThickerView,
    ThinnerView,
};
pub use drying::{DryingView, FlowCupView, RackView};
pub use entries::EntryView;
pub use files::{
    BackupsView, CopyView, CsvView, DatedCopyView, DemoView, ExportView, FileView, RestoredView,
    SettingsView, StartersView, TakenView,
};
pub use findings::{BasisView, EffectView, FactorView, FactorsView, SideView};
pub use history::{ChangeView, HistoryView, RedoneView, RefusedView, UndoneView};
pub use looked_back::FindingsView;
pub use manners::{MannerView, MannersView};
pub use measured::{MeasuredFindingsView, MeasuredVariantView};
pub use naming::{MergedView, RemovedView, RetiredView};
pub use paper::{CalendarView, ColumnView, LabelsView, ListView, PaperView};
pub use photos::{
    KeptPhotoView, MeasurementView, PhotosCheckedView, PhotosTakenView, PhotosView, ProposalView,
};
pub use plans::{CautionsView, CostView, KeptPlanView, PlanView, PlansView};
pub use pours::{JudgedView, JudgementView, PourView, PouredView, PoursView, VarnishedView};
pub use recipes::{RecipePageView, RecipeView, RecipesView, VariantPartView, VariantView};
pub use remarks::Remarked;
pub use sales::{LedgerLineView, LedgerView, PictureView};
pub use schemas::schemas;
pub use shelf::{MaterialView, MaterialsView, PaintView, ShelfLineView, ShelfView};
pub use stack::StackView;
pub use trials::{RunDoneView, TrialFindingsView, TrialView, TrialsView};
pub use watch::TurnView;

use crate::tell::Told;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::units::{Band, Millilitres};
use chrono::SecondsFormat;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// In which measures and by which clock an answer is told.
#[derive(Debug, Clone, Copy)]
pub struct Telling<'a> {
    /// Metric or US customary: for sentences alone, numbers are in ml, mm and g.
    pub measures: Measures,
    /// The present, and the studio's zone.
    pub now: &'a Now,
}

impl Telling<'_> {
    /// An instant: RFC 3339 at the studio's offset, to the second.
    fn stamp(&self, at: Moment) -> String {
        let here = self.now.zone.tell(at);
        here.to_rfc3339_opts(SecondsFormat::Secs, false)
    }

    /// A fact in words.
    fn words(&self, fact: &impl Told) -> String {
        fact.told(self.measures, self.now)
    }

    /// Facts in words.
    fn all<'f, F: Told + 'f>(&self, facts: impl IntoIterator<Item = &'f F>) -> Vec<String> {
        facts.into_iter().map(|fact| self.words(fact)).collect()
    }
}

/// A number without noise behind the third decimal.
fn number(value: f64) -> f64 {
    let rounded = (value * 1000.0).round() / 1000.0;
    if rounded.is_finite() { rounded } else { value }
}

/// An estimate to four figures: more were noise.
fn estimate(value: f64) -> f64 {
    format!("{value:.3e}").parse().unwrap_or(value)
}

fn ml(volume: Millilitres) -> f64 {
    number(volume.get())
}

/// Money to a hundredth, as a number for programs.
fn cents(price: Decimal) -> Option<f64> {
    price.round_dp(2).to_f64()
}

/// The low end, the likely value and the high end.
fn band(band: Band<f64>) -> [f64; 3] {
    [number(band.low), number(band.mid), number(band.high)]
}
