//! Cells in a photo of a picture: pixels in, a measurement in millimetres out. Pure; work on whole pictures is shared by
//! two threads.

pub mod blur;
pub mod border;
pub mod colour;
pub mod corners;
pub mod distance;
pub mod ellipse;
pub mod homography;
pub mod otsu;
pub mod plane;
pub mod quad;
pub mod regions;
pub mod table;
pub mod watershed;
