//! The integration tests, one binary.

mod faults;
mod store;
