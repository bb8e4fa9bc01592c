//! What kills of earlier programs left: Stillcup 0.1.0 held no lock on what it had half-written, so that only its age tells
//! that nobody works on it any more. The age is by the folder's own clock, which is that of the disk: how long after the
//! file the folder changed last.

use super::header;
use super::new_file::folder_of;
use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Whoever works on a file writes to it more often (ours).
const LONG_AGO: Duration = Duration::from_hours(1);

/// What 0.1.0 called a copy on its way: an id of no instant after it, so that nobody else's file is called so.
const PARTIAL: &str = ".partial-00000000-0000-7";

/// The length of an id, and of what SQLite may have left beside it.
const ID: usize = 36;
const BESIDE: [&str; 4] = ["", "-wal", "-shm", "-journal"];

/// How 0.1.0 called a text on its way, with a number after it.
const PART: &str = ".part";
const PARTS: u32 = 100;

/// As many bytes of a text on its way must be those of the one that is whole.
const ALIKE: usize = 24;

/// Whether a file in a folder is a copy that 0.1.0 did not finish.
pub(super) fn is_unfinished_copy(path: &Path) -> bool {
    let name = path.file_name().and_then(OsStr::to_str).unwrap_or_default();
    let Some(at) = name.find(PARTIAL) else {
        return false;
    };
    let id = &name[at + PARTIAL.len() - "00000000-0000-7".len()..];
    let rest = id.get(ID..);
    rest.is_some_and(|rest| BESIDE.contains(&rest)) && is_old(path)
}

/// Removes what 0.1.0 left of a text that is now whole at `path`.
pub(super) fn clear_parts(path: &Path) {
    let whole = beginning(path);
    for number in 0..PARTS {
        let part = header::beside(path, &format!("{PART}{number}"));
        if !part.exists() {
            continue;
        }
        // Others cut files into parts as well: only what begins as ours does is ours.
        let begun = beginning(&part);
        let alike = begun.len().min(whole.len()).min(ALIKE);
        if is_old(&part) && whole[..alike] == begun[..alike] && (alike == ALIKE || begun.is_empty())
        {
            let _another_may_have_been_faster = std::fs::remove_file(&part);
        }
    }
}

/// Removes the second of two copies that two programs made of one state before they renewed the same file.
pub(super) fn clear_twins(path: &Path) {
    let named = format!(
        "{}.version-",
        path.file_name().unwrap_or_default().to_string_lossy()
    );
    for twin in files_in(folder_of(path)) {
        let name = twin.file_name().and_then(OsStr::to_str).unwrap_or_default();
        let numbers = name
            .strip_prefix(&named)
            .and_then(|rest| rest.split_once('-'));
        let Some((version, _)) = numbers.filter(|(_, second)| second.parse::<u32>().is_ok()) else {
            continue;
        };
        let first = header::beside(path, &format!(".version-{version}"));
        if is_old(&first) && is_old(&twin) && are_one(&first, &twin) {
            let _another_may_have_been_faster = std::fs::remove_file(&twin);
        }
    }
}

fn are_one(one: &Path, other: &Path) -> bool {
    let length = |path: &Path| std::fs::metadata(path).ok().map(|about| about.len());
    length(one) == length(other)
        && std::fs::read(one).is_ok_and(|one| std::fs::read(other).is_ok_and(|other| one == other))
}

/// Whether a plain file was last written long before its folder changed last.
fn is_old(path: &Path) -> bool {
    let changed = |path: &Path| -> Option<SystemTime> {
        let about = std::fs::symlink_metadata(path).ok()?;
        about.modified().ok()
    };
    let plain = path.symlink_metadata().is_ok_and(|about| about.is_file());
    let ages = changed(folder_of(path)).zip(changed(path));
    plain
        && ages.is_some_and(|(now, then)| now.duration_since(then).is_ok_and(|age| age > LONG_AGO))
}

fn beginning(path: &Path) -> Vec<u8> {
    let mut begun = Vec::new();
    if let Ok(file) = std::fs::File::open(path) {
        let _what_was_read_counts = file.take(ALIKE as u64).read_to_end(&mut begun);
    }
    begun
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|entry| entry.path()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const COPY: &str = "s.db.partial-00000000-0000-7abc-8def-0123456789ab";

    fn put(folder: &Path, name: &str, bytes: &[u8], old: bool) -> PathBuf {
        let path = folder.join(name);
        std::fs::write(&path, bytes).unwrap();
        if old {
            let then = SystemTime::now() - Duration::from_hours(2);
            let file = std::fs::File::options().write(true).open(&path).unwrap();
            file.set_modified(then).unwrap();
        }
        path
    }

    #[test]
    fn a_copy_of_before_is_left_once_it_is_old_and_nothing_else_is() {
        let folder = tempfile::tempdir().unwrap();
        let is_left = |name: &str, old| is_unfinished_copy(&put(folder.path(), name, b"", old));
        assert!(is_left(COPY, true) && is_left(&format!("{COPY}-journal"), true));
        assert!(!is_left(COPY, false), "in use");
        for other in [
            "s.db.partial-",
            "s.db.partial-00000000-0000-7abc",
            "s.db.partial-0190b8a1-0000-7abc-8def-0123456789ab",
            "s.db",
            &format!("{COPY}.db"),
        ] {
            assert!(!is_left(other, true), "{other}");
        }
    }

    #[test]
    fn parts_of_a_text_go_where_they_begin_as_it_does_and_are_old() {
        let folder = tempfile::tempdir().unwrap();
        let text = b"{\"format\":\"stillcup studio\",\"version\":1}";
        let whole = put(folder.path(), "out.json", text, false);
        let parts = [
            (&text[..30], true, false),
            (b"", true, false),
            (b"somebody else's own part of it", true, true),
            (&text[..30], false, true),
        ];
        for (number, (bytes, old, _)) in parts.iter().enumerate() {
            put(
                folder.path(),
                &format!("out.json.part{number}"),
                bytes,
                *old,
            );
        }
        clear_parts(&whole);
        for (number, (.., stays)) in parts.iter().enumerate() {
            let part = folder.path().join(format!("out.json.part{number}"));
            assert_eq!(part.exists(), *stays, "{number}");
        }
    }

    #[test]
    fn of_two_copies_of_one_state_the_second_goes() {
        let folder = tempfile::tempdir().unwrap();
        let put = |name: &str, bytes: &[u8]| put(folder.path(), name, bytes, true);
        put("s.db.version-3", b"one state");
        let twin = put("s.db.version-3-2", b"one state");
        let other = put("s.db.version-3-3", b"another's");
        clear_twins(&folder.path().join("s.db"));
        assert!(!twin.exists() && other.exists());
    }
}
