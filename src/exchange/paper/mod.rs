//! What goes on paper, as PDF with exact millimetres: lid labels, the session sheet, the certificate.
//!
//! Set in fonts that have the letters of every language (`fonts`), laid out by `row`, drawn by `ink`.

mod certificate;
mod fonts;
mod ink;
mod labels;
mod layout;
mod row;
mod session;

pub use certificate::{CertificateSheet, certificate_sheet};
pub use labels::{Printing, labels};
pub use layout::{Layout, Sheet as LabelSheet, readable};
pub use session::{Session, session};
