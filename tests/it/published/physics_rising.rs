//! Bubbles, levelling, mounds, creep and mixtures.

use crate::near::in_share;
use stillcup::numbers::bubbles::*;
use stillcup::numbers::creep::{self, Film};
use stillcup::numbers::levelling::*;
use stillcup::numbers::{GRAVITY, density, mound};
use stillcup::trade::units::*;

const PAINT: Density = Density(1.2);

/// READ: a school text's example: 0.4 mm, 0.1 Pa s, 900 and 1.29 kg/m3, g = 9.8: 7.829e-4 m/s.
#[test]
fn stokes_worked_example() {
    let speed = rising_speed(Millimetres(0.4), Density(0.898_71), PascalSeconds(0.1));
    in_share(speed.0 * 9.8 / GRAVITY, 0.7829, 1e-4);
    in_share(
        reynolds(Millimetres(0.4), speed, Density(0.9), PascalSeconds(0.1)),
        2.8e-3,
        0.02,
    );
}

/// READ: a school text's example: a bubble of 0.1 mm radius rises 0.35 cm/s in water's density: 6.2e-3 Pa s.
#[test]
fn stokes_inverse_example() {
    let speed = rising_speed(Millimetres(0.2), Density(1.0), PascalSeconds(6.2e-3));
    in_share(speed.0 * 9.8 / GRAVITY, 3.5, 0.005);
}

/// COMPUTED: 1200 kg/m3, 1 Pa s: diameter mm, Stokes um/s, bare skin um/s, seconds for 50 mm.
#[test]
fn rising_speeds() {
    let rows = [
        (0.05, 1.6344, 2.4517, 30_591.0),
        (0.1, 6.5378, 9.8067, 7_648.0),
        (0.2, 26.151, 39.227, 1_912.0),
        (0.5, 163.44, 245.17, 306.0),
        (1.0, 653.78, 980.67, 76.5),
    ];
    for (d, stokes, bare, wait) in rows {
        let speed = rising_speed(Millimetres(d), PAINT, PascalSeconds(1.0)).0;
        in_share(speed * 1000.0, stokes, 4e-5);
        in_share(speed * 1000.0 * BARE_SKIN, bare, 4e-5);
        in_share(50.0 / speed, wait, 5e-4);
    }
}

/// COMPUTED: the smallest bubble that has risen.
#[test]
fn smallest_bubbles() {
    let risen = |t, eta| smallest_risen(Millimetres(50.0), Hours(t), PAINT, PascalSeconds(eta)).0;
    in_share(risen(2.0, 1.0), 0.1031, 5e-4);
    in_share(risen(12.0, 1.0), 0.0421, 1e-3);
    in_share(risen(0.5, 0.5), 0.1458, 5e-4);
}

/// COMPUTED by the rule for spheres (READ: yield parameter 0.143, Beris and others 1985, abstract).
#[test]
fn yield_stress_holds_bubbles() {
    for (tau, held) in [(0.1, 0.18), (0.5, 0.89), (1.0, 1.8), (5.0, 8.9)] {
        in_share(largest_held(Pascals(tau), PAINT).0, held, 0.015);
    }
}

/// READ: Ladenburg's rule as a physics laboratory's model states it: 1 + 2.4 d / D, d / D at most 0.1.
#[test]
fn wall_slows_a_bubble() {
    in_share(
        wall_factor(Millimetres(2.0), Millimetres(80.0)).unwrap(),
        1.06,
        1e-12,
    );
    assert_eq!(wall_factor(Millimetres(9.0), Millimetres(80.0)), None);
}

/// COMPUTED: 1200 kg/m3, 1 Pa s, 0.035 N/m: wavelength, deep without tension, deep, 10 mm, 3 mm, 1 mm.
#[test]
fn levelling_rates() {
    let rows = [
        (3.0, 2.8094, 39.4613, 39.4613, 39.4359, 26.5602),
        (5.0, 4.6823, 26.6735, 26.6735, 25.6572, 9.3071),
        (10.0, 9.3647, 20.3602, 20.3471, 12.2320, 1.9752),
        (20.0, 18.7293, 24.2271, 21.9576, 5.2517, 0.4254),
        (50.0, 46.8233, 49.0224, 17.1052, 1.3953, 0.0631),
    ];
    let rate = |tension, wave, depth: Option<f64>| {
        let surface = Surface {
            density: PAINT,
            tension: NewtonsPerMetre(tension),
        };
        fading_rate(
            surface,
            PascalSeconds(1.0),
            Millimetres(wave),
            depth.map(Millimetres),
        )
        .0
    };
    for (wave, heavy, deep, ten, three, one) in rows {
        in_share(rate(0.0, wave, None), heavy, 2e-5);
        in_share(rate(0.035, wave, None), deep, 2e-5);
        in_share(rate(0.035, wave, Some(10.0)), ten, 2e-5);
        in_share(rate(0.035, wave, Some(3.0)), three, 4e-5);
        in_share(rate(0.035, wave, Some(1.0)), one, 1e-3);
    }
}

/// COMPUTED: the floor's factor; for a thin film it is 2 x3 / 3.
#[test]
fn floor_factor() {
    let rows = [
        (0.1, 0.000_655),
        (0.5, 0.057_574),
        (1.0, 0.240_582),
        (2.0, 0.641_450),
        (3.0, 0.886_721),
        (5.0, 0.994_487),
    ];
    for (x, f) in rows {
        in_share(depth_factor(x), f, 1e-3);
    }
    in_share(depth_factor(0.002), 2.0 * 0.002_f64.powi(3) / 3.0, 1e-3);
}

/// COMPUTED from Orchard's paint formula (MEMORY: Orchard 1962): 50 um, 2 mm, 5 Pa s, 0.03 N/m: 0.0243523 1/s.
/// The full factor at this depth is 4.3 % under the thin form, hence 4.5 %; at
/// ten times the wavelength the two meet.
#[test]
fn orchard_thin_film() {
    let surface = Surface {
        density: Density(1e-9),
        tension: NewtonsPerMetre(0.03),
    };
    let rate = fading_rate(
        surface,
        PascalSeconds(5.0),
        Millimetres(2.0),
        Some(Millimetres(0.05)),
    );
    in_share(rate.0, 0.024_352_3, 0.045);
    let long = fading_rate(
        surface,
        PascalSeconds(5.0),
        Millimetres(20.0),
        Some(Millimetres(0.05)),
    );
    in_share(long.0, 0.024_352_3e-4, 1e-3);
    in_share(fading_time(PerSecond(0.024_352_3), 0.5).0, 28.463, 1e-4);
}

/// COMPUTED, our own derivation: 10 mm deep ripple gone at 5 %: seconds to Pa s; the band holds each.
#[test]
fn mound_viscosity() {
    let surface = Surface {
        density: PAINT,
        tension: NewtonsPerMetre(0.035),
    };
    for (t, eta) in [(1.0, 6.80), (2.0, 13.59), (3.0, 20.39), (5.0, 33.98)] {
        let rate = fading_rate(surface, PascalSeconds(eta), Millimetres(10.0), None);
        in_share(fading_time(rate, 0.05).0, t, 1e-3);
        let band = mound::viscosity(Seconds(t)).unwrap();
        assert!(band.low.0 < eta && eta < band.high.0);
    }
    in_share(
        mound::viscosity(Seconds(1.0)).unwrap().mid.0,
        (6.8_f64 * 12.6).sqrt(),
        0.01,
    );
}

fn film(h: f64, density: f64, viscosity: f64) -> Film {
    Film {
        thickness: Millimetres(h),
        density: Density(density),
        viscosity: PascalSeconds(viscosity),
    }
}

/// The volume that passes each millimetre of width in a second, in mm2/s, in which the examples are told: two thirds of
/// the surface's speed over the whole film (Bird, Stewart and Lightfoot, 2.2-19 and 2.2-20).
fn flow_per_width(film: Film, slope: Degrees) -> f64 {
    creep::surface_speed(film, slope).0 * 2.0 / 3.0 * film.thickness.0
}

/// READ: Bird, Stewart and Lightfoot, example 2.2-1 (2nd edition, p. 47): 2e-4 m2/s, 800 kg/m3, 2.5 mm, vertical,
/// g = 9.80: 0.204 kg/(m s).
#[test]
fn falling_film_example() {
    let flow = flow_per_width(film(2.5, 0.8, 0.16), Degrees(90.0));
    in_share(flow * 9.80 / GRAVITY * 800.0 * 1e-6, 0.204, 1e-3);
}

/// READ: the same, problem 2A.1: water at 20 C, Re = 10 (4 x mass flow / viscosity), film 0.00361 in.
#[test]
fn falling_water_problem() {
    let flow = flow_per_width(film(0.00361 * 25.4, 0.9982, 1.0019e-3), Degrees(90.0));
    in_share(4.0 * flow * 0.9982 * 1e-3 / 1.0019e-3, 10.0, 3e-3);
}

/// COMPUTED: 1200 kg/m3, 1 Pa s: thickness, slope, mm/s, mm in ten minutes, mm2/s.
#[test]
fn creeping_films() {
    let in_500 = creep::slope(Millimetres(1.0), Millimetres(500.0));
    let rows = [
        (1.0, Degrees(0.1), 0.01027, 6.162, 0.006_847),
        (1.0, in_500, 0.01177, 7.061, 0.007_845),
        (1.0, Degrees(0.5), 0.05135, 30.81, 0.03423),
        (1.0, Degrees(1.0), 0.10269, 61.61, 0.06846),
        (2.0, Degrees(1.0), 0.41076, 246.5, 0.5477),
        (0.5, Degrees(1.0), 0.02567, 15.40, 0.00856),
    ];
    for (h, slope, speed, crept, flow) in rows {
        let film = film(h, 1.2, 1.0);
        in_share(creep::surface_speed(film, slope).0, speed, 5e-4);
        in_share(creep::at_most(film, slope, Hours(1.0 / 6.0)).0, crept, 5e-4);
        in_share(flow_per_width(film, slope), flow, 1e-3);
    }
    in_share(
        creep::holding_stress(film(1.0, 1.2, 1.0), Degrees(1.0)).0,
        0.205,
        3e-3,
    );
}

/// COMPUTED: mixtures whose volumes add.
#[test]
fn mixtures() {
    let (heavy, light) = (Some(Density(1.25)), Some(Density(1.03)));
    let by_volume = density::of_volumes(&[(Millilitres(2.0), heavy), (Millilitres(1.0), light)]);
    in_share(by_volume.unwrap().0, 1.17667, 1e-5);
    let by_mass = density::of_masses(&[(Grams(2.0), heavy), (Grams(1.0), light)]);
    in_share(by_mass.unwrap().0, 1.16692, 1e-5);
    let water = Some(Density(0.9982));
    let three = density::of_masses(&[
        (Grams(100.0), heavy),
        (Grams(50.0), light),
        (Grams(10.0), water),
    ]);
    in_share(three.unwrap().0, 1.15472, 1e-5);
}
