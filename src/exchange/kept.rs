//! Writing a file whole or not at all: beside its place first, then renamed.

use super::ExchangeError;
use std::fs::{File, OpenOptions};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

/// Writes `path` through `fill`; whatever stood there stays until the new file is whole and on the disk, and for good
/// unless it is to be replaced.
pub(super) fn write_whole(
    path: &Path,
    replace: bool,
    fill: impl FnOnce(&mut BufWriter<File>) -> Result<(), ExchangeError>,
) -> Result<(), ExchangeError> {
    if !replace {
        refuse_there(path)?;
    }
    let (beside, file) = make_beside(path)?;
    let done = filled(path, file, fill).and_then(|()| match replace {
        true => std::fs::rename(&beside, path).map_err(|err| said(path, &err)),
        false => put_new(&beside, path),
    });
    if done.is_err() {
        // The reason already in hand says more than a failed tidying up.
        drop(std::fs::remove_file(&beside));
    }
    done
}

/// Puts a file in a place that nobody has taken meanwhile.
fn put_new(beside: &Path, path: &Path) -> Result<(), ExchangeError> {
    match std::fs::hard_link(beside, path) {
        Ok(()) => {
            drop(std::fs::remove_file(beside));
            Ok(())
        }
        Err(err) if err.kind() == std::io::ErrorKind::AlreadyExists => refuse_there(path),
        // Not every file system knows links; there the place is looked at once more.
        Err(_) => {
            refuse_there(path)?;
            std::fs::rename(beside, path).map_err(|err| said(path, &err))
        }
    }
}

fn refuse_there(path: &Path) -> Result<(), ExchangeError> {
    // A link that leads nowhere is there too.
    match std::fs::symlink_metadata(path) {
        Ok(_) => Err(ExchangeError::There(path.display().to_string())),
        Err(_) => Ok(()),
    }
}

fn filled(
    path: &Path,
    file: File,
    fill: impl FnOnce(&mut BufWriter<File>) -> Result<(), ExchangeError>,
) -> Result<(), ExchangeError> {
    let mut out = BufWriter::new(file);
    fill(&mut out)?;
    out.flush().map_err(|err| said(path, &err))?;
    out.get_ref().sync_all().map_err(|err| said(path, &err))
}

/// A new file that nobody else holds, named after the one to come.
fn make_beside(path: &Path) -> Result<(PathBuf, File), ExchangeError> {
    let mut number = 0;
    loop {
        let mut name = path.as_os_str().to_owned();
        name.push(format!(".part{number}"));
        let beside = PathBuf::from(name);
        match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&beside)
        {
            Ok(file) => return Ok((beside, file)),
            Err(err) if err.kind() == std::io::ErrorKind::AlreadyExists && number < 100 => {
                number += 1
            }
            Err(err) => return Err(said(path, &err)),
        }
    }
}

fn said(path: &Path, err: &std::io::Error) -> ExchangeError {
    ExchangeError::system(&path.display().to_string(), err)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_writing_leaves_the_old_file_and_nothing_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("x.json");
        std::fs::write(&path, "old").unwrap();
        let failed = write_whole(&path, true, |out| {
            out.write_all(b"half").unwrap();
            Err(ExchangeError::TooLarge("no"))
        });
        assert!(failed.is_err());
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "old");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
        let write = |out: &mut BufWriter<File>| {
            out.write_all(b"new").unwrap();
            Ok(())
        };
        let refused = write_whole(&path, false, write).unwrap_err();
        assert!(matches!(refused, ExchangeError::There(_)));
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "old");
        write_whole(&path, true, write).unwrap();
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "new");
        let other = folder.path().join("y.json");
        write_whole(&other, false, write).unwrap();
        assert_eq!(std::fs::read_to_string(&other).unwrap(), "new");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
    }
}
