//! The colour that paints mix to: subtractive, by weight; and the plain word nearest to a colour.
//!
//! P. Kubelka and F. Munk, "Ein Beitrag zur Optik der Farbanstriche", Zeitschrift für technische Physik 12, 1931, 593-601
//! (read at second hand): of a film that hides its ground, K/S = (1 - R)^2 / 2R, and R = 1 + K/S - sqrt((K/S)^2 + 2 K/S).
//! With one constant a paint (D. R. Duncan, "The colour of pigment mixtures", Proceedings of the Physical Society 52, 1940,
//! 390-401, read at second hand), the K/S of a mixture is the mean of its parts' by weight. It is taken here on three
//! bands, the linear light of red, green and blue in sRGB.
//!
//! What it does not know, so that it is never a promise: how strongly each paint tints (titanium white and phthalo colours far
//! more than their weight says), as all are taken to tint alike; what the surface mirrors (the correction of J. L.
//! Saunderson, 1942, is left out); how a thin or clear film lets its ground shine through. Three bands stand for a
//! spectrum: mixtures of strong colours come out darker and duller than they are.

use crate::numbers::cells::colour::{ciede2000, from_linear, lab_of, to_linear};
use crate::trade::colour::{Colour, WORDS};

/// A band of a screen's colour may be nothing, which no paint mirrors: black paints mirror half a per cent and more
/// (our own choice, so that one part does not swallow all).
const LEAST: f64 = 0.005;

/// K/S of a film that hides its ground and mirrors a share `0 < r <= 1` of the light.
#[must_use]
pub fn absorbed(r: f64) -> f64 {
    (1.0 - r) * (1.0 - r) / (2.0 * r)
}

/// The share of the light that such a film mirrors, from its K/S of nothing or more.
#[must_use]
pub fn mirrored(ratio: f64) -> f64 {
    // 1 + q - sqrt(q^2 + 2q) as a quotient, which keeps its digits where q is large.
    1.0 / (1.0 + ratio + (ratio * ratio + 2.0 * ratio).sqrt())
}

/// The colour of paints by weight; `None` of nothing. Any weights serve, only their proportion counts.
#[must_use]
pub fn mixed(parts: &[(f64, Colour)]) -> Option<Colour> {
    let good = |weight: f64| weight.is_finite() && weight > 0.0;
    let parts: Vec<_> = parts.iter().filter(|part| good(part.0)).collect();
    let (_, first) = parts.first()?;
    if parts.iter().all(|(_, colour)| colour == first) {
        return Some(*first);
    }
    let whole: f64 = parts.iter().map(|part| part.0).sum();
    let band = |at: usize| {
        let ratio = |(weight, Colour(rgb)): &&(f64, Colour)| {
            let light = to_linear(f64::from(rgb[at]) / 255.0);
            weight / whole * absorbed(light.max(LEAST))
        };
        let light = mirrored(parts.iter().map(ratio).sum());
        (from_linear(light) * 255.0).round() as u8
    };
    Some(Colour([band(0), band(1), band(2)]))
}

/// The plain word whose colour is the nearest by CIEDE2000.
#[must_use]
pub fn word(of: Colour) -> &'static str {
    let own = lab_of(of.0);
    let apart = |other: Colour| ciede2000(own, lab_of(other.0));
    let nearest =
        |one: &&(&str, Colour), other: &&(&str, Colour)| apart(one.1).total_cmp(&apart(other.1));
    WORDS.iter().min_by(nearest).map_or("", |(word, _)| word)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn colour(text: &str) -> Colour {
        Colour::parse(text).unwrap()
    }

    #[test]
    fn each_word_is_the_nearest_to_its_own_colour() {
        for (said, colour) in WORDS {
            assert_eq!(word(colour), said);
        }
    }

    #[test]
    fn yellow_and_blue_are_green_and_white_lightens() {
        let green = mixed(&[(1.0, colour("#f4d018")), (1.0, colour("#1e5ab4"))]).unwrap();
        let [r, g, b] = green.0;
        assert!(g > r && g > b, "{green}");
        let pink = mixed(&[(1.0, colour("red")), (3.0, colour("white"))]).unwrap();
        assert!(lab_of(pink.0)[0] > lab_of(colour("red").0)[0]);
    }

    #[test]
    fn nothing_has_no_colour_and_no_part_of_nothing_counts() {
        assert_eq!(mixed(&[]), None);
        assert_eq!(
            mixed(&[(0.0, colour("red")), (f64::NAN, colour("blue"))]),
            None
        );
        let parts = [(0.0, colour("red")), (2.0, colour("blue"))];
        assert_eq!(mixed(&parts), Some(colour("blue")));
    }

    proptest! {
        #[test]
        fn what_is_mirrored_comes_back(r in 0.001..=1.0_f64) {
            prop_assert!((mirrored(absorbed(r)) - r).abs() < 1e-9);
        }

        #[test]
        fn a_mixture_lies_between_its_parts_on_every_band(a: [u8; 3], b: [u8; 3], share in 0.01..100.0_f64) {
            let mix = mixed(&[(share, Colour(a)), (1.0, Colour(b))]).unwrap();
            for at in 0..3 {
                // Below the least that a paint mirrors a band is that least, 17 of 255.
                let (low, high) = (a[at].min(b[at]), a[at].max(b[at]).max(17));
                prop_assert!((low..=high).contains(&mix.0[at]), "{mix}");
            }
        }

        #[test]
        fn the_order_and_the_unit_of_weight_do_not_count(a: [u8; 3], b: [u8; 3], share in 0.01..100.0_f64) {
            let one = mixed(&[(share, Colour(a)), (1.0, Colour(b))]).unwrap();
            let other = mixed(&[(7.0, Colour(b)), (7.0 * share, Colour(a))]).unwrap();
            for at in 0..3 {
                prop_assert!(one.0[at].abs_diff(other.0[at]) <= 1);
            }
        }
    }
}
