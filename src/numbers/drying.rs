//! When a picture is dry to the touch, and ready to varnish: a scaled practice value with a wide band.
//!
//! Practice, no source: 48 h and 21 days at 23 C, 50 %, 1.0 mm wet. Water leaves in proportion to the vapour
//! pressure deficit (Dalton's form; Magnus's formula after WMO No. 8). The band spans that and the stricter
//! form for a film cooled to the wet bulb; and a film that dries freely, which goes with its thickness, and one that
//! has skinned, with its square; the times' bands hold the law's own 20 % too (Shah 2002). At 95 % and above it will not
//! dry. Under 10 C an acrylic binder may form no sound film, whatever time it is given: the least temperature stands on
//! its maker's sheet (common practice, no source).

use super::search::bisect;
use crate::trade::units::{Band, Celsius, Days, Hours, Millimetres, Pascals, Share};

/// Air pressure taken for the wet bulb: one standard atmosphere.
const ATMOSPHERE: f64 = 101_325.0;

/// How much warmer than the dew point a surface should be before it is coated (common practice of coating work, from
/// memory, no source).
pub const DEW_MARGIN: Celsius = Celsius(3.0);

/// The air the practice values are for.
pub const STANDARD_AIR: Air = Air {
    temperature: Celsius(23.0),
    humidity: Share(0.5),
};
/// The law is no better than this share.
const LAW: f64 = 0.2;
/// Under this a binder may form no sound film (common practice, no source).
pub const FILM_FORMS: Celsius = Celsius(10.0);
/// Touch-dry at the standard air, 1.0 mm wet: common practice, no source.
const TOUCH_DRY: Hours = Hours(48.0);
/// Varnish-ready at the standard air, 1.0 mm wet: common practice, no source.
const VARNISH_READY: Days = Days(21.0);

/// The air over a drying picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Its temperature.
    pub temperature: Celsius,
    /// Its relative humidity, 0 to 1.
    pub humidity: Share,
}

/// Why no drying time is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DryingError {
    /// The air is too wet for water to leave.
    WillNotDry(f64),
    /// The temperature is outside what the model holds for.
    Temperature(f64),
    /// The humidity is no share between 0 and 1.
    Humidity(f64),
    /// The film is no film.
    Film(f64),
}

/// The saturation pressure of water vapour (Magnus, WMO No. 8; 0.3 % low at most between 0 and 30 C).
#[must_use]
pub fn saturation(temperature: Celsius) -> Pascals {
    let t = temperature.0;
    Pascals(611.2 * (17.62 * t / (243.12 + t)).exp())
}

/// How much more vapour the air could hold.
#[must_use]
pub fn deficit(air: Air) -> Pascals {
    saturation(air.temperature) * (1.0 - air.humidity.0)
}

/// The temperature at which the air's vapour condenses; `None` for bone-dry air.
#[must_use]
pub fn dew_point(air: Air) -> Option<Celsius> {
    let t = air.temperature.0;
    let g = air.humidity.0.ln() + 17.62 * t / (243.12 + t);
    g.is_finite().then(|| Celsius(243.12 * g / (17.62 - g)))
}

/// The temperature a wet, draughty surface cools to (ASHRAE's balance at one atmosphere).
#[must_use]
pub fn wet_bulb(air: Air) -> Celsius {
    let t = air.temperature.0;
    let held = humidity_ratio(saturation(air.temperature).0 * air.humidity.0);
    Celsius(bisect(-40.0, t, |wet| {
        let full = humidity_ratio(saturation(Celsius(wet)).0);
        let balance =
            ((2501.0 - 2.326 * wet) * full - 1.006 * (t - wet)) / (2501.0 + 1.86 * t - 4.186 * wet);
        balance - held
    }))
}

/// How many times longer water takes to leave than at the standard air, by the deficit alone.
#[must_use]
pub fn deficit_factor(air: Air) -> f64 {
    deficit(STANDARD_AIR) / deficit(air)
}

/// The same for a film cooled to the wet bulb.
#[must_use]
pub fn wet_bulb_factor(air: Air) -> f64 {
    cooled_deficit(STANDARD_AIR) / cooled_deficit(air)
}

/// When a film is dry to the touch.
///
/// # Errors
/// Air too wet to dry in, or a value the model does not hold for.
pub fn touch_dry(air: Air, film: Millimetres) -> Result<Band<Hours>, DryingError> {
    Ok(by_law(factor(air, film)?).map(|x| TOUCH_DRY * x))
}

/// When a film is ready to varnish.
///
/// # Errors
/// Air too wet to dry in, or a value the model does not hold for.
pub fn varnish_ready(air: Air, film: Millimetres) -> Result<Band<Days>, DryingError> {
    Ok(by_law(factor(air, film)?).map(|x| VARNISH_READY * x))
}

/// How many times longer than at the standard air, by either form.
///
/// # Errors
/// Air too wet to dry in, or a value the model does not hold for.
pub fn air_factor(air: Air) -> Result<Band<f64>, DryingError> {
    check(air, Millimetres(1.0))?;
    let (a, b) = (deficit_factor(air), wet_bulb_factor(air));
    Ok(spread(a.min(b), a.max(b)))
}

fn factor(air: Air, film: Millimetres) -> Result<Band<f64>, DryingError> {
    check(air, film)?;
    let air = air_factor(air)?;
    let (free, skinned) = (film.0, film.0 * film.0);
    Ok(spread(
        air.low * free.min(skinned),
        air.high * free.max(skinned),
    ))
}

/// A band with what the law itself may be off.
fn by_law(band: Band<f64>) -> Band<f64> {
    Band {
        low: band.low / (1.0 + LAW),
        high: band.high * (1.0 + LAW),
        ..band
    }
}

fn spread(low: f64, high: f64) -> Band<f64> {
    Band {
        low,
        mid: (low * high).sqrt(),
        high,
    }
}

fn check(air: Air, film: Millimetres) -> Result<(), DryingError> {
    let (t, rh) = (air.temperature.0, air.humidity.0);
    if !(0.0..=1.0).contains(&rh) {
        return Err(DryingError::Humidity(rh * 100.0));
    }
    if !(5.0..=45.0).contains(&t) {
        return Err(DryingError::Temperature(t));
    }
    if !film.is_finite() || film.0 <= 0.0 {
        return Err(DryingError::Film(film.0));
    }
    if rh >= 0.95 {
        return Err(DryingError::WillNotDry(rh * 100.0));
    }
    Ok(())
}

fn cooled_deficit(air: Air) -> f64 {
    saturation(wet_bulb(air)).0 - saturation(air.temperature).0 * air.humidity.0
}

fn humidity_ratio(vapour: f64) -> f64 {
    0.621_945 * vapour / (ATMOSPHERE - vapour)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn air(t: f64, rh: f64) -> Air {
        Air {
            temperature: Celsius(t),
            humidity: Share(rh),
        }
    }

    #[test]
    fn standard_air_and_film_give_the_practice_values() {
        let band = touch_dry(STANDARD_AIR, Millimetres(1.0)).unwrap();
        assert!((band.mid.0 - 48.0).abs() < 1e-9);
        assert!((varnish_ready(STANDARD_AIR, Millimetres(1.0)).unwrap().mid.0 - 21.0).abs() < 1e-9);
    }

    #[test]
    fn wet_air_is_refused_and_never_a_number() {
        let error = touch_dry(air(23.0, 0.95), Millimetres(1.0));
        assert_eq!(error, Err(DryingError::WillNotDry(95.0)));
        assert!(touch_dry(air(f64::NAN, 0.5), Millimetres(1.0)).is_err());
        assert!(touch_dry(air(23.0, f64::NAN), Millimetres(1.0)).is_err());
        assert!(touch_dry(air(23.0, 0.5), Millimetres(0.0)).is_err());
    }

    proptest! {
        #[test]
        fn wetter_air_and_thicker_film_never_dry_faster(
            t in 5.0..45.0_f64, rh in 0.0..0.9_f64, more in 0.0..0.04_f64, film in 0.2..4.0_f64, grow in 1.0..2.0_f64,
        ) {
            let base = touch_dry(air(t, rh), Millimetres(film)).unwrap();
            let wetter = touch_dry(air(t, rh + more), Millimetres(film)).unwrap();
            let thicker = touch_dry(air(t, rh), Millimetres(film * grow)).unwrap();
            for other in [wetter, thicker] {
                prop_assert!(other.low.0 >= base.low.0 * 0.999_999 && other.high.0 >= base.high.0 * 0.999_999);
            }
            prop_assert!(base.low <= base.mid && base.mid <= base.high);
        }
    }
}
