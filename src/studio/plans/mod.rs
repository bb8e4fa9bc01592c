//! Plans: paint for a panel, and when to begin what.

pub(crate) mod chosen;
pub(crate) mod kept_plan;
pub(crate) mod plan;
pub(crate) mod repeat;
pub(crate) mod schedule;
pub(crate) mod standing;
mod went;
