//! Values printed by others, or computed with another library, that our models must reproduce.

mod findings;
mod logistic;
mod statistics;
