//! The integration tests, one binary.

mod terminal;
