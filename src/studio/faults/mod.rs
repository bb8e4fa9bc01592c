//! What exactly is wrong, where a refusal has kinds of its own: facts, worded in `tell`.

mod deeds;
mod labels;
mod limits;
mod models;
mod photo;

pub use deeds::{ByCells, RunFault, Unchanged, Unread};
pub use labels::LabelFault;
pub use limits::{Limit, WordOf};
pub use models::OutOfModel;
pub use photo::{OtherFile, PhotoProblem};
