//! Film and coverage.

use crate::near::in_share;
use stillcup::numbers::film::*;
use stillcup::trade::plan::Panels;
use stillcup::trade::units::*;

const MIL: f64 = 0.0254;

/// READ: two coating guides: 8 mil wet at 35 % solids dries to 2.8 mil; thinned by 10 % the solids are 32 % (31.8).
#[test]
fn dry_film_of_a_wet_one() {
    let dry = dry_film(Millimetres(8.0 * MIL), Share(0.35), Share(0.0));
    in_share(dry.0 / MIL, 2.8, 1e-9);
    let thinned = dry_film(Millimetres(1.0), Share(0.35), Share(0.1));
    in_share(thinned.0 * 100.0, 31.8, 1e-3);
}

/// READ: 65 % at 125 um covers 5.2 m2/L; 65 % at 5 mil 208.52 ft2/gal; 35 % and 50 % at 1 mil 561 and 802 ft2/gal: a
/// volume spread over so much is a wet film that dries to what the table says.
#[test]
fn theoretical_spreading() {
    let dry = |volume: Millilitres, area: f64, solids| {
        dry_film(
            Millimetres(volume.0 * 1000.0 / area),
            Share(solids),
            Share(0.0),
        )
        .0
    };
    in_share(dry(Millilitres(1000.0), 5.2e6, 0.65), 0.125, 1e-9);
    let foot = 144.0 * INCH.0 * INCH.0;
    let gallon = |feet: f64, solids| dry(US_FLUID_OUNCE * 128.0, feet * foot, solids) / MIL;
    in_share(gallon(208.52, 0.65), 5.0, 2e-4);
    in_share(gallon(561.0, 0.35), 1.0, 1e-3);
    in_share(gallon(802.0, 0.50), 1.0, 1e-3);
}

/// COMPUTED: 30 x 40 cm at 1 mm takes 120 ml; 40 um dry at 35 % needs 114.3 um wet, 125.7 thinned by 10 %.
#[test]
fn pour_volume_and_wet_film() {
    let panel = Panels {
        panel: "300x400mm".parse().unwrap(),
        edge: Millimetres(0.0),
        count: 1,
    };
    let paint = volume(painted_area(&panel).unwrap(), Millimetres(1.0), Share(0.0)).unwrap();
    in_share(paint.0, 120.0, 1e-12);
    in_share(
        dry_film(Millimetres(1.0), Share(0.3), Share(0.0)).0,
        0.300,
        1e-12,
    );
    for (wet, thinned) in [(0.1143, 0.0), (0.1257, 0.1)] {
        let dry = dry_film(Millimetres(wet), Share(0.35), Share(thinned));
        in_share(dry.0, 0.04, 5e-4);
    }
}

/// PRACTICE: one US fluid ounce for each 25 square inches: 1.83 mm wet; a 10 x 10 in top takes 4 fl oz.
#[test]
fn practice_amount() {
    in_share(anchor_film().0, 1.83, 2e-3);
    let panel = Panels {
        panel: "10x10in".parse().unwrap(),
        edge: Millimetres(0.0),
        count: 1,
    };
    let paint = volume(painted_area(&panel).unwrap(), anchor_film(), Share(0.0)).unwrap();
    in_share(paint / US_FLUID_OUNCE, 4.0, 1e-12);
}
