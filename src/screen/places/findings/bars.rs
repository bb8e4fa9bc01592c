//! Shares on one line each: a name, how many were good, the interval drawn, and the same in words.

use super::plot::{interval, scale};
use crate::numbers::statistics::proportion::Tally;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain};
use crate::studio::RANKED_FROM;
use crate::trade::text::inert;
use ratatui::text::{Line, Span};

/// From this width on the edges stand in words beside the plot.
pub const MIDDLING: usize = 72;

/// One share.
pub struct Bar {
    /// Of what.
    pub name: String,
    /// How its pours came out.
    pub tally: Tally,
    /// Whether it is the line in hand.
    pub is_chosen: bool,
    /// Whether its name is long, and takes room from the plot.
    pub is_long: bool,
}

/// How many cells the name, the plot and the words beside it take.
struct Columns {
    name: usize,
    tally: usize,
    plot: usize,
    words: usize,
}

impl Columns {
    fn of(width: usize, is_long: bool) -> Self {
        let (tally, words) = if width < MIDDLING { (9, 9) } else { (14, 17) };
        let room = width.saturating_sub(2 + tally + 2 + words);
        let name = match is_long {
            true => room * 2 / 3,
            false => (room / 2).min(32),
        };
        let name = name.max(8).min(room);
        Self {
            name,
            tally,
            plot: (room - name).min(61),
            words,
        }
    }
}

/// What stands over bars: what they are, and the scale.
pub fn head(desk: &Desk, words: &str, width: usize, is_long: bool) -> Line<'static> {
    let columns = Columns::of(width, is_long);
    let words = fit(words, columns.name + columns.tally + 2, Cut::End);
    let line = format!("{words} {}", scale(columns.plot));
    Line::styled(line, desk.look.faint())
}

impl Bar {
    /// `› River blue v1  9 of 12 good ···├──●──┤·· 75 %, 47 to 91 %`.
    pub fn line(&self, desk: &Desk, width: usize) -> Line<'static> {
        let columns = Columns::of(width, self.is_long);
        let counts = format!("{} of {}", self.tally.good, self.tally.pours);
        let tally = format!("{counts} good");
        let tally = if tally.len() > columns.tally {
            counts
        } else {
            tally
        };
        let style = match self.is_early() {
            false => strong(),
            true => desk.look.faint(),
        };
        let name = fit(&inert(&self.name), columns.name, Cut::End);
        let name_style = if self.is_chosen { chosen() } else { strong() };
        Line::from(vec![
            plain(if self.is_chosen { "› " } else { "  " }),
            Span::styled(name, name_style),
            plain(format!("{tally:>0$} ", columns.tally)),
            Span::styled(self.plot(columns.plot), style),
            plain(format!(
                " {:<1$}",
                self.beside(columns.words),
                columns.words
            )),
        ])
    }

    fn is_early(&self) -> bool {
        (self.tally.pours as usize) < RANKED_FROM
    }

    fn plot(&self, width: usize) -> String {
        let wilson = self.tally.wilson();
        let share = self.tally.share();
        share.map_or_else(
            || "·".repeat(width),
            |share| interval(wilson.low, share, wilson.high, width),
        )
    }

    /// The plot in words: `75 %, 47 to 91 %`, or that it is too early.
    fn beside(&self, room: usize) -> String {
        let percent = |share: f64| format!("{:.0}", share * 100.0);
        let wilson = self.tally.wilson();
        let Some(share) = self.tally.share() else {
            return "no pour".to_owned();
        };
        match (self.is_early(), room < 17) {
            (false, true) => format!("{} %", percent(share)),
            (false, false) => format!(
                "{} %, {} to {} %",
                percent(share),
                percent(wilson.low),
                percent(wilson.high)
            ),
            (true, true) => "too early".to_owned(),
            (true, false) => "too early to tell".to_owned(),
        }
    }
}
