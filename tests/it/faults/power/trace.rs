//! What a real process asked of the system, in order: every call that changes a file, with its bytes, as `strace` tells it.

use crate::faults::program::dressed;
use std::collections::HashMap;
use std::ffi::OsString;
use std::os::unix::ffi::OsStringExt;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A number by which a process knows an open file.
pub type Handle = i64;

/// A call that was granted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Call {
    Open {
        path: PathBuf,
        create: bool,
        cut: bool,
        handle: Handle,
    },
    Double {
        old: Handle,
        new: Handle,
    },
    Close(Handle),
    /// At a place of the file, or where the handle stands.
    Write {
        handle: Handle,
        at: Option<usize>,
        bytes: Vec<u8>,
    },
    Copy {
        from: Handle,
        to: Handle,
        count: usize,
    },
    Cut {
        handle: Handle,
        size: usize,
    },
    Sync(Handle),
    Rename {
        from: PathBuf,
        to: PathBuf,
        exchange: bool,
    },
    Link {
        from: PathBuf,
        to: PathBuf,
    },
    Unlink(PathBuf),
    MakeFolder(PathBuf),
}

/// All calls by which a file, or a name of one, can change. Memory that is shared between programs is no file's content:
/// SQLite makes its `-shm` anew after a fall of the power.
const TRACED: &str = "openat,open,creat,close,dup,dup2,dup3,fcntl,write,writev,pwrite64,pwritev,ftruncate,truncate,\
    fallocate,fsync,fdatasync,sync_file_range,rename,renameat,renameat2,link,linkat,symlink,symlinkat,unlink,unlinkat,\
    mkdir,mkdirat,rmdir,copy_file_range,sendfile,splice";

/// Whether calls can be heard here.
pub fn can_hear() -> bool {
    let tried = Command::new("strace")
        .args(["-f", "--seccomp-bpf", "-o", "/dev/null", "true"])
        .output();
    tried.is_ok_and(|done| done.status.success())
}

/// Runs a command under `strace`, as `dress` makes it, and tells its calls.
fn heard(program: &Path, dress: impl FnOnce(Command) -> Command) -> Vec<Call> {
    let log = tempfile::NamedTempFile::new().unwrap();
    let mut strace = Command::new("strace");
    // No text is longer than this, so that none is cut short.
    strace.args(["-f", "--seccomp-bpf", "-qq", "-xx", "-s", "16777216"]);
    strace.args(["-e", &format!("trace={TRACED}"), "-o"]);
    strace.arg(log.path()).arg(program);
    let output = dress(strace).output().unwrap();
    assert!(output.status.success(), "{output:?}");
    calls(&std::fs::read_to_string(log.path()).unwrap())
}

/// Runs the program's command on a studio.
pub fn run(file: &Path, now: &str, words: &[&str]) -> Vec<Call> {
    heard(Path::new(env!("CARGO_BIN_EXE_stillcup")), |mut command| {
        command.args(words);
        dressed(command, file, now)
    })
}

/// Runs a test of this very program that is ignored otherwise, on a studio.
pub fn run_child(file: &Path, test: &str) -> Vec<Call> {
    heard(&std::env::current_exe().unwrap(), |mut command| {
        command.args(["--exact", test, "--ignored", "--nocapture"]);
        command.env(STUDIO, file);
        command
    })
}

/// Where a child finds its studio.
pub const STUDIO: &str = "STILLCUP_POWER_STUDIO";

/// The calls in what `strace` wrote.
pub fn calls(log: &str) -> Vec<Call> {
    let mut begun: HashMap<&str, &str> = HashMap::new();
    let mut calls = Vec::new();
    for line in log.lines() {
        let (process, told) = line.split_once(' ').unwrap();
        let told = told.trim_start();
        if let Some(half) = told.strip_suffix(" <unfinished ...>") {
            begun.insert(process, half);
        } else if told.starts_with("<... ") {
            let (_, rest) = told.split_once("resumed>").unwrap();
            let whole = format!("{}{rest}", begun.remove(process).unwrap());
            calls.extend(read(&whole));
        } else {
            calls.extend(read(told));
        }
    }
    calls
}

/// One call; `None` where it was refused, or changes nothing.
fn read(told: &str) -> Option<Call> {
    let (name, rest) = told.split_once('(')?;
    let (inner, answer) = rest.rsplit_once(") ")?;
    let answer = answer.trim_start().strip_prefix("= ")?;
    let answer: i64 = answer.split(' ').next()?.parse().ok()?;
    if answer < 0 {
        return None;
    }
    let fields = fields(inner);
    let handle = |nth: usize| fields[nth].parse().unwrap();
    let path = |nth: usize| path_in(fields[nth]);
    let size = |nth: usize| fields[nth].parse().unwrap();
    let count = usize::try_from(answer).unwrap();
    let write = |at| {
        let mut bytes = bytes_in(inner);
        bytes.truncate(count);
        let handle = handle(0);
        Some(Call::Write { handle, at, bytes })
    };
    let open = |nth: usize| {
        Some(Call::Open {
            path: path(nth),
            create: fields[nth + 1].contains("O_CREAT"),
            cut: fields[nth + 1].contains("O_TRUNC"),
            handle: answer,
        })
    };
    match name {
        "openat" => open(1),
        "open" => open(0),
        "close" => Some(Call::Close(handle(0))),
        "dup" | "dup2" | "dup3" => Some(Call::Double {
            old: handle(0),
            new: answer,
        }),
        "fcntl" if fields[1].starts_with("F_DUPFD") => Some(Call::Double {
            old: handle(0),
            new: answer,
        }),
        "fcntl" => None,
        "write" | "writev" => write(None),
        "pwrite64" => write(Some(size(3))),
        "pwritev" => write(Some(size(3))),
        "ftruncate" => Some(Call::Cut {
            handle: handle(0),
            size: size(1),
        }),
        "fsync" | "fdatasync" => Some(Call::Sync(handle(0))),
        // It promises nothing.
        "sync_file_range" => None,
        "rename" => Some(renamed(path(0), path(1), "")),
        "renameat" => Some(renamed(path(1), path(3), "")),
        "renameat2" => Some(renamed(path(1), path(3), fields[4])),
        "link" => Some(Call::Link {
            from: path(0),
            to: path(1),
        }),
        "linkat" => Some(Call::Link {
            from: path(1),
            to: path(3),
        }),
        "unlink" => Some(Call::Unlink(path(0))),
        "unlinkat" if !fields[2].contains("REMOVEDIR") => Some(Call::Unlink(path(1))),
        "mkdir" => Some(Call::MakeFolder(path(0))),
        "mkdirat" => Some(Call::MakeFolder(path(1))),
        "copy_file_range" if fields[1] == "NULL" && fields[3] == "NULL" => Some(Call::Copy {
            from: handle(0),
            to: handle(2),
            count,
        }),
        "sendfile" if fields[2] == "NULL" => Some(Call::Copy {
            from: handle(1),
            to: handle(0),
            count,
        }),
        _ => panic!("a call that is not understood: {told}"),
    }
}

fn renamed(from: PathBuf, to: PathBuf, how: &str) -> Call {
    let exchange = how.contains("EXCHANGE");
    Call::Rename { from, to, exchange }
}

/// What stands between the commas of a call, outside of texts and brackets.
fn fields(inner: &str) -> Vec<&str> {
    let (mut found, mut start, mut depth, mut text) = (Vec::new(), 0, 0_u32, false);
    for (at, letter) in inner.bytes().enumerate() {
        match letter {
            b'"' => text = !text,
            _ if text => {}
            b'[' | b'{' => depth += 1,
            b']' | b'}' => depth -= 1,
            b',' if depth == 0 => {
                found.push(inner[start..at].trim());
                start = at + 1;
            }
            _ => {}
        }
    }
    found.push(inner[start..].trim());
    found
}

/// The bytes of all texts in a call, one after the other.
fn bytes_in(inner: &str) -> Vec<u8> {
    let texts = inner.split('"').skip(1).step_by(2);
    texts.flat_map(unescaped).collect()
}

fn unescaped(text: &str) -> impl Iterator<Item = u8> + '_ {
    let digits = text.split("\\x").skip(1);
    digits.map(|pair| u8::from_str_radix(pair, 16).unwrap())
}

fn path_in(field: &str) -> PathBuf {
    PathBuf::from(OsString::from_vec(bytes_in(field)))
}

#[test]
fn calls_are_read_as_strace_writes_them() {
    let log = r#"7 openat(AT_FDCWD, "\x2f\x61", O_RDWR|O_CREAT|O_CLOEXEC, 0600) = 4
7 openat(AT_FDCWD, "\x2f\x62", O_RDONLY) = -1 ENOENT (No such file or directory)
7 pwrite64(4, "\x00\x2c\x29"..., 3, 512)   = 3
8 fsync(4 <unfinished ...>
7 writev(4, [{iov_base="\x61", iov_len=1}, {iov_base="\x62", iov_len=1}], 2) = 2
8 <... fsync resumed>)        = 0
7 renameat2(AT_FDCWD, "\x2f\x61", AT_FDCWD, "\x2f\x62", RENAME_EXCHANGE) = 0
7 +++ exited with 0 +++
"#;
    let (a, b) = (PathBuf::from("/a"), PathBuf::from("/b"));
    let write = |at, bytes: &[u8]| Call::Write {
        handle: 4,
        at,
        bytes: bytes.to_vec(),
    };
    let expected = [
        Call::Open {
            path: a.clone(),
            create: true,
            cut: false,
            handle: 4,
        },
        write(Some(512), b"\0,)"),
        write(None, b"ab"),
        Call::Sync(4),
        Call::Rename {
            from: a,
            to: b,
            exchange: true,
        },
    ];
    assert_eq!(calls(log), expected);
}
