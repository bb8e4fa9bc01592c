//! The demo in a file of its own.

use crate::studio::{Answer, Studio};
use crate::trade::instant::Now;
use std::path::Path;

/// Makes the demo in a file, unless one stands there with something in it; tells which of its sessions begins. The file is
/// there only once it is whole: who does not wait for it finds no half of a studio.
///
/// # Errors
/// As [`Studio::seed_demo`], and where the file cannot be written.
pub fn make_demo(file: &Path, now: &Now, told: &dyn Fn(usize)) -> Answer<()> {
    let folder = file.with_extension("making");
    // What an earlier making left that was cut short.
    let _ = std::fs::remove_dir_all(&folder);
    // What stands there half made, or cannot be made apart, is filled where it stands.
    if file.exists() || std::fs::create_dir_all(&folder).is_err() {
        return fill(&mut Studio::open(file)?, now, told);
    }
    let made = make_apart(&folder.join("demo.db"), file, now, told);
    let _ = std::fs::remove_dir_all(&folder);
    made
}

fn make_apart(apart: &Path, file: &Path, now: &Now, told: &dyn Fn(usize)) -> Answer<()> {
    let mut made = Studio::open(apart)?;
    fill(&mut made, now, told)?;
    match made.copy(Some(file), now, &|_, _| ()) {
        // Another terminal was quicker.
        Err(_) if file.exists() => Ok(()),
        copied => copied.map(drop),
    }
}

fn fill(studio: &mut Studio, now: &Now, told: &dyn Fn(usize)) -> Answer<()> {
    if studio.is_empty()? {
        studio.seed_demo_telling(now, told)?;
    }
    Ok(())
}
