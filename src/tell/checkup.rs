//! What a checkup found, in words: how each thing stands, and what to do where it could stand better.

use crate::studio::{Checkup, Colours, CopiesFacts, FileHealth, Ground, TerminalFacts, local};
use crate::tell::{self, Face};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use schemars::JsonSchema;
use serde::Serialize;

/// How a thing stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Standing {
    /// Nothing to do.
    Good,
    /// It works; it could be better.
    Poor,
    /// It must be seen to.
    Wrong,
}

/// One thing that was looked at.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Finding {
    /// What it is.
    pub what: String,
    /// How it stands.
    pub stands: Standing,
    /// What was found.
    pub found: String,
    /// What to do; `null` where nothing is to be done.
    pub advice: Option<String>,
}

/// The least the screen is drawn for.
const LEAST: (usize, usize) = (50, 16);

/// What is shown so that eyes may judge the font.
pub const SAMPLE: &str = "▀▄█ ▁▃▅▇ ⠁⠃⠇⡇⣿ ▲ ▽ ◎";

/// Everything that was found, in order.
#[must_use]
pub fn findings(checkup: &Checkup, now: &Now) -> Vec<Finding> {
    let terminal = &checkup.terminal;
    vec![
        size(terminal),
        colours(terminal),
        ground(terminal),
        letters(terminal),
        file(checkup, now),
        copies(checkup.copies.as_ref(), &checkup.health, now),
        clock(checkup, now),
    ]
}

fn finding(what: &str, stands: Standing, found: String, advice: Option<&str>) -> Finding {
    Finding {
        what: what.to_owned(),
        stands,
        found,
        advice: advice.map(str::to_owned),
    }
}

fn size(terminal: &TerminalFacts) -> Finding {
    let Some((columns, rows)) = terminal.size else {
        let found = "this answer does not go to a terminal, so its size is not known";
        return finding("terminal", Standing::Good, found.to_owned(), None);
    };
    let found = format!("{}, {columns} by {rows} cells", named(terminal));
    match columns >= LEAST.0 && rows >= LEAST.1 {
        true => finding("terminal", Standing::Good, found, None),
        false => {
            let advice =
                "make the window larger or the letters smaller: the screen wants 50 by 16 cells";
            finding("terminal", Standing::Poor, found, Some(advice))
        }
    }
}

fn named(terminal: &TerminalFacts) -> &str {
    match terminal.name.as_str() {
        "" => "a terminal without a name",
        name => name,
    }
}

fn colours(terminal: &TerminalFacts) -> Finding {
    let (stands, found, advice) = match terminal.colours {
        Colours::Full => (Standing::Good, "any colour", None),
        Colours::Sixteen => (
            Standing::Good,
            "the terminal's own sixteen colours",
            Some("if it shows more, say so: export COLORTERM=truecolor"),
        ),
        Colours::Many => (
            Standing::Good,
            "256 colours for paint, the terminal's own sixteen for words",
            Some("if it shows any colour, say so: export COLORTERM=truecolor"),
        ),
        Colours::Unwanted => (
            Standing::Good,
            "none are wanted (NO_COLOR); signs and words say the same",
            None,
        ),
        Colours::None => (
            Standing::Poor,
            "the terminal calls itself dumb",
            Some(
                "set TERM to what it is, for instance xterm-256color; the commands work as they are",
            ),
        ),
    };
    finding("colours", stands, found.to_owned(), advice)
}

fn ground(terminal: &TerminalFacts) -> Finding {
    let (found, advice) = match terminal.ground {
        Ground::Dark => ("dark", None),
        Ground::Light => ("light", None),
        Ground::Untold => (
            "the terminal does not say",
            Some("on a light ground: export STILLCUP_GROUND=light"),
        ),
    };
    finding("ground", Standing::Good, found.to_owned(), advice)
}

fn letters(terminal: &TerminalFacts) -> Finding {
    match terminal.is_utf8 {
        true => finding(
            "letters",
            Standing::Good,
            format!("UTF-8: {SAMPLE}"),
            Some(
                "where boxes or question marks stand among them, choose a font with block elements and braille",
            ),
        ),
        false => finding(
            "letters",
            Standing::Poor,
            "the locale does not say UTF-8, so bars, marks and pictures may come out wrong"
                .to_owned(),
            Some("choose a locale with UTF-8: export LANG=C.UTF-8"),
        ),
    }
}

fn file(checkup: &Checkup, now: &Now) -> Finding {
    let words = |error| tell::words(error, Measures::default(), now);
    let hint = |error| tell::store_hint(error, Face::CommandLine);
    let name = &checkup.file;
    match &checkup.health {
        FileHealth::Missing => finding(
            "file",
            Standing::Good,
            format!("{name} is not there yet"),
            Some("the first command makes it; stillcup demo shows an invented one"),
        ),
        FileHealth::Opens {
            bytes,
            older,
            whole,
        } => opens(name, *bytes, (*older, *whole)),
        FileHealth::ReadOnly(why) => {
            let found = format!("{name} can be read, not written: {}", words(why));
            finding("file", Standing::Poor, found, Some(&hint(why)))
        }
        FileHealth::Broken(why) => finding("file", Standing::Wrong, words(why), Some(&hint(why))),
    }
}

fn opens(name: &str, bytes: u64, (older, whole): (bool, bool)) -> Finding {
    let (state, advice) = match (older, whole) {
        (true, _) => (
            "is of an older version",
            Some("the next command renews it, and keeps it as it was beside it"),
        ),
        (false, true) => ("is whole", None),
        (false, false) => (
            "opens; all of it is checked with the copy of each day",
            None,
        ),
    };
    let found = format!("{name}, {}, {state}", size_in_words(bytes));
    finding("file", Standing::Good, found, advice)
}

fn copies(copies: Option<&CopiesFacts>, health: &FileHealth, now: &Now) -> Finding {
    let Some(copies) = copies else {
        let found = "the folder of copies beside the file cannot be read";
        let advice = "see whose it is and what its rights are: without it no copy is taken";
        return finding("copies", Standing::Wrong, found.to_owned(), Some(advice));
    };
    let Some(newest) = copies.newest else {
        let stands = match health {
            FileHealth::Missing => Standing::Good,
            _ => Standing::Poor,
        };
        let advice = "the next command of today takes one; stillcup backup takes one now";
        return finding("copies", stands, "none yet".to_owned(), Some(advice));
    };
    let found = format!(
        "{}, {} in all; the newest is of {}",
        copies.count,
        size_in_words(copies.bytes),
        local(newest, now)
    );
    let advice = "they lie on the same disk: stillcup backup FILE puts one on another";
    finding("copies", Standing::Good, found, Some(advice))
}

fn clock(checkup: &Checkup, now: &Now) -> Finding {
    let found = now.local().format("%Y-%m-%d %H:%M, UTC%:z").to_string();
    match (checkup.clock_behind, checkup.rehearsed) {
        (true, _) => finding(
            "clock",
            Standing::Wrong,
            format!("{found}; it stands before something that was written down"),
            Some("set the machine's clock right; nothing that was logged is lost or reordered"),
        ),
        (false, true) => finding(
            "clock",
            Standing::Good,
            format!("{found}, as STILLCUP_NOW has it"),
            Some("unset STILLCUP_NOW for the real time"),
        ),
        (false, false) => finding(
            "clock",
            Standing::Good,
            found,
            Some("where the zone is wrong, name it: export TZ=Europe/Berlin"),
        ),
    }
}

/// A size as a person says it.
pub fn size_in_words(bytes: u64) -> String {
    match bytes {
        0..1024 => format!("{bytes} bytes"),
        1024..1_048_576 => format!("{} KiB", bytes.div_ceil(1024)),
        _ => format!("{} MiB", bytes.div_ceil(1 << 20)),
    }
}
