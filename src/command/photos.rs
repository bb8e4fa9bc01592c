//! `photo` and `photos`: photos of pours kept, measured, taken from a folder, looked after.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::cells::unread;
use crate::command::flow::PageArguments;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::exchange::photo::{
    Taken, open_photo, photo_taken, photos_in, read_photo, taken_or_dated, thumbnail,
};
use crate::studio::orders::{PhotoField, Typed};
use crate::studio::{self, Answer, NewPhoto, PhotoKept, PhotoOrder, PhotoPage, Proposal};
use crate::tell::photos::fault;
use crate::tell::views::{
    KeptPhotoView, PhotosCheckedView, PhotosTakenView, PhotosView, ProposalView,
};
use crate::tell::{self, Face};
use crate::trade::moment::Moment;
use crate::trade::photo::TakenBy;
use clap::{Args, Subcommand};
use std::path::{Path, PathBuf};

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup photo 12 wet.jpg dry.heic
  stillcup photo again 3 --corners \"10,20 1900,35 1880,1400 25,1390\"
  stillcup photo drop 3";

/// Photos of a pour, or what is done with one that is kept.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub struct PhotoArguments {
    /// What to do with a kept photo
    #[command(subcommand)]
    pub deed: Option<PhotoDeed>,
    /// The pour's number
    #[arg(required = true)]
    pub pour: Option<i64>,
    /// The photos: JPEG, PNG, WebP or HEIC
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// The film is wet; told by its age otherwise
    #[arg(long, conflicts_with = "dry")]
    pub wet: bool,
    /// The film is dry
    #[arg(long)]
    pub dry: bool,
    /// When it was taken: 18:30; as the camera or the file says otherwise
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
    /// The panel's corners in the photo's pixels, clockwise from the top left; they are looked for otherwise
    #[arg(long, value_name = "x,y x,y x,y x,y", allow_hyphen_values = true)]
    pub corners: Option<String>,
    /// Anything else
    #[arg(long, allow_hyphen_values = true)]
    pub note: Option<String>,
}

/// What is done with a kept photo.
#[derive(Debug, Subcommand)]
pub enum PhotoDeed {
    /// Measure it anew; both measurements stay
    Again(RemeasureArguments),
    /// Refuse what was measured last: it counts no more, one before it does again
    Refuse {
        /// The photo's number
        photo: i64,
    },
    /// Drop it; undo brings it back
    Drop {
        /// The photo's number
        photo: i64,
    },
}

/// A photo to be measured anew.
#[derive(Debug, Args)]
pub struct RemeasureArguments {
    /// The photo's number
    pub photo: i64,
    /// The panel's corners in the photo's pixels, clockwise from the top left
    #[arg(long, value_name = "x,y x,y x,y x,y", allow_hyphen_values = true)]
    pub corners: Option<String>,
}

/// The kept photos, or what is done with all of them.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true)]
pub struct PhotosArguments {
    /// What to do
    #[command(subcommand)]
    pub deed: Option<PhotosDeed>,
    /// Only those of a pour
    pub pour: Option<i64>,
    #[command(flatten)]
    pub page: PageArguments,
}

/// What is done with many photos.
#[derive(Debug, Subcommand)]
pub enum PhotosDeed {
    /// Lay a folder's photos beside the pours they most likely show
    Take {
        /// The folder
        folder: PathBuf,
        /// Keep those that are certain
        #[arg(long)]
        yes: bool,
    },
    /// Whether every photo has its original, and nothing is left over
    Check,
    /// Remove the originals that no photo and no undo needs
    Tidy {
        /// Do it; it is only told otherwise
        #[arg(long)]
        yes: bool,
    },
}

fn side(pixels: usize) -> u32 {
    u32::try_from(pixels).unwrap_or(u32::MAX)
}

impl Desk<'_> {
    pub(super) fn photo(&mut self, typed: &PhotoArguments) -> Answer<Report> {
        match &typed.deed {
            Some(PhotoDeed::Again(again)) => self.remeasure(again),
            Some(PhotoDeed::Refuse { photo }) => {
                let left = self.studio.refuse_measurement(*photo, &self.now)?;
                let words = tell::photo_refused(&left);
                Ok(Report::of(&KeptPhotoView::of(&left, None)).line(words))
            }
            Some(PhotoDeed::Drop { photo }) => {
                let dropped = self.studio.drop_photo(*photo, &self.now)?;
                let words = tell::photo_dropped(*photo, Face::CommandLine);
                Ok(Report::of(&KeptPhotoView::of(
                    &PhotoPage {
                        photo: dropped,
                        measured: Vec::new(),
                    },
                    None,
                ))
                .line(words))
            }
            None => self.keep_photos(typed),
        }
    }

    fn keep_photos(&mut self, typed: &PhotoArguments) -> Answer<Report> {
        let pour = typed.pour.unwrap_or_default();
        let at = self.instant(typed.at.as_deref())?;
        let [wet, dry] = PhotoField::FILMS;
        let film = typed.dry.then_some(dry).or(typed.wet.then_some(wet));
        let fields = Typed::default()
            .given(PhotoField::Film, film.map(str::to_owned))
            .given(PhotoField::Corners, typed.corners.clone())
            .given(PhotoField::Note, typed.note.clone());
        let order = PhotoField::order(&fields)?;
        let mut kept = Vec::new();
        let bar = Bar::new("photos", typed.files.len());
        for (done, file) in typed.files.iter().enumerate() {
            bar.at(done);
            kept.push(self.keep_one(pour, file, at, &order)?);
        }
        drop(bar);
        let views: Vec<KeptPhotoView> = kept
            .iter()
            .map(|one| KeptPhotoView::of(&one.page, one.fault))
            .collect();
        let lines: Vec<String> = kept.iter().flat_map(|one| self.kept_lines(one)).collect();
        Ok(Report::of(&PhotosView { photos: views }).lines(lines))
    }

    fn keep_one(
        &mut self,
        pour: i64,
        file: &Path,
        at: Option<Moment>,
        order: &PhotoOrder,
    ) -> Answer<PhotoKept> {
        let name = file.display().to_string();
        let bytes = read_photo(file).map_err(unread(&name))?;
        let photo = open_photo(&bytes).map_err(unread(&name))?;
        let (taken, taken_by) = self.taken(photo.taken, at, file);
        let new = NewPhoto {
            name,
            bytes: &bytes,
            format: photo.format.name(),
            size: (side(photo.pixels.width), side(photo.pixels.height)),
            taken,
            taken_by,
            thumbnail: thumbnail(&photo.pixels),
        };
        let pixels = &photo.pixels;
        self.studio.keep_photo(pour, &new, pixels, order, &self.now)
    }

    /// When a photo was taken: as is said, else as the camera says, else the date of its file.
    fn taken(&self, taken: Option<Taken>, said: Option<Moment>, file: &Path) -> (Moment, TakenBy) {
        match said {
            Some(at) => (at, TakenBy::Said),
            None => taken_or_dated(taken, file, &self.now),
        }
    }

    fn kept_lines(&self, kept: &PhotoKept) -> Vec<String> {
        let photo = &kept.page.photo;
        let film = if photo.dry { "dry" } else { "wet" };
        let by = if photo.taken_by == TakenBy::File {
            ", by the date of its file"
        } else {
            ""
        };
        let taken = studio::local(photo.taken, &self.now);
        let mut lines = vec![format!(
            "Photo {} of pour {}, {film}, taken {taken}{by}",
            photo.id, photo.pour
        )];
        match (kept.fault, kept.page.measured.first()) {
            (Some(why), _) => {
                lines.push(format!("! not measured: {}", fault(why)));
                lines.push(format!(
                    "  say the corners: stillcup photo again {} --corners \"x,y x,y x,y x,y\"",
                    photo.id
                ));
            }
            (None, Some(found)) => {
                let brief = tell::photos::brief(found, self.settings.measures);
                lines.push(format!("  {brief}"));
            }
            (None, None) => {}
        }
        lines
    }

    fn remeasure(&mut self, typed: &RemeasureArguments) -> Answer<Report> {
        let fields = Typed::default().given(PhotoField::Corners, typed.corners.clone());
        let corners = PhotoField::corners(&fields)?;
        let bytes = self.studio.original(typed.photo)?;
        let photo = open_photo(&bytes).map_err(unread(format!("photo {}", typed.photo)))?;
        let kept = self
            .studio
            .remeasure(typed.photo, &photo.pixels, corners, &self.now)?;
        Ok(Report::of(&KeptPhotoView::of(&kept.page, None)).lines(self.kept_lines(&kept)))
    }

    pub(super) fn photos(&mut self, typed: &PhotosArguments) -> Answer<Report> {
        match &typed.deed {
            None => self.list_photos(typed.pour, typed.page),
            Some(PhotosDeed::Take { folder, yes }) => self.take_photos(folder, *yes),
            Some(PhotosDeed::Check) => self.check_photos(),
            Some(PhotosDeed::Tidy { yes }) => self.tidy_photos(*yes),
        }
    }

    fn list_photos(&self, pour: Option<i64>, page: PageArguments) -> Answer<Report> {
        let mut all = self.studio.photos(pour)?;
        all.reverse();
        let count = all.len() as u64;
        let pages = page.of(all);
        let rest = page.rest("photo", pages.len() as u64, count);
        let views: Vec<KeptPhotoView> = pages
            .iter()
            .map(|page| KeptPhotoView::of(page, None))
            .collect();
        let report = Report::of(&PhotosView { photos: views });
        if pages.is_empty() {
            let none = || "There is no photo yet. Keep one: stillcup photo POUR FILE".to_owned();
            return Ok(report.line(rest.unwrap_or_else(none)));
        }
        let heads = [
            "photo", "pour", "film", "taken", "cells", "to a dm2", "share", "median",
        ];
        let table = Table::headed(&heads).right(&[0, 1, 4, 5, 6, 7]);
        let rows = pages.iter().map(|page| self.photo_row(page));
        Ok(report.table(&rows.fold(table, Table::row)).lines(rest))
    }

    fn photo_row(&self, page: &PhotoPage) -> [String; 8] {
        let (photo, found) = (&page.photo, page.measured.first());
        [
            photo.id.to_string(),
            photo.pour.to_string(),
            if photo.dry { "dry" } else { "wet" }.to_owned(),
            studio::local(photo.taken, &self.now),
            or_dash(found.map(|one| one.cells.to_string())),
            or_dash(
                found
                    .and_then(|one| one.per_dm2)
                    .map(|per| format!("{per:.0}")),
            ),
            or_dash(found.map(|one| format!("{:.1} %", 100.0 * one.share.get()))),
            or_dash(found.and_then(|one| one.median).map(|mm| self.length(mm))),
        ]
    }

    fn take_photos(&mut self, folder: &Path, yes: bool) -> Answer<Report> {
        let files = photos_in(folder).map_err(unread(folder.display().to_string()))?;
        let bar = Bar::new("photos", files.len());
        let mut rows = Vec::new();
        for (done, file) in files.iter().enumerate() {
            bar.at(done);
            rows.push(self.take_one(file, yes)?);
        }
        drop(bar);
        let kept = rows.iter().filter(|row| row.photo.is_some()).count();
        let table = rows.iter().fold(
            Table::headed(&["file", "taken", "pour", "film", ""]).right(&[2]),
            |table, row| table.row(row.cells(&self.now)),
        );
        let certain = rows.iter().filter(|row| row.certain && !row.known).count();
        let words = match (rows.is_empty(), yes) {
            (true, _) => format!("There is no photo in {}", folder.display()),
            (false, true) => format!("{kept} kept"),
            (false, false) => format!(
                "{certain} of {} are certain; to keep these: stillcup photos take {} --yes",
                rows.len(),
                folder.display()
            ),
        };
        let report = Report::of(&PhotosTakenView { kept, photos: rows });
        Ok(report.table(&table).line(words))
    }

    /// Lays one file beside its pour, and keeps it where that is certain and wanted. One bad file stops no others.
    fn take_one(&mut self, file: &Path, yes: bool) -> Answer<ProposalView> {
        let mut view = ProposalView {
            file: file.display().to_string(),
            ..ProposalView::default()
        };
        let bytes = match read_photo(file) {
            Ok(bytes) => bytes,
            Err(why) => {
                let why = unread(view.file.as_str())(why);
                return Ok(ProposalView {
                    problem: Some(self.words(&why)),
                    ..view
                });
            }
        };
        if let Some(kept) = self.studio.kept_as(&bytes)? {
            return Ok(ProposalView {
                known: true,
                pour: Some(kept.pour),
                dry: Some(kept.dry),
                ..view
            });
        }
        let (taken, by) = self.taken(photo_taken(&bytes), None, file);
        drop(bytes);
        view.taken_at = Some(taken.to_rfc3339());
        view.taken_by = Some(by.word());
        let Some(Proposal { pour, dry, certain }) = self.studio.propose_pour(taken, by)? else {
            return Ok(ProposalView {
                problem: Some("no pour was begun before it".into()),
                ..view
            });
        };
        view = ProposalView {
            pour: Some(pour),
            dry: Some(dry),
            certain,
            ..view
        };
        if yes && certain {
            let order = PhotoOrder {
                dry: Some(dry),
                ..PhotoOrder::default()
            };
            match self.keep_one(pour, file, None, &order) {
                Ok(kept) => view.photo = Some(kept.page.photo.id),
                Err(studio::StudioError::Refused(refusal)) => {
                    view.problem = Some(crate::tell::words(
                        &refusal,
                        self.settings.measures,
                        &self.now,
                    ))
                }
                Err(store) => return Err(store),
            }
        }
        Ok(view)
    }

    fn check_photos(&self) -> Answer<Report> {
        let checked = self.studio.check_photos()?;
        let said = |photos: &[i64], what: &str| -> Vec<String> {
            photos
                .iter()
                .map(|photo| format!("! photo {photo}: its original {what}"))
                .collect()
        };
        let needless = (!checked.needless.is_empty()).then(|| {
            format!(
                "{} originals that no photo and no undo needs: stillcup photos tidy",
                checked.needless.len()
            )
        });
        let words = format!("{} photos are whole", checked.whole);
        let lines = [
            said(&checked.missing, "is gone"),
            said(&checked.changed, "is no longer what it was"),
        ]
        .concat();
        Ok(Report::of(&PhotosCheckedView::from(&checked))
            .line(words)
            .lines(lines)
            .lines(needless))
    }

    fn tidy_photos(&self, yes: bool) -> Answer<Report> {
        let checked = self.studio.check_photos()?;
        let report = Report::of(&PhotosCheckedView::from(&checked));
        let (count, text) = (checked.needless.len(), checked.needless.join("\n"));
        if count == 0 {
            return Ok(report.line(
                "Nothing is needless: every original has its photo or an undo that needs it",
            ));
        }
        if !yes {
            let would =
                format!("{count} originals would go; to remove them: stillcup photos tidy --yes");
            return Ok(report.lines(text.lines().map(str::to_owned)).line(would));
        }
        let removed = self.studio.tidy_photos()?;
        Ok(report.line(format!("{removed} originals removed")))
    }
}
