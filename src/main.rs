//! Arguments to studio file to screen or command to exit code; nothing else.

use chrono::{DateTime, Local};
use std::path::PathBuf;
use stillcup::trade::instant::{Now, Zone};

fn main() -> anyhow::Result<()> {
    let file = PathBuf::from(
        std::env::args()
            .nth(1)
            .or_else(|| std::env::var("STILLCUP_STUDIO").ok())
            .unwrap_or_default(),
    );
    let studio = stillcup::studio::Studio::open(&file)?;
    let clock = || {
        let fixed = std::env::var("STILLCUP_NOW").ok();
        let fixed = fixed.and_then(|text| DateTime::parse_from_rfc3339(&text).ok());
        let at = fixed.unwrap_or_else(|| Local::now().fixed_offset());
        Now {
            at,
            zone: Zone::Fixed(*at.offset()),
        }
    };
    Ok(stillcup::screen::run(studio, &file, &clock)?)
}
