//! Damage that is met while the screen is open: it is said with the way back, and that stays said.

use super::{Play, Stage, keys, lines};
use crate::studio::Studio;

/// Another terminal writes, so that the file is read again; then all of it but the first page is overwritten.
fn torn(stage: &Stage) -> Play {
    let file = stage.file();
    Play::Elsewhere(Box::new(move |now| {
        let mut other = Studio::open(&file).unwrap();
        other.set("name", "River Lane", now).unwrap();
        drop(other);
        let mut bytes = std::fs::read(&file).unwrap();
        bytes[4096..].fill(0xA5);
        std::fs::write(&file, bytes).unwrap();
    }))
}

/// What is shown once the damage was met, and then a few keys were pressed.
fn shown(size: (u16, u16), then: &str) -> String {
    let mut stage = Stage::with_cups();
    stage.size = size;
    let mut script = vec![torn(&stage)];
    script.extend((0..3).map(|_| Play::Tick));
    script.extend(keys(then));
    script.push(Play::Tick);
    let words = lines(&stage.play(script)).join(" ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn damage_that_is_met_while_reading_names_the_way_back_at_every_size() {
    for size in [(50, 16), (80, 24), (160, 50)] {
        let words = shown(size, "3");
        for told in [
            "read only: the studio file is damaged",
            "bring back the newest whole copy: stillcup --studio",
        ] {
            assert!(words.contains(told), "{size:?}: {words}");
        }
        // Where a long path leaves no room for all of it, what was said is kept whole.
        let words = shown(size, "M");
        assert!(words.contains("restore 1 (taken"), "{size:?}: {words}");
    }
}
