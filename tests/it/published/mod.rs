//! Published values: each check names its source, its tolerance and how the value was got.
//! READ: read in a copy of the source. COMPUTED: from the stated formula, by other code in double precision.
//! MEMORY: from memory. PRACTICE: common practice, no source.

mod cells;
mod cells_held;
mod cells_turned;
mod paint;
mod physics_drying;
mod physics_film;
mod physics_flow;
mod physics_layers;
mod physics_rising;
mod statistics;
