//! The integration tests, one binary.

mod published;
