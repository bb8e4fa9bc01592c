//! `export`, `import`, `csv`, `backup`, `backups`, `restore`: the studio out, in, copied and brought back.

use crate::command::Undone;
use crate::command::day_copy;
use crate::command::lists::Dates;
use crate::command::report::{Report, Table};
use crate::command::{Desk, Ending};
use crate::exchange;
use crate::studio::orders::ListKind;
use crate::studio::{self, Answer, ListFault, PhotosCarried, Sheet, StudioError};
use crate::tell::views::{
    BackupsView, CopyView, CsvView, DatedCopyView, ExportView, FileView, RestoredView, TakenView,
};
use crate::tell::{self, Face};
use crate::trade::instant::Now;
use clap::Args;
use std::path::{Path, PathBuf};

pub(super) const IMPORT_EXAMPLE: &str = "\
Examples:
  stillcup import studio.json
  stillcup import pours.csv --as pours --try
  stillcup import pours.csv --as pours --column \"Canvas=panel\" --column \"Mood=-\"
A list comes in whole, as one change, or not at all; the same list again adds nothing.";

/// A file a studio or a list comes in from.
#[derive(Debug, Args)]
pub struct FileArguments {
    /// The JSON file, or a spreadsheet's CSV
    pub file: PathBuf,
    /// What the lines of a CSV are
    #[arg(long = "as", value_name = "cups|pours|judgements|materials|stock", value_parser = crate::command::word!(ListKind))]
    pub kind: Option<ListKind>,
    /// What a column becomes, where the guess is to be another; - leaves it out
    #[arg(
        long = "column",
        value_name = "Heading=field",
        requires = "kind",
        allow_hyphen_values = true
    )]
    pub columns: Vec<String>,
    /// Whether dates of two numbers begin with the day; found out over the whole column otherwise
    #[arg(long, value_name = "day-first|month-first", requires = "kind")]
    pub dates: Option<Dates>,
    /// Only show what would come in
    #[arg(long = "try", requires = "kind")]
    pub dry: bool,
    /// The folder with the photos' originals, as export made it
    #[arg(long, value_name = "FOLDER", conflicts_with = "kind")]
    pub photos: Option<PathBuf>,
    /// Take in what cannot all be true, such as more paint poured than a cup held
    #[arg(long)]
    pub even_so: bool,
}

/// A file the studio goes out to.
#[derive(Debug, Args)]
pub struct ExportArguments {
    /// The JSON file
    pub file: PathBuf,
    /// With the names of those who bought pictures
    #[arg(long)]
    pub with_names: bool,
    /// Copy the photos' originals into this folder, as they are: what the camera wrote into them goes along, the place too
    #[arg(long, value_name = "FOLDER")]
    pub photos: Option<PathBuf>,
    /// Replace a file that is there already
    #[arg(long)]
    pub replace: bool,
}

/// A sheet as CSV.
#[derive(Debug, Args)]
pub struct CsvArguments {
    /// What is in it
    #[arg(value_name = "cups|entries|pours|judgements|photos|materials", value_parser = crate::command::word!(Sheet))]
    pub sheet: Sheet,
    /// The file; it is printed otherwise
    pub file: Option<PathBuf>,
    /// Replace a file that is there already
    #[arg(long, requires = "file")]
    pub replace: bool,
}

/// A copy of the studio.
#[derive(Debug, Args)]
pub struct BackupArguments {
    /// The file; a dated one beside the studio otherwise
    pub file: Option<PathBuf>,
}

/// A copy that is brought back.
#[derive(Debug, Args)]
pub struct RestoreArguments {
    /// Which: newest, its number in the list of backups, or a file
    pub which: String,
}

impl Desk<'_> {
    pub(super) fn export(&mut self, typed: &ExportArguments) -> Answer<Report> {
        studio::refuse_no_folder(&typed.file)?;
        let names = match typed.with_names {
            true => exchange::Names::Go,
            false => exchange::Names::Stay,
        };
        let folder = typed.photos.as_deref();
        // A folder that is refused leaves no file behind; an original that stands there already does no harm.
        let carried = folder
            .map(|folder| self.studio.give_photos(folder))
            .transpose()?;
        exchange::export_to(self.studio, names, &typed.file, typed.replace)?;
        let path = typed.file.display().to_string();
        let line = format!("The whole studio is in {path}");
        let lines = carried
            .iter()
            .zip(folder)
            .flat_map(|(one, folder)| carried_lines(one, folder));
        let view = ExportView::of(path, carried.as_ref());
        Ok(Report::of(&view).line(line).lines(lines))
    }

    pub(super) fn import(&mut self, typed: &FileArguments) -> Answer<Report> {
        if let Some(kind) = typed.kind {
            return self.import_list(typed, kind);
        }
        if is_list(&typed.file) {
            return Err(ListFault::KindUnsaid(typed.file.clone()).into());
        }
        // An original stands before the row that names it.
        let folder = typed.photos.as_deref();
        let originals = folder
            .map(|folder| self.studio.take_originals(folder))
            .transpose()?;
        let taken = exchange::import_from(self.studio, &typed.file, &self.now, typed.even_so);
        if taken.is_err() {
            self.studio
                .leave_originals(originals.as_deref().unwrap_or_default())?;
        }
        let taken = taken?;
        let originals = originals.map(|names| names.len());
        let view = TakenView::of(&taken, originals, self.settings.measures);
        let report = Report::of(&view);
        let renamed = taken
            .renamed
            .iter()
            .map(|one| format!("! {} {} is {} here", one.what, one.was, one.is));
        let differing = view
            .differing
            .iter()
            .map(|what| format!("! differs, and was left as it is here: {what}"));
        let left = (taken.history_left > 0).then(|| {
            format!(
                "{} changes of its history were left out: a studio keeps its own",
                taken.history_left
            )
        });
        let came = match taken.new {
            0 => format!("Nothing new: {} were here already", taken.known),
            new => format!("{new} came in, {} were here already", taken.known),
        };
        Ok(report
            .line(came)
            .lines(renamed)
            .lines(differing)
            .lines(originals.map(|count| format!("{count} originals of photos came in")))
            .lines(view.contradictions.iter().map(|what| format!("! {what}")))
            .lines(left))
    }

    pub(super) fn csv(&mut self, typed: &CsvArguments) -> Answer<Report> {
        let Some(file) = &typed.file else {
            let mut text = Vec::new();
            exchange::write_sheet(self.studio, typed.sheet, &mut text)?;
            let text = String::from_utf8_lossy(&text).into_owned();
            let view = CsvView { csv: text.clone() };
            return Ok(Report::of(&view).exactly(text));
        };
        studio::refuse_no_folder(file)?;
        exchange::sheet_to(self.studio, typed.sheet, file, typed.replace)?;
        let path = file.display().to_string();
        let line = format!("The {} are in {path}", typed.sheet);
        Ok(Report::of(&FileView { file: path }).line(line))
    }

    pub(super) fn backup(&mut self, typed: &BackupArguments) -> Answer<Report> {
        let copy =
            day_copy::with_bar(|told| self.studio.copy(typed.file.as_deref(), &self.now, told))?;
        let path = copy.kept.path.display().to_string();
        let line = format!("A whole copy, checked, is in {path}");
        let bytes = copy.kept.bytes;
        let report = Report::of(&CopyView { file: path, bytes }).line(line);
        Ok(report.note(copy.newer.as_ref().map(tell::newer_in_copy)))
    }
}

/// Whether a file's name is that of a spreadsheet's list.
fn is_list(file: &Path) -> bool {
    const ENDINGS: [&str; 6] = ["csv", "tsv", "tab", "xlsx", "xls", "ods"];
    let ending = file
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase());
    file.is_file() && ending.is_some_and(|ending| ENDINGS.contains(&ending.as_str()))
}

/// What went along of the photos.
fn carried_lines(carried: &PhotosCarried, folder: &Path) -> Vec<String> {
    let count = carried.copied + carried.there;
    let whole = format!(
        "{count} originals of photos are in {}, as their cameras wrote them",
        folder.display()
    );
    let lost = carried.lost.iter();
    let lost = lost.map(|photo| {
        format!("! photo {photo}: its original is gone or changed, and did not go along")
    });
    std::iter::once(whole).chain(lost).collect()
}

/// The dated copies of the studio in a file.
pub(super) fn backups(file: &Path, now: &Now) -> Answer<Report> {
    let copies = studio::copies(file)?;
    let told = |at| studio::local(now.zone.tell(at), now);
    let list = copies.iter().map(|kept| DatedCopyView {
        file: kept.path.display().to_string(),
        at: now.zone.tell(kept.at).to_rfc3339(),
        bytes: kept.bytes,
    });
    let report = Report::of(&BackupsView {
        backups: list.collect(),
    });
    if copies.is_empty() {
        return Ok(report.line("There is no copy yet. Take one: stillcup backup"));
    }
    let rows = copies.iter().enumerate().map(|(place, kept)| {
        [
            (place + 1).to_string(),
            told(kept.at),
            tell::checkup::size_in_words(kept.bytes),
            kept.path.display().to_string(),
        ]
    });
    let all = copies.iter().map(|kept| kept.bytes).sum();
    let together = format!("Together they take {}", tell::checkup::size_in_words(all));
    Ok(report
        .table(&rows.fold(
            Table::headed(&["no", "taken", "size", "file"]).right(&[0, 2]),
            Table::row,
        ))
        .line(together))
}

/// Brings a copy back.
pub(super) fn restore(file: &Path, typed: &RestoreArguments, now: &Now) -> Answer<Report> {
    let (from, restored) = studio::bring_back(file, &typed.which, now)?;
    let aside = restored.aside.map(|path| path.display().to_string());
    let from = from.display().to_string();
    let kept = aside
        .as_ref()
        .map(|path| format!("What stood there is kept in {path}"));
    let line = format!("Brought back: {from}");
    let report = Report::of(&RestoredView { from, aside });
    let newer = restored.newer.as_ref().map(tell::newer_in_copy);
    Ok(report.line(line).lines(kept).note(newer))
}

/// How a thing ends that could not be done with the studio in a file. Where a copy would help, the newest whole one is
/// named, its day and the command that brings it back.
#[must_use]
pub fn undone(undone: &Undone, file: &Path, now: &Now, json: bool) -> Ending {
    let error = &undone.error;
    let wants = matches!(error, StudioError::Store(store) if store.wants_a_copy());
    let copy = wants.then(|| studio::way_back(file, now)).flatten();
    let copy = copy.map(|way| tell::words(&way, undone.measures, now));
    let hint = copy.unwrap_or_else(|| tell::hint(error, Face::CommandLine));
    Ending::undone(undone, &hint, now, json)
}
