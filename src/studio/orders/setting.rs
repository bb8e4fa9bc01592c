//! The settings as fields: what each does, what it is where nobody said otherwise, and whom it is for.

use super::field::wrong;
use super::{AnyField, Field, Hint, Typed, Wrong};
use crate::studio::file::settings::checked;
use crate::studio::{Setting, Settings};
use crate::trade::amount::Measures;

/// Settings that change, each with what it is to be.
pub type SettingsOrder = Vec<(Setting, String)>;

impl Field for Setting {
    fn of(any: AnyField) -> Option<Self> {
        match any {
            AnyField::Setting(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Address => "address",
            Self::Currency => "currency",
            Self::Measures => "measures",
            Self::ActivatorTape => "activators",
            Self::GoodFrom => "good from",
            Self::HalfLife => "half-life",
            Self::QuietHours => "quiet hours",
            Self::Air => "air",
            Self::AirFrom => "air from",
            Self::AirBy => "air by",
            Self::PhotosFrom => "photos from",
            Self::Pictures => "pictures",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Name => {
                "the studio's name, on labels, reports and certificates; none unless you say one; for who sells or teaches"
            }
            Self::Address => {
                "the address on a certificate; none unless you say one; for who sells pictures"
            }
            Self::Currency => {
                "what stands behind a price, four signs at most; none unless you say one; for who writes prices down"
            }
            Self::Measures => {
                "metric, or us for fluid ounces, inches and degrees F; metric unless you say us"
            }
            Self::ActivatorTape => {
                "the lid tape that marks activators and nothing else; the first taped activator's unless you say one; for who tells cups apart by colour"
            }
            Self::GoodFrom => {
                "from how many cells, 1 to 5, a pour counts as good in the findings; 4 unless you say otherwise; for who is stricter or milder"
            }
            Self::HalfLife => {
                "after how many days a pour counts half where recipes are suggested; 180 unless you say otherwise; for whose hand or paint has changed"
            }
            Self::QuietHours => {
                "when no step of a plan is to be done, such as 22..7, or none; 22..7 unless you say otherwise; for who works at night"
            }
            Self::Air => {
                "the room's usual air, such as 21C,45%; none unless you say it; for who has no sensor: drying and plans go by it"
            }
            Self::AirFrom => {
                "a sensor's file or folder that the room's air is read from; none unless you say one; for who has a sensor in this machine"
            }
            Self::AirBy => {
                "a program that tells the room's air; none unless you say one; for whose sensor is asked by a program"
            }
            Self::PhotosFrom => {
                "the folder that new photos come to; none unless you say one; for who photographs pours: p on the Rack offers the newest"
            }
            Self::Pictures => {
                "how photos stand on the screen: words or blocks; as the terminal can unless you say one; for a slow line or a screen reader"
            }
        })
    }
}

impl Setting {
    /// The settings in the order in which they are asked for: those that most painters change first.
    pub const ASKED: [Self; 13] = [
        Self::Measures,
        Self::Currency,
        Self::QuietHours,
        Self::GoodFrom,
        Self::ActivatorTape,
        Self::HalfLife,
        Self::Air,
        Self::AirFrom,
        Self::AirBy,
        Self::PhotosFrom,
        Self::Pictures,
        Self::Name,
        Self::Address,
    ];

    /// What was typed other than it stands; a field that was emptied clears its setting.
    ///
    /// # Errors
    /// The first value that makes no sense, in its field.
    pub fn changes(typed: &Typed<Self>, settings: &Settings) -> Result<SettingsOrder, Wrong> {
        let said = |one: Self| {
            let value = typed.text(one).unwrap_or_default().trim().to_owned();
            (value != settings.written(one)).then_some((one, value))
        };
        let changes = Self::ASKED.into_iter().filter_map(said);
        let checked = changes.map(|(one, value)| match checked(one, &value) {
            Ok(value) => Ok((one, value)),
            Err(why) => Err(wrong(one, why)),
        });
        checked.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_setting_is_asked_for_once_and_says_what_it_is_without_you() {
        let asked: HashSet<_> = Setting::ASKED.iter().map(|one| one.word()).collect();
        assert_eq!(
            (asked.len(), Setting::ALL.len()),
            (Setting::ASKED.len(), asked.len())
        );
        for one in Setting::ASKED {
            let said = one.hint(Measures::Metric).words();
            assert!(said.contains("unless you say"), "{one}");
        }
    }
}
