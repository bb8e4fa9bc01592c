//! The shelf: materials, what is left of them and what they cost.

pub(crate) mod cost;
pub(crate) mod course;
pub(crate) mod materials;
pub(crate) mod stock;
