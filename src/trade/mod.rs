//! What a studio is. Pure: no files, no clock, no random source.

pub mod amount;
pub mod duration;
pub mod instant;
pub mod money;
mod number;
pub mod panel;
pub mod problem;
pub mod range;
pub mod text;
pub mod units;
pub mod zone;
