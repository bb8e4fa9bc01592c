//! What is said of a material on the shelf.

use crate::numbers::paint;
use crate::studio::ShelfLine;
use crate::trade::amount::Measures;
use crate::trade::caution::{Place, at};
use crate::trade::colour::Colour;
use crate::trade::material::Material;
use crate::trade::text::inert;
use crate::trade::units::US_FLUID_OUNCE;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

/// What one millilitre costs, or one fluid ounce: `0.036 EUR/ml`, `1.06 USD/fl oz`; `None` where it is not known.
#[must_use]
pub fn price_each(material: &Material, currency: &str, measures: Measures) -> Option<String> {
    let (unit, holds, places) = match measures {
        Measures::Metric => ("ml", 1.0, 3),
        Measures::UsCustomary => ("fl oz", US_FLUID_OUNCE.get(), 2),
    };
    let price = material.price_per_ml()?;
    if price.is_zero() {
        return Some("free".to_owned());
    }
    let price = price.checked_mul(Decimal::from_f64(holds)?)?;
    // Two figures at least, however cheap it is.
    let figures = price.round_sf(2).map_or(0, |two| two.scale());
    let places = figures.max(places);
    let price = price.round_dp(places);
    let price = format!("{price:.0$} {1}", places as usize, inert(currency));
    Some(format!("{}/{unit}", price.trim_end()))
}

/// A paint's colour: `#1e5ab4 blue`.
#[must_use]
pub fn colour(colour: Colour) -> String {
    format!("{colour} {}", paint::word(colour))
}

/// For how many whole days what is left lasts, never more than there is: `12 d`; `None` where it cannot be told.
#[must_use]
pub fn lasts(line: &ShelfLine) -> Option<String> {
    line.days_of_supply().map(|days| match days.get() {
        many if many > 999.0 => ">999 d".to_owned(),
        days => format!("{:.0} d", days.floor()),
    })
}

/// What calls for care: the metals of its pigment by its Colour Index name, and what its label warns of; nothing twice.
/// Empty where neither is known.
#[must_use]
pub fn care(line: &ShelfLine) -> String {
    let label = line.material.hazard.as_deref().unwrap_or_default();
    let label = label.trim().trim_end_matches('.');
    let said = label.to_lowercase();
    let metals = line.metals().iter().map(ToString::to_string);
    let unsaid = metals.filter(|metal| !said.contains(&metal.to_lowercase()));
    let label = (!label.is_empty()).then(|| label.to_owned());
    unsaid.chain(label).collect::<Vec<_>>().join("; ")
}

/// What its metals ask of the hands, as far as its label does not say it; none where it has none.
#[must_use]
pub fn metal_caution(line: &ShelfLine) -> Option<&'static str> {
    let label = line.material.hazard.as_deref().unwrap_or_default();
    let of_dust = label.to_lowercase().contains("sand");
    let caution = at(Place::Metals)
        .next()
        .filter(|_| !line.metals().is_empty())?;
    Some(match of_dust {
        true => "nothing of it into drains",
        false => caution.short,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::material::MaterialKind;
    use crate::trade::units::Millilitres;

    fn red() -> Material {
        Material {
            id: 1,
            name: "Sun red".to_owned(),
            kind: MaterialKind::Paint,
            pack_ml: Some(Millilitres(250.0)),
            price: Some(Decimal::new(890, 2)),
            density: None,
            colour_index: None,
            hazard: None,
            colour: None,
            priced_ml: None,
            retired: false,
        }
    }

    #[test]
    fn a_caution_is_said_once() {
        let line = |hazard: &str| ShelfLine {
            material: Material {
                colour_index: Some("PR108".to_owned()),
                hazard: Some(hazard.to_owned()),
                ..red()
            },
            left: None,
            used_30d: Millilitres(0.0),
            counted_at: None,
        };
        let plain = line("harmful dust");
        assert_eq!(care(&plain), "cadmium; harmful dust");
        assert!(metal_caution(&plain).unwrap().contains("no sanding"));
        let label = line("Contains cadmium. Do not sand or spray.");
        assert_eq!(care(&label), "Contains cadmium. Do not sand or spray");
        assert_eq!(metal_caution(&label), Some("nothing of it into drains"));
    }

    fn each(material: &Material, currency: &str, measures: Measures) -> String {
        price_each(material, currency, measures).unwrap()
    }

    #[test]
    fn a_millilitre_has_its_price() {
        let red = red();
        // 8.90 / 250 = 0.0356
        assert_eq!(each(&red, "EUR", Measures::Metric), "0.036 EUR/ml");
        assert_eq!(each(&red, "", Measures::Metric), "0.036/ml");
        // By hand: 8.90 / 250 x 29.5735 = 1.053.
        assert_eq!(each(&red, "USD", Measures::UsCustomary), "1.05 USD/fl oz");
    }

    #[test]
    fn a_price_without_a_pack_is_of_what_was_bought_and_water_is_free() {
        let pack_ml = None;
        let unpacked = Material { pack_ml, ..red() };
        assert_eq!(price_each(&unpacked, "", Measures::Metric), None);
        let priced_ml = Some(Millilitres(500.0));
        // 8.90 / 500 = 0.0178
        let bought = Material {
            priced_ml,
            ..unpacked
        };
        assert_eq!(each(&bought, "", Measures::Metric), "0.018/ml");
        let water = Material {
            name: "Distilled water".to_owned(),
            kind: MaterialKind::Thinner,
            price: None,
            ..red()
        };
        assert_eq!(each(&water, "EUR", Measures::Metric), "free");
        let name = "Waterproof ink".to_owned();
        let other = Material { name, ..water };
        assert_eq!(price_each(&other, "EUR", Measures::Metric), None);
    }
}
