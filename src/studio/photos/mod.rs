//! Photos of pictures: measured, kept, looked after.

mod beside;
pub mod carried;
pub mod keeping;
pub mod measuring;
