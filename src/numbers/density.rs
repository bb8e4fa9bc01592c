//! The density of what was mixed: volumes add (ideal mixing).
//!
//! By volume: sum(V rho) / sum V. By mass: sum m / sum(m / rho). Unknown as soon as one part is unknown.

use crate::trade::units::{Density, Grams, Millilitres};

/// The density of parts by volume; `None` if a part's density is unknown, or there is nothing.
#[must_use]
pub fn of_volumes(parts: &[(Millilitres, Option<Density>)]) -> Option<Density> {
    let mass = parts
        .iter()
        .map(|&(volume, density)| known(density).map(|d| volume.at(d)))
        .sum::<Option<Grams>>()?;
    let volume: Millilitres = parts.iter().map(|part| part.0).sum();
    ratio(mass, volume)
}

/// The density of parts by mass; `None` if a part's density is unknown, or there is nothing.
#[must_use]
pub fn of_masses(parts: &[(Grams, Option<Density>)]) -> Option<Density> {
    let volume = parts
        .iter()
        .map(|&(mass, density)| known(density).map(|d| mass.at(d)))
        .sum::<Option<Millilitres>>()?;
    let mass: Grams = parts.iter().map(|part| part.0).sum();
    ratio(mass, volume)
}

fn known(density: Option<Density>) -> Option<Density> {
    density.filter(|d| d.is_finite() && d.0 > 0.0)
}

fn ratio(mass: Grams, volume: Millilitres) -> Option<Density> {
    (volume.0 > 0.0).then(|| Density(mass.0 / volume.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn one_unknown_part_makes_the_mix_unknown() {
        let parts = [
            (Millilitres(2.0), Some(Density(1.25))),
            (Millilitres(1.0), None),
        ];
        assert_eq!(of_volumes(&parts), None);
        assert_eq!(of_volumes(&[]), None);
    }

    proptest! {
        #[test]
        fn volume_and_mass_agree_and_lie_between(
            a in 1.0..500.0_f64, b in 1.0..500.0_f64, light in 0.9..1.1_f64, heavy in 1.1..1.6_f64,
        ) {
            let (light, heavy) = (Density(light), Density(heavy));
            let (a, b) = (Millilitres(a), Millilitres(b));
            let by_volume = of_volumes(&[(a, Some(light)), (b, Some(heavy))]).unwrap();
            let by_mass = of_masses(&[(a.at(light), Some(light)), (b.at(heavy), Some(heavy))]).unwrap();
            prop_assert!((by_volume.0 - by_mass.0).abs() < 1e-12);
            prop_assert!(light <= by_volume && by_volume <= heavy);
        }
    }
}
