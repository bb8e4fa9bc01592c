//! The studio's file: its copies, its history, its settings, what goes in and out.

pub(crate) mod copies;
pub(crate) mod drafts;
pub(crate) mod history;
pub(crate) mod intake;
pub(crate) mod list_notes;
pub(crate) mod settings;
pub(crate) mod transfer;
