//! What `--json` answers, as types: each view is one object, and its schema stands in `assets/json-schema/`.

mod best;
mod cells;
mod findings;
mod photos;
mod remarks;

pub use best::{AdviceView, BestView, CurveView, SettingView};
pub use cells::{CellView, CellsView, ColourView, CornersView, DiametersView, PhotoView};
pub use findings::{BasisView, EffectView, FactorView, FactorsView, SideView};
pub use photos::{
    KeptPhotoView, MeasurementView, PhotosCheckedView, PhotosTakenView, ProposalView,
};
pub use remarks::Remarked;
