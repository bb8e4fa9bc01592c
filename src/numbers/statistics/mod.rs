//! What few pours can and cannot say: shares, choices, tests, fits and trials. Pure; every seed is a value.

mod ascend;
pub mod averaging;
pub mod beta_binomial;
pub mod choice;
pub mod curves;
mod distribution;
pub mod drift;
pub mod effects;
pub mod exact;
pub mod factorial;
pub mod findings;
pub mod gaussian_process;
pub mod improvement;
pub mod least_squares;
pub mod pair;
pub mod pool;
pub mod proportion;
pub mod ranks;
pub mod runs_missing;
pub mod shrunk_means;
pub mod sides;
pub mod surface;
mod trial_error;
mod trial_margins;
