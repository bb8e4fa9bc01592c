//! What leaves the studio as a file: one order each, written out alike for both faces.

mod labels;
mod ledger;
mod preview;
mod report;

pub use labels::Labels;
pub use preview::preview;

use crate::exchange::paper::{self, Session};
use crate::exchange::photo::Thumb;
use crate::exchange::recalled::former;
use crate::exchange::{
    Alarms, Certified, calendar, certificate_page, certificate_pdf, write_bytes,
};
use crate::studio::orders::OutgoingKind;
use crate::studio::{Answer, Refusal, Studio, TimeWindow, WordOf, refuse_no_folder};
use crate::trade::instant::Now;
use crate::trade::paper::PaperSize;
use chrono::TimeDelta;
use std::path::{Path, PathBuf};

/// What leaves, and of what it is.
#[derive(Debug, Clone)]
pub enum Outgoing {
    /// Labels for lids.
    Labels(Labels),
    /// A kept plan for the wall; on the usual paper where none is said.
    Session {
        /// The plan's number.
        plan: i64,
        /// The paper.
        paper: Option<PaperSize>,
    },
    /// A picture's certificate, as PDF or HTML by its file's ending.
    Certificate {
        /// The pour's number.
        pour: i64,
        /// The paper of a PDF.
        paper: Option<PaperSize>,
    },
    /// A look back.
    Report(TimeWindow),
    /// What was sold, as CSV.
    Ledger {
        /// When.
        window: TimeWindow,
        /// Whether the names of buyers go along.
        names: bool,
    },
    /// What is due, each alarm so long before it.
    Calendar(TimeDelta),
}

/// Told how many steps of how many are done.
pub type Progress<'a> = &'a dyn Fn(usize, usize);

/// A file that is to be written.
#[derive(Debug, Clone)]
pub struct OutgoingOrder {
    /// What it is.
    pub what: Outgoing,
    /// Where.
    pub file: PathBuf,
    /// Whether a file that stands there goes.
    pub replace: bool,
}

impl Outgoing {
    /// Which kind it is.
    #[must_use]
    pub const fn kind(&self) -> OutgoingKind {
        match self {
            Self::Labels(_) => OutgoingKind::Labels,
            Self::Session { .. } => OutgoingKind::Session,
            Self::Certificate { .. } => OutgoingKind::Certificate,
            Self::Report(_) => OutgoingKind::Report,
            Self::Ledger { .. } => OutgoingKind::Ledger,
            Self::Calendar(_) => OutgoingKind::Calendar,
        }
    }
}

impl OutgoingOrder {
    /// Refuses a file that could not be written, before anything is worked out for it.
    ///
    /// # Errors
    /// A folder that is missing, a file that is there and stays, an ending that no certificate has.
    pub fn refuse_early(&self) -> Answer<()> {
        refuse_no_folder(&self.file)?;
        if let Outgoing::Certificate { .. } = self.what {
            Form::of(&self.file)?;
        }
        match !self.replace && self.file.is_file() {
            true => Err(Refusal::There(self.file.display().to_string()).into()),
            false => Ok(()),
        }
    }
}

/// Writes it, whole or not at all; tells how many steps of how many are done. Answers how many labels, pours, pictures or
/// events it holds.
///
/// # Errors
/// What is not there to be written of, and where the file cannot be written.
pub fn send(
    studio: &Studio,
    order: &OutgoingOrder,
    now: &Now,
    told: Progress<'_>,
) -> Answer<usize> {
    order.refuse_early()?;
    let (bytes, holds) = made(studio, order, now, told)?;
    write_bytes(studio, &order.file, order.replace, &bytes)?;
    Ok(holds)
}

fn made(
    studio: &Studio,
    order: &OutgoingOrder,
    now: &Now,
    told: Progress<'_>,
) -> Answer<(Vec<u8>, usize)> {
    match &order.what {
        Outgoing::Labels(labels) => labels.made(studio, now, told),
        Outgoing::Session { plan, paper } => Ok((session(studio, *plan, *paper, now)?, 1)),
        Outgoing::Certificate { pour, paper } => {
            let file = certificate(studio, *pour, *paper, (&order.file, now))?;
            Ok((file, 1))
        }
        Outgoing::Report(window) => report::made(studio, *window, now, told),
        Outgoing::Ledger { window, names } => ledger::made(studio, *window, *names, now),
        Outgoing::Calendar(before) => due(studio, order, *before, now),
    }
}

/// What is due; of a calendar that stands there and is replaced, what will not come too.
fn due(
    studio: &Studio,
    order: &OutgoingOrder,
    before: TimeDelta,
    now: &Now,
) -> Answer<(Vec<u8>, usize)> {
    let (reminders, settings) = (studio.reminders(now)?, studio.settings()?);
    let quiet = settings.quiet;
    let former = order.replace.then(|| former(&order.file)).flatten();
    let alarms = Alarms { before, quiet };
    let text = calendar(
        &reminders,
        alarms,
        former.as_deref(),
        settings.measures,
        now,
    );
    Ok((text.into_bytes(), reminders.coming().count()))
}

fn session(studio: &Studio, plan: i64, paper: Option<PaperSize>, now: &Now) -> Answer<Vec<u8>> {
    let sheet = studio.kept_sheet(plan, now)?;
    let sheet = sheet.ok_or(Refusal::PlanGone(plan))?;
    let measures = studio.settings()?.measures;
    let session = Session {
        number: plan,
        sheet: &sheet,
        paper: paper.unwrap_or(PaperSize::usual(measures)),
        measures,
        now,
    };
    paper::session(session)
}

/// What a certificate is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Pdf,
    Html,
}

impl Form {
    fn of(file: &Path) -> Answer<Self> {
        let ending = file.extension();
        let ending = ending.map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("pdf") => Ok(Self::Pdf),
            Some("html" | "htm") => Ok(Self::Html),
            _ => Err(Refusal::Word {
                of: WordOf::CertificateFile,
                said: ending.unwrap_or_default(),
            }
            .into()),
        }
    }
}

fn certificate(
    studio: &Studio,
    pour: i64,
    paper: Option<PaperSize>,
    (file, now): (&Path, &Now),
) -> Answer<Vec<u8>> {
    let (facts, settings) = (studio.picture_facts(pour)?, studio.settings()?);
    let photo = studio.thumbnail(pour)?;
    let photo = photo.as_deref().and_then(Thumb::of);
    let certified = Certified {
        facts: &facts,
        photo: photo.as_ref(),
        studio: settings.name.as_deref(),
        address: settings.address.as_deref(),
        measures: settings.measures,
        now,
    };
    let paper = paper.unwrap_or(PaperSize::usual(settings.measures));
    Ok(match Form::of(file)? {
        Form::Pdf => certificate_pdf(certified, paper)?,
        Form::Html => certificate_page(certified)?.into_bytes(),
    })
}
