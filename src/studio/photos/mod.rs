//! Photos of pictures: measured, kept, looked after.

mod beside;
pub mod keeping;
pub mod measuring;
