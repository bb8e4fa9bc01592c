//! What is done on a thread of its own: a photo read, decoded and measured. What comes back is no larger than a screen.

use crate::exchange::photo::{
    open_photo, overlaid, preview, read_photo, taken_or_dated, thumbnail,
};
use crate::numbers::cells::Pixels;
use crate::screen::kit::later::{Ended, Later};
use crate::studio::{
    Corners, NewPhoto, PhotoFault, PhotoMeasured, PhotoOrder, Refusal, figures, is_original,
    measure_panel,
};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::photo::{Measurement, Photo, TakenBy};
use std::path::PathBuf;

/// The longest side of what is shown: a screen has fewer pixels, and corners are moved on it.
const SIDE: usize = 1200;

/// Something to be done.
#[derive(Debug, Clone)]
pub enum Job {
    /// A kept photo is to be looked at.
    Look(Kept),
    /// A kept photo is to be measured.
    Measure {
        /// Which.
        kept: Kept,
        /// The panel's corners; looked for otherwise.
        corners: Corners,
        /// Whether it is asked afterwards if this is to be kept.
        proposed: bool,
    },
    /// A file is to be kept.
    Add(Box<Addition>),
}

/// A kept photo, where its original stands, and what it shows.
#[derive(Debug, Clone)]
pub struct Kept {
    /// The photo.
    pub photo: Photo,
    /// Its original.
    pub path: PathBuf,
    /// The panel.
    pub panel: Panel,
    /// The instant.
    pub now: Now,
}

/// A file that is to be kept.
#[derive(Debug, Clone)]
pub struct Addition {
    /// The pour that it shows.
    pub pour: i64,
    /// The panel.
    pub panel: Panel,
    /// The file.
    pub path: PathBuf,
    /// What is said of it.
    pub order: PhotoOrder,
    /// The instant.
    pub now: Now,
}

/// A photo as it is shown, and its size in its own pixels.
#[derive(Debug, Clone)]
pub struct Shown {
    /// The picture.
    pub picture: Pixels,
    /// Pixels across and down.
    pub size: (usize, usize),
}

/// What was measured, and the picture of it.
#[derive(Debug, Clone)]
pub struct Counted {
    /// What would be kept.
    pub row: Measurement,
    /// Each diameter, in millimetres.
    pub diameters: Vec<f64>,
    /// The straightened picture, each cell outlined.
    pub overlay: Pixels,
}

/// A file that was read and measured, ready to be kept.
#[derive(Debug, Clone)]
pub struct Ready {
    /// What was asked.
    pub asked: Addition,
    /// The file.
    pub bytes: Vec<u8>,
    /// Its format's name.
    pub format: &'static str,
    /// When it was taken, and who says so.
    pub taken: (Moment, TakenBy),
    /// A small JPEG in base64.
    pub thumbnail: Option<String>,
    /// The photo.
    pub shown: Shown,
    /// What was measured, or why nothing was.
    pub counted: Result<Counted, PhotoFault>,
}

/// What came of a job.
#[derive(Debug)]
pub enum Done {
    /// A kept photo of a number, or why it cannot be shown.
    Looked(i64, Result<Shown, Refusal>),
    /// A kept photo of a number measured, or why it cannot be; whether it is to be asked.
    Measured(i64, Result<Box<Counted>, Refusal>, bool),
    /// A file ready to be kept, or why it is not.
    Added(Result<Box<Ready>, Refusal>),
}

/// A job on its way.
#[derive(Debug)]
pub struct Work {
    /// What is being done, in words.
    pub words: String,
    later: Later<Done>,
}

impl Work {
    /// Begins a job; none where no thread is to be had.
    pub fn begin(job: Job) -> Option<Self> {
        let words = job.words();
        let later = Later::begin(move |_| job.done())?;
        Some(Self { words, later })
    }

    /// What came of it, once it is there; an error where it came to no end.
    pub fn result(&self) -> Result<Option<Done>, Ended> {
        self.later.result()
    }
}

impl Job {
    fn words(&self) -> String {
        match self {
            Self::Look(kept) => format!("Reading photo {}.", kept.photo.id),
            Self::Measure { kept, .. } => format!("Measuring photo {}.", kept.photo.id),
            Self::Add(add) => {
                let name = add.path.file_name().unwrap_or_default();
                format!("Reading and measuring {}.", name.to_string_lossy())
            }
        }
    }

    fn done(self) -> Done {
        match self {
            Self::Look(kept) => Done::Looked(kept.photo.id, kept.pixels().map(shown)),
            Self::Measure {
                kept,
                corners,
                proposed,
            } => {
                let counted = kept.pixels().and_then(|pixels| {
                    let name = kept.name();
                    let counted = counted(&pixels, kept.panel, corners, &name, &kept.now);
                    counted.map_err(|why| Refusal::Photo { name, why })
                });
                Done::Measured(kept.photo.id, counted.map(Box::new), proposed)
            }
            Self::Add(add) => Done::Added(add.read().map(Box::new)),
        }
    }
}

impl Kept {
    fn name(&self) -> String {
        format!("photo {}", self.photo.id)
    }

    fn pixels(&self) -> Result<Pixels, Refusal> {
        let unread = |why| Refusal::PhotoFile {
            name: self.name(),
            why,
        };
        let bytes = read_photo(&self.path).map_err(unread)?;
        if !is_original(&self.photo, &bytes) {
            return Err(Refusal::NoOriginal(self.photo.id));
        }
        Ok(open_photo(&bytes).map_err(unread)?.pixels)
    }
}

impl Addition {
    fn read(self) -> Result<Ready, Refusal> {
        let name = self.path.display().to_string();
        let unread = |why| Refusal::PhotoFile {
            name: name.clone(),
            why,
        };
        let bytes = read_photo(&self.path).map_err(unread)?;
        let photo = open_photo(&bytes).map_err(unread)?;
        let corners = self.order.corners;
        Ok(Ready {
            format: photo.format.name(),
            taken: taken_or_dated(photo.taken, &self.path, &self.now),
            thumbnail: thumbnail(&photo.pixels),
            counted: counted(&photo.pixels, self.panel, corners, &name, &self.now),
            shown: shown(photo.pixels),
            bytes,
            asked: self,
        })
    }
}

impl Ready {
    /// As the studio takes it.
    pub fn new_photo(&self) -> NewPhoto<'_> {
        let side = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
        NewPhoto {
            name: self.asked.path.display().to_string(),
            bytes: &self.bytes,
            format: self.format,
            size: (side(self.shown.size.0), side(self.shown.size.1)),
            taken: self.taken.0,
            taken_by: self.taken.1,
            thumbnail: self.thumbnail.clone(),
        }
    }
}

fn shown(pixels: Pixels) -> Shown {
    let size = (pixels.width, pixels.height);
    Shown {
        size,
        picture: preview(pixels.rgb, size.0, size.1, SIDE),
    }
}

fn counted(
    pixels: &Pixels,
    panel: Panel,
    corners: Corners,
    name: &str,
    now: &Now,
) -> Result<Counted, PhotoFault> {
    let measured = measure_panel(pixels, panel, corners, name);
    // Corners that make no sense are the only refusal there is.
    let found = measured.unwrap_or(Err(PhotoFault::Corners))?;
    Ok(Counted::of(&found, now))
}

impl Counted {
    fn of(found: &PhotoMeasured, now: &Now) -> Self {
        let drawn = &found.measured.drawn;
        let (width, height) = (drawn.light.width, drawn.light.height);
        Self {
            row: figures(found, now),
            diameters: found
                .measured
                .cells
                .iter()
                .map(|cell| cell.diameter)
                .collect(),
            overlay: preview(overlaid(drawn), width, height, SIDE),
        }
    }
}
