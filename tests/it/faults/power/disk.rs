//! A disk that keeps apart what was brought to it and what is only meant for it, and what can stand on it when the power
//! falls.
//!
//! It promises no more than POSIX does: `fsync` of a file keeps its bytes and not its name; `fsync` of a folder keeps its
//! names and not what they name; one rename is whole or was not. What is not synced is kept, dropped, half-written or kept
//! out of order. As SQLite assumes too, a write changes no byte beside it, and a sector (512 bytes) is written or not.

use super::trace::{Call, Handle};
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::path::{Path, PathBuf};

type Id = usize;
type Names = BTreeMap<String, Id>;

/// Every file on a disk, by its path under the root.
pub type Files = BTreeMap<PathBuf, Vec<u8>>;

const SECTOR: usize = 512;

/// What becomes of all that was not synced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fall {
    Dropped,
    Kept,
    /// Names and lengths are kept, and what the files hold is not.
    NamesAlone,
    /// What files hold is kept, and their names are not.
    BytesAlone,
    /// Of names any that do not need a dropped one, of writes any, sector by sector.
    Mixed(u64),
}

#[derive(Debug, Clone)]
enum Edit {
    Write(usize, Vec<u8>),
    Cut(usize),
}

impl Edit {
    fn apply(&self, bytes: &mut Vec<u8>) {
        match self {
            Self::Cut(size) => bytes.resize(*size, 0),
            Self::Write(at, new) => write_at(bytes, *at, new),
        }
    }

    /// Some of it.
    fn apply_some(&self, bytes: &mut Vec<u8>, draws: &mut ChaCha8Rng) {
        match (draws.random_range(0..4), self) {
            (0, _) => {}
            (1, Self::Write(at, new)) => {
                let mut start = *at;
                while start < at + new.len() {
                    let end = ((start / SECTOR + 1) * SECTOR).min(at + new.len());
                    if draws.random_bool(0.5) {
                        write_at(bytes, start, &new[start - at..end - at]);
                    }
                    start = end;
                }
            }
            _ => self.apply(bytes),
        }
    }
}

fn write_at(bytes: &mut Vec<u8>, at: usize, new: &[u8]) {
    let end = at + new.len();
    if bytes.len() < end {
        bytes.resize(end, 0);
    }
    bytes[at..end].copy_from_slice(new);
}

#[derive(Debug, Clone)]
enum Naming {
    Put(String, Id),
    Take(String),
    Move(String, String),
    Exchange(String, String),
}

impl Naming {
    fn apply(&self, names: &mut Names) {
        match self {
            Self::Put(name, id) => drop(names.insert(name.clone(), *id)),
            Self::Take(name) => drop(names.remove(name)),
            Self::Move(from, to) => {
                let id = names.remove(from).unwrap();
                names.insert(to.clone(), id);
            }
            Self::Exchange(one, other) => {
                let (a, b) = (names[one], names[other]);
                names.insert(one.clone(), b);
                names.insert(other.clone(), a);
            }
        }
    }

    fn touches(&self) -> Vec<&String> {
        match self {
            Self::Put(name, _) | Self::Take(name) => vec![name],
            Self::Move(one, other) | Self::Exchange(one, other) => vec![one, other],
        }
    }
}

#[derive(Debug, Clone)]
enum Node {
    File {
        synced: Vec<u8>,
        edits: Vec<Edit>,
        live: Vec<u8>,
    },
    Folder {
        synced: Names,
        namings: Vec<Naming>,
        live: Names,
    },
}

/// The disk, as the folder at its root was when it was read, and what was done since.
#[derive(Debug, Clone)]
pub struct Disk {
    root: PathBuf,
    nodes: Vec<Node>,
    /// The files that a process has open, and where it stands in each.
    open: HashMap<Handle, (Id, usize)>,
}

impl Disk {
    /// What stands in a folder, all of it synced.
    pub fn read(root: &Path) -> Self {
        let mut disk = Self {
            root: root.into(),
            nodes: Vec::new(),
            open: HashMap::new(),
        };
        disk.take_in(root);
        disk
    }

    fn take_in(&mut self, path: &Path) -> Id {
        let id = self.nodes.len();
        if path.is_file() {
            let bytes = std::fs::read(path).unwrap();
            self.nodes.push(file(bytes));
            return id;
        }
        self.nodes.push(folder(Names::new()));
        let entries = std::fs::read_dir(path).unwrap().map(Result::unwrap);
        let names: Names = entries
            .map(|entry| {
                let name = entry.file_name().into_string().unwrap();
                (name, self.take_in(&entry.path()))
            })
            .collect();
        self.nodes[id] = folder(names);
        id
    }

    /// A process ended, and begins anew with nothing open.
    pub fn close_all(&mut self) {
        self.open.clear();
    }

    /// Whether a handle is a file on this disk.
    pub fn has_open(&self, handle: Handle) -> bool {
        self.open.contains_key(&handle)
    }

    /// Does what a process asked for.
    pub fn apply(&mut self, call: &Call) {
        match call {
            Call::Open {
                path,
                create,
                cut,
                handle,
            } => self.open(path, *create, *cut, *handle),
            Call::Double { old, new } => {
                if let Some(&there) = self.open.get(old) {
                    self.open.insert(*new, there);
                }
            }
            Call::Close(handle) => drop(self.open.remove(handle)),
            Call::Write { handle, at, bytes } => self.write(*handle, *at, bytes),
            Call::Copy { from, to, count } => self.copy(*from, *to, *count),
            Call::Cut { handle, size } => self.edit(*handle, Edit::Cut(*size)),
            Call::Sync(handle) => self.sync(*handle),
            Call::Rename { from, to, exchange } => self.rename(from, to, *exchange),
            Call::Link { from, to } => {
                if let Some(id) = self.find(from) {
                    self.name(to, |name| Naming::Put(name, id));
                }
            }
            Call::Unlink(path) => self.name(path, Naming::Take),
            Call::MakeFolder(path) => {
                self.nodes.push(folder(Names::new()));
                let id = self.nodes.len() - 1;
                self.name(path, |name| Naming::Put(name, id));
            }
        }
    }

    fn open(&mut self, path: &Path, create: bool, cut: bool, handle: Handle) {
        self.open.remove(&handle);
        if !path.starts_with(&self.root) {
            return;
        }
        let id = self.find(path).unwrap_or_else(|| {
            assert!(create, "{} is not known here", path.display());
            self.nodes.push(file(Vec::new()));
            let id = self.nodes.len() - 1;
            self.name(path, |name| Naming::Put(name, id));
            id
        });
        self.open.insert(handle, (id, 0));
        if cut {
            self.edit(handle, Edit::Cut(0));
        }
    }

    fn write(&mut self, handle: Handle, at: Option<usize>, bytes: &[u8]) {
        let Some((_, stands)) = self.open.get_mut(&handle) else {
            return;
        };
        let place = at.unwrap_or(*stands);
        if at.is_none() {
            *stands += bytes.len();
        }
        self.edit(handle, Edit::Write(place, bytes.to_vec()));
    }

    fn copy(&mut self, from: Handle, to: Handle, count: usize) {
        let Some((id, stands)) = self.open.get_mut(&from) else {
            assert!(
                !self.open.contains_key(&to),
                "copied from where nobody looked"
            );
            return;
        };
        let (id, start) = (*id, *stands);
        *stands += count;
        let Node::File { live, .. } = &self.nodes[id] else {
            panic!("a folder is no file");
        };
        let bytes = live[start..start + count].to_vec();
        self.write(to, None, &bytes);
    }

    fn edit(&mut self, handle: Handle, edit: Edit) {
        if let Some(&(id, _)) = self.open.get(&handle)
            && let Node::File { edits, live, .. } = &mut self.nodes[id]
        {
            edit.apply(live);
            edits.push(edit);
        }
    }

    fn sync(&mut self, handle: Handle) {
        let Some(&(id, _)) = self.open.get(&handle) else {
            return;
        };
        match &mut self.nodes[id] {
            Node::File {
                synced,
                edits,
                live,
            } => {
                edits.clear();
                synced.clone_from(live);
            }
            Node::Folder {
                synced,
                namings,
                live,
            } => {
                namings.clear();
                synced.clone_from(live);
            }
        }
    }

    fn rename(&mut self, from: &Path, to: &Path, exchange: bool) {
        if !from.starts_with(&self.root) {
            return;
        }
        assert_eq!(from.parent(), to.parent(), "moved between folders");
        let to = to.file_name().unwrap().to_str().unwrap().to_owned();
        self.name(from, |from| match exchange {
            true => Naming::Exchange(from, to),
            false => Naming::Move(from, to),
        });
    }

    fn name(&mut self, path: &Path, naming: impl FnOnce(String) -> Naming) {
        if !path.starts_with(&self.root) {
            return;
        }
        let above = self.find(path.parent().unwrap()).unwrap();
        let Node::Folder { namings, live, .. } = &mut self.nodes[above] else {
            panic!("{} does not stand in a folder", path.display());
        };
        let name = path.file_name().unwrap().to_str().unwrap();
        let naming = naming(name.to_owned());
        naming.apply(live);
        namings.push(naming);
    }

    fn find(&self, path: &Path) -> Option<Id> {
        let below = path.strip_prefix(&self.root).ok()?;
        below.iter().try_fold(0, |id, name| match &self.nodes[id] {
            Node::Folder { live, .. } => live.get(name.to_str()?).copied(),
            Node::File { .. } => None,
        })
    }

    /// What a process sees.
    pub fn seen(&self) -> Files {
        self.after(Fall::Kept)
    }

    /// What stands there after the power fell.
    pub fn after(&self, fall: Fall) -> Files {
        let mut left = Files::new();
        self.gather(0, Path::new(""), fall, &mut left);
        left
    }

    fn gather(&self, id: Id, path: &Path, fall: Fall, left: &mut Files) {
        match &self.nodes[id] {
            Node::Folder {
                synced,
                namings,
                live,
            } => {
                let names = match fall {
                    Fall::Dropped | Fall::BytesAlone => synced.clone(),
                    Fall::Kept | Fall::NamesAlone => live.clone(),
                    Fall::Mixed(seed) => some_names(synced, namings, &mut draws(seed, id)),
                };
                for (name, id) in names {
                    self.gather(id, &path.join(name), fall, left);
                }
            }
            Node::File {
                synced,
                edits,
                live,
            } => {
                let bytes = match fall {
                    Fall::Dropped => synced.clone(),
                    Fall::Kept | Fall::BytesAlone => live.clone(),
                    Fall::NamesAlone => {
                        let mut bytes = synced.clone();
                        bytes.resize(live.len(), 0);
                        bytes
                    }
                    Fall::Mixed(seed) => {
                        let (mut bytes, mut draws) = (synced.clone(), draws(seed, id));
                        for edit in edits {
                            edit.apply_some(&mut bytes, &mut draws);
                        }
                        bytes
                    }
                };
                left.insert(path.into(), bytes);
            }
        }
    }
}

/// A file of two names is the same under both.
fn draws(seed: u64, id: Id) -> ChaCha8Rng {
    ChaCha8Rng::seed_from_u64(seed ^ (id as u64).rotate_left(32))
}

/// Each change of names is kept or dropped; where one is dropped, later ones of the same names are too.
fn some_names(synced: &Names, namings: &[Naming], draws: &mut ChaCha8Rng) -> Names {
    let mut names = synced.clone();
    let mut lost: BTreeSet<&String> = BTreeSet::new();
    for naming in namings {
        let touched = naming.touches();
        if draws.random_bool(0.5) || touched.iter().any(|name| lost.contains(name)) {
            lost.extend(touched);
        } else {
            naming.apply(&mut names);
        }
    }
    names
}

fn file(bytes: Vec<u8>) -> Node {
    Node::File {
        synced: bytes.clone(),
        edits: Vec::new(),
        live: bytes,
    }
}

fn folder(names: Names) -> Node {
    Node::Folder {
        synced: names.clone(),
        namings: Vec::new(),
        live: names,
    }
}
