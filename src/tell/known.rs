//! The words that a text may be, and what they are words of.

use crate::studio::orders::RecipeField;
use crate::studio::{Setting, WordOf};
use crate::trade::cup::{End, Seen};
use crate::trade::judgement::{CellSize, Fate};
use crate::trade::material::{Fact, MaterialKind};
use crate::trade::recipe::{LayerKind, Target};

/// What a text is none of.
pub(super) const fn what(of: WordOf) -> &'static str {
    match of {
        WordOf::Setting => "setting",
        WordOf::ValueOf(_) => "value of this setting",
        WordOf::Counting => "way to count shares",
        WordOf::Layer => "layer",
        WordOf::Target => "thing that a recipe is meant to do",
        WordOf::MaterialKind => "kind of material",
        WordOf::Fact => "thing known of a material",
        WordOf::ColourIndex => "Colour Index generic name",
        WordOf::CellSize => "size",
        WordOf::Fate => "fate",
        WordOf::Runs => "number of pours",
        WordOf::Seen => "word for what is seen of a cup",
        WordOf::End => "way that a cup ends",
        WordOf::CertificateFile => "ending of a certificate's file",
    }
}

/// The words there are.
pub(super) fn words(of: WordOf) -> String {
    match of {
        WordOf::Setting => Setting::words(),
        WordOf::ValueOf(setting) => takes(setting).to_owned(),
        WordOf::Counting => [RecipeField::BY_VOLUME, RecipeField::BY_WEIGHT].join(", "),
        WordOf::Layer => LayerKind::words(),
        WordOf::Target => Target::words(),
        WordOf::MaterialKind => MaterialKind::words(),
        WordOf::Fact => Fact::words(),
        WordOf::ColourIndex => "names such as PW6, PBk7, PB15:3".to_owned(),
        WordOf::CellSize => CellSize::words(),
        WordOf::Fate => Fate::words(),
        WordOf::Runs => "4, 8, 16, 32, face-centred, edge-middles".to_owned(),
        WordOf::Seen => Seen::words(),
        WordOf::End => End::words(),
        WordOf::CertificateFile => ".pdf, .html".to_owned(),
    }
}

/// What a setting takes.
const fn takes(setting: Setting) -> &'static str {
    match setting {
        Setting::Name => "the studio's name",
        Setting::Address => "1 to 200 characters",
        Setting::Currency => "a sign or code of 1 to 4 characters",
        Setting::Measures => "metric or us",
        Setting::ActivatorTape => "a colour",
        Setting::GoodFrom => "1 to 5",
        Setting::HalfLife => "7 to 3650 days",
        Setting::QuietHours => "two hours such as 22..7, or none",
        Setting::Air => "the room's temperature and humidity, such as 21C,45%",
        Setting::AirFrom => "a file with 21.4 C 45 %, or a sensor device's folder",
        Setting::AirBy => "a program that prints 21.4 C 45 %",
        Setting::PhotosFrom => "the folder that new photos come to",
        Setting::Pictures => "words, blocks, or nothing: as the terminal can",
    }
}
