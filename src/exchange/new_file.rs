//! Every file that goes out (JSON, CSV, and whatever is drawn or set) is written here.

use super::ExchangeError;
use crate::studio::{FileWriter, StoreError, Studio, SystemFault};
use std::path::Path;

/// Writes the file at `path` through `fill`: whole and on the disk, or what stood there stays, which is only `replace`d
/// if asked. A link is followed, and stays. Nobody may read the file who may not read the studio.
///
/// `fill` writes from the beginning to the end (the writer can seek too); what it answers as an error ends the writing
/// and leaves nothing behind.
///
/// ```no_run
/// # use stillcup::{exchange::{self, ExchangeError}, studio::Studio};
/// # use std::{io::Write, path::Path};
/// # fn page(studio: &Studio, path: &Path) -> Result<(), ExchangeError> {
/// exchange::write_file(studio, path, false, |out| {
///     out.write_all(b"<!doctype html>\n").map_err(|err| ExchangeError::system("the page", &err))
/// })
/// # }
/// ```
///
/// # Errors
/// [`ExchangeError::There`] for a file that is not to be replaced; [`ExchangeError::Store`] for a file of this studio or
/// another (itself, what SQLite keeps beside it, its copies, its photos; under any path), a folder, a pipe or a device;
/// what `fill` answers; where the system does not let it be written.
pub fn write_file(
    studio: &Studio,
    path: &Path,
    replace: bool,
    fill: impl FnOnce(&mut FileWriter<'_>) -> Result<(), ExchangeError>,
) -> Result<(), ExchangeError> {
    let written = studio.write_file(path, replace, fill);
    written.map_err(|err| match err {
        ExchangeError::Store(StoreError::Exists(there)) => {
            ExchangeError::There(there.display().to_string())
        }
        // A stream that could not be written is the file that could not be.
        ExchangeError::Store(StoreError::System { why, .. }) => {
            let path = path.into();
            StoreError::System { path, why }.into()
        }
        ExchangeError::System { why, .. } => {
            let (path, why) = (path.into(), SystemFault::Said(why));
            StoreError::System { path, why }.into()
        }
        other => other,
    })
}

/// Writes a file that was made whole before, as [`write_file`].
///
/// # Errors
/// As [`write_file`].
pub fn write_bytes(
    studio: &Studio,
    path: &Path,
    replace: bool,
    bytes: &[u8],
) -> Result<(), ExchangeError> {
    write_file(studio, path, replace, |out| {
        let written = std::io::Write::write_all(out, bytes);
        written.map_err(|err| ExchangeError::system(&path.display().to_string(), &err))
    })
}
