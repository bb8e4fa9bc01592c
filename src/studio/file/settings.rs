//! The studio's settings, and the tape that is kept for activators.

use crate::logbook::{Reader, Writer};
use crate::studio::orders::SettingsOrder;
use crate::studio::{Answer, Refusal, Studio, WordOf};
use crate::trade::act::Act;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::pour::Air;
use crate::trade::problem::said_back;
use crate::trade::quiet::Quiet;
use crate::trade::recipe::LayerKind;
use crate::trade::words::word_enum;

/// What a studio may choose.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The studio's name.
    pub name: Option<String>,
    /// The studio's address, as a certificate shows it.
    pub address: Option<String>,
    /// The currency of prices, as it is written.
    pub currency: String,
    /// Metric or US customary.
    pub measures: Measures,
    /// The tape colour kept for activators alone.
    pub activator_tape: Option<String>,
    /// From how many cells a pour counts as good.
    pub good_from: u8,
    /// The room's usual air, as it is kept.
    pub air: Option<String>,
    /// A file or device's folder that the room's air is read from.
    pub air_from: Option<String>,
    /// A program that tells the room's air.
    pub air_by: Option<String>,
    /// The folder that new photos come to.
    pub photos_from: Option<String>,
    /// How pictures are shown on the screen: `words` or `blocks`; as the terminal can otherwise.
    pub pictures: Option<String>,
    /// When no step of a plan is to be done; `None` where any hour will do.
    pub quiet: Option<Quiet>,
    /// After how many days a pour counts half where variants are suggested.
    pub half_life: f64,
    /// Whether the studio is the demo's: all in it is invented.
    pub examples: bool,
}

/// The half-lives in days that can be set: shorter ones forget what they learn (ours, no source).
const HALF_LIFE: std::ops::RangeInclusive<f64> = 7.0..=3650.0;

word_enum! {
    /// A setting, by the name it goes by.
    Setting {
        /// The studio's name.
        Name = "name",
        /// The studio's address.
        Address = "address",
        /// The currency of prices.
        Currency = "currency",
        /// Metric or US customary.
        Measures = "measures",
        /// The tape colour kept for activators alone.
        ActivatorTape = "activator-tape",
        /// From how many cells a pour is good.
        GoodFrom = "good-from",
        /// After how many days a pour counts half.
        HalfLife = "half-life",
        /// When no step of a plan is to be done.
        QuietHours = "quiet-hours",
        /// The room's air.
        Air = "air",
        /// What the room's air is read from.
        AirFrom = "air-from",
        /// The program that tells the room's air.
        AirBy = "air-by",
        /// The folder that new photos come to.
        PhotosFrom = "photos-from",
        /// How pictures are shown on the screen.
        Pictures = "pictures",
    }
}

/// What marks the demo's studio; no painter sets it.
const EXAMPLES: &str = "examples";

impl Settings {
    /// A setting as it is typed; nothing where it is not set.
    #[must_use]
    pub fn written(&self, setting: Setting) -> String {
        let text = |value: &Option<String>| value.clone().unwrap_or_default();
        match setting {
            Setting::Name => text(&self.name),
            Setting::Address => text(&self.address),
            Setting::Currency => self.currency.clone(),
            Setting::Measures => self.measures.word().to_owned(),
            Setting::ActivatorTape => text(&self.activator_tape),
            Setting::GoodFrom => self.good_from.to_string(),
            Setting::HalfLife => self.half_life.to_string(),
            Setting::QuietHours => Quiet::written(self.quiet),
            Setting::Air => text(&self.air),
            Setting::AirFrom => text(&self.air_from),
            Setting::AirBy => text(&self.air_by),
            Setting::PhotosFrom => text(&self.photos_from),
            Setting::Pictures => text(&self.pictures),
        }
    }
}

impl Studio {
    /// The settings as they are.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn settings(&self) -> Answer<Settings> {
        settings(&self.book.read()?)
    }

    /// Marks a studio as the demo's.
    ///
    /// # Errors
    /// Where the store cannot write.
    pub(crate) fn mark_examples(&mut self, now: &Now) -> Answer<()> {
        self.book.commit_as(now.at.into(), |write| {
            write.set_setting(EXAMPLES, "yes")?;
            let (name, value) = (EXAMPLES.to_owned(), "yes".to_owned());
            Ok(((), Act::Set { name, value }))
        })
    }

    /// Changes settings; each is a change of its own, so that each can be taken back alone.
    ///
    /// # Errors
    /// As [`Studio::set`].
    pub fn set_all(&mut self, order: &SettingsOrder, now: &Now) -> Answer<Settings> {
        for (setting, value) in order {
            self.set(setting.word(), value, now)?;
        }
        self.settings()
    }

    /// Changes one setting.
    ///
    /// # Errors
    /// Where there is none of the name, or the value makes no sense.
    pub fn set(&mut self, name: &str, value: &str, now: &Now) -> Answer<Settings> {
        let setting = setting(name)?;
        let value = checked(setting, value.trim())?;
        self.book.commit_as(now.at.into(), |write| {
            write.set_setting(name, &value)?;
            // A room has one sensor.
            let other = match setting {
                Setting::AirFrom => Some("air-by"),
                Setting::AirBy => Some("air-from"),
                _ => None,
            };
            if let Some(other) = other.filter(|_| !value.is_empty()) {
                write.set_setting(other, "")?;
            }
            let act = Act::Set {
                name: name.to_owned(),
                value,
            };
            Ok((settings(&write.read())?, act))
        })
    }
}

/// Metric or US customary.
pub(crate) fn measures(read: &Reader<'_>) -> Answer<Measures> {
    Ok(match read.setting("measures")?.as_deref() {
        Some("us") => Measures::UsCustomary,
        _ => Measures::Metric,
    })
}

/// A setting's value; one that was emptied is not set.
fn value(read: &Reader<'_>, name: &str) -> Answer<Option<String>> {
    Ok(read.setting(name)?.filter(|value| !value.is_empty()))
}

/// When no step of a plan is to be done.
pub(crate) fn quiet(read: &Reader<'_>) -> Answer<Option<Quiet>> {
    let kept = value(read, "quiet-hours")?;
    let kept = kept.and_then(|text| Quiet::parse(&text));
    Ok(kept.unwrap_or(Some(Quiet::USUAL)))
}

/// The settings as they are.
pub(crate) fn settings(read: &Reader<'_>) -> Answer<Settings> {
    Ok(Settings {
        name: value(read, "name")?,
        address: value(read, "address")?,
        currency: value(read, "currency")?.unwrap_or_default(),
        measures: measures(read)?,
        activator_tape: value(read, "activator-tape")?,
        good_from: value(read, "good-from")?
            .and_then(|text| text.parse().ok())
            .unwrap_or(4),
        air: value(read, "air")?,
        air_from: value(read, "air-from")?,
        air_by: value(read, "air-by")?,
        photos_from: value(read, "photos-from")?,
        pictures: value(read, "pictures")?,
        quiet: quiet(read)?,
        half_life: value(read, "half-life")?
            .and_then(|text| text.parse().ok())
            .filter(|days| HALF_LIFE.contains(days))
            .unwrap_or(180.0),
        examples: value(read, EXAMPLES)?.is_some(),
    })
}

/// The setting of a name, written out as it is.
fn setting(name: &str) -> Result<Setting, Refusal> {
    let found = Setting::ALL.iter().find(|one| one.word() == name);
    found.copied().ok_or_else(|| Refusal::Word {
        of: WordOf::Setting,
        said: said_back(name),
    })
}

/// A value as it is kept.
///
/// # Errors
/// Where it makes no sense.
pub(in crate::studio) fn checked(setting: Setting, value: &str) -> Result<String, Refusal> {
    if setting == Setting::Air && !value.is_empty() {
        // As it is written wherever it is kept, whatever scale it was typed in.
        return Ok(Air::parse(value)?.written());
    }
    if fits(setting, value) {
        return Ok(value.to_owned());
    }
    Err(Refusal::Word {
        of: WordOf::ValueOf(setting),
        said: said_back(value),
    })
}

fn fits(setting: Setting, value: &str) -> bool {
    let is_optional = !matches!(setting, Setting::Measures | Setting::GoodFrom);
    let characters = value.chars().count();
    match setting {
        _ if value.is_empty() => is_optional,
        Setting::Currency => (1..=4).contains(&characters),
        Setting::Measures => matches!(value, "metric" | "us"),
        Setting::Pictures => matches!(value, "words" | "blocks"),
        Setting::GoodFrom => value.parse().is_ok_and(|bar: u8| (1..=5).contains(&bar)),
        Setting::Address => (1..=200).contains(&characters),
        Setting::AirFrom | Setting::AirBy | Setting::PhotosFrom => characters <= 4096,
        Setting::QuietHours => Quiet::parse(value).is_some(),
        Setting::HalfLife => {
            let days = value.parse();
            days.is_ok_and(|days: f64| HALF_LIFE.contains(&days))
        }
        Setting::Name | Setting::ActivatorTape | Setting::Air => (1..=80).contains(&characters),
    }
}

/// Refuses a tape that would let an activator be taken for a colour, or a colour for an activator.
pub(crate) fn check_tape(read: &Reader<'_>, layer: LayerKind, tape: Option<&str>) -> Answer<()> {
    let Some(tape) = tape else { return Ok(()) };
    let Some(kept) = value(read, "activator-tape")? else {
        return Ok(());
    };
    if kept.eq_ignore_ascii_case(tape) == (layer == LayerKind::Activator) {
        return Ok(());
    }
    Err(Refusal::Tape(kept).into())
}

/// Keeps the tape of the first taped activator for activators alone, where no colour was kept so far.
pub(crate) fn keep_tape(
    write: &mut Writer<'_>,
    layer: LayerKind,
    tape: Option<&str>,
) -> Answer<()> {
    let Some(tape) = tape.filter(|_| layer == LayerKind::Activator) else {
        return Ok(());
    };
    if value(&write.read(), "activator-tape")?.is_none() {
        write.set_setting("activator-tape", tape)?;
    }
    Ok(())
}
