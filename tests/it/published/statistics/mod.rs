//! Statistics against print, or against another library.

mod findings;
mod logistic;
mod shares;
