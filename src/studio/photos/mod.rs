//! Photos of pictures: measured, kept, looked after.

pub mod keeping;
pub mod measuring;
