//! What a studio is. Pure: no files, no clock, no random source.

pub mod amount;
pub mod caution;
pub mod cup;
pub mod duration;
pub mod ids;
pub mod instant;
pub mod judgement;
pub mod length;
pub mod life;
pub mod mark;
pub mod material;
pub mod moment;
pub mod money;
pub(crate) mod number;
pub mod panel;
pub mod photo;
pub mod picture;
pub mod plan;
pub mod pour;
pub mod problem;
pub mod range;
pub mod recipe;
pub mod text;
pub mod trial;
pub mod units;
pub(crate) mod words;
mod zone;
