//! The integration tests, one binary.

// The switch that lets tests unwrap does not reach the helpers beside them.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod published;
