//! The store: one SQLite file a studio. The only room that knows SQL.
//!
//! - [`Logbook::open`] refuses with a sentence whatever is not a whole studio file of ours, and leaves it untouched;
//! - [`STEPS`] renew an older file, one transaction a step;
//! - [`Logbook::commit`] is the only way to write: data and its record in one transaction;
//! - [`Logbook::undo`], [`Logbook::redo`] and [`Logbook::undo_one`] turn a recorded change round, as a change of its own;
//! - [`Logbook::changed_since`] hears of other programs' writes;
//! - [`Backups`] and [`restore()`] keep copies and bring one back.

#[cfg(test)]
mod asked;
mod backup;
mod change;
mod confirm;
mod cups;
mod errors;
mod expiry;
mod gate;
mod header;
mod history;
mod identity;
mod materials;
mod migrate;
mod names;
mod new_file;
mod open;
mod own_files;
mod photo_files;
mod photos;
mod pictures;
mod plans;
mod pours;
mod read;
mod read_only;
mod recipes;
mod restore;
mod rows;
mod schema;
mod settings;
mod shape;
mod stamp;
mod states;
mod transfer;
mod trials;
mod undo;
mod value;
mod watch;
mod whole_check;
mod write;

pub use backup::{Backups, Copied, Kept};
pub use change::{Did, Writer};
pub use confirm::Landing;
pub use errors::LogbookError;
pub use expiry::expired;
pub use header::is_blank;
pub use history::{Change, Kind, Touched};
pub use materials::Stock;
pub use migrate::{STEPS, Step, Steps};
pub use new_file::FileWriter;
pub use open::{APPLICATION_ID, Logbook, on_wait};
pub use photo_files::{Original, photos_folder, sha256};
pub use read::Reader;
pub use restore::{Restored, restore};
pub use stamp::Stamp;
pub use states::{WholeState, kept_aside, newest_whole, real_path};
pub use transfer::{Column, Holds, Intake, Record, Renamed, Sheet, TABLES, Table, Taken};
pub use undo::{Candidate, Whose};
pub use value::Value;
