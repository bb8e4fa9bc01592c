//! The factors that every pour may have, each named in one place: what is told of them, and which can be set.

use crate::numbers::statistics::findings::{Factor, FactorKind};

/// A factor that every pour may have, in the order they are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Logged {
    /// Since the stirring of the cup that rested least, activators aside.
    Rest,
    /// Since the thinning that is longest ago.
    SinceThinning,
    /// The mean mound of the bases.
    BaseMound,
    /// That of the colours.
    ColourMound,
    /// That of the activators.
    ActivatorMound,
    /// By how much the base stands longer than the colours.
    BaseGap,
    /// By how much the colours stand longer than the activator.
    ActivatorGap,
    /// Whether every cup was ready.
    EveryCupReady,
    /// The activators' part of the whole.
    ActivatorShare,
    /// The wet film.
    Film,
    /// How it was poured.
    Technique,
    /// How often it was spun round.
    Spins,
    /// Whether it was spun both ways.
    SpinReversed,
    /// The room's.
    Temperature,
    /// The room's.
    Humidity,
    /// How often it was begun anew.
    StartOver,
    /// The day of the week.
    Weekday,
    /// The time of day.
    Hour,
    /// Since the mixing of the oldest cup.
    OldestCup,
    /// Whether a cup had no lid on.
    StoodOpen,
}

impl Logged {
    /// All of them, in order.
    pub(in crate::studio) const ALL: [Self; 20] = [
        Self::Rest,
        Self::SinceThinning,
        Self::BaseMound,
        Self::ColourMound,
        Self::ActivatorMound,
        Self::BaseGap,
        Self::ActivatorGap,
        Self::EveryCupReady,
        Self::ActivatorShare,
        Self::Film,
        Self::Technique,
        Self::Spins,
        Self::SpinReversed,
        Self::Temperature,
        Self::Humidity,
        Self::StartOver,
        Self::Weekday,
        Self::Hour,
        Self::OldestCup,
        Self::StoodOpen,
    ];

    /// Those that can be set for a pour.
    pub(in crate::studio) const SETTINGS: [Self; 9] = [
        Self::Rest,
        Self::SinceThinning,
        Self::BaseMound,
        Self::ColourMound,
        Self::ActivatorMound,
        Self::ActivatorShare,
        Self::Film,
        Self::Temperature,
        Self::Humidity,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.told().0
    }

    /// The unit's text of its numbers; empty for none.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.told().2
    }

    /// The factor itself.
    #[must_use]
    pub fn factor(self) -> Factor {
        let (name, kind, unit, step) = self.told();
        Factor {
            name: name.to_owned(),
            kind,
            unit: unit.to_owned(),
            step,
        }
    }

    /// Name, kind, unit, and the least step that what it is measured with shows: a stopwatch a tenth of a second, a note
    /// of the time a tenth of an hour, an air gauge a degree and a percent.
    const fn told(self) -> (&'static str, FactorKind, &'static str, f64) {
        use FactorKind::{Number, Word};
        match self {
            Self::Rest => ("rest", Number, "h", 0.1),
            Self::SinceThinning => ("minutes since thinning", Number, "min", 1.0),
            Self::BaseMound => ("mound of the base", Number, "s", 0.1),
            Self::ColourMound => ("mound of the colours", Number, "s", 0.1),
            Self::ActivatorMound => ("mound of the activator", Number, "s", 0.1),
            Self::BaseGap => ("gap base to colours", Number, "s", 0.1),
            Self::ActivatorGap => ("gap colours to activator", Number, "s", 0.1),
            Self::EveryCupReady => ("every cup ready", Word, "", 1.0),
            Self::ActivatorShare => ("activator share", Number, "%", 1.0),
            Self::Film => ("film", Number, "mm", 0.1),
            Self::Technique => ("technique", Word, "", 1.0),
            Self::Spins => ("spins", Number, "", 0.5),
            Self::SpinReversed => ("spin reversed", Word, "", 1.0),
            Self::Temperature => ("temperature", Number, "C", 1.0),
            Self::Humidity => ("humidity", Number, "%", 1.0),
            Self::StartOver => ("start-over", Number, "", 1.0),
            Self::Weekday => ("weekday", Word, "", 1.0),
            Self::Hour => ("hour", Number, "h", 0.1),
            Self::OldestCup => ("age of the oldest cup", Number, "h", 0.1),
            Self::StoodOpen => ("a cup stood open", Word, "", 1.0),
        }
    }
}
