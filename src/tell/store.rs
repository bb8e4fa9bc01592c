//! What every error of the store says, and what to do next on each face.

use crate::studio::{
    Alteration, BackupFault, DiskFault, Misfit, Occupied, ProgramFault, Rule, StoreError,
    SystemFault,
};
use crate::tell::damage::{damage, newer_word};
use crate::tell::imports::{contradictions, foreign};
use crate::tell::moved::{moved, moved_hint};
use crate::tell::{Face, Told};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;

impl Told for StoreError {
    fn told(&self, measures: Measures, _now: &Now) -> String {
        said(self, measures)
    }
}

fn said(error: &StoreError, measures: Measures) -> String {
    let inner = |error: &StoreError| said(error, measures);
    match error {
        StoreError::Missing(path) => format!("there is no studio file at {}", path.display()),
        StoreError::Folder(path) => format!("{} is a folder, not a studio file", path.display()),
        StoreError::NotAFile(path) => {
            format!(
                "{} is a pipe or a device, not a studio file",
                path.display()
            )
        }
        StoreError::Gone(path) => {
            format!(
                "the studio's file {} is gone; nothing was kept",
                path.display()
            )
        }
        StoreError::Replaced(path) => format!(
            "another file was put in the place of {}; nothing was kept",
            path.display()
        ),
        StoreError::Lost(path) => format!(
            "the studio's file {} is gone or empty, but there are copies of it",
            path.display()
        ),
        StoreError::LogAlone(path) => format!(
            "there is no studio file at {}, but its unfinished log lies there",
            path.display()
        ),
        StoreError::ForeignLog(path) => format!(
            "the log beside {} is not that file's; nothing was touched",
            path.display()
        ),
        StoreError::Altered(what) => {
            let what = alteration(what);
            format!("the studio file was altered by another hand: {what}")
        }
        StoreError::Unknown(word) => newer_word(word),
        StoreError::Unreadable { path, why } => {
            format!("{} cannot be read: {}", path.display(), system(why))
        }
        StoreError::NotAStudio(path) => format!("{} is not a studio file", path.display()),
        StoreError::Newer { file, ours } => format!(
            "the studio file has version {file}, this program knows up to version {ours}; \
                 the file was not touched"
        ),
        StoreError::Damaged(what) => format!("the studio file is damaged: {}", damage(what)),
        StoreError::Busy => "the studio file is held by another program".to_owned(),
        StoreError::ReadOnly => {
            "the studio file, or the folder it stands in, may only be read, not written".to_owned()
        }
        StoreError::Unlocked { path, kind, option } => {
            let option = option.as_ref().map(|option| format!(", {option}"));
            format!(
                "{} lies on another machine's disk ({kind}{}), where locks do not hold between machines",
                path.display(),
                option.unwrap_or_default()
            )
        }
        StoreError::TwoNames(path) => format!(
            "{} has a second name (a hard link), under which a log of its own would be kept",
            path.display()
        ),
        StoreError::Full => "the disk is full; nothing was kept".to_owned(),
        StoreError::Disk(fault) => format!("the disk failed: {}", disk(*fault)),
        StoreError::Step { number, name, why } => format!(
            "step {number} ({name}) of the file's renewal failed, the file stays as it was: {}",
            inner(why)
        ),
        StoreError::Moved(why) => format!("this cannot be taken back: {}", moved(why, measures)),
        StoreError::NothingToUndo => "there is nothing to undo".to_owned(),
        StoreError::NothingToRedo => "there is nothing to redo".to_owned(),
        StoreError::NoSuchChange(change) => format!("there is no change {change}"),
        StoreError::NoSuchRow { table, id } => format!("there is no {table} {id}"),
        StoreError::UnknownName { table, column } => match column {
            None => format!("the studio file knows no {table}"),
            Some(column) => format!("the studio file knows no {table}.{column}"),
        },
        StoreError::NotFinite { table, column } => {
            format!("{table}.{column} must be a finite number")
        }
        StoreError::Rule(broken) => format!("the studio file refuses this: {}", rule(*broken)),
        StoreError::Foreign { rows, why } => foreign(rows, why),
        StoreError::Contradicts(all) => {
            let all = contradictions(all, measures).join("; ");
            format!("the file contradicts itself: {}", inert(&all))
        }
        StoreError::Unrecorded(table) => {
            format!("a write to {table} reached further rows, which would not be recorded")
        }
        StoreError::NotKept(why) => format!("this was not kept: {}", inner(why)),
        StoreError::Unconfirmed { uid, why, then } => format!(
            "it is not confirmed whether this was kept ({uid}): {}; then {}",
            inner(why),
            inner(then)
        ),
        StoreError::Exists(path) => {
            format!(
                "{} is already there and is never overwritten",
                path.display()
            )
        }
        StoreError::NotToWrite { path, is } => {
            format!(
                "{} is {} and is never written over",
                path.display(),
                occupied(*is)
            )
        }
        StoreError::BadBackup { path, why } => {
            let path = path.display();
            match why {
                BackupFault::Itself => format!("the backup {path} is the studio itself"),
                BackupFault::Empty => format!("the backup {path} is not whole: it is empty"),
                BackupFault::LogBeside => {
                    format!("the backup {path} is not whole: an unfinished log lies beside it")
                }
                BackupFault::Rows { held, of } => {
                    format!("the backup {path} is not whole: it holds {held} rows of {of}")
                }
                BackupFault::Unread(why) => {
                    format!("the backup {path} is not whole: {}", inner(why))
                }
            }
        }
        StoreError::System { path, why } => format!("{}: {}", path.display(), system(why)),
        StoreError::Program(fault) => program(fault),
    }
}

/// Why the system did not do it.
pub(super) fn system(why: &SystemFault) -> &str {
    match why {
        SystemFault::Quota => "no more is allowed to you on this disk",
        SystemFault::TooLarge => "no file may grow so large here",
        SystemFault::NotOpened => "the system does not let it be opened",
        SystemFault::Said(said) => said,
    }
}

fn disk(fault: DiskFault) -> String {
    let said = match fault {
        DiskFault::FileSystem => "its file system is damaged",
        DiskFault::Read => "it could not be read",
        DiskFault::Write => "it could not be written",
        DiskFault::Sync => "it did not confirm what was written",
        DiskFault::Cut => "a file could not be cut",
        DiskFault::Remove => "a file could not be removed",
        DiskFault::Look => "it could not be looked at",
        DiskFault::Lock => "its file system does not lock files",
        DiskFault::Memory => "its file system does not share memory between programs",
        DiskFault::NoMemory => "there is no memory left",
        DiskFault::Code(code) => return format!("SQLite's code {code}"),
    };
    said.to_owned()
}

/// Which of the file's own rules refuses a row.
pub(super) fn rule(broken: Rule) -> String {
    let said = match broken {
        Rule::Unique => "another row has its id, its uid, its name or its number",
        Rule::Reference => "a row would refer to one that is not there",
        Rule::Empty => "something that it must say is missing",
        Rule::Check => "what it says contradicts itself, or is out of range",
        Rule::Kind => "a value in it is of another kind",
        Rule::Code(code) => return format!("SQLite's code {code}"),
    };
    said.to_owned()
}

fn program(fault: &ProgramFault) -> String {
    match fault {
        ProgramFault::Blob => "a row holds bytes, which no change records".to_owned(),
        ProgramFault::Seed => "a seed has at most 63 bits".to_owned(),
        ProgramFault::Id => "the number of a row was to be changed".to_owned(),
        ProgramFault::StepEnded => "the step ended its own transaction".to_owned(),
        ProgramFault::Driver { code: None, .. } => {
            "the studio file did not understand what it was asked".to_owned()
        }
        ProgramFault::Driver {
            code: Some(code), ..
        } => format!("the studio file did not understand what it was asked (SQLite's code {code})"),
    }
}

fn alteration(what: &Alteration) -> String {
    match what {
        Alteration::NoTables => "it has no tables".to_owned(),
        Alteration::Added { kind, name } => {
            format!("it has a {kind} {name}, which no studio of its version has")
        }
        Alteration::Lacking { kind, name } => {
            format!("it lacks the {kind} {name} of its version")
        }
        Alteration::Other { kind, name } => {
            format!("its {kind} {name} is not that of its version")
        }
    }
}

const fn occupied(is: Occupied) -> &'static str {
    match is {
        Occupied::Own => "a file of the studio itself",
        Occupied::Studio => "another studio",
        Occupied::Folder => "a folder",
        Occupied::Device => "a pipe or a device",
    }
}

/// What to do next after an error of the store, as one sentence without its full stop.
#[must_use]
pub fn store_hint(error: &StoreError, face: Face) -> String {
    let said = match error {
        StoreError::Missing(_) => "check the path, or start a new studio there",
        StoreError::Folder(_) => "name a file inside it",
        StoreError::NotAFile(_) => "name a file",
        StoreError::Gone(_) => face.pick_one(
            "put it back where it was; no copy of it is known here",
            "what is typed stays here; put the file back",
        ),
        StoreError::Replaced(_) => "look at what is there now, then do it again",
        StoreError::Lost(_) => "none of them is whole; to begin anew, move them away first",
        StoreError::LogAlone(_) => "put the file back where it was; no copy of it is known here",
        StoreError::ForeignLog(_) => "move the log away (its name ends in -wal), then look again",
        StoreError::Altered(_) => "what it holds can still be read by any reader of SQLite files",
        StoreError::Unknown(_) => "use the newer program",
        StoreError::Unreadable { .. } | StoreError::ReadOnly => {
            "check the permissions of the file and its folder"
        }
        StoreError::Unlocked { .. } => face.pick_one(
            "what is there can be read; keep the studio on a disk of this machine, and bring it over by backup and restore",
            "what is there can be read; keep the studio on a disk of this machine",
        ),
        StoreError::TwoNames(_) => face.pick_one(
            "what is there can be read; take a copy with backup in place of the second name, and remove that",
            "what is there can be read; put a copy in place of the second name, and remove that",
        ),
        StoreError::NotAStudio(_) => "check the path; the file was left as it is",
        StoreError::Newer { .. } => "use the newer program, or a backup made before the renewal",
        StoreError::Damaged(_) => face.pick_one(
            "no whole copy is known here; what can be read may be taken out: stillcup export FILE",
            "what can be read is still shown, and nothing more is written",
        ),
        StoreError::Busy => face.pick_one(
            "close the other program, or try again in a moment",
            "this is done as soon as that has ended",
        ),
        StoreError::Full => "free some space on the disk, then do it again",
        StoreError::Disk(_) => face.pick_one(
            "look after the disk, and take a copy to another one: stillcup backup FILE",
            "look after the disk before you go on",
        ),
        StoreError::Step { .. } => "the copy made before the renewal stands beside the file",
        StoreError::Moved(why) => return moved_hint(why, face),
        StoreError::NothingToUndo | StoreError::NothingToRedo | StoreError::NoSuchChange(_) => face
            .pick_one(
                "stillcup history shows what was done",
                "h shows what was done",
            ),
        StoreError::NoSuchRow { .. } => "read it again; it may have been removed meanwhile",
        StoreError::UnknownName { .. } | StoreError::Unrecorded(_) | StoreError::Program(_) => {
            "this is a fault of the program; nothing was kept"
        }
        StoreError::NotFinite { .. } | StoreError::Rule(_) => "check what was entered",
        StoreError::Foreign { why, .. } => foreign_hint(why),
        StoreError::Contradicts(_) => face.pick_one(
            "nothing was changed; where it is so all the same, say --even-so",
            "nothing was changed; mend the file first",
        ),
        StoreError::NotKept(_) => "do it again",
        StoreError::Unconfirmed { .. } => "open the studio again and look before doing it twice",
        StoreError::Exists(_) | StoreError::NotToWrite { .. } => "choose another name",
        StoreError::BadBackup { .. } => face.pick_one(
            "choose another: stillcup backups shows which there are",
            "choose another backup",
        ),
        StoreError::System { .. } => "check the folder, its permissions and the space left",
    };
    said.to_owned()
}

const fn foreign_hint(why: &Misfit) -> &'static str {
    match why {
        Misfit::Newer(_) => "nothing was changed; use the newer program",
        Misfit::TooMuch { .. } => "nothing was changed; take it into a studio of its own",
        Misfit::NoNameLeft | Misfit::NoMarkLeft => {
            "nothing was changed; end or rename what is no longer needed here"
        }
        Misfit::Order
        | Misfit::OrderBeneath
        | Misfit::Unnamed
        | Misfit::Missing(_)
        | Misfit::Range(_)
        | Misfit::Twice
        | Misfit::Rule(_)
        | Misfit::Row(_)
        | Misfit::File(_) => "nothing was changed; export it again from the studio it came from",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{Contradictions, Damage, Moved};
    use std::path::PathBuf;

    /// Guards the rule that the screen's hints name keys: one error of each kind whose hint names a command.
    #[test]
    fn the_screen_names_no_command_of_the_store() {
        let file = || PathBuf::from("s.db");
        for error in [
            StoreError::Gone(file()),
            StoreError::Unlocked {
                path: file(),
                kind: "nfs".to_owned(),
                option: None,
            },
            StoreError::TwoNames(file()),
            StoreError::Damaged(Damage::Pages),
            StoreError::Busy,
            StoreError::Disk(DiskFault::Read),
            StoreError::Moved(Moved::NeededSomewhere),
            StoreError::NothingToUndo,
            StoreError::NoSuchChange(3),
            StoreError::Contradicts(Contradictions::default()),
            StoreError::BadBackup {
                path: file(),
                why: BackupFault::Empty,
            },
        ] {
            let keys = store_hint(&error, Face::Screen);
            assert!(!keys.contains("stillcup") && !keys.contains("--"), "{keys}");
            assert_ne!(keys, store_hint(&error, Face::CommandLine), "{error:?}");
        }
    }
}
