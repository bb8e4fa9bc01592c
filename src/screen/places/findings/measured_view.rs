//! How a measured outcome looks: a variant a line, what is believed of its mean drawn over what all of them span; beneath the
//! last what went with it.

use super::measured::Measured;
use super::plot::interval;
use super::view::{Section, indented};
use super::words::opens;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::{MeasuredFindings, MeasuredVariant};
use crate::tell;
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;
use ratatui::text::{Line, Span};

/// Under this width a row has no band in words.
const MIDDLING: usize = 72;

/// The variants, how far the painter's eye agrees, and the factors.
pub fn sections(desk: &Desk, measured: &Measured, width: usize) -> Vec<Section> {
    let Some(found) = measured.found() else {
        return Vec::new();
    };
    let mut rows = Section::default();
    let columns = Columns::of(found, desk, width);
    if !found.variants.is_empty() {
        rows.lines.push(columns.head(desk));
    }
    for (place, one) in found.variants.iter().enumerate() {
        let first = rows.lines.len();
        let is_chosen = place == measured.at;
        rows.lines.push(columns.row(one, is_chosen));
        if is_chosen {
            let words = beneath(desk, found, one);
            rows.lines.extend(indented(&words, width));
            rows.in_hand = Some(first..rows.lines.len());
        }
    }
    let words = tell::measured::beneath(found);
    let lines = words.iter().flat_map(|words| wrap(&inert(words), width));
    rows.lines
        .extend(lines.map(|line| Line::styled(line, desk.look.faint())));
    if measured.at + 1 >= found.variants.len() {
        rows.reach_end();
    }
    vec![rows]
}

/// The chosen row in a sentence, with every number that the command has.
fn beneath(desk: &Desk, found: &MeasuredFindings, one: &MeasuredVariant) -> String {
    let value = |value| tell::measured::value(found.outcome, value, desk.measures());
    let believed = &one.believed;
    let early = match one.is_early() {
        true => "too early to tell: ",
        false => "",
    };
    format!(
        "{early}its own mean {}; believed {}, 8 of 10 {} to {}{}",
        value(believed.own),
        value(believed.mean),
        value(believed.low10),
        value(believed.high90),
        opens(one.behind.len())
    )
}

/// How wide each part of a row is, and what the plot spans.
struct Columns {
    name: usize,
    plot: usize,
    words: usize,
    span: (f64, f64),
    value: Box<dyn Fn(f64) -> String>,
}

impl Columns {
    fn of(found: &MeasuredFindings, desk: &Desk, width: usize) -> Self {
        let words = if width < MIDDLING { 9 } else { 28 };
        let room = width.saturating_sub(2 + 9 + 2 + words);
        let name = (room / 2).clamp(8, 32).min(room);
        let all = || found.variants.iter().map(|one| &one.believed);
        let low = all().map(|one| one.low10).fold(f64::MAX, f64::min);
        let high = all().map(|one| one.high90).fold(f64::MIN, f64::max);
        let (outcome, measures) = (found.outcome, desk.measures());
        Self {
            name,
            plot: (room - name).min(61),
            words,
            span: (low, high),
            value: Box::new(move |value| tell::measured::value(outcome, value, measures)),
        }
    }

    /// The least and the most over the ends of the plot.
    fn head(&self, desk: &Desk) -> Line<'static> {
        let (low, high) = ((self.value)(self.span.0), (self.value)(self.span.1));
        let room = self.plot.saturating_sub(low.chars().count());
        let line = format!("{:1$}{low}{high:>room$}", "", 2 + self.name + 9 + 1);
        Line::styled(line, desk.look.faint())
    }

    /// `› River blue v1  12 pours ··├──●──┤·· 31.2 %, 28.0 to 34.1 %`.
    fn row(&self, one: &MeasuredVariant, is_chosen: bool) -> Line<'static> {
        let name = variant_title(&inert(&one.recipe), one.variant);
        let believed = &one.believed;
        let (low, high) = self.span;
        let place = |value: f64| match high > low {
            true => (value - low) / (high - low),
            false => 0.5,
        };
        let [low, mean, high] = [believed.low10, believed.mean, believed.high90];
        let value = &self.value;
        let words = match self.words {
            9 => value(mean),
            _ => format!("{}, {} to {}", value(mean), value(low), value(high)),
        };
        let pours = match one.behind.len() {
            1 => "1 pour".to_owned(),
            n => format!("{n} pours"),
        };
        Line::from(vec![
            plain(if is_chosen { "› " } else { "  " }),
            Span::styled(
                fit(&name, self.name, Cut::End),
                if is_chosen { chosen() } else { strong() },
            ),
            plain(format!("{pours:>9} ")),
            plain(interval(place(low), place(mean), place(high), self.plot)),
            plain(format!(" {}", fit(&words, self.words, Cut::End))),
        ])
    }
}
