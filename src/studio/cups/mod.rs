//! Cups: mixed, tended, and what is learned of how they rest, thicken and thin.

pub(crate) mod add;
pub(crate) mod amend;
pub(crate) mod bench;
mod both_ends;
pub(crate) mod bottles;
mod colour;
pub(crate) mod entered;
pub(crate) mod filling;
pub(crate) mod first;
pub(crate) mod forecast;
pub(crate) mod learned;
pub(crate) mod lessons;
pub(crate) mod lid;
pub(crate) mod mix;
pub(crate) mod mixture;
pub(crate) mod remix;
mod risen;
pub(crate) mod tend;
pub(crate) mod turns;
