//! The colour that paints mix to.

use stillcup::numbers::paint::{absorbed, mirrored, mixed};
use stillcup::trade::colour::Colour;

/// What a film mirrors that is so thick that no more of it changes anything, by the equation that Kubelka and Munk begin
/// with: with each layer put on, dR = S (1 - 2 a R + R^2) dX, a = 1 + K/S. COMPUTED by steps of Runge and Kutta, with
/// none of the formulae that the program uses.
fn grown(ratio: f64) -> f64 {
    let slope = |r: f64| 1.0 - 2.0 * (1.0 + ratio) * r + r * r;
    let step = 0.02 / (1.0 + ratio);
    let mut r = 0.0;
    for _ in 0..200_000 {
        let (a, b) = (slope(r), slope(r + step / 2.0 * slope(r)));
        let c = slope(r + step / 2.0 * b);
        let d = slope(r + step * c);
        r += step / 6.0 * (a + 2.0 * b + 2.0 * c + d);
    }
    r
}

#[test]
fn a_thick_film_mirrors_what_the_equation_of_two_fluxes_grows_to() {
    for ratio in [0.01, 0.1, 0.25, 1.0, 4.05, 20.0, 99.0] {
        assert!((mirrored(ratio) - grown(ratio)).abs() < 1e-9, "{ratio}");
    }
}

/// MEMORY: K/S of .5 is .25, of .1 is 4.05, of .05 is 9.025; the tables of textbooks have them so.
#[test]
fn k_over_s_is_as_in_the_tables() {
    for (r, ratio) in [(0.5, 0.25), (0.1, 4.05), (0.05, 9.025), (1.0, 0.0)] {
        assert!((absorbed(r) - ratio).abs() < 1e-12, "{r}");
    }
}

/// COMPUTED in Python (colour of each band: sRGB to linear light, the mean of K/S, back), rounded to 8 bits.
#[test]
fn mixtures_are_those_of_other_code() {
    let colour = |text: &str| Colour::parse(text).unwrap();
    for (parts, wanted) in MIXTURES {
        let parts: Vec<_> = parts
            .iter()
            .map(|(weight, text)| (*weight, colour(text)))
            .collect();
        assert_eq!(mixed(&parts), Some(colour(wanted)), "{parts:?}");
    }
}

type Mixture = (&'static [(f64, &'static str)], &'static str);

const MIXTURES: [Mixture; 5] = [
    (&[(1.0, "#f4d018"), (1.0, "#1e5ab4")], "#2c7324"),
    (&[(1.0, "#c82226"), (3.0, "#f6f5f1")], "#e1444b"),
    (&[(1.0, "#1a1a1c"), (20.0, "#f6f5f1")], "#6e6e73"),
    (&[(2.0, "#a5174f"), (1.0, "#f7f7f4")], "#b21e5d"),
    (
        &[(1.0, "#ff0000"), (1.0, "#0000ff"), (2.0, "#ffffff")],
        "#261926",
    ),
];
