//! The integration tests, one binary.

// `allow-unwrap-in-tests` does not reach the helper functions of integration tests.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod command;
mod demo;
mod exchange;
mod faces;
mod faults;
mod house;
mod leaves;
mod near;
mod published;
mod schemas;
mod store;
mod terminal;
mod truth;
mod walks;
mod yours;
