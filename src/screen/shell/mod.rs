//! What holds the places together: the loop, the model, keys and drawing.

pub(crate) mod action;
pub(crate) mod ask;
pub(crate) mod day_copy;
pub(crate) mod drafts;
pub(crate) mod drive;
pub(crate) mod effect;
pub(crate) mod everywhere;
pub(crate) mod handing;
mod help;
pub(crate) mod keys;
mod lines;
pub(crate) mod model;
pub(crate) mod own_keys;
pub(crate) mod scan;
pub(crate) mod seeking;
pub(crate) mod stillness;
pub(crate) mod terminal;
pub(crate) mod undo;
pub(crate) mod update;
pub(crate) mod view;
