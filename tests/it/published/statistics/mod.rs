//! Statistics against print, or against another library. READ: read in a copy of the text named; COMPUTED: with a
//! general library (scipy 1.17, statsmodels 0.15, mpmath) or by other code; MEMORY: not read again.

mod findings;
mod logistic;
mod shares;
