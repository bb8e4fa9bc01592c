//! Cells in a photo of a picture: pixels in, a measurement in millimetres out. Pure; work on whole pictures is shared by
//! two threads.
//!
//! The way of it, each step in a file of its own:
//!
//! 1. [`corners`]: what is [`table`] and what is panel, the [`quad`] around it, its [`border`] fitted to a part of a pixel;
//!    round panels by their [`ellipse`]. In doubt the panel is not found.
//! 2. [`homography`]: the panel straightened, in linear light; [`pose`] tells which of its sides is the longer one.
//! 3. [`glare`]: highlights and their halo are left out.
//! 4. [`ground`]: the ground's colour and its uneven light, fitted in CIELAB ([`colour`]).
//! 5. [`segment`]: what differs from the ground by more than a threshold ([`otsu`], lowered for pale cells), its [`regions`],
//!    touching ones parted at their necks ([`distance`], [`watershed`]).
//! 6. [`cut`]: each cell's edge half way between its own colour and the ground beside it, in linear light.
//! 7. [`spread`] and [`palette`]: what the cells are together, and the colours.
//!
//! The distance from the ground is Euclid's in CIELAB: CIEDE2000 was tried in the recipe's prototype, cost ten times as
//! much and found no more. The constants are our own, set on generated pictures with a known truth; real photos may differ.

pub mod blur;
pub mod border;
pub mod colour;
pub mod corners;
pub mod cut;
pub mod distance;
pub mod ellipse;
pub mod glare;
pub mod ground;
pub mod homography;
pub mod measure;
pub mod otsu;
pub mod palette;
pub mod plane;
pub mod pose;
pub mod quad;
pub mod regions;
pub mod segment;
pub mod spread;
pub mod summary;
pub mod table;
pub mod watershed;

pub use corners::{Found, NotFound, Sought, find};
pub use homography::{Pixels, Point};
pub use measure::{Cell, Measured, Unmeasured, Wanted, measure};
pub use summary::Summary;

/// The method's version: a measurement tells by which it was made.
pub const METHOD: &str = "2";
