//! A pour: one go at a panel, its layers, its moves and the air of the room.

use crate::trade::amount::Measures;
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::number::trimmed;
use crate::trade::panel::Panel;
use crate::trade::units::{Celsius, Millilitres, Seconds, Share};
use crate::trade::words::word_enum;
use serde::{Deserialize, Serialize};

/// One go at a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Pour {
    /// Its number.
    pub id: i64,
    /// The panel's number: start-overs share it.
    pub panel_id: i64,
    /// What was poured on.
    pub panel: Panel,
    /// 1 for the first go, 2 for the first start-over, and so on.
    pub go: i64,
    /// The go that was scraped before this one.
    pub again_of: Option<i64>,
    /// When.
    pub at: Moment,
    /// The technique, in the painter's words.
    pub way: Option<String>,
    /// The air of the room.
    pub air: Option<Air>,
    /// The layers, lowest first.
    pub layers: Vec<PouredLayer>,
    /// What was done with the panel, in order.
    pub moves: Vec<Move>,
    /// Anything else.
    pub note: Option<String>,
}

/// A layer as it was poured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PouredLayer {
    /// The cup's number.
    pub cup: i64,
    /// How much.
    pub ml: Millilitres,
    /// What the cup was then: evidence for later.
    pub state: State,
    /// The mound it was thought to have.
    pub mound: Option<Seconds>,
    /// When it lay on the panel, where that was kept step by step.
    pub at: Option<Moment>,
}

/// The air of the room.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Air {
    /// Its temperature.
    pub celsius: Option<Celsius>,
    /// Its relative humidity, 0 to 1.
    pub humidity: Option<Share>,
}

word_enum! {
    /// What may be done with a poured panel.
    MoveKind {
        /// Tipped to one side.
        Tilt = "tilt",
        /// Turned on a turntable.
        Spin = "spin",
        /// Blown.
        Blow = "blow",
        /// Wiped across.
        Swipe = "swipe",
        /// Passed over with a flame.
        Torch = "torch",
    }
}

/// One move of a panel.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Move {
    /// Which.
    pub kind: MoveKind,
    /// Which way: `cw`, `ccw`, `left`, …, in the painter's words.
    pub direction: Option<String>,
    /// How many times or turns.
    pub times: Option<f64>,
    /// When it was begun, where that was kept step by step.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub begun: Option<Moment>,
    /// How long it took.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub took: Option<Seconds>,
}

/// Why a move or an air cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PourProblem {
    /// Not `direction:times`.
    Move(String),
    /// A spin that is neither clockwise nor the other way.
    Spin(String),
    /// Nothing that is done with a panel.
    Kind(String),
    /// Not a temperature and a humidity.
    Air(String),
    /// Colder than a studio, hotter than one, or wetter than wet.
    AirRange(String),
}

/// More turns than a hand does, or counts (ours, no source).
const MOST_TIMES: f64 = 1000.0;

impl Move {
    /// A move of a kind, and nothing else said of it.
    #[must_use]
    pub const fn of(kind: MoveKind) -> Self {
        Self {
            kind,
            direction: None,
            times: None,
            begun: None,
            took: None,
        }
    }

    /// What was done, whenever it was and however long it took.
    #[must_use]
    pub fn untimed(&self) -> Self {
        Self {
            begun: None,
            took: None,
            ..self.clone()
        }
    }

    /// Reads `cw:2`, `left`, `:3` or nothing for a kind of move.
    ///
    /// # Errors
    /// [`PourProblem::Move`] where the count is no number above zero, or more than a hand turns;
    /// [`PourProblem::Spin`] where a spin turns neither way.
    pub fn parse(kind: MoveKind, text: &str) -> Result<Self, PourProblem> {
        let (direction, times) = counted(text);
        let times = times.map(|times| {
            times
                .trim()
                .parse::<f64>()
                .ok()
                .filter(|n| *n > 0.0 && *n <= MOST_TIMES)
        });
        if times == Some(None) {
            return Err(PourProblem::Move(
                crate::trade::text::inert(text).into_owned(),
            ));
        }
        let direction = Some(direction.trim()).filter(|word| !word.is_empty());
        let direction = match kind {
            MoveKind::Spin => direction.map(turned),
            _ => direction,
        };
        let turns = direction.is_none_or(|word| matches!(word, "cw" | "ccw"));
        if kind == MoveKind::Spin && !turns {
            return Err(PourProblem::Spin(
                crate::trade::text::inert(text).into_owned(),
            ));
        }
        let direction = direction.map(str::to_owned);
        Ok(Self {
            direction,
            times: times.flatten(),
            ..Self::of(kind)
        })
    }

    /// Reads moves one after another, each by its kind: `spin right 1, tilt left`.
    ///
    /// # Errors
    /// As [`Move::parse`], and [`PourProblem::Kind`] where one begins with nothing that is done with a panel.
    pub fn parse_all(text: &str) -> Result<Vec<Self>, PourProblem> {
        let parts = text.split([',', ';']).map(str::trim);
        let said = parts.filter(|part| !part.is_empty());
        said.map(|part| {
            let (kind, rest) = part.split_once([' ', ':']).unwrap_or((part, ""));
            let unknown = || PourProblem::Kind(crate::trade::text::inert(part).into_owned());
            let kind = MoveKind::parse(&kind.to_lowercase()).ok_or_else(unknown)?;
            Self::parse(kind, rest)
        })
        .collect()
    }

    /// The text that [`Move::parse_all`] reads again: `spin right 1`.
    #[must_use]
    pub fn written(&self) -> String {
        format!("{}{}", self.kind, self.how(" :"))
    }

    /// Which way and how often, without what it is: `right 1`.
    #[must_use]
    pub fn way_and_times(&self) -> String {
        self.how(" ").trim().to_owned()
    }

    fn how(&self, alone: &str) -> String {
        let way = match self.clockwise() {
            Some(true) => Some("right"),
            Some(false) => Some("left"),
            None => self.direction.as_deref(),
        };
        let times = self.times.map(|times| match way {
            Some(_) => format!(" {times}"),
            None => format!("{alone}{times}"),
        });
        let way = way.map(|way| format!(" {way}"));
        way.unwrap_or_default() + &times.unwrap_or_default()
    }

    /// Whether it turns one way and another undoes it: a spin's sense, for findings.
    #[must_use]
    pub fn clockwise(&self) -> Option<bool> {
        match self.direction.as_deref() {
            Some("cw") => Some(true),
            Some("ccw") => Some(false),
            _ => None,
        }
    }
}

/// A direction, and how often: after a colon or a blank.
fn counted(text: &str) -> (&str, Option<&str>) {
    if let Some((direction, times)) = text.split_once(':') {
        return (direction, Some(times));
    }
    match text.trim().rsplit_once(char::is_whitespace) {
        Some((direction, times)) if times.parse::<f64>().is_ok() => (direction, Some(times)),
        _ => (text, None),
    }
}

/// A turn as it is kept: the top of the panel goes to the right, clockwise, or to the left.
fn turned(word: &str) -> &str {
    match word.to_lowercase().as_str() {
        "cw" | "right" | "clockwise" => "cw",
        "ccw" | "left" | "anticlockwise" | "counterclockwise" => "ccw",
        _ => word,
    }
}

/// A temperature in whole degrees of the studio's scale: `21 C`, `70 F`.
#[must_use]
pub fn show_heat(celsius: Celsius, measures: Measures) -> String {
    match measures {
        Measures::Metric => format!("{:.0} C", celsius.get()),
        Measures::UsCustomary => format!("{:.0} F", celsius.get() * 1.8 + 32.0),
    }
}

impl Air {
    /// Reads `21C,45%`, `70F`, `45%`; either may stand alone.
    ///
    /// # Errors
    /// [`PourProblem`] where it cannot be read or is no air of a room.
    pub fn parse(text: &str) -> Result<Self, PourProblem> {
        let shown = || crate::trade::text::inert(text).into_owned();
        let mut air = Self {
            celsius: None,
            humidity: None,
        };
        for part in text
            .split([',', ' '])
            .map(str::trim)
            .filter(|part| !part.is_empty())
        {
            air.take(part).ok_or_else(|| PourProblem::Air(shown()))?;
        }
        let celsius_fits = air
            .celsius
            .is_none_or(|c| (-20.0..=60.0).contains(&c.get()));
        let humidity_fits = air
            .humidity
            .is_none_or(|rh| (0.0..=1.0).contains(&rh.get()));
        match (
            celsius_fits && humidity_fits,
            air.celsius.is_some() || air.humidity.is_some(),
        ) {
            (false, _) => Err(PourProblem::AirRange(shown())),
            (_, false) => Err(PourProblem::Air(shown())),
            _ => Ok(air),
        }
    }

    /// The same where a number alone is in the studio's own scale: `21 45`, `21C 45`.
    ///
    /// # Errors
    /// As [`Air::parse`].
    pub fn parse_in(text: &str, measures: Measures) -> Result<Self, PourProblem> {
        let scale = match measures {
            Measures::Metric => "C",
            Measures::UsCustomary => "F",
        };
        let joined = text.replace([' ', ','], " ").replace(" °", "°");
        let (mut warm, mut damp) = (false, false);
        let parts = joined.split_whitespace().map(|part| {
            let bare = part.parse::<f64>().is_ok();
            let unit = match (bare, warm, damp) {
                (true, false, _) => scale,
                (true, true, false) => "%",
                _ => "",
            };
            let wet = part.ends_with('%') || unit == "%";
            (warm, damp) = (warm || !wet, damp || wet);
            format!("{part}{unit}")
        });
        Self::parse(&parts.collect::<Vec<_>>().join(",")).or_else(|_| Self::parse(text))
    }

    /// The air as a setting keeps it, to the hundredth: `21.5C,45%`.
    #[must_use]
    pub fn written(self) -> String {
        let heat = self
            .celsius
            .map(|celsius| format!("{}C", trimmed(celsius.get(), 2)));
        let wet = self
            .humidity
            .map(|rh| format!("{}%", trimmed(rh.get() * 100.0, 2)));
        heat.into_iter().chain(wet).collect::<Vec<_>>().join(",")
    }

    /// The air as it is typed, in the studio's scale: `21C,45%`, `70F,45%`.
    #[must_use]
    pub fn show(self, measures: Measures) -> String {
        let heat = self
            .celsius
            .map(|celsius| show_heat(celsius, measures).replace(' ', ""));
        let wet = self.humidity.map(|rh| format!("{:.0}%", rh.get() * 100.0));
        heat.into_iter().chain(wet).collect::<Vec<_>>().join(",")
    }

    /// The same to the last digit, to be read back.
    #[must_use]
    pub fn exactly(self) -> String {
        let heat = self.celsius.map(|celsius| format!("{}C", celsius.get()));
        let wet = self.humidity.map(|rh| format!("{}%", rh.get() * 100.0));
        heat.into_iter().chain(wet).collect::<Vec<_>>().join(",")
    }

    fn take(&mut self, part: &str) -> Option<()> {
        let number = |text: &str| text.trim().parse::<f64>().ok();
        let upper = part.to_uppercase().replace('°', "");
        if let Some(percent) = upper.strip_suffix('%') {
            self.humidity = Some(Share(number(percent)? / 100.0));
        } else if let Some(fahrenheit) = upper.strip_suffix('F') {
            self.celsius = Some(Celsius((number(fahrenheit)? - 32.0) / 1.8));
        } else {
            self.celsius = Some(Celsius(number(upper.strip_suffix('C')?)?));
        }
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn air_is_shown_as_it_is_typed_in_either_scale() {
        let air = Air::parse("70F,45%").unwrap();
        assert_eq!(air.show(Measures::UsCustomary), "70F,45%");
        assert_eq!(air.show(Measures::Metric), "21C,45%");
        assert_eq!(Air::parse("45%").unwrap().show(Measures::Metric), "45%");
    }

    #[test]
    fn air_is_read_in_both_scales_and_in_either_half() {
        let air = Air::parse("21C,45%").unwrap();
        assert_eq!(
            (air.celsius, air.humidity),
            (Some(Celsius(21.0)), Some(Share(0.45)))
        );
        assert!(
            (Air::parse("77 °F").is_err())
                && Air::parse("77°F").unwrap().celsius == Some(Celsius(25.0))
        );
        assert_eq!(Air::parse("45%").unwrap().celsius, None);
        for bad in ["", "warm", "21", "200C", "21C,145%", "NaNC"] {
            assert!(Air::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_form_reads_air_without_its_units() {
        let metric = |text| Air::parse_in(text, Measures::Metric).unwrap();
        let meant = Air::parse("21C,45%").unwrap();
        for text in ["21 45", "21C 45", "21,45", "21 45%", "21 °C 45%", "21C,45%"] {
            assert_eq!(metric(text), meant, "{text}");
        }
        assert_eq!(metric("45%"), Air::parse("45%").unwrap());
        let american = Air::parse_in("70 45", Measures::UsCustomary).unwrap();
        assert_eq!(american, Air::parse("70F,45%").unwrap());
        assert_eq!(metric("21.5 45").written(), "21.5C,45%");
        for bad in ["", "21 45 3", "warm", "21 145"] {
            assert!(Air::parse_in(bad, Measures::Metric).is_err(), "{bad}");
        }
    }

    #[test]
    fn turns_are_read_as_hands_say_them() {
        let spin = |text| Move::parse(MoveKind::Spin, text).unwrap();
        assert_eq!(spin("left 2"), spin("ccw:2"));
        assert_eq!(spin("clockwise"), spin("cw"));
        let tilt = Move::parse(MoveKind::Tilt, "to the left 3").unwrap();
        assert_eq!(tilt, Move::parse(MoveKind::Tilt, "to the left:3").unwrap());
    }

    #[test]
    fn moves_keep_the_painters_direction() {
        let spin = Move::parse(MoveKind::Spin, "ccw:2").unwrap();
        assert_eq!((spin.clockwise(), spin.times), (Some(false), Some(2.0)));
        assert_eq!(Move::parse(MoveKind::Tilt, "left").unwrap().times, None);
        for bad in [
            "cw:0",
            "cw:-1",
            "cw:NaN",
            "cw:often",
            "cw:99999999999",
            "foo:2",
        ] {
            assert!(Move::parse(MoveKind::Spin, bad).is_err(), "{bad}");
        }
    }
}
