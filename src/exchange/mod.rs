//! What comes in and goes out: the whole studio as JSON, plain tables as CSV, labels and sheets on [`paper`], what
//! is due as a [`calendar`].
//!
//! What the command line calls: [`export_to`], [`import_from`] and [`sheet_to`] for files, or [`export`],
//! [`import`] and [`write_sheet`] for any stream.

mod air;
mod calendar;
mod certificate;
mod checkup;
mod demo;
mod give_json;
mod manners;
mod new_file;
pub mod outgoing;
mod outlet;
mod page;
pub mod paper;
pub mod photo;
mod recalled;
mod report;
mod sheet;
pub mod spreadsheet;
mod take_json;
mod terminal;

pub use air::{AirWatch, Sensed, fill_air, read_air};
pub use calendar::{Alarms, calendar};
pub use certificate::{Certified, certificate_page, certificate_pdf};
pub use checkup::check_up;
pub use demo::make_demo;
pub use give_json::{Names, export, export_to};
pub use manners::{Homes, MADE_BY, Stands, keys_file, put_manner, stands};
pub use new_file::{unwritten, write_bytes, write_file};
pub use outlet::Outlet;
pub use report::{ReportFacts, report};
pub use sheet::{inert_cell, sheet_to, write_rows, write_sheet};
pub use take_json::{import, import_from};
pub use terminal::terminal_facts;
