//! What a file that leaves will hold, known before it is written.

use super::orders::Sides;
use super::{Ledger, PictureFacts, Reminder, VariantRef};
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::paper::PaperSize;

/// What a file will hold.
#[derive(Debug, Clone)]
pub enum Preview {
    /// So many labels for lids.
    Labels {
        /// How many.
        labels: usize,
        /// What they are printed on.
        onto: LabelsOnto,
        /// Whose.
        marks: Vec<Mark>,
    },
    /// A plan for the wall.
    Session {
        /// The panel.
        panel: Panel,
        /// When it is to be poured.
        pour_at: Option<Moment>,
        /// What is mixed for it.
        cups: Vec<VariantRef>,
        /// The paper.
        paper: PaperSize,
    },
    /// A certificate, and the studio's name.
    Certificate(Box<PictureFacts>, Option<String>),
    /// A look back at a time.
    Report {
        /// Its first day; where none is said, that of the first pour.
        from: Option<Moment>,
        /// Its last day.
        to: Moment,
        /// How many pours it tells of.
        pours: usize,
        /// How many of them are judged.
        judged: usize,
    },
    /// What was sold.
    Ledger(Ledger),
    /// How many events, and the first of them.
    Calendar(usize, Vec<Reminder>),
}

/// What labels are printed on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelsOnto {
    /// Labels of a size, off a roll.
    Roll(Sides),
    /// So many sheets.
    Sheets(usize, PaperSize),
}
