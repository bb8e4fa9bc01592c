//! The rack: pictures drying, and when they may be touched and varnished.

use crate::numbers::creep;
use crate::numbers::drying::{self, Air as DryingAir, DryingError, STANDARD_AIR};
use crate::numbers::film::dries_to;
use crate::numbers::mound;
use crate::studio::{Answer, Limit, PourPage, Refusal, Studio};
use crate::trade::instant::Now;
use crate::trade::judgement::{Fate, Judgement};
use crate::trade::moment::{Moment, earlier, later, milliseconds};
use crate::trade::pour::Air;
use crate::trade::units::{
    Band, Celsius, Days, Degrees, Density, Hours, Millilitres, Millimetres, Seconds, Share,
};
use chrono::TimeDelta;

/// How long a picture dries in some air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drying {
    /// How many times longer than in the standard air.
    pub factor: Band<f64>,
    /// Until it is dry to the touch.
    pub touch: Band<Hours>,
    /// Until it may be varnished.
    pub varnish: Band<Days>,
    /// What the film dries to: an estimate.
    pub film: Band<Millimetres>,
    /// Below which a panel gathers damp from this air; `None` for bone-dry air.
    pub dew_point: Option<Celsius>,
    /// Whether it is so cold that the binder may form no sound film.
    pub is_cold: bool,
}

/// When something is so, or why no date can be said.
pub type Dates = Result<Band<Moment>, DryingError>;

/// A picture on the rack.
#[derive(Debug, Clone)]
pub struct RackLine {
    /// The pour that made it.
    pub page: PourPage,
    /// Its wet film, all layers together.
    pub film: Millimetres,
    /// The air it is reckoned with.
    pub air: Air,
    /// Whether that air was entered, or is the standard one.
    pub air_known: bool,
    /// When it is dry to the touch, as dates; why none can be said where the model does not hold.
    pub touch: Dates,
    /// When it may be varnished.
    pub varnish: Dates,
}

impl RackLine {
    /// Whether it was judged dry: only then is it known that it may be varnished.
    #[must_use]
    pub fn judged_dry(&self) -> bool {
        self.page.judgements.iter().any(|one| one.dry)
    }
}

/// How long pictures stay on the rack: past this they are taken as hung.
const SHOWN_DAYS: i64 = 120;

impl Studio {
    /// Every picture that is drying, or may be varnished, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn rack(&self, now: &Now) -> Answer<Vec<RackLine>> {
        let since = earlier(now.at, TimeDelta::days(SHOWN_DAYS));
        let room = self.room_air()?;
        let pictures = self.pictures()?;
        let sold = |page: &PourPage| {
            let picture = pictures.get(&page.pour.id);
            picture.is_some_and(|picture| picture.sale.is_some())
        };
        let pages = self.pours(Some(since))?.into_iter();
        let pages = pages.filter(|page| lies_there(page) && !sold(page));
        Ok(pages.map(|page| line(page, room)).collect())
    }

    /// Every picture that was ever poured, newest first, with what became of it; `None` where it lies on the rack or hangs
    /// unvarnished.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn all_pictures(&self) -> Answer<Vec<(RackLine, Option<Fate>)>> {
        let room = self.room_air()?;
        let pictures = self.pictures()?;
        let pages = self.pours(None)?.into_iter();
        let became = |page: PourPage| {
            let sold = pictures.get(&page.pour.id);
            let sold = sold.is_some_and(|picture| picture.sale.is_some());
            let fate = match (is_scraped(&page), sold) {
                (true, _) => Some(Fate::Scraped),
                (false, true) => Some(Fate::Sold),
                (false, false) => fate(&page),
            };
            (line(page, room), fate)
        };
        Ok(pages.map(became).collect())
    }

    /// The picture of one pour, wherever it is by now.
    ///
    /// # Errors
    /// Where there is no such pour, or the store cannot be read.
    pub(crate) fn rack_line(&self, pour: i64) -> Answer<RackLine> {
        Ok(line(self.pour_page(pour)?, self.room_air()?))
    }

    /// The air of the room as it was last entered; else as a sensor told it last.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn room_air(&self) -> Answer<Option<Air>> {
        let text = self.book.read()?.setting("air")?;
        let entered = text.and_then(|text| Air::parse(&text).ok());
        Ok(entered.or(self.sensed.last().and_then(|(_, air)| *air)))
    }
}

/// How long a film dries in some air.
///
/// # Errors
/// Outside what the model holds for, with a sentence that names it.
pub fn drying(air: Air, film: Millimetres) -> Answer<Drying> {
    let air = complete(air);
    Ok(Drying {
        factor: drying::air_factor(air)?,
        touch: drying::touch_dry(air, film)?,
        varnish: drying::varnish_ready(air, film)?,
        film: dries_to(film),
        dew_point: drying::dew_point(air),
        is_cold: air.temperature < drying::FILM_FORMS,
    })
}

/// The most a film can creep in ten minutes on a table out of level, for a mound; the thickest guess of runniness.
///
/// # Errors
/// Where the mound or the slope is none.
pub fn creep_in_ten_minutes(
    film: Millimetres,
    mound: Seconds,
    slope: Degrees,
) -> Answer<Millimetres> {
    if !(0.0..=45.0).contains(&slope.get()) {
        return Err(Refusal::Range(Limit::Slope).into());
    }
    let viscosity = mound::viscosity(mound)?;
    let wet = creep::Film {
        thickness: film,
        density: Density(1.2),
        viscosity: viscosity.low,
    };
    Ok(creep::at_most(wet, slope, Hours(1.0 / 6.0)))
}

fn lies_there(page: &PourPage) -> bool {
    let varnished = |one: &Judgement| one.fate == Some(Fate::Varnished);
    !is_scraped(page) && fate(page) != Some(Fate::Sold) && !page.judgements.iter().any(varnished)
}

/// Whether a pour's paint is off its panel: no picture is left of it.
pub(in crate::studio) fn is_scraped(page: &PourPage) -> bool {
    page.scraped_for.is_some() || fate(page) == Some(Fate::Scraped)
}

fn fate(page: &PourPage) -> Option<Fate> {
    page.judgements.iter().rev().find_map(|one| one.fate)
}

fn line(page: PourPage, room: Option<Air>) -> RackLine {
    let ml: Millilitres = page.pour.layers.iter().map(|layer| layer.ml).sum();
    let film = page.pour.panel.film(ml);
    let entered = room.or(page.pour.air);
    let air = complete(entered.unwrap_or(Air {
        celsius: None,
        humidity: None,
    }));
    let at = page.pour.at;
    let touch = drying::touch_dry(air, film).map(|band| band.map(|time| after(at, time)));
    let days = |time: Days| after(at, Hours(time.get() * 24.0));
    let varnish = drying::varnish_ready(air, film).map(|band| band.map(days));
    RackLine {
        film,
        air: Air {
            celsius: Some(air.temperature),
            humidity: Some(air.humidity),
        },
        air_known: entered.is_some(),
        touch,
        varnish,
        page,
    }
}

/// An air of which one half was not entered takes the standard's.
fn complete(air: Air) -> DryingAir {
    DryingAir {
        temperature: air
            .celsius
            .unwrap_or(Celsius(STANDARD_AIR.temperature.get())),
        humidity: air.humidity.unwrap_or(Share(STANDARD_AIR.humidity.get())),
    }
}

fn after(at: Moment, time: Hours) -> Moment {
    later(at, milliseconds(time.get() * 3_600_000.0))
}
