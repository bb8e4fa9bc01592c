//! The wording of files that are no photos, or none that is read.

use crate::studio::{OtherFile, PhotoProblem};
use crate::tell::store::system;

/// Why a file was not read as a photo, as one sentence that begins with its name.
pub(super) fn problem(name: &str, why: &PhotoProblem) -> String {
    match why {
        PhotoProblem::System(why) => format!("{name} cannot be read: {}", system(why)),
        PhotoProblem::NoFile => format!("{name} is no file"),
        PhotoProblem::Empty => format!("{name} is empty"),
        PhotoProblem::Other(is) => format!("{name} is {}", other(*is)),
        PhotoProblem::CutShort => format!("{name} is damaged or cut short: its end is missing"),
        PhotoProblem::Damaged(why) => format!("{name} is damaged or cut short: {why}"),
        PhotoProblem::Codec(codec) => {
            format!("{name} is a HEIC that is not read: its pictures are coded in {codec}")
        }
        PhotoProblem::OtherHeic(what) => format!("{name} is a HEIC that is not read: {what}"),
        PhotoProblem::Animated => format!("{name} is animated"),
        PhotoProblem::TooLarge(w, h) => {
            format!("{name} has {w} x {h} pixels, more than are read")
        }
        PhotoProblem::TooSmall(w, h) => {
            format!("{name} has {w} x {h} pixels, too few to measure anything")
        }
        PhotoProblem::TooHeavy(most) => {
            format!("{name} has more than {most} bytes, which no photo has")
        }
    }
}

const fn other(is: OtherFile) -> &'static str {
    match is {
        OtherFile::Avif => "an AVIF, which is not read",
        OtherFile::Film => "a film or another container, and no photo",
        OtherFile::Gif => "a GIF, which is not read",
        OtherFile::Bmp => "a BMP, which is not read",
        OtherFile::Tiff => "a TIFF or a camera's raw file, which are not read",
        OtherFile::Pdf => "a PDF, and no photo",
        OtherFile::Unknown => "no picture that is known",
    }
}

/// What to do about it.
pub(super) const fn problem_hint(why: &PhotoProblem) -> &'static str {
    match why {
        PhotoProblem::System(_) => "check the path and its permissions",
        PhotoProblem::NoFile => "name one photo",
        PhotoProblem::Empty | PhotoProblem::CutShort | PhotoProblem::Damaged(_) => {
            "copy the photo from the camera again"
        }
        PhotoProblem::Other(_) => "take a JPEG, PNG, WebP or HEIC",
        PhotoProblem::Codec(_) | PhotoProblem::OtherHeic(_) => "have the camera save it as JPEG",
        PhotoProblem::Animated => "take a still picture",
        PhotoProblem::TooLarge(..) | PhotoProblem::TooHeavy(_) => {
            "make it smaller first: 12 megapixels are plenty"
        }
        PhotoProblem::TooSmall(..) => "take the photo itself, not its thumbnail",
    }
}
