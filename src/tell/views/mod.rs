//! What `--json` answers, as types: each view is one object, and its schema stands in `assets/json-schema/`.

mod cells;
mod photos;
mod remarks;

pub use cells::{CellView, CellsView, ColourView, CornersView, DiametersView, PhotoView};
pub use photos::{
    KeptPhotoView, MeasurementView, PhotosCheckedView, PhotosTakenView, ProposalView,
};
pub use remarks::Remarked;
