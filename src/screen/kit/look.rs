//! Colours and signs. A colour never carries meaning alone: a sign and a word stand beside it.
//!
//! The hues are of the colour-blind-safe set of M. Okabe and K. Ito, "Color Universal Design", 2002 (revised 2008);
//! how light they are is set so that each stands at least 4.5 to 1 on black and on white (the contrast ratio of WCAG
//! 2.1), and their hues are turned so that the states differ by more than 10 (CIEDE2000) to eyes that lack a kind of cone;
//! tests compute both. Of the terminal's own sixteen, green and cyan are not used on a ground that is known to
//! be light. Grounds are left as the terminal has them; what is chosen is shown reversed.

use crate::screen::kit::message::Tone;
use crate::studio::{Colours, Ground, TerminalFacts};
use crate::trade::life::State;
use ratatui::style::{Color, Modifier, Style};

/// Okabe and Ito's vermillion, darker.
const VERMILLION: Color = Color::Rgb(186, 90, 11);
/// Okabe and Ito's blue, turned towards violet, away from their green.
const BLUE: Color = Color::Rgb(0, 113, 232);
/// Okabe and Ito's bluish green, darker.
const GREEN: Color = Color::Rgb(2, 134, 91);
/// Okabe and Ito's reddish purple, bluer.
const PURPLE: Color = Color::Rgb(142, 103, 155);

/// How many colours the terminal is known to show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// None are wanted.
    Plain,
    /// The terminal's own sixteen.
    Sixteen,
    /// The same on a light ground.
    SixteenOnLight,
    /// Any.
    Full,
}

impl Look {
    /// As the environment says of the terminal.
    pub const fn of(terminal: &TerminalFacts) -> Self {
        match (terminal.colours, terminal.ground) {
            (Colours::Unwanted | Colours::None, _) => Self::Plain,
            (Colours::Full, _) => Self::Full,
            (_, Ground::Light) => Self::SixteenOnLight,
            _ => Self::Sixteen,
        }
    }

    fn pick(self, full: Color, sixteen: Color) -> Style {
        match self {
            Self::Plain => Style::new(),
            Self::Sixteen => Style::new().fg(sixteen),
            Self::SixteenOnLight => on_light(sixteen),
            Self::Full => Style::new().fg(full),
        }
    }

    /// How a cup's state is written.
    pub fn state(self, state: State) -> Style {
        match state {
            State::Thick => self.pick(VERMILLION, Color::Red).bold(),
            State::Thin => self.pick(BLUE, Color::LightCyan).bold(),
            State::Look if self == Self::SixteenOnLight => Style::new().fg(Color::DarkGray).bold(),
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

/// Green cannot be read on white and is left out, for cyan there is blue. Blue and magenta are alike to an eye without
/// red cones, so that no state is magenta there.
fn on_light(colour: Color) -> Style {
    match colour {
        Color::Green => Style::new(),
        Color::Cyan | Color::LightCyan => Style::new().fg(Color::Blue),
        other => Style::new().fg(other),
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
#[path = "look_blind.rs"]
mod blind;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::terminal_facts;

    fn told(pairs: &[(&str, &str)]) -> Look {
        Look::of(&terminal_facts(|name| {
            let found = pairs.iter().find(|(key, _)| *key == name);
            found.map(|(_, value)| (*value).to_owned())
        }))
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

    /// WCAG 2.1's contrast ratio of a colour with a ground of this luminance.
    fn contrast(colour: Color, ground: f64) -> f64 {
        let Color::Rgb(r, g, b) = colour else {
            panic!("no colour of ours")
        };
        let part = |byte: u8| {
            let value = f64::from(byte) / 255.0;
            match value <= 0.03928 {
                true => value / 12.92,
                false => ((value + 0.055) / 1.055).powf(2.4),
            }
        };
        let own = 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
        (own.max(ground) + 0.05) / (own.min(ground) + 0.05)
    }

    #[test]
    fn every_colour_can_be_read_on_black_and_on_white() {
        for colour in [VERMILLION, BLUE, GREEN, PURPLE] {
            for ground in [0.0, 1.0] {
                assert!(contrast(colour, ground) >= 4.5, "{colour:?} on {ground}");
            }
        }
    }

    #[test]
    fn no_green_and_no_cyan_stand_on_a_ground_that_is_said_to_be_light() {
        let light = told(&[("COLORFGBG", "0;15")]);
        assert_eq!(light, Look::SixteenOnLight);
        assert_eq!(told(&[("COLORFGBG", "15;0")]), Look::Sixteen);
        assert_eq!(told(&[("STILLCUP_GROUND", "light")]), Look::SixteenOnLight);
        let both = [("COLORFGBG", "0;15"), ("STILLCUP_GROUND", "dark")];
        assert_eq!(told(&both), Look::Sixteen);
        for state in State::ALL {
            let colour = light.state(*state).fg;
            let pale = [Color::Green, Color::Cyan, Color::LightCyan].map(Some);
            assert!(!pale.contains(&colour));
        }
    }

    #[test]
    fn every_state_has_a_sign_of_its_own() {
        let signs: std::collections::HashSet<_> = State::ALL.iter().map(|&s| sign(s)).collect();
        assert_eq!(signs.len(), State::ALL.len());
    }
}
