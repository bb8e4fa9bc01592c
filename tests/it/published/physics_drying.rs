//! Air and drying.

use crate::near::in_share;
use stillcup::numbers::drying::*;
use stillcup::trade::units::{Celsius, Millimetres, Share};

fn air(t: f64, rh: f64) -> Air {
    Air {
        temperature: Celsius(t),
        humidity: Share(rh),
    }
}

/// READ: handbook table of water's vapour pressure, kPa; and ASHRAE Fundamentals 2017, chapter 1, table 3, Pa. 0.4 %
/// covers Magnus's formula.
#[test]
fn saturation_pressure() {
    let kpa = [
        (0.0, 0.6113),
        (10.0, 1.2281),
        (15.0, 1.7056),
        (20.0, 2.3388),
        (25.0, 3.1690),
        (30.0, 4.2455),
    ];
    for (t, want) in kpa {
        in_share(saturation(Celsius(t)).0 / 1000.0, want, 4e-3);
    }
    in_share(saturation(Celsius(5.0)).0, 872.6, 4e-3);
    in_share(saturation(Celsius(25.0)).0, 3169.7, 4e-3);
}

/// COMPUTED from Magnus's coefficients (WMO No. 8, 2008; READ); the digits printed.
#[test]
fn magnus_values() {
    let rows = [
        (0.0, 611.20),
        (10.0, 1226.03),
        (15.0, 1701.67),
        (20.0, 2332.60),
        (23.0, 2802.51),
        (25.0, 3160.06),
        (30.0, 4233.72),
    ];
    for (t, want) in rows {
        in_share(saturation(Celsius(t)).0, want, 5e-6);
    }
}

/// COMPUTED: T, RH, deficit Pa, factor, wet bulb C, factor. Wet bulbs by a general psychrometrics library, whose
/// saturation formula is another one: 0.03 C and 1 %.
#[test]
fn drying_factors() {
    let rows = [
        (23.0, 0.50, 1401.3, 1.000, 16.25, 1.000),
        (20.0, 0.50, 1166.3, 1.201, 13.78, 1.086),
        (20.0, 0.65, 816.4, 1.716, 15.80, 1.606),
        (15.0, 0.60, 680.7, 2.059, 10.82, 1.614),
        (10.0, 0.80, 245.2, 5.715, 8.29, 3.947),
        (18.0, 0.70, 617.7, 2.268, 14.63, 2.003),
        (25.0, 0.30, 2212.0, 0.633, 14.42, 0.639),
        (28.0, 0.80, 754.2, 1.858, 25.21, 2.427),
        (30.0, 0.30, 2963.6, 0.473, 17.97, 0.562),
        (30.0, 0.90, 423.4, 3.310, 28.59, 4.825),
    ];
    for (t, rh, pascals, plain, bulb, cooled) in rows {
        let air = air(t, rh);
        in_share(deficit(air).0, pascals, 1e-4);
        in_share(deficit_factor(air), plain, 1e-3);
        assert!(
            (wet_bulb(air).0 - bulb).abs() < 0.03,
            "{t} {rh}: {:?}",
            wet_bulb(air)
        );
        in_share(wet_bulb_factor(air), cooled, 0.01);
    }
}

/// COMPUTED: 23 C, 50 %: dew point 12.01 C.
#[test]
fn dew_point_of_standard_air() {
    assert!((dew_point(STANDARD_AIR).unwrap().0 - 12.01).abs() < 0.01);
}

/// PRACTICE: 48 h to the touch and 21 days to varnish at 23 C, 50 %, 1.0 mm wet; both lie in the band.
#[test]
fn practice_times() {
    let touch = touch_dry(STANDARD_AIR, Millimetres(1.0)).unwrap();
    in_share(touch.mid.0, 48.0, 1e-9);
    assert!(touch.low.0 <= 48.0 && 48.0 <= touch.high.0);
    in_share(
        varnish_ready(STANDARD_AIR, Millimetres(1.0)).unwrap().mid.0,
        21.0,
        1e-9,
    );
}
