//! SQLite's own file layer with a switch before each write, truncation and sync of files in folders named `faulty`.
#![allow(
    unsafe_code,
    reason = "SQLite's file layer is a C interface; there is no other way to fail a write"
)]

use rusqlite::ffi;
use std::ffi::{CStr, c_char, c_int, c_void};
use std::sync::atomic::{AtomicBool, AtomicI32, AtomicI64, Ordering::SeqCst};
use std::sync::{Mutex, MutexGuard, Once, OnceLock};

/// The part of a path that makes a file's writes fail when told to.
pub const MARK: &str = "faulty";

static LEFT: AtomicI64 = AtomicI64::new(i64::MAX);
static CODE: AtomicI32 = AtomicI32::new(0);
static STICKY: AtomicBool = AtomicBool::new(false);
static FIRED: AtomicBool = AtomicBool::new(false);
static REAL: OnceLock<Real> = OnceLock::new();
static TURN: Mutex<()> = Mutex::new(());

/// SQLite's own file layer.
struct Real(*mut ffi::sqlite3_vfs);
// SAFETY: it lives as long as the process and is only read.
unsafe impl Send for Real {}
// SAFETY: as above.
unsafe impl Sync for Real {}

/// A file's functions with ours among them, the real ones behind. SQLite has several sets, one a kind of file.
#[repr(C)]
struct Methods {
    ours: ffi::sqlite3_io_methods,
    real: ffi::sqlite3_io_methods,
}

/// Lets `after` operations pass and fails the next with `code`; a sticky one fails all that follow, too.
#[derive(Debug, Clone, Copy)]
pub struct Fault {
    pub after: i64,
    pub code: c_int,
    pub sticky: bool,
}

/// The faulty disk, for one test at a time.
pub struct Disk(#[allow(dead_code, reason = "held for its lifetime")] MutexGuard<'static, ()>);

impl Disk {
    pub fn take() -> Self {
        static ONCE: Once = Once::new();
        ONCE.call_once(install);
        Self(
            TURN.lock()
                .unwrap_or_else(std::sync::PoisonError::into_inner),
        )
    }

    /// Breaks the disk as told.
    pub fn fail(&self, fault: Fault) {
        FIRED.store(false, SeqCst);
        CODE.store(fault.code, SeqCst);
        STICKY.store(fault.sticky, SeqCst);
        LEFT.store(fault.after, SeqCst);
    }

    /// Ends the fault.
    pub fn mend(&self) {
        LEFT.store(i64::MAX, SeqCst);
    }

    /// Whether the last fault ever struck.
    pub fn struck(&self) -> bool {
        FIRED.load(SeqCst)
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        self.mend();
    }
}

/// The code to answer, where this operation is the one to fail.
fn struck() -> Option<c_int> {
    let left = LEFT.fetch_sub(1, SeqCst);
    let strikes = left == 0 || (left < 0 && STICKY.load(SeqCst));
    if strikes {
        FIRED.store(true, SeqCst);
    }
    strikes.then(|| CODE.load(SeqCst))
}

fn install() {
    // SAFETY: the default file layer is there from the start; the copy is leaked, so SQLite may keep it.
    unsafe {
        let vfs = ffi::sqlite3_vfs_find(std::ptr::null());
        assert!(REAL.set(Real(vfs)).is_ok());
        let mut ours = *vfs;
        ours.zName = c"faulty".as_ptr();
        ours.pNext = std::ptr::null_mut();
        ours.xOpen = Some(open);
        assert_eq!(
            ffi::sqlite3_vfs_register(Box::into_raw(Box::new(ours)), 1),
            ffi::SQLITE_OK
        );
    }
}

/// The real functions of a file opened through [`open`].
///
/// # Safety
/// The file must have been given its [`Methods`] there.
unsafe fn real(file: *mut ffi::sqlite3_file) -> &'static ffi::sqlite3_io_methods {
    // SAFETY: `ours` is the first field, so a pointer to it is a pointer to the whole.
    unsafe { &(*(*file).pMethods.cast::<Methods>()).real }
}

unsafe extern "C" fn open(
    _ours: *mut ffi::sqlite3_vfs,
    name: *const c_char,
    file: *mut ffi::sqlite3_file,
    flags: c_int,
    out: *mut c_int,
) -> c_int {
    // SAFETY: SQLite's own arguments are handed on to SQLite's own function, and its answer is only read.
    unsafe {
        let vfs = REAL.get().unwrap().0;
        let answer = (*vfs).xOpen.unwrap()(vfs, name, file, flags, out);
        let marked = !name.is_null() && CStr::from_ptr(name).to_string_lossy().contains(MARK);
        if answer == ffi::SQLITE_OK && marked {
            (*file).pMethods = Box::into_raw(Box::new(failing(*(*file).pMethods))).cast();
        }
        answer
    }
}

fn failing(real: ffi::sqlite3_io_methods) -> Methods {
    let ours = ffi::sqlite3_io_methods {
        xWrite: Some(write),
        xTruncate: Some(truncate),
        xSync: Some(sync),
        ..real
    };
    Methods { ours, real }
}

unsafe extern "C" fn write(
    f: *mut ffi::sqlite3_file,
    p: *const c_void,
    n: c_int,
    at: i64,
) -> c_int {
    // SAFETY: SQLite's own arguments, handed on; half of them where the write is torn.
    unsafe {
        let pass = real(f).xWrite.unwrap();
        match struck() {
            None => pass(f, p, n, at),
            Some(code) => {
                pass(f, p, n / 2, at);
                code
            }
        }
    }
}

unsafe extern "C" fn truncate(f: *mut ffi::sqlite3_file, size: i64) -> c_int {
    // SAFETY: SQLite's own arguments, handed on.
    struck().unwrap_or_else(|| unsafe { real(f).xTruncate.unwrap()(f, size) })
}

unsafe extern "C" fn sync(f: *mut ffi::sqlite3_file, flags: c_int) -> c_int {
    // SAFETY: SQLite's own arguments, handed on.
    struck().unwrap_or_else(|| unsafe { real(f).xSync.unwrap()(f, flags) })
}
