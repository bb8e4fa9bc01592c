//! The places: one folder each. None knows another.

pub(crate) mod bench;
pub(crate) mod findings;
pub(crate) mod judging;
pub(crate) mod outgoing;
pub(crate) mod photos;
pub(crate) mod plan;
pub(crate) mod pour;
pub(crate) mod rack;
pub(crate) mod recipes;
pub(crate) mod shelf;
pub(crate) mod trials;
