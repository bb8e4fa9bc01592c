//! Cells in a photo of a picture: pixels in, a measurement in millimetres out. Pure; work on whole pictures is shared by
//! two threads.

pub mod blur;
pub mod colour;
pub mod distance;
pub mod otsu;
pub mod plane;
pub mod regions;
pub mod watershed;
