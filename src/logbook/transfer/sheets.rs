//! Plain tables for a spreadsheet: one question each, answered row by row.

use crate::logbook::{Logbook, LogbookError, Value};
use crate::trade::moment;
use crate::trade::words::word_enum;

word_enum! {
    /// A table that can be written out for a spreadsheet.
    Sheet {
        /// Every cup.
        Cups = "cups",
        /// Every line of every cup's life.
        Entries = "entries",
        /// Every pour.
        Pours = "pours",
        /// Every judgement.
        Judgements = "judgements",
        /// Every photo, and the last that was measured in it.
        Photos = "photos",
        /// Every material.
        Materials = "materials",
    }
}

impl Sheet {
    // A column whose name ends in `at` is an instant; the column after it is its offset and is not shown.
    const fn sql(self) -> &'static str {
        match self {
            Self::Cups => {
                "SELECT cup.uid, cup.mark, recipe.name AS recipe, variant.number AS variant, recipe.layer, \
                 cup.at_ms AS mixed_at, cup.offset_min, cup.volume_ml, cup.depth_mm, cup.diameter_mm, cup.tape, \
                 cup.spent_at_ms AS spent_at, cup.offset_min, cup.note FROM cup \
                 JOIN variant ON variant.id = cup.variant_id JOIN recipe ON recipe.id = variant.recipe_id \
                 ORDER BY cup.id"
            }
            Self::Entries => {
                "SELECT entry.uid, cup.uid AS cup, cup.mark, entry.at_ms AS at, entry.offset_min, entry.kind, \
                 entry.minutes, entry.mound_s, entry.flow_cup, entry.efflux_s, entry.ml, \
                 material.name AS material, entry.hard, entry.word, into_cup.mark AS into_cup, \
                 entry.pour_id AS pour, from_cup.mark AS from_cup, entry.thinner_ml FROM entry JOIN cup ON cup.id = entry.cup_id \
                 LEFT JOIN material ON material.id = entry.material_id \
                 LEFT JOIN cup AS into_cup ON into_cup.id = entry.into_cup_id \
                 LEFT JOIN cup AS from_cup ON from_cup.id = entry.from_cup_id ORDER BY entry.id"
            }
            Self::Pours => {
                "SELECT pour.id AS pour, pour.uid, pour.at_ms AS at, pour.offset_min, panel.shape, \
                 panel.width_mm, panel.height_mm, pour.go, pour.again_of, pour.way, pour.air_c, pour.air_rh, \
                 (SELECT group_concat(mark, ' ') FROM (SELECT cup.mark FROM layer \
                 JOIN cup ON cup.id = layer.cup_id WHERE layer.pour_id = pour.id ORDER BY layer.place)) AS cups, \
                 (SELECT sum(ml) FROM layer WHERE layer.pour_id = pour.id) AS ml, pour.note, \
                 measurement.per_dm2 AS cells_per_dm2, measurement.share AS cells_share, \
                 measurement.median_mm AS cells_median_mm, measurement.evenness AS cells_vary_by, \
                 measurement.glare AS glare_share, measurement.method AS measured_by \
                 FROM pour JOIN panel ON panel.id = pour.panel_id \
                 LEFT JOIN measurement ON measurement.id = (SELECT one.id FROM measurement AS one \
                 JOIN photo ON photo.id = one.photo_id WHERE photo.pour_id = pour.id \
                 ORDER BY photo.dry DESC, photo.taken_at_ms DESC, photo.id DESC, one.id DESC LIMIT 1) \
                 ORDER BY pour.id"
            }
            Self::Judgements => {
                "SELECT uid, pour_id AS pour, at_ms AS at, offset_min, dry, cells, size, evenness, lacing, muddy, \
                 crazed, pinholes, fate, note FROM judgement ORDER BY id"
            }
            Self::Photos => {
                "SELECT photo.id AS photo, photo.uid, photo.pour_id AS pour, photo.taken_at_ms AS taken_at, \
                 photo.taken_offset_min AS offset_min, photo.taken_by, photo.dry, photo.sha256, photo.format, \
                 photo.width, photo.height, photo.note, measurement.method AS measured_by, measurement.how AS corners, \
                 measurement.cells, measurement.per_dm2, measurement.share, measurement.glare, \
                 measurement.median_mm, measurement.mean_mm, measurement.p10_mm, measurement.p90_mm, \
                 measurement.band_low_mm, measurement.band_high_mm, measurement.evenness, \
                 measurement.spacing_mm, measurement.spacing_ratio, measurement.roundness, measurement.colours \
                 FROM photo LEFT JOIN measurement ON measurement.id = \
                 (SELECT max(id) FROM measurement WHERE photo_id = photo.id) ORDER BY photo.id"
            }
            Self::Materials => {
                "SELECT uid, name, kind, pack_ml, price, density, colour_index, hazard, priced_ml, colour FROM material ORDER BY id"
            }
        }
    }
}

impl Logbook {
    /// Hands out a sheet: the names of its columns, then each row; an instant as RFC 3339 in its own offset.
    ///
    /// # Errors
    /// What `head` or `each` answers; [`LogbookError`] where the file cannot be read.
    pub fn sheet<E: From<LogbookError>>(
        &self,
        sheet: Sheet,
        head: impl FnOnce(&[&str]) -> Result<(), E>,
        mut each: impl FnMut(&[Value]) -> Result<(), E>,
    ) -> Result<(), E> {
        let mut read = self
            .conn()
            .prepare(sheet.sql())
            .map_err(LogbookError::from)?;
        let names: Vec<String> = read.column_names().map(str::to_owned).collect();
        let shown: Vec<&str> = names
            .iter()
            .map(String::as_str)
            .filter(|name| *name != "offset_min")
            .collect();
        head(&shown)?;
        let mut rows = read.query([]).map_err(LogbookError::from)?;
        while let Some(row) = rows.next().map_err(LogbookError::from)? {
            let values = (0..names.len()).map(|place| {
                let raw = row.get_ref(place).map_err(LogbookError::from)?;
                Value::from_sql(raw)
            });
            let values = values.collect::<Result<Vec<_>, _>>()?;
            each(&told(&names, values))?;
        }
        Ok(())
    }
}

/// Instants put into words, their offsets left out.
fn told(names: &[String], values: Vec<Value>) -> Vec<Value> {
    let is_instant = |place: usize| {
        names
            .get(place + 1)
            .is_some_and(|name| name == "offset_min")
    };
    let mut shown = Vec::with_capacity(values.len());
    for (place, value) in values.iter().enumerate() {
        match (names[place].as_str(), value, values.get(place + 1)) {
            ("offset_min", ..) => {}
            (_, Value::Integer(ms), Some(Value::Integer(offset))) if is_instant(place) => {
                shown.push(instant(*ms, *offset).map_or(Value::Integer(*ms), Value::Text));
            }
            _ => shown.push(value.clone()),
        }
    }
    shown
}

fn instant(at_ms: i64, offset_min: i64) -> Option<String> {
    let at = moment::from_parts(at_ms, i32::try_from(offset_min).ok()?)?;
    Some(at.to_rfc3339_opts(chrono::SecondsFormat::AutoSi, false))
}
