//! The photos of the folder that a path leads into, the newest first: what is offered while the path is typed.

use super::Format;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// More of a folder are not offered: nobody looks through them.
const MOST: usize = 500;

/// A photo or a folder, as it would be typed, and when it was last changed.
struct Entry {
    typed: String,
    is_folder: bool,
    changed: Option<SystemTime>,
}

/// What may follow a text that is typed as the path of a photo: photos of the folder it leads into, the newest first,
/// then its folders, each ended by a slash. A text without a slash is looked for in `base`.
#[must_use]
pub fn listed(typed: &str, base: &Path) -> Vec<String> {
    let led = typed.rfind('/').map_or("", |at| &typed[..=at]);
    let folder = path_typed(led, base);
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut entries: Vec<Entry> = entries
        .filter_map(|entry| offered(&entry.ok()?.path(), led))
        .collect();
    entries.sort_by(|a, b| {
        let key = |one: &Entry| (one.is_folder, std::cmp::Reverse(one.changed));
        key(a).cmp(&key(b)).then_with(|| a.typed.cmp(&b.typed))
    });
    entries.truncate(MOST);
    entries.into_iter().map(|one| one.typed).collect()
}

fn offered(path: &Path, led: &str) -> Option<Entry> {
    let name = path.file_name()?.to_str()?;
    if name.starts_with('.') {
        return None;
    }
    let about = std::fs::metadata(path).ok()?;
    let slash = if about.is_dir() { "/" } else { "" };
    (about.is_dir() || about.is_file() && Format::may_be(path)).then(|| Entry {
        typed: format!("{led}{name}{slash}"),
        is_folder: about.is_dir(),
        changed: about.modified().ok(),
    })
}

/// The path that a text means: `~` is the home, a path that does not begin at the root begins at `base`. Quotes around it
/// and the blanks that a terminal writes after a file was dropped on it are no part of it.
#[must_use]
pub fn path_typed(typed: &str, base: &Path) -> PathBuf {
    let bare = typed.trim().trim_matches(['\'', '"']);
    match bare.strip_prefix("~/") {
        Some(rest) => home().unwrap_or_default().join(rest),
        None => base.join(bare),
    }
}

fn home() -> Option<PathBuf> {
    std::env::var_os("HOME").map(PathBuf::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    fn put(path: &Path, age: u64) {
        let file = std::fs::File::create(path).unwrap();
        let at = SystemTime::UNIX_EPOCH + Duration::from_secs(2_000_000 - age);
        file.set_modified(at).unwrap();
    }

    #[test]
    fn the_newest_photo_comes_first_and_folders_last() {
        let folder = tempfile::tempdir().unwrap();
        let base = folder.path();
        std::fs::create_dir(base.join("card")).unwrap();
        for (name, age) in [
            ("old.jpg", 90),
            ("new.HEIC", 10),
            ("notes.txt", 1),
            (".hid.jpg", 1),
        ] {
            put(&base.join(name), age);
        }
        put(&base.join("card/deep.png"), 5);
        assert_eq!(listed("", base), ["new.HEIC", "old.jpg", "card/"]);
        assert_eq!(listed("card/de", base), ["card/deep.png"]);
        assert_eq!(listed("gone/", base), Vec::<String>::new());
        let whole = format!("{}/", base.display());
        assert_eq!(
            listed(&whole, Path::new("/nowhere"))[0],
            format!("{whole}new.HEIC")
        );
    }

    #[test]
    fn a_dropped_path_loses_its_quotes() {
        let base = Path::new("/photos");
        assert_eq!(
            path_typed(" '/card/a b.jpg' ", base),
            Path::new("/card/a b.jpg")
        );
        assert_eq!(path_typed("a.jpg", base), Path::new("/photos/a.jpg"));
    }
}
