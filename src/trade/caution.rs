//! Cautions of the trade: short where they bite, in full in one place.
//!
//! They point to what is usual; they are no licence and no verdict on exposure. The maker's safety data sheet, the
//! label and local codes come first. Which pigments hold which metal is from memory of the Colour Index generic
//! names' constitutions; a label that says otherwise is right.

use crate::trade::words::word_enum;

word_enum! {
    /// A metal that calls for care with a pigment's dust and waste.
    Metal {
        /// Cadmium.
        Cadmium = "cadmium",
        /// Cobalt.
        Cobalt = "cobalt",
        /// Manganese.
        Manganese = "manganese",
        /// Lead.
        Lead = "lead",
        /// Nickel.
        Nickel = "nickel",
        /// Chromium.
        Chromium = "chromium",
    }
}

/// Colour Index generic names and the metals in them (from memory, no source at hand).
const METALS: &[(&str, &[Metal])] = &[
    ("PY35", &[Metal::Cadmium]),
    ("PY37", &[Metal::Cadmium]),
    ("PO20", &[Metal::Cadmium]),
    ("PO23", &[Metal::Cadmium]),
    ("PR108", &[Metal::Cadmium]),
    ("PR113", &[Metal::Cadmium]),
    ("PB28", &[Metal::Cobalt]),
    ("PB35", &[Metal::Cobalt]),
    ("PB36", &[Metal::Cobalt, Metal::Chromium]),
    ("PB72", &[Metal::Cobalt]),
    ("PB74", &[Metal::Cobalt]),
    ("PG19", &[Metal::Cobalt]),
    ("PG26", &[Metal::Cobalt, Metal::Chromium]),
    ("PG50", &[Metal::Cobalt, Metal::Nickel]),
    ("PV14", &[Metal::Cobalt]),
    ("PV49", &[Metal::Cobalt]),
    ("PY40", &[Metal::Cobalt]),
    ("PV16", &[Metal::Manganese]),
    ("PB33", &[Metal::Manganese]),
    ("PBk14", &[Metal::Manganese]),
    ("PBk26", &[Metal::Manganese]),
    ("PBr7", &[Metal::Manganese]),
    ("PBr8", &[Metal::Manganese]),
    ("PW1", &[Metal::Lead]),
    ("PY34", &[Metal::Lead, Metal::Chromium]),
    ("PY41", &[Metal::Lead]),
    ("PR104", &[Metal::Lead, Metal::Chromium]),
    ("PR105", &[Metal::Lead]),
    ("PY53", &[Metal::Nickel]),
    ("PY150", &[Metal::Nickel]),
    ("PG10", &[Metal::Nickel]),
    ("PG17", &[Metal::Chromium]),
    ("PG18", &[Metal::Chromium]),
    ("PY36", &[Metal::Chromium]),
    ("PBr24", &[Metal::Chromium]),
];

/// The metals a pigment holds, by its Colour Index generic name; a form after a colon is not looked at.
#[must_use]
pub fn metals_of(colour_index: &str) -> &'static [Metal] {
    let name = colour_index.trim();
    let name = name.split_once(':').map_or(name, |(name, _)| name);
    METALS
        .iter()
        .find(|(one, _)| one.eq_ignore_ascii_case(name))
        .map_or(&[], |(_, metals)| metals)
}

word_enum! {
    /// Where a caution bites.
    Place {
        /// Whenever paint is handled.
        Always = "always",
        /// While mixing and pouring.
        Bench = "bench",
        /// Before a flame.
        Torch = "torch",
        /// Before sanding a dry picture.
        Sanding = "sanding",
        /// Before varnishing.
        Varnish = "varnish",
        /// Before washing up.
        Drains = "drains",
        /// For a pigment that holds a metal.
        Metals = "metals",
    }
}

/// One caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// Where it bites.
    pub place: Place,
    /// In a few words, for the moment itself.
    pub short: &'static str,
    /// In full.
    pub full: &'static str,
}

/// Every caution, in the order of a day.
pub const CAUTIONS: &[Caution] = &[
    Caution {
        place: Place::Always,
        short: "the label, the maker's safety data sheet and local codes come first",
        full: "Read the label and the maker's safety data sheet of everything you use; they and your local codes come \
               before anything said here. What this tool computes are estimates, never a licence.",
    },
    Caution {
        place: Place::Bench,
        short: "air and gloves; no cup that food will touch again",
        full: "Work with fresh air moving through the room, and with gloves. Preservatives in water-borne paint can make \
               a skin allergic. Never use a vessel or spoon again for food or drink; do not eat or drink at the bench. \
               Weigh and stir dry powders only with a fitted mask, or not at all.",
    },
    Caution {
        place: Place::Torch,
        short: "no flame over paint thinned with solvent or alcohol",
        full: "Never pass a flame over a mix that holds solvent or alcohol, nor near their open bottles. Over water-borne \
               paint keep the flame moving, with nothing that burns near, water or an extinguisher at hand, and air to \
               carry the fumes off. Paper, cloth and hair catch fast.",
    },
    Caution {
        place: Place::Sanding,
        short: "sand wet, never dry, and wear a fitted mask",
        full: "Cured paint is sanded wet, never dry, with a fitted respirator for particles. Never sand a film that holds \
               cadmium, cobalt, manganese, lead, nickel or chromium pigment dry. Wipe the slurry up; do not rinse it away.",
    },
    Caution {
        place: Place::Varnish,
        short: "varnish only in moving air",
        full: "Solvent-borne varnish and spray need moving air, no flame and no spark, and a respirator for vapours as its \
               data sheet says.",
    },
    Caution {
        place: Place::Drains,
        short: "no paint water in drains: let it dry, dispose of it by local rules",
        full: "Scrape and wipe tools first, then wash with little water. Let paint water settle and dry, and dispose of the \
               solids by your local rules; nothing goes into a storm drain or onto the ground. A studio that is a business \
               has stricter rules for its waste water.",
    },
    Caution {
        place: Place::Metals,
        short: "holds a metal that is harmful as dust: no sanding, no spraying, no drains",
        full: "Cadmium, cobalt, manganese, lead, nickel and chromium pigments are known by their Colour Index names. Wet \
               paint is handled with gloves; their dust and spray are not to be breathed, and their waste is handled as \
               your local rules for hazardous waste say.",
    },
];

/// The cautions that bite at a place.
pub fn at(place: Place) -> impl Iterator<Item = &'static Caution> {
    CAUTIONS
        .iter()
        .filter(move |caution| caution.place == place)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_after_the_colon_does_not_hide_a_metal() {
        assert_eq!(metals_of("PR108:1"), [Metal::Cadmium]);
        assert_eq!(metals_of("pb36"), [Metal::Cobalt, Metal::Chromium]);
        assert!(metals_of("PB15:3").is_empty());
        assert!(metals_of("PB3").is_empty());
    }

    #[test]
    fn every_metal_is_known_of_some_pigment_and_every_place_has_a_caution() {
        for metal in Metal::ALL {
            assert!(
                METALS.iter().any(|(_, metals)| metals.contains(metal)),
                "{metal}"
            );
        }
        for place in Place::ALL {
            assert!(at(*place).next().is_some(), "{place}");
        }
    }

    #[test]
    fn guards_the_rule_that_local_codes_come_first() {
        assert!(
            CAUTIONS[0].full.contains("local codes")
                && CAUTIONS[0].full.contains("safety data sheet")
        );
    }
}
