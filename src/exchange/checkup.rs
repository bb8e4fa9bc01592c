//! Looks at the terminal, the file, its copies and the clock, and changes nothing that is there.

use super::outlet;
use crate::studio::{
    Checkup, Colours, CopiesFacts, FileHealth, Ground, StoreError, Studio, StudioError,
    TerminalFacts, copies,
};
use crate::trade::instant::Now;
use std::path::Path;

/// What a checkup finds. A file that is missing is not made.
#[must_use]
pub fn check_up(file: &Path, now: &Now) -> Checkup {
    let (health, clock_behind) = health(file, now);
    Checkup {
        terminal: terminal(|name| std::env::var(name).ok()),
        file: file.display().to_string(),
        health,
        copies: copies_beside(file),
        rehearsed: std::env::var_os("STILLCUP_NOW").is_some(),
        clock_behind,
    }
}

fn health(file: &Path, now: &Now) -> (FileHealth, bool) {
    let Ok(there) = std::fs::metadata(file) else {
        // A missing file beside its copies is a loss, which only opening it tells; nothing is made where there are none.
        return match copies(file).is_ok_and(|copies| !copies.is_empty()) {
            true => (opened(file, 0, now).0, false),
            false => (FileHealth::Missing, false),
        };
    };
    opened(file, there.len(), now)
}

fn opened(file: &Path, bytes: u64, now: &Now) -> (FileHealth, bool) {
    match Studio::open(file) {
        Ok(studio) => {
            let behind = matches!(studio.clock_oddity(now), Ok(Some(_)));
            let health = match studio.barred() {
                Some(why) => FileHealth::ReadOnly(why.clone()),
                None => FileHealth::Whole {
                    bytes,
                    is_large: bytes > 1 << 20,
                },
            };
            (health, behind)
        }
        Err(StudioError::Store(error)) => (FileHealth::Broken(error), false),
        Err(StudioError::Refused(_)) => {
            (FileHealth::Broken(StoreError::Missing(file.into())), false)
        }
    }
}

fn copies_beside(file: &Path) -> CopiesFacts {
    let kept = copies(file).unwrap_or_default();
    CopiesFacts {
        count: kept.len(),
        bytes: kept.iter().map(|one| one.bytes).sum(),
        newest: kept.iter().map(|one| one.at.into()).max(),
    }
}

/// What the environment says of the terminal.
fn terminal(variable: impl Fn(&str) -> Option<String>) -> TerminalFacts {
    let said = |name: &str| variable(name).filter(|value| !value.is_empty());
    let name = said("TERM").unwrap_or_default();
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(said);
    let locale = locale.unwrap_or_default().to_lowercase();
    TerminalFacts {
        size: outlet::size(),
        colours: colours(&name, &said),
        ground: ground(said("COLORFGBG")),
        is_utf8: locale.contains("utf-8") || locale.contains("utf8"),
        name,
    }
}

fn colours(name: &str, said: &impl Fn(&str) -> Option<String>) -> Colours {
    let full = said("COLORTERM").is_some_and(|word| word == "truecolor" || word == "24bit");
    match () {
        () if said("NO_COLOR").is_some() => Colours::Unwanted,
        () if name.is_empty() || name == "dumb" => Colours::None,
        () if full => Colours::Full,
        () => Colours::Sixteen,
    }
}

fn ground(told: Option<String>) -> Ground {
    match told.as_deref().and_then(|told| told.rsplit(';').next()) {
        None => Ground::Untold,
        Some("7" | "15") => Ground::Light,
        Some(_) => Ground::Dark,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts(said: &[(&str, &str)]) -> TerminalFacts {
        terminal(|name| {
            let found = said.iter().find(|(one, _)| *one == name);
            found.map(|(_, value)| (*value).to_owned())
        })
    }

    #[test]
    fn a_terminal_is_what_it_says() {
        let poor = facts(&[("TERM", "dumb"), ("LANG", "C")]);
        assert_eq!(
            (poor.colours, poor.is_utf8, poor.ground),
            (Colours::None, false, Ground::Untold)
        );
        let good = facts(&[
            ("TERM", "xterm-256color"),
            ("COLORTERM", "truecolor"),
            ("LC_ALL", ""),
            ("LANG", "de_DE.UTF-8"),
            ("COLORFGBG", "0;15"),
        ]);
        assert_eq!(
            (good.colours, good.is_utf8, good.ground),
            (Colours::Full, true, Ground::Light)
        );
        let plain = facts(&[
            ("TERM", "xterm"),
            ("NO_COLOR", "1"),
            ("LC_ALL", "C"),
            ("LANG", "en_GB.utf8"),
        ]);
        assert_eq!((plain.colours, plain.is_utf8), (Colours::Unwanted, false));
    }
}
