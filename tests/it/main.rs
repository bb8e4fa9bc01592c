//! The integration tests, one binary.

mod store;
