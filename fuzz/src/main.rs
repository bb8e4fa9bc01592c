//! Every reader of the program under a fuzzer. `STILLCUP_FUZZ` names the one; `fuzz/run` runs them all.
#![no_main]

mod files;
mod lists;
mod photos;
mod readers;
mod words;

use std::sync::OnceLock;

type Target = fn(&[u8]);

const TARGETS: &[(&str, Target)] = &[
    ("air", |bytes| with_text(bytes, readers::air)),
    ("amounts", |bytes| with_text(bytes, readers::amount)),
    ("corners", |bytes| with_text(bytes, photos::corners)),
    ("durations", |bytes| with_text(bytes, readers::duration)),
    ("flow-cups", |bytes| with_text(bytes, readers::flow_cup)),
    ("instants", |bytes| with_text(bytes, readers::instant)),
    ("lengths", |bytes| with_text(bytes, readers::length)),
    ("lists", lists::list),
    ("marks", |bytes| with_text(bytes, readers::mark)),
    ("money", |bytes| with_text(bytes, readers::money)),
    ("moves", |bytes| with_text(bytes, readers::one_move)),
    ("panels", |bytes| with_text(bytes, readers::panel)),
    ("photos", photos::photo),
    ("ranges", |bytes| with_text(bytes, readers::range)),
    ("texts", |bytes| with_text(bytes, readers::text)),
    ("studios", files::studio),
    ("trial-factors", |bytes| with_text(bytes, readers::factor)),
    ("words", |bytes| with_text(bytes, words::line)),
];

fn with_text(bytes: &[u8], read: fn(&str)) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        read(text);
    }
}

fn target() -> Target {
    static CHOSEN: OnceLock<Target> = OnceLock::new();
    *CHOSEN.get_or_init(|| {
        let name = std::env::var("STILLCUP_FUZZ").unwrap_or_default();
        let found = TARGETS.iter().find(|(known, _)| *known == name);
        let names: Vec<&str> = TARGETS.iter().map(|(known, _)| *known).collect();
        found
            .unwrap_or_else(|| panic!("STILLCUP_FUZZ names one of {names:?}"))
            .1
    })
}

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| target()(bytes));
