//! Photo files: read within limits on pixels and memory, turned upright, their instant taken from EXIF; and what is drawn
//! over them written out.
//!
//! What a file is goes by its first bytes, never by its ending. A picture's place on earth is never read.

mod exif;
mod format;
mod listed;
mod open;
mod overlay;
mod thumbnail;

pub use exif::{Taken, taken_or_dated};
pub use format::Format;
pub use listed::{listed, path_typed};
pub use open::{Photo, file_date, open_photo, photo_taken, photos_in, read_photo};
pub use overlay::{overlaid, overlay_png, preview};
pub use thumbnail::{Thumb, opened_thumbnail, thumbnail};

/// The most pixels of a photo that are read.
pub const MOST_PIXELS: u64 = 80_000_000;
/// The longest side.
pub const MOST_SIDE: u32 = 30_000;
/// The shortest side of a photo that anything could be measured in.
pub const LEAST_SIDE: u32 = 48;
/// The largest file, in bytes.
pub const MOST_BYTES: u64 = 250_000_000;
