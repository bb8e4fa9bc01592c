//! `cells`: a photo of a picture measured, nothing written down.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::exchange;
use crate::exchange::photo::{Photo, Taken, open_photo, overlay_png, read_photo};
use crate::numbers::cells::Cell;
use crate::studio::orders::{CellsField, Typed};
use crate::studio::{
    Answer, CornersHow, PhotoMeasured, PhotoProblem, Refusal, figures, measure_photo,
    refuse_no_folder,
};
use crate::tell::views::{CellsView, PhotoView};
use crate::tell::{self, Face};
use clap::Args;
use std::path::{Path, PathBuf};

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup cells photo.jpg --panel 40x50cm
  stillcup cells photo.jpg --panel 30x30cm --overlay counted.png --csv cells.csv
Nothing is written to the logbook. Look at the overlay: what is outlined was counted.";

/// A photo to be measured.
#[derive(Debug, Args)]
pub struct CellsArguments {
    /// The photo: JPEG, PNG, WebP or HEIC
    pub photo: PathBuf,
    /// The panel that is on it: 40x50cm, round 30cm; without it nothing is told in lengths
    #[arg(long, value_name = "PANEL")]
    pub panel: Option<String>,
    /// Its corners in the photo's pixels, clockwise from the top left; they are looked for otherwise
    #[arg(
        long,
        value_name = "x,y x,y x,y x,y",
        allow_hyphen_values = true,
        conflicts_with = "whole"
    )]
    pub corners: Option<String>,
    /// The photo shows the panel and nothing else
    #[arg(long)]
    pub whole: bool,
    /// The least diameter of a cell that is counted
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub least: Option<String>,
    /// Every cell: its place, diameter and roundness
    #[arg(long)]
    pub each: bool,
    /// A PNG of the straightened picture with each counted cell outlined
    #[arg(long, value_name = "OUT.png")]
    pub overlay: Option<PathBuf>,
    /// Every cell as CSV
    #[arg(long, value_name = "OUT.csv")]
    pub csv: Option<PathBuf>,
    /// Replace files that are there already
    #[arg(long)]
    pub replace: bool,
}

/// A photo that was not read, by what it is called.
pub(super) fn unread(name: impl Into<String>) -> impl FnOnce(PhotoProblem) -> Refusal {
    let name = name.into();
    |why| Refusal::PhotoFile { name, why }
}

/// A photo's file read and decoded.
pub(super) fn opened(path: &Path) -> Answer<Photo> {
    let name = path.display().to_string();
    let photo = read_photo(path).and_then(|bytes| open_photo(&bytes));
    Ok(photo.map_err(unread(name))?)
}

impl Desk<'_> {
    pub(super) fn cells(&mut self, typed: &CellsArguments) -> Answer<Report> {
        let fields = Typed::default()
            .given(CellsField::Panel, typed.panel.clone())
            .given(CellsField::Corners, typed.corners.clone())
            .given(CellsField::Least, typed.least.clone());
        let known = self.studio.known([])?;
        let order = CellsField::order(&fields, typed.whole, &self.given(&known))?;
        for out in [&typed.overlay, &typed.csv].into_iter().flatten() {
            refuse_no_folder(out)?;
        }
        let photo = opened(&typed.photo)?;
        let found = measure_photo(&photo.pixels, &order, &typed.photo.display().to_string())?;
        self.drawn(typed, &found)?;
        let measures = self.settings.measures;
        let warning = |one| tell::photos::warning(one, measures, Face::CommandLine);
        let warnings: Vec<String> = found.warnings.iter().map(warning).collect();
        let view = CellsView::new(self.photo_view(&photo), &found, warnings, typed.each);
        let report = Report::of(&view).lines(self.cell_lines(&found, &view));
        let report = match typed.each {
            true => report.table(&self.each_cell(&found.measured.cells)),
            false => report,
        };
        Ok(report.lines(view.warnings.iter().map(|words| format!("! {words}"))))
    }

    fn photo_view(&self, photo: &Photo) -> PhotoView {
        let taken_at = photo.taken.map(|taken| match taken {
            Taken::Told(at) => at.to_rfc3339(),
            // A camera's wall clock without its offset is told as it stands.
            Taken::Wall(at) => at.format("%Y-%m-%dT%H:%M:%S").to_string(),
        });
        PhotoView {
            width: photo.pixels.width,
            height: photo.pixels.height,
            format: photo.format.name(),
            taken_at,
        }
    }

    fn drawn(&self, typed: &CellsArguments, found: &PhotoMeasured) -> Answer<()> {
        if let Some(path) = &typed.overlay {
            let png = overlay_png(&found.measured.drawn)?;
            exchange::write_bytes(self.studio, path, typed.replace, &png)?;
        }
        if let Some(path) = &typed.csv {
            exchange::write_bytes(self.studio, path, typed.replace, &sheet(found)?)?;
        }
        Ok(())
    }

    fn cell_lines(&self, found: &PhotoMeasured, view: &CellsView) -> Vec<String> {
        let measured = figures(found, &self.now);
        let mut lines = tell::photos::figures(&measured, self.settings.measures);
        let lengths = [
            (measured.mean, "on the mean"),
            (measured.spacing, "to the nearest neighbour"),
        ];
        let known = lengths
            .into_iter()
            .filter_map(|(mm, what)| Some((mm?, what)));
        lines.extend(known.map(|(mm, what)| format!("{} {what}", self.length(mm))));
        let colours = view
            .colours
            .iter()
            .map(|one| format!("{} {:.0} %", one.srgb, 100.0 * one.share));
        lines.push(format!(
            "colours: {}",
            colours.collect::<Vec<_>>().join(", ")
        ));
        lines.push(match (found.how, found.doubt) {
            (CornersHow::Found, Some(doubt)) => format!("corners found, doubt {doubt:.2}"),
            (how, _) => format!("corners {}", how.word()),
        });
        lines
    }

    fn each_cell(&self, cells: &[Cell]) -> Table {
        let heads =
            Table::headed(&["x mm", "y mm", "diameter mm", "roundness"]).right(&[0, 1, 2, 3]);
        cells.iter().fold(heads, |table, cell| table.row(row(cell)))
    }
}

fn row(cell: &Cell) -> [String; 4] {
    let round = cell
        .roundness
        .map_or(String::new(), |one| format!("{one:.3}"));
    [
        format!("{:.2}", cell.middle.x),
        format!("{:.2}", cell.middle.y),
        format!("{:.3}", cell.diameter),
        round,
    ]
}

/// Every cell as CSV, in millimetres; in pixels where the panel's size is not known.
fn sheet(found: &PhotoMeasured) -> Answer<Vec<u8>> {
    let heads = match found.size {
        Some(_) => ["x_mm", "y_mm", "diameter_mm", "roundness"],
        None => ["x_px", "y_px", "diameter_px", "roundness"],
    };
    let cells = found.measured.cells.iter();
    exchange::write_rows(&heads, cells.map(|cell| row(cell).to_vec()))
}
