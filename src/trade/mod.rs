//! What a studio is. Pure: no files, no clock, no random source.

pub mod text;
pub mod units;
