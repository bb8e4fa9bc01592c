//! What is computed: one model a file, its source and range at its head. Pure: no clock, no files, no random source.

pub mod bubbles;
pub mod cells;
pub mod cost;
pub mod creep;
pub mod density;
pub mod drying;
pub mod film;
pub mod flow_cup;
pub mod layer_instability;
pub mod levelling;
pub mod mound;
pub mod noise;
pub mod paint;
pub mod rest;
pub mod search;
pub mod stack;
pub mod statistics;
pub mod surprise;
pub mod technique;
pub mod thickening;
pub mod thinning;

/// Standard gravity in m/s2 (exact by definition, 3rd CGPM 1901; from memory).
pub const GRAVITY: f64 = 9.806_65;

/// The standard normal's 90 % point: an 80 % band reaches this many standard deviations each way.
pub const Z_80: f64 = 1.281_551_565_544_600_4;
