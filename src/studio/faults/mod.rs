//! What exactly is wrong, where a refusal has kinds of its own: facts, worded in `tell`.

mod air;
mod deeds;
mod file;
mod labels;
mod limits;
mod list;
mod models;
mod names;
mod photo;

pub use air::{AirFault, AirSource, SensorFault};
pub use deeds::{ByCells, RunFault, Unchanged, Unread};
pub use file::{DocumentFault, FileFault, Made, Numbered, TextPlace};
pub use labels::LabelFault;
pub use limits::{Limit, WordOf};
pub use list::{CellFault, ColumnFault, Lacking, LinePlace, ListFault};
pub use models::OutOfModel;
pub use names::{NameOf, ThingIs};
pub use photo::{OtherFile, PhotoProblem};
