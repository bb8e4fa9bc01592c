//! Photos kept: the original beside the studio, the row with its thumbnail, what was measured; looked through, measured
//! anew and dropped.

use super::measuring::{
    Corners, LEAST_CELL, MeasureOrder, PhotoFault, PhotoMeasured, measure_photo,
};
use crate::logbook::{Original, Reader, photos_folder, sha256};
use crate::numbers::cells::colour::rgb_of;
use crate::numbers::cells::{METHOD, Pixels, Point};
use crate::studio::{Answer, Refusal, Studio, StudioError};
use crate::trade::act::Act;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::photo::{Measurement, Patch, Photo, TakenBy};
use crate::trade::units::{Millimetres, Share};
use chrono::TimeDelta;
use std::collections::HashSet;
use std::path::PathBuf;

/// A film is taken for wet so long after its pour, where it is not said.
const WET: TimeDelta = TimeDelta::hours(12);
/// A dry picture is certainly the only one poured in this time.
const RECENT: TimeDelta = TimeDelta::days(7);

/// A photo to be kept: its file and what was read of it.
#[derive(Debug, Clone)]
pub struct NewPhoto<'a> {
    /// What it is called where it is refused.
    pub name: String,
    /// The file.
    pub bytes: &'a [u8],
    /// Its format's name.
    pub format: &'static str,
    /// Pixels across and down, upright.
    pub size: (u32, u32),
    /// When it was taken.
    pub taken: Moment,
    /// Who says so.
    pub taken_by: TakenBy,
    /// A small JPEG in base64.
    pub thumbnail: Option<String>,
}

/// What is said of a photo beside its file.
#[derive(Debug, Clone, Default)]
pub struct PhotoOrder {
    /// Whether the film was dry; by its age otherwise.
    pub dry: Option<bool>,
    /// The panel's corners; looked for otherwise.
    pub corners: Corners,
    /// Anything else.
    pub note: Option<String>,
}

/// A photo with what was measured in it, the last first.
#[derive(Debug, Clone)]
pub struct PhotoPage {
    /// The photo.
    pub photo: Photo,
    /// What was measured.
    pub measured: Vec<Measurement>,
}

/// A photo just kept or measured anew; why it was not measured, if it was not.
#[derive(Debug, Clone)]
pub struct PhotoKept {
    /// The photo and all that was measured.
    pub page: PhotoPage,
    /// Why nothing was measured this time.
    pub fault: Option<PhotoFault>,
}

/// What a photo most likely shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Proposal {
    /// The pour.
    pub pour: i64,
    /// Whether it is dry by then.
    pub dry: bool,
    /// Whether nothing else is likely.
    pub certain: bool,
}

/// What is wrong with the kept photos.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PhotosChecked {
    /// How many are whole.
    pub whole: usize,
    /// Photos whose original is gone.
    pub missing: Vec<i64>,
    /// Photos whose original is no longer what it was.
    pub changed: Vec<i64>,
    /// Originals that no photo and no undo needs, and what a kill left of one that was being written.
    pub needless: Vec<String>,
}

impl PhotoPage {
    /// The panel's corners: as it was last measured, else as they were said with the photo.
    #[must_use]
    pub fn corners(&self) -> Corners {
        let measured = self.measured.first().map(|one| one.corners.as_str());
        Corners::kept(measured.or(self.photo.corners.as_deref()))
    }
}

impl Studio {
    /// Every photo, or those of one pour, with what was measured.
    ///
    /// # Errors
    /// Where there is no such pour, or the store cannot be read.
    pub fn photos(&self, pour: Option<i64>) -> Answer<Vec<PhotoPage>> {
        let read = self.book.read()?;
        if let Some(pour) = pour {
            read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
        }
        read.photos(pour)?
            .into_iter()
            .map(|photo| page(&read, photo))
            .collect()
    }

    /// A photo by its number.
    ///
    /// # Errors
    /// Where there is none.
    pub fn photo(&self, id: i64) -> Answer<PhotoPage> {
        let read = self.book.read()?;
        let photo = read.photo(id)?.ok_or(Refusal::NoPhoto(id))?;
        page(&read, photo)
    }

    /// The thumbnail of a pour's last photo, of the dry film where there is one: a JPEG in base64.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn thumbnail(&self, pour: i64) -> Answer<Option<String>> {
        Ok(self.book.read()?.thumbnail(pour)?)
    }

    /// Whether this very photo is kept already, and as which.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn kept_as(&self, bytes: &[u8]) -> Answer<Option<Photo>> {
        Ok(self.book.read()?.photo_of_hash(&sha256(bytes))?)
    }

    /// Keeps a photo of a pour and measures it. One that cannot be measured is kept all the same, and it is said why.
    ///
    /// # Errors
    /// Where there is no such pour, the photo is kept already, its corners make no sense, or it cannot be written.
    pub fn keep_photo(
        &mut self,
        pour: i64,
        new: &NewPhoto<'_>,
        pixels: &Pixels,
        order: &PhotoOrder,
        now: &Now,
    ) -> Answer<PhotoKept> {
        let poured = self.book.read()?.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
        self.refuse_kept(new)?;
        let measured = measure_panel(pixels, poured.panel, order.corners, &new.name)?;
        let measured = measured.map(|found| figures(&found, now));
        self.keep_measured(pour, new, order, measured, now)
    }

    fn refuse_kept(&self, new: &NewPhoto<'_>) -> Answer<()> {
        if let Some(kept) = self.kept_as(new.bytes)? {
            return Err(Refusal::PhotoKept {
                name: new.name.clone(),
                photo: kept.id,
                pour: kept.pour,
            }
            .into());
        }
        Ok(())
    }

    /// Keeps a photo that was measured already, or why it was not.
    ///
    /// # Errors
    /// Where there is no such pour, the photo is kept already, or it cannot be written.
    pub fn keep_measured(
        &mut self,
        pour: i64,
        new: &NewPhoto<'_>,
        order: &PhotoOrder,
        measured: Result<Measurement, PhotoFault>,
        now: &Now,
    ) -> Answer<PhotoKept> {
        let poured = self.book.read()?.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
        self.refuse_kept(new)?;
        let mut photo = row(pour, new, order, new.taken - poured.at >= WET);
        self.book.keep_original(&photo.file_name(), new.bytes)?;
        let fault = measured.as_ref().err().copied();
        let id = self.book.commit_as(now.at.into(), |write| {
            photo.id = write.add_photo(&photo)?;
            if let Ok(found) = measured {
                let photo = photo.id;
                write.add_measurement(&Measurement { photo, ..found })?;
            }
            Ok::<_, StudioError>((photo.id, Act::PhotoKept { pour }))
        })?;
        Ok(PhotoKept {
            page: self.photo(id)?,
            fault,
        })
    }

    /// The original of a photo.
    ///
    /// # Errors
    /// Where there is no such photo, or its original is gone or changed.
    pub fn original(&self, id: i64) -> Answer<Vec<u8>> {
        let photo = self.photo(id)?.photo;
        match self.book.original(&photo.file_name())? {
            Original::Whole => Ok(self.book.read_original(&photo.file_name())?),
            Original::Missing | Original::Changed => Err(Refusal::NoOriginal(id).into()),
        }
    }

    /// Measures a kept photo anew and keeps both measurements.
    ///
    /// # Errors
    /// Where there is no such photo, its corners make no sense, or nothing can be measured.
    pub fn remeasure(
        &mut self,
        id: i64,
        pixels: &Pixels,
        corners: Corners,
        now: &Now,
    ) -> Answer<PhotoKept> {
        let photo = self.photo(id)?.photo;
        let poured = self
            .book
            .read()?
            .pour(photo.pour)?
            .ok_or(Refusal::NoPour(photo.pour))?;
        let name = format!("photo {id}");
        let corners = match corners {
            Corners::Sought => Corners::kept(photo.corners.as_deref()),
            said => said,
        };
        let found = measure_panel(pixels, poured.panel, corners, &name)?
            .map_err(|why| Refusal::Photo { name, why })?;
        self.keep_measurement(id, figures(&found, now), now)
    }

    /// Keeps what was measured in a photo beside what was measured before.
    ///
    /// # Errors
    /// Where there is no such photo, or the store cannot be written.
    pub fn keep_measurement(
        &mut self,
        id: i64,
        found: Measurement,
        now: &Now,
    ) -> Answer<PhotoKept> {
        self.photo(id)?;
        self.book.commit_as(now.at.into(), |write| {
            write.add_measurement(&Measurement { photo: id, ..found })?;
            Ok::<_, StudioError>(((), Act::PhotoMeasured { photo: id }))
        })?;
        Ok(PhotoKept {
            page: self.photo(id)?,
            fault: None,
        })
    }

    /// Refuses the last measurement of a photo: it counts no more, and one before it does again. Undo brings it back.
    ///
    /// # Errors
    /// Where there is no such photo, or nothing was measured in it.
    pub fn refuse_measurement(&mut self, id: i64, now: &Now) -> Answer<PhotoPage> {
        let page = self.photo(id)?;
        let last = page.measured.first().ok_or(Refusal::NotMeasured(id))?.id;
        self.book.commit_as(now.at.into(), |write| {
            write.drop_measurement(last)?;
            Ok::<_, StudioError>(((), Act::PhotoRefused { photo: id }))
        })?;
        self.photo(id)
    }

    /// Where the original of a photo stands; it need not be there.
    #[must_use]
    pub fn original_path(&self, photo: &Photo) -> PathBuf {
        photos_folder(self.book.path()).join(photo.file_name())
    }

    /// Drops a photo; its original stays until it is tidied, so that an undo brings all back.
    ///
    /// # Errors
    /// Where there is none.
    pub fn drop_photo(&mut self, id: i64, now: &Now) -> Answer<Photo> {
        let photo = self.photo(id)?.photo;
        let pour = photo.pour;
        self.book.commit_as(now.at.into(), |write| {
            write.drop_photo(id)?;
            Ok::<_, StudioError>(((), Act::PhotoDropped { photo: id, pour }))
        })?;
        Ok(photo)
    }

    /// What a photo taken at an instant most likely shows: of the pours begun before it the nearest. It is certain where the
    /// camera says when, and no other pour is near.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn propose_pour(&self, taken: Moment, by: TakenBy) -> Answer<Option<Proposal>> {
        // The nearest, and whether there is another one near.
        let before = self
            .book
            .read()?
            .poured_before(taken.timestamp_millis(), 2)?;
        let age = |at_ms: i64| TimeDelta::milliseconds(taken.timestamp_millis() - at_ms);
        let Some(&(pour, at_ms)) = before.first() else {
            return Ok(None);
        };
        let dry = age(at_ms) >= WET;
        let near = if dry { RECENT } else { WET };
        let alone = before.iter().filter(|one| age(one.1) < near).count() == 1;
        Ok(Some(Proposal {
            pour,
            dry,
            certain: alone && by == TakenBy::Exif,
        }))
    }

    /// Looks whether each photo has its original, and whether there are originals that nothing needs.
    ///
    /// # Errors
    /// Where the store or the folder cannot be read.
    pub fn check_photos(&self) -> Answer<PhotosChecked> {
        let read = self.book.read()?;
        let photos = read.photos(None)?;
        let mut checked = PhotosChecked::default();
        for photo in &photos {
            match self.book.original(&photo.file_name())? {
                Original::Whole => checked.whole += 1,
                Original::Missing => checked.missing.push(photo.id),
                Original::Changed => checked.changed.push(photo.id),
            }
        }
        let named: HashSet<String> = photos.iter().map(Photo::file_name).collect();
        for name in self.book.originals()? {
            let hash = name.split('.').next().unwrap_or_default();
            if !named.contains(&name) && !read.history_names(hash)? {
                checked.needless.push(name);
            }
        }
        checked.needless.extend(self.book.unfinished_originals());
        Ok(checked)
    }

    /// Removes the originals that no photo and no undo needs; how many there were.
    ///
    /// # Errors
    /// As [`Studio::check_photos`], and where one cannot be removed.
    pub fn tidy_photos(&self) -> Answer<usize> {
        let needless = self.check_photos()?.needless;
        for name in &needless {
            self.book.remove_original(name)?;
        }
        Ok(needless.len())
    }
}

fn page(read: &Reader<'_>, photo: Photo) -> Answer<PhotoPage> {
    let measured = read.measurements(photo.id)?;
    Ok(PhotoPage { photo, measured })
}

/// Whether bytes are a photo's original, as it was when it was kept.
#[must_use]
pub fn is_original(photo: &Photo, bytes: &[u8]) -> bool {
    sha256(bytes) == photo.sha256
}

/// Measures a photo of a panel: what was found, or why nothing was; corners that make no sense are refused.
///
/// # Errors
/// Corners that are not four, or lie outside of the photo.
pub fn measure_panel(
    pixels: &Pixels,
    panel: Panel,
    corners: Corners,
    name: &str,
) -> Answer<Result<PhotoMeasured, PhotoFault>> {
    let order = MeasureOrder {
        panel: Some(panel),
        corners,
        least: LEAST_CELL,
    };
    match measure_photo(pixels, &order, name) {
        Ok(found) => Ok(Ok(found)),
        Err(StudioError::Refused(Refusal::Photo { why, .. })) if why != PhotoFault::Corners => {
            Ok(Err(why))
        }
        Err(other) => Err(other),
    }
}

fn row(pour: i64, new: &NewPhoto<'_>, order: &PhotoOrder, old: bool) -> Photo {
    Photo {
        id: 0,
        pour,
        sha256: sha256(new.bytes),
        format: new.format.to_owned(),
        bytes: i64::try_from(new.bytes.len()).unwrap_or(i64::MAX),
        pixels: new.size,
        taken: new.taken,
        taken_by: new.taken_by,
        dry: order.dry.unwrap_or(old),
        corners: order.corners.written(),
        thumbnail: new.thumbnail.clone(),
        note: order.note.clone(),
    }
}

/// What is kept of a measurement; which photo it is of is still to be said. No length where the panel's size is not known.
#[must_use]
pub fn figures(found: &PhotoMeasured, now: &Now) -> Measurement {
    let figures = &found.summary;
    let in_mm = found.size.is_some();
    let sizes = figures.diameters.filter(|_| in_mm);
    let mm = |value: Option<f64>| value.filter(|_| in_mm).map(Millimetres);
    let corner = |p: &Point| format!("{:.1},{:.1}", p.x, p.y);
    let colour = |lab: [f32; 3], share: f64| Patch {
        rgb: rgb_of(lab.map(f64::from)),
        share: Share(share),
    };
    Measurement {
        id: 0,
        photo: 0,
        at: now.local(),
        method: METHOD.to_owned(),
        corners: found
            .corners
            .iter()
            .map(corner)
            .collect::<Vec<_>>()
            .join(" "),
        how: found.how.word().to_owned(),
        cells: i64::try_from(figures.cells).unwrap_or(i64::MAX),
        per_dm2: figures.per_dm2,
        share: Share(figures.share),
        glare: Share(figures.glare),
        median: mm(sizes.map(|sizes| sizes.median)),
        mean: mm(sizes.map(|sizes| sizes.mean)),
        p10: mm(sizes.map(|sizes| sizes.p10)),
        p90: mm(sizes.map(|sizes| sizes.p90)),
        band: sizes
            .and_then(|sizes| sizes.band)
            .map(|(low, high)| (Millimetres(low), Millimetres(high))),
        evenness: figures.evenness,
        spacing: mm(figures.spacing),
        spacing_ratio: figures.spacing_ratio,
        roundness: figures.roundness,
        colours: figures
            .colours
            .iter()
            .map(|one| colour(one.lab, one.share))
            .collect(),
    }
}
