//! Colours and signs. A colour never carries meaning alone: a sign and a word stand beside it.
//!
//! The palette is the colour-blind-safe set of M. Okabe and K. Ito, "Color Universal Design", 2002 (revised
//! 2008); only those of its colours are used that can be read on a dark and on a light ground. Grounds are
//! left as the terminal has them; what is chosen is shown reversed.

use crate::screen::model::Tone;
use crate::trade::life::State;
use ratatui::style::{Color, Modifier, Style};

/// Okabe and Ito's vermillion.
const VERMILLION: Color = Color::Rgb(213, 94, 0);
/// Okabe and Ito's blue.
const BLUE: Color = Color::Rgb(0, 114, 178);
/// Okabe and Ito's bluish green.
const GREEN: Color = Color::Rgb(0, 158, 115);
/// Okabe and Ito's reddish purple.
const PURPLE: Color = Color::Rgb(204, 121, 167);

/// How many colours the terminal is known to show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// None are wanted.
    Plain,
    /// The terminal's own sixteen.
    Sixteen,
    /// Any.
    Full,
}

impl Look {
    /// As the environment says: `NO_COLOR` (no-color.org) set to anything, `TERM`, and `COLORTERM`.
    pub fn told(variable: impl Fn(&str) -> Option<String>) -> Self {
        let is = |name: &str, values: &[&str]| {
            variable(name).is_some_and(|value| values.contains(&value.as_str()))
        };
        let unwanted = variable("NO_COLOR").is_some_and(|value| !value.is_empty());
        match () {
            () if unwanted || is("TERM", &["dumb"]) => Self::Plain,
            () if is("COLORTERM", &["truecolor", "24bit"]) => Self::Full,
            () => Self::Sixteen,
        }
    }

    fn pick(self, full: Color, sixteen: Color) -> Style {
        match self {
            Self::Plain => Style::new(),
            Self::Sixteen => Style::new().fg(sixteen),
            Self::Full => Style::new().fg(full),
        }
    }

    /// How a cup's state is written.
    pub fn state(self, state: State) -> Style {
        match state {
            State::Thick => self.pick(VERMILLION, Color::Red).bold(),
            State::Thin => self.pick(BLUE, Color::Cyan).bold(),
            State::Look => self.pick(PURPLE, Color::Magenta).bold(),
            State::Ready => self.pick(GREEN, Color::Green).bold(),
            State::Resting => Style::new(),
            State::Spent => self.faint(),
        }
    }

    /// How a message is written.
    pub fn tone(self, tone: Tone) -> Style {
        match tone {
            Tone::Done => self.pick(GREEN, Color::Green),
            Tone::Odd => self.pick(PURPLE, Color::Magenta).bold(),
            Tone::Refused => self.pick(VERMILLION, Color::Red).bold(),
        }
    }

    /// How what matters less is written.
    pub fn faint(self) -> Style {
        Style::new().add_modifier(Modifier::DIM)
    }

    /// How what is wrong is written.
    pub fn wrong(self) -> Style {
        self.tone(Tone::Refused)
    }
}

/// What is chosen.
pub fn chosen() -> Style {
    Style::new().add_modifier(Modifier::REVERSED)
}

/// What is written strongly.
pub fn strong() -> Style {
    Style::new().bold()
}

/// The sign that goes with a state's word.
pub const fn sign(state: State) -> &'static str {
    match state {
        State::Thick => "▲",
        State::Thin => "▽",
        State::Look => "◎",
        State::Ready => "●",
        State::Resting => "○",
        State::Spent => "×",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(pairs: &[(&str, &str)]) -> Look {
        Look::told(|name| {
            let found = pairs.iter().find(|(key, _)| *key == name);
            found.map(|(_, value)| (*value).to_owned())
        })
    }

    #[test]
    fn no_color_wins_over_all() {
        let both = [("NO_COLOR", "1"), ("COLORTERM", "truecolor")];
        assert_eq!(told(&both), Look::Plain);
        // no-color.org: "when present and not an empty string".
        assert_eq!(told(&[("NO_COLOR", "")]), Look::Sixteen);
        assert_eq!(told(&[("COLORTERM", "truecolor")]), Look::Full);
        assert!(Look::Plain.state(State::Thick).fg.is_none());
    }

    #[test]
    fn every_state_has_a_sign_of_its_own() {
        let signs: std::collections::HashSet<_> = State::ALL.iter().map(|&s| sign(s)).collect();
        assert_eq!(signs.len(), State::ALL.len());
    }
}
