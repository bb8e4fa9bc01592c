//! Why the room's air was not read from its sensor.

use crate::studio::{Settings, SystemFault};
use chrono::TimeDelta;

/// Where the room's air comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AirSource {
    /// A file, or a device's folder.
    From(String),
    /// A program with its words, parted by blanks; no shell reads them.
    By(String),
}

impl AirSource {
    /// Where a studio's settings say that the air comes from.
    #[must_use]
    pub fn of(settings: &Settings) -> Option<Self> {
        let from = settings.air_from.clone().map(Self::From);
        from.or_else(|| settings.air_by.clone().map(Self::By))
    }
}

/// That the room's air was not read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AirFault {
    /// From where.
    pub source: AirSource,
    /// Why not.
    pub why: SensorFault,
}

/// Why a sensor gave no air.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SensorFault {
    /// The system does not give it.
    System(SystemFault),
    /// No plain file.
    NotAFile,
    /// A reading of so long ago.
    Old(TimeDelta),
    /// A folder without a device's readings.
    NoDevice,
    /// No program was named.
    NoProgram,
    /// A program that failed.
    Failed,
    /// A program that did not end within so many seconds.
    Endless(u64),
    /// Nothing stands in what it gave.
    Empty,
    /// What it gave is no air; the beginning of it.
    NoAir(String),
    /// An air that no room has.
    OutOfRange,
}
