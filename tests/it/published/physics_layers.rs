//! Heavy paint over light.

use crate::near::in_share;
use stillcup::numbers::GRAVITY;
use stillcup::numbers::layer_instability::{Layer, Lid, fastest, growth_rate};
use stillcup::trade::units::{Density, Millimetres, NewtonsPerMetre, PascalSeconds};

const NONE: NewtonsPerMetre = NewtonsPerMetre(0.0);

fn layer(h: f64, rho: f64, eta: f64) -> Layer {
    Layer {
        thickness: Millimetres(h),
        density: Density(rho),
        viscosity: PascalSeconds(eta),
    }
}

fn rate(h: (f64, f64), eta: (f64, f64), lid: Lid, wave: f64) -> f64 {
    growth_rate(
        layer(h.0, 1.26, eta.0),
        layer(h.1, 1.20, eta.1),
        NONE,
        lid,
        Millimetres(wave),
    )
    .0
}

/// READ: Ramberg's growth factor K = 0.3190 for two layers of 1500 under a wave of 4000, viscosities 1e13 over
/// 1e19, on the benchmark page of a geodynamics package; rigid lid; to the four digits printed.
#[test]
fn ramberg_benchmark() {
    let (h, eta) = (1.5e6, (1e13, 1e19));
    let got = growth_rate(
        layer(h, 3.0, eta.0),
        layer(h, 2.9, eta.1),
        NONE,
        Lid::Rigid,
        Millimetres(4e6),
    )
    .0;
    let k = got * 2.0 * eta.1 / (100.0 * GRAVITY * h / 1000.0);
    in_share(k, 0.3190, 2e-4);
    in_share(k, 0.319_042_23, 1e-6);
    // READ: tip speed 7.4077e-4 cm a year for an amplitude of 10 m, with g = 9.81 and a year of 365.25 days.
    in_share(
        got * 9.81 / GRAVITY * 10.0 * 100.0 * 365.25 * 86_400.0,
        7.4077e-4,
        1e-4,
    );
}

/// MEMORY: Turcotte and Schubert, Geodynamics: equal layers b between rigid plates: 2.568 b and
/// 13.04 eta / (drho g b); 0.1 %, the maximum is flat.
#[test]
fn equal_layers_between_plates() {
    let best = fastest(
        layer(1.0, 1.26, 1.0),
        layer(1.0, 1.20, 1.0),
        NONE,
        Lid::Rigid,
    )
    .unwrap();
    in_share(best.wavelength.0, 2.568, 1e-3);
    in_share(60.0 * GRAVITY * 1e-3 / best.rate.0, 13.04, 1e-3);
}

/// COMPUTED from the closed form, checked there against an 8 x 8 boundary-value solve; the digits printed.
#[test]
fn growth_at_fixed_wavelengths() {
    let rows = [
        (1.0, 0.023_402_99, 0.023_396_55),
        (2.0, 0.043_847_14, 0.042_206_29),
        (3.0, 0.050_916_05, 0.043_869_72),
        (4.0, 0.046_776_58, 0.036_062_70),
        (6.0, 0.031_853_97, 0.021_407_71),
        (10.0, 0.014_655_29, 0.008_931_20),
        (20.0, 0.004_082_47, 0.002_372_17),
    ];
    for (wave, free, rigid) in rows {
        in_share(rate((1.0, 1.0), (1.0, 1.0), Lid::Free, wave), free, 5e-6);
        in_share(rate((1.0, 1.0), (1.0, 1.0), Lid::Rigid, wave), rigid, 5e-6);
    }
    in_share(
        rate((1.0, 2.0), (3.0, 1.0), Lid::Free, 4.0),
        0.034_821_592_6,
        1e-8,
    );
    in_share(
        rate((1.0, 2.0), (3.0, 1.0), Lid::Rigid, 4.0),
        0.024_219_960_9,
        1e-8,
    );
}

/// COMPUTED: the fastest mode under a free top: h1, h2, eta1, eta2, wavelength, rate.
#[test]
fn fastest_modes() {
    let rows = [
        (1.0, 1.0, 1.0, 1.0, 3.001, 0.05092),
        (2.0, 2.0, 1.0, 1.0, 6.002, 0.10183),
        (0.5, 0.5, 1.0, 1.0, 1.500, 0.02546),
        (0.5, 1.0, 1.0, 1.0, 2.264, 0.03697),
        (1.0, 0.5, 1.0, 1.0, 1.796, 0.02833),
        (1.0, 1.0, 1.0, 2.0, 2.929, 0.03285),
        (1.0, 1.0, 2.0, 1.0, 3.150, 0.03555),
        (1.0, 1.0, 10.0, 1.0, 3.839, 0.01104),
        (1.0, 1.0, 1.0, 10.0, 2.925, 0.00867),
        (1.0, 1.0, 5.0, 5.0, 3.001, 0.01018),
    ];
    for (h1, h2, e1, e2, wave, n) in rows {
        let best = fastest(layer(h1, 1.26, e1), layer(h2, 1.20, e2), NONE, Lid::Free).unwrap();
        in_share(best.wavelength.0, wave, 1e-3);
        in_share(best.rate.0, n, 6e-4);
    }
    let equal = fastest(
        layer(1.0, 1.26, 1.0),
        layer(1.0, 1.20, 1.0),
        NONE,
        Lid::Free,
    )
    .unwrap();
    in_share(equal.wavelength.0, 3.0008, 1e-4);
    in_share(equal.rate.0, 0.086_533 * 60.0 * GRAVITY * 1e-3, 1e-5);
}

/// COMPUTED: deep layers, n = drho g / (2 k (eta1 + eta2)): 0.02341165 at 1 mm.
#[test]
fn deep_layers() {
    in_share(
        rate((50.0, 50.0), (1.0, 1.0), Lid::Free, 1.0),
        0.023_411_65,
        1e-6,
    );
    in_share(
        rate((50.0, 50.0), (1.0, 1.0), Lid::Rigid, 1.0),
        0.023_411_65,
        1e-6,
    );
}

/// COMPUTED: 1 mN/m stills every wave under 8.19 mm at 60 kg/m3.
#[test]
fn tension_stills_short_waves() {
    let (upper, lower) = (layer(5.0, 1.26, 1.0), layer(5.0, 1.20, 1.0));
    let n = |wave| {
        growth_rate(
            upper,
            lower,
            NewtonsPerMetre(1e-3),
            Lid::Free,
            Millimetres(wave),
        )
        .0
    };
    assert!(n(8.18) < 0.0 && n(8.20) > 0.0);
}

/// READ: a note on Zetina, Godinez and Zenit 2015: 5 % density, a pattern in about five minutes. COMPUTED: met
/// by layers of 1 mm and 3 Pa s, a hundredfold in 271 s.
#[test]
fn five_per_cent_shows_in_about_five_minutes() {
    let best = fastest(
        layer(1.0, 1.26, 3.0),
        layer(1.0, 1.20, 3.0),
        NONE,
        Lid::Free,
    )
    .unwrap();
    in_share(best.time_to_show().0, 271.0, 2e-3);
}
