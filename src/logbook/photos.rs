//! The tables `photo` and `measurement`.

use crate::logbook::pours::{AMONG, Among};
use crate::logbook::read::{Read, Reader, moment_in, moment_of, parsed_in};
use crate::logbook::{Value, Writer, write};
use crate::trade::photo::{Measurement, Patch, Photo, PourMeasured, TakenBy};
use crate::trade::units::{Millimetres, Share};
use rusqlite::Row;
use std::collections::HashMap;

impl Reader<'_> {
    /// Every photo, or those of one pour, in the order they were taken.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn photos(&self, pour: Option<i64>) -> Read<Vec<Photo>> {
        let sql = "SELECT * FROM photo WHERE ?1 IS NULL OR pour_id = ?1 ORDER BY taken_at_ms, id";
        self.all(sql, [pour], photo)
    }

    /// A photo by its number.
    pub fn photo(&self, id: i64) -> Read<Option<Photo>> {
        self.first("SELECT * FROM photo WHERE id = ?1", [id], photo)
    }

    /// The thumbnail of a pour's last photo, of the dry film where there is one.
    pub fn thumbnail(&self, pour: i64) -> Read<Option<String>> {
        let sql = "SELECT thumbnail FROM photo WHERE pour_id = ?1 AND thumbnail IS NOT NULL
                   ORDER BY dry DESC, taken_at_ms DESC, id DESC LIMIT 1";
        self.first(sql, [pour], |row| row.get(0))
    }

    /// The photo of an original, by its hash.
    pub fn photo_of_hash(&self, sha256: &str) -> Read<Option<Photo>> {
        self.first("SELECT * FROM photo WHERE sha256 = ?1", [sha256], photo)
    }

    /// What was measured in a photo, the last first.
    pub fn measurements(&self, photo: i64) -> Read<Vec<Measurement>> {
        let sql = "SELECT * FROM measurement WHERE photo_id = ?1 ORDER BY id DESC";
        self.all(sql, [photo], measurement)
    }

    /// What was measured of pours, by pour: in the order the photos were taken, then of the measuring.
    pub fn measured_among(&self, among: &Among) -> Read<HashMap<i64, Vec<PourMeasured>>> {
        let sql = format!(
            "SELECT measurement.*, photo.pour_id, photo.dry FROM measurement
             JOIN photo ON photo.id = measurement.photo_id WHERE photo.pour_id IN {AMONG}
             ORDER BY photo.taken_at_ms, photo.id, measurement.id"
        );
        let measured = |row: &Row<'_>| {
            Ok(PourMeasured {
                pour: row.get("pour_id")?,
                dry: row.get("dry")?,
                what: measurement(row)?,
            })
        };
        let mut by_pour: HashMap<i64, Vec<PourMeasured>> = HashMap::new();
        for one in self.all(&sql, [&among.0], measured)? {
            by_pour.entry(one.pour).or_default().push(one);
        }
        Ok(by_pour)
    }

    /// Whether a record of the history names an original: an undo may want it back.
    pub fn history_names(&self, sha256: &str) -> Read<bool> {
        let sql = "SELECT 1 FROM change WHERE instr(rows, ?1) > 0 LIMIT 1";
        Ok(self.first(sql, [sha256], |_| Ok(()))?.is_some())
    }
}

impl Writer<'_> {
    /// Writes down a photo; its `id` is not looked at.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_photo(&mut self, new: &Photo) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(new.taken);
        let columns = [
            ("uid", write::uid()),
            ("pour_id", new.pour.into()),
            ("sha256", new.sha256.clone().into()),
            ("format", new.format.clone().into()),
            ("bytes", new.bytes.into()),
            ("width", i64::from(new.pixels.0).into()),
            ("height", i64::from(new.pixels.1).into()),
            ("taken_at_ms", at_ms),
            ("taken_offset_min", offset_min),
            ("taken_by", new.taken_by.word().to_owned().into()),
            ("dry", i64::from(new.dry).into()),
            ("corners", new.corners.clone().into()),
            ("thumbnail", new.thumbnail.clone().into()),
            ("note", new.note.clone().into()),
        ];
        self.insert("photo", &columns)
    }

    /// Writes down what was measured; its `id` is not looked at.
    pub fn add_measurement(&mut self, new: &Measurement) -> Read<i64> {
        let [at_ms, offset_min] = write::moment(new.at);
        let mm = |one: Option<Millimetres>| -> Value { one.map(Millimetres::get).into() };
        let columns = [
            ("uid", write::uid()),
            ("photo_id", new.photo.into()),
            ("at_ms", at_ms),
            ("offset_min", offset_min),
            ("method", new.method.clone().into()),
            ("corners", new.corners.clone().into()),
            ("how", new.how.clone().into()),
            ("cells", new.cells.into()),
            ("per_dm2", new.per_dm2.into()),
            ("share", new.share.get().into()),
            ("glare", new.glare.get().into()),
            ("median_mm", mm(new.median)),
            ("mean_mm", mm(new.mean)),
            ("p10_mm", mm(new.p10)),
            ("p90_mm", mm(new.p90)),
            ("band_low_mm", mm(new.band.map(|band| band.0))),
            ("band_high_mm", mm(new.band.map(|band| band.1))),
            ("evenness", new.evenness.into()),
            ("spacing_mm", mm(new.spacing)),
            ("spacing_ratio", new.spacing_ratio.into()),
            ("roundness", new.roundness.into()),
            ("colours", Patch::written(&new.colours).into()),
        ];
        self.insert("measurement", &columns)
    }

    /// Drops one measurement.
    pub fn drop_measurement(&mut self, id: i64) -> Read<()> {
        self.delete("measurement", id)
    }

    /// Drops a photo and what was measured in it; the original stays for an undo.
    pub fn drop_photo(&mut self, id: i64) -> Read<()> {
        for one in self.read().measurements(id)? {
            self.delete("measurement", one.id)?;
        }
        self.delete("photo", id)
    }
}

pub(super) fn photo(row: &Row<'_>) -> rusqlite::Result<Photo> {
    Ok(Photo {
        id: row.get("id")?,
        pour: row.get("pour_id")?,
        sha256: row.get("sha256")?,
        format: row.get("format")?,
        bytes: row.get("bytes")?,
        pixels: (row.get("width")?, row.get("height")?),
        taken: moment_in(row, "taken_at_ms", "taken_offset_min")?,
        taken_by: TakenBy::of_word(&row.get::<_, String>("taken_by")?).unwrap_or(TakenBy::Said),
        dry: row.get("dry")?,
        corners: row.get("corners")?,
        thumbnail: row.get("thumbnail")?,
        note: row.get("note")?,
    })
}

pub(super) fn measurement(row: &Row<'_>) -> rusqlite::Result<Measurement> {
    let mm = |name: &str| -> rusqlite::Result<Option<Millimetres>> {
        Ok(row.get::<_, Option<f64>>(name)?.map(Millimetres))
    };
    Ok(Measurement {
        id: row.get("id")?,
        photo: row.get("photo_id")?,
        at: moment_of(row)?,
        method: row.get("method")?,
        corners: row.get("corners")?,
        how: row.get("how")?,
        cells: row.get("cells")?,
        per_dm2: row.get("per_dm2")?,
        share: Share(row.get("share")?),
        glare: Share(row.get("glare")?),
        median: mm("median_mm")?,
        mean: mm("mean_mm")?,
        p10: mm("p10_mm")?,
        p90: mm("p90_mm")?,
        band: mm("band_low_mm")?.zip(mm("band_high_mm")?),
        evenness: row.get("evenness")?,
        spacing: mm("spacing_mm")?,
        spacing_ratio: row.get("spacing_ratio")?,
        roundness: row.get("roundness")?,
        colours: parsed_in(row, "colours", Patch::read_all)?,
    })
}
