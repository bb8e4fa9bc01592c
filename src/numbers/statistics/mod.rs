//! What worked: intervals, comparisons and fits for small numbers of pours.

pub mod proportion;
