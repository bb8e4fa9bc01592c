//! The schema of every view, made from its type.

use super::*;
use schemars::{JsonSchema, Schema, SchemaGenerator, generate::SchemaSettings};

/// The schema of every answer, under the name of its verb; verbs with one answer share it.
#[must_use]
pub fn schemas() -> Vec<(&'static str, Schema)> {
    vec![
        ("cups", of::<CupsView>()),
        ("cup", of::<CupPageView>()),
        ("mix", of::<MixedView>()),
        ("tend", of::<TendedView>()),
        ("amend", of::<AmendedView>()),
        ("how-much", of::<ThinnerView>()),
        ("how-much-paint", of::<ThickerView>()),
        ("pour", of::<PouredView>()),
        ("pours", of::<PoursView>()),
        ("judge", of::<JudgedView>()),
        ("varnish", of::<VarnishedView>()),
        ("stack", of::<StackView>()),
        ("flow-cup", of::<FlowCupView>()),
        ("drying", of::<DryingView>()),
        ("rack", of::<RackView>()),
        ("picture", of::<PictureView>()),
        ("ledger", of::<LedgerView>()),
        ("paper", of::<PaperView>()),
        ("labels", of::<LabelsView>()),
        ("calendar", of::<CalendarView>()),
        ("list", of::<ListView>()),
        ("watch", of::<TurnView>()),
        ("cells", of::<CellsView>()),
        ("photo", of::<KeptPhotoView>()),
        ("photos", of::<PhotosView>()),
        ("photos-take", of::<PhotosTakenView>()),
        ("photos-check", of::<PhotosCheckedView>()),
        ("findings", of::<FindingsView>()),
        ("findings-best", of::<BestView>()),
        ("findings-measured", of::<MeasuredFindingsView>()),
        ("shelf", of::<ShelfView>()),
        ("shelf-line", of::<ShelfLineView>()),
        ("material", of::<MaterialView>()),
        ("materials", of::<MaterialsView>()),
        ("recipe", of::<RecipeView>()),
        ("recipes", of::<RecipesView>()),
        ("lid", of::<CupView>()),
        ("merge", of::<MergedView>()),
        ("retire", of::<RetiredView>()),
        ("remove", of::<RemovedView>()),
        ("plan", of::<PlanView>()),
        ("plans", of::<PlansView>()),
        ("compare", of::<ComparisonView>()),
        ("cost", of::<CostView>()),
        ("cautions", of::<CautionsView>()),
        ("trial", of::<TrialView>()),
        ("trials", of::<TrialsView>()),
        ("trial-run", of::<RunDoneView>()),
        ("trial-findings", of::<TrialFindingsView>()),
        ("file", of::<FileView>()),
        ("export", of::<ExportView>()),
        ("csv", of::<CsvView>()),
        ("backup", of::<CopyView>()),
        ("backups", of::<BackupsView>()),
        ("restore", of::<RestoredView>()),
        ("import", of::<TakenView>()),
        ("demo", of::<DemoView>()),
        ("starters", of::<StartersView>()),
        ("settings", of::<SettingsView>()),
        ("doctor", of::<CheckupView>()),
        ("manners", of::<MannersView>()),
        ("history", of::<HistoryView>()),
        ("undo", of::<UndoneView>()),
        ("redo", of::<RedoneView>()),
        ("refused", of::<RefusedView>()),
    ]
}

/// As it is written: a key that may be null is always there.
fn of<T: JsonSchema>() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    SchemaGenerator::new(settings).into_root_schema_for::<T>()
}
