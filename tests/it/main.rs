//! The integration tests, one binary.

mod faults;
mod published;
mod store;
