//! Whether a studio's folder is another machine's. Programs of one machine share a file by memory and locks of its system;
//! between machines there is no such memory, and locks only where the file system hands them on.
//!
//! Told by the system's own list of what is mounted (`proc(5)`, `/proc/pid/mountinfo`), by the names that Linux gives its
//! file systems and their options (`nfs(5)`, `mount.cifs(8)`, `fuse(4)`). Where there is no such list, a folder is taken
//! for one of this machine.

use super::LogbookError;
use super::new_file::folder_of;
use std::path::{Path, PathBuf};

/// How a file may be shared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Sharing {
    /// By any number of programs of this machine.
    Here,
    /// By one program at a time, on whichever machine: locks hold, and memory is not shared.
    OneAtATime,
    /// By nobody who writes: locks do not hold. Which file system it is, and what says so.
    Never {
        kind: String,
        option: Option<String>,
    },
}

/// File systems of other machines that hand locks on, unless an option says otherwise.
const REMOTE: [&str; 9] = [
    "nfs", "nfs4", "cifs", "smb3", "9p", "afs", "ceph", "gfs2", "ocfs2",
];
/// Options by which locks stay on this machine, or are not asked for at all.
const UNLOCKED: [&str; 4] = ["nolock", "nobrl", "local_lock=all", "local_lock=posix"];

/// Refuses a folder where two machines would not hear of each other.
pub(super) fn refuse(path: &Path) -> Result<(), LogbookError> {
    match of(path) {
        Sharing::Never { kind, option } => Err(LogbookError::Unlocked {
            path: path.into(),
            kind,
            option,
        }),
        Sharing::Here | Sharing::OneAtATime => Ok(()),
    }
}

/// Whether one program at a time may have the file open.
pub(super) fn is_one_at_a_time(path: &Path) -> bool {
    of(path) == Sharing::OneAtATime
}

fn of(path: &Path) -> Sharing {
    let mounted = std::fs::read_to_string("/proc/self/mountinfo").unwrap_or_default();
    let folder = folder_of(path).canonicalize();
    folder.map_or(Sharing::Here, |folder| told(&mounted, &folder))
}

/// What the list says of a folder: the last that was mounted closest to it counts.
fn told(mounted: &str, folder: &Path) -> Sharing {
    let mounts = mounted.lines().filter_map(Mount::read);
    let above = mounts.filter(|mount| folder.starts_with(&mount.point));
    let closest = above.max_by_key(|mount| mount.point.components().count());
    closest.map_or(Sharing::Here, |mount| mount.sharing())
}

struct Mount<'a> {
    point: PathBuf,
    kind: &'a str,
    source: &'a str,
    options: Vec<&'a str>,
}

impl<'a> Mount<'a> {
    /// `36 35 98:0 /mnt1 /mnt2 rw,noatime master:1 - ext3 /dev/root rw,errors=continue`
    fn read(line: &'a str) -> Option<Self> {
        let (place, what) = line.split_once(" - ")?;
        let place: Vec<&str> = place.split(' ').collect();
        let mut what = what.split(' ');
        let (kind, source) = (what.next()?, what.next()?);
        let options = place.get(5)?.split(',');
        Some(Self {
            point: PathBuf::from(unescaped(place[4])),
            kind,
            source,
            options: options.chain(what.flat_map(|one| one.split(','))).collect(),
        })
    }

    fn sharing(&self) -> Sharing {
        let lockless = self.options.iter().find(|one| UNLOCKED.contains(one));
        match lockless {
            Some(option) if self.is_remote() => self.never(Some((*option).to_owned())),
            None if self.is_remote() => Sharing::OneAtATime,
            // A program that shows another machine's files as a disk hears of this machine's locks alone.
            _ if self.is_shown_by_a_program() => self.never(None),
            _ => Sharing::Here,
        }
    }

    fn never(&self, option: Option<String>) -> Sharing {
        let kind = self.kind.to_owned();
        Sharing::Never { kind, option }
    }

    fn is_remote(&self) -> bool {
        REMOTE.contains(&self.kind)
    }

    fn is_shown_by_a_program(&self) -> bool {
        let elsewhere = self.source.contains(':') || self.source.starts_with("//");
        self.kind.starts_with("fuse.") && elsewhere
    }
}

/// A blank, a tab, a line's end and a backslash stand there as three octal digits.
fn unescaped(point: &str) -> String {
    let escapes = [
        ("\\040", " "),
        ("\\011", "\t"),
        ("\\012", "\n"),
        ("\\134", "\\"),
    ];
    let turned = |text: String, (escape, sign): (&str, &str)| text.replace(escape, sign);
    escapes.into_iter().fold(point.to_owned(), turned)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lines as `proc(5)` writes them; the options from memory.
    const MOUNTED: &str = "\
22 1 0:21 / / rw,relatime shared:1 - ext4 /dev/vda rw
40 22 0:44 / /srv/art rw,relatime shared:7 - nfs4 10.0.0.2:/art rw,vers=4.2,local_lock=none,addr=10.0.0.2
41 22 0:45 / /srv/old rw - nfs 10.0.0.2:/old rw,vers=3,nolock,local_lock=all
42 22 0:46 / /srv/share rw - cifs //10.0.0.2/share rw,vers=3.1.1,nobrl
43 22 0:47 / /home/me/far\\040away rw - fuse.sshfs me@10.0.0.2:/home/me rw,user_id=0
44 22 0:48 / /home/me/usb rw - fuseblk /dev/sdb1 rw
45 22 0:49 / /home/me/safe rw - fuse.crypt /home/me/.safe rw
46 40 0:50 / /srv/art/scratch rw - tmpfs tmpfs rw
";

    fn never(kind: &str, option: Option<&str>) -> Sharing {
        let (kind, option) = (kind.to_owned(), option.map(str::to_owned));
        Sharing::Never { kind, option }
    }

    #[test]
    fn a_folder_is_told_by_the_mount_closest_to_it() {
        for (folder, sharing) in [
            ("/home/me", Sharing::Here),
            ("/srv/art/studio", Sharing::OneAtATime),
            ("/srv/art/scratch", Sharing::Here),
            ("/srv/artful", Sharing::Here),
            ("/srv/old", never("nfs", Some("nolock"))),
            ("/srv/share/a/b", never("cifs", Some("nobrl"))),
            ("/home/me/far away", never("fuse.sshfs", None)),
            ("/home/me/usb", Sharing::Here),
            ("/home/me/safe", Sharing::Here),
        ] {
            assert_eq!(told(MOUNTED, Path::new(folder)), sharing, "{folder}");
        }
        assert_eq!(told("what is this", Path::new("/")), Sharing::Here);
    }
}
