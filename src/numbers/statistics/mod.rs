//! What few pours can and cannot say: shares, choices, tests, fits and trials. Pure; every seed is a value.

pub mod averaging;
pub mod beta_binomial;
pub mod choice;
mod distribution;
pub mod drift;
pub mod effects;
pub mod exact;
pub mod factorial;
pub mod findings;
pub mod joint;
pub mod least_squares;
pub mod logistic;
mod maximise;
pub mod multiple;
pub mod pair;
mod profile;
pub mod proportion;
pub mod ranks;
pub mod runs_missing;
pub mod sides;
