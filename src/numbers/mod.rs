//! What is computed: one model a file, its source and range at its head. Pure: no clock, no files, no random source.

pub mod statistics;
