//! Every file that goes out (JSON, CSV, and whatever is drawn or set) is written here.

use crate::studio::{Answer, FileWriter, Refusal, StoreError, Studio, StudioError};
use std::path::Path;

/// Writes the file at `path` through `fill`: whole and on the disk, or what stood there stays, which is only `replace`d
/// if asked. A link is followed, and stays. Nobody may read the file who may not read the studio.
///
/// `fill` writes from the beginning to the end (the writer can seek too); what it answers as an error ends the writing
/// and leaves nothing behind.
///
/// ```no_run
/// # use stillcup::{exchange, studio::{Answer, Studio}};
/// # use std::{io::Write, path::Path};
/// # fn page(studio: &Studio, path: &Path) -> Answer<()> {
/// exchange::write_file(studio, path, false, |out| {
///     out.write_all(b"<!doctype html>\n").map_err(|err| exchange::unwritten(&err))
/// })
/// # }
/// ```
///
/// # Errors
/// [`Refusal::There`] for a file that is not to be replaced; an error of the store for a file of this studio or
/// another (itself, what SQLite keeps beside it, its copies, its photos; under any path), a folder, a pipe or a device;
/// what `fill` answers; where the system does not let it be written.
pub fn write_file(
    studio: &Studio,
    path: &Path,
    replace: bool,
    fill: impl FnOnce(&mut FileWriter<'_>) -> Answer<()>,
) -> Answer<()> {
    let written = studio.write_file(path, replace, fill);
    written.map_err(|err| match err {
        StudioError::Store(StoreError::Exists(there)) => {
            Refusal::There(there.display().to_string()).into()
        }
        // A stream that could not be written is the file that could not be.
        StudioError::Store(StoreError::System { path: none, why }) if none == Path::new("") => {
            let path = path.into();
            StoreError::System { path, why }.into()
        }
        other => other,
    })
}

/// That the system did not take what was written to a stream; [`write_file`] puts the file's name to it.
#[must_use]
pub fn unwritten(err: &std::io::Error) -> StudioError {
    StoreError::system(Path::new(""), err).into()
}

/// Writes a file that was made whole before, as [`write_file`].
///
/// # Errors
/// As [`write_file`].
pub fn write_bytes(studio: &Studio, path: &Path, replace: bool, bytes: &[u8]) -> Answer<()> {
    write_file(studio, path, replace, |out| {
        let written = std::io::Write::write_all(out, bytes);
        written.map_err(|err| unwritten(&err))
    })
}
