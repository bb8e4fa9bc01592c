//! What is reckoned of a reading, a film that dries, and the pictures that lie on the rack.

use super::{Telling, band, estimate, number};
use crate::numbers::flow_cup::FlowCup;
use crate::studio::{Drying, RackLine};
use crate::tell::models;
use crate::trade::moment::Moment;
use crate::trade::units::{
    Band, Celsius, Days, Hours, Millimetres, Seconds, SquareMillimetresPerSecond,
};
use schemars::JsonSchema;
use serde::Serialize;

/// A reading of a flow cup.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FlowCupView {
    cup: String,
    efflux_s: f64,
    mm2_s: f64,
}

impl FlowCupView {
    /// So long a flow out of a cup.
    #[must_use]
    pub fn of(cup: FlowCup, efflux: Seconds, viscosity: SquareMillimetresPerSecond) -> Self {
        Self {
            cup: cup.code().to_owned(),
            efflux_s: efflux.get(),
            mm2_s: estimate(viscosity.get()),
        }
    }
}

/// How a film dries.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DryingView {
    /// How many times as long as in usual air, from and to.
    factor: [f64; 2],
    touch_dry_h: [f64; 2],
    varnish_days: [f64; 2],
    creep_in_10_min_mm: Option<f64>,
    dry_film_mm: [f64; 3],
    /// Whether the room is too cold for a film to form.
    cold: bool,
    dew_point_c: Option<f64>,
    levels_in_s: Option<[f64; 3]>,
}

impl DryingView {
    /// A film in a room's air; how far it creeps and how fast it levels, where those were asked for.
    #[must_use]
    pub fn of(drying: &Drying, levels: Option<Band<Seconds>>, creep: Option<Millimetres>) -> Self {
        Self {
            factor: ends(drying.factor),
            touch_dry_h: ends(drying.touch.map(Hours::get)),
            varnish_days: ends(drying.varnish.map(Days::get)),
            creep_in_10_min_mm: creep.map(|creep| estimate(creep.get())),
            dry_film_mm: band(drying.film.map(Millimetres::get)),
            cold: drying.is_cold,
            dew_point_c: drying.dew_point.map(Celsius::get).map(number),
            levels_in_s: levels.map(|levels| band(levels.map(Seconds::get))),
        }
    }
}

fn ends(band: Band<f64>) -> [f64; 2] {
    [number(band.low), number(band.high)]
}

/// The pictures on the rack.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RackView {
    at: String,
    pictures: Vec<RackLineView>,
}

/// A picture on the rack. A date is null where none can be said.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct RackLineView {
    pour: i64,
    poured_at: String,
    film_mm: f64,
    air_entered: bool,
    touch_dry: Option<[String; 2]>,
    judged_dry: bool,
    varnish: Option<[String; 2]>,
    /// Why no date can be said.
    why_not: Option<String>,
}

impl RackView {
    /// All of them.
    #[must_use]
    pub fn of(rack: &[RackLine], telling: &Telling<'_>) -> Self {
        let line = |line: &RackLine| RackLineView::of(line, telling);
        Self {
            at: telling.stamp(telling.now.at),
            pictures: rack.iter().map(line).collect(),
        }
    }
}

impl RackLineView {
    fn of(line: &RackLine, telling: &Telling<'_>) -> Self {
        let dates = |band: &Band<Moment>| [telling.stamp(band.low), telling.stamp(band.high)];
        Self {
            pour: line.page.pour.id,
            poured_at: telling.stamp(line.page.pour.at),
            film_mm: number(line.film.get()),
            air_entered: line.air_known,
            touch_dry: line.touch.as_ref().ok().map(dates),
            judged_dry: line.judged_dry(),
            varnish: line.varnish.as_ref().ok().map(dates),
            why_not: line.touch.as_ref().err().map(|why| models::drying(*why)),
        }
    }
}
