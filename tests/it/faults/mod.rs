//! A disk that fails at a chosen write: nothing is ever torn, and what is said of a commit is true.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of a test fails the test, as the test itself may"
)]

mod disk;
mod keeping;
mod killed;
