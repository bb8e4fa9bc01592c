//! What the environment says of the terminal: read once, for the screen and for a checkup.

use super::outlet;
use crate::studio::{Colours, Ground, TerminalFacts};

/// What the environment says: `NO_COLOR` (no-color.org) set to anything, `TERM`, `COLORTERM`, the locale, and the ground as some
/// terminals tell it, `COLORFGBG=0;15`; where one tells it wrongly or not at all, `STILLCUP_GROUND=light` or `dark`.
#[must_use]
pub fn terminal_facts(variable: impl Fn(&str) -> Option<String>) -> TerminalFacts {
    let said = |name: &str| variable(name).filter(|value| !value.is_empty());
    let name = said("TERM").unwrap_or_default();
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(said);
    let locale = locale.unwrap_or_default().to_lowercase();
    TerminalFacts {
        size: outlet::size(),
        colours: colours(&name, &said),
        ground: ground(said("STILLCUP_GROUND"), said("COLORFGBG")),
        is_utf8: locale.contains("utf-8") || locale.contains("utf8"),
        name,
    }
}

fn colours(name: &str, said: &impl Fn(&str) -> Option<String>) -> Colours {
    let full = said("COLORTERM").is_some_and(|word| word == "truecolor" || word == "24bit");
    match () {
        () if said("NO_COLOR").is_some() => Colours::Unwanted,
        () if name == "dumb" => Colours::None,
        () if full => Colours::Full,
        () if name.contains("256") || name.contains("direct") => Colours::Many,
        () => Colours::Sixteen,
    }
}

/// What a person says of the ground, else the terminal: the last of its numbers, 7 or 15 where it is white or light grey.
fn ground(said: Option<String>, told: Option<String>) -> Ground {
    match said.as_deref() {
        Some("light") => return Ground::Light,
        Some("dark") => return Ground::Dark,
        _ => {}
    }
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
        terminal_facts(|name| {
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
        // no-color.org: "when present and not an empty string".
        let many = [("TERM", "xterm-256color"), ("NO_COLOR", "")];
        assert_eq!(facts(&many).colours, Colours::Many);
        assert_eq!(facts(&[]).colours, Colours::Sixteen);
        let said = [("COLORFGBG", "0;15"), ("STILLCUP_GROUND", "dark")];
        assert_eq!(facts(&said).ground, Ground::Dark);
    }
}
