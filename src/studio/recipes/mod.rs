//! Recipes, their variants and parts.

pub(crate) mod changed;
pub(crate) mod names;
pub(crate) mod starters;
pub(crate) mod variants;
