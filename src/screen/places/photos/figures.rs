//! What was measured in a photo, as lines: figures, the spread of the diameters, the palette.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::picture::Pictures;
use crate::screen::kit::text::plain;
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::length::show_length;
use crate::trade::photo::{Measurement, Patch};
use crate::trade::units::Millimetres;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// The heights that a cell can be filled to.
const HEIGHTS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// The diameters as columns of the same width in millimetres, so many lines high; the ends stand beneath.
pub fn histogram(diameters: &[f64], width: usize, high: usize, measures: Measures) -> Vec<String> {
    let low = diameters.iter().copied().fold(f64::INFINITY, f64::min);
    let top = diameters.iter().copied().fold(0.0, f64::max);
    if diameters.len() < 3 || width < 8 || high == 0 || top <= low {
        return Vec::new();
    }
    let counts = counts(diameters, low, top, width.min(32));
    let most = counts.iter().copied().max().unwrap_or(1).max(1);
    let filled = |count: usize| (count * high * 8).div_ceil(most);
    let row = |line: usize| -> String {
        let floor = (high - 1 - line) * 8;
        let each = counts.iter();
        each.map(|&count| HEIGHTS[filled(count).saturating_sub(floor).min(8)])
            .collect()
    };
    let ends = [low, top].map(|one| show_length(Millimetres(one), measures));
    let gap = counts
        .len()
        .saturating_sub(ends[0].len() + ends[1].len())
        .max(1);
    (0..high)
        .map(row)
        .chain([format!("{}{}{}", ends[0], " ".repeat(gap), ends[1])])
        .collect()
}

fn counts(diameters: &[f64], low: f64, top: f64, columns: usize) -> Vec<usize> {
    let mut counts = vec![0; columns];
    for one in diameters {
        let at = ((one - low) / (top - low) * columns as f64) as usize;
        counts[at.min(columns - 1)] += 1;
    }
    counts
}

/// The palette: each colour with its share.
pub fn palette(found: &Measurement, pictures: Pictures) -> Vec<Line<'static>> {
    let colours = found.colours.iter();
    colours.map(|one| colour(one, pictures)).collect()
}

/// A patch of it, its name and its percent.
fn colour(one: &Patch, pictures: Pictures) -> Line<'static> {
    let patch = pictures
        .colour(one.rgb)
        .map(|colour| Span::styled("████ ", Style::new().fg(colour)));
    let told = plain(format!("{} {:.0} %", one.name(), 100.0 * one.share.get()));
    Line::from_iter(patch.into_iter().chain([told]))
}

/// All of a measurement, in the order it is read.
pub fn all(
    desk: &Desk,
    found: &Measurement,
    diameters: &[f64],
    width: usize,
    high: usize,
) -> Vec<Line<'static>> {
    let measures = desk.measures();
    let mut shown: Vec<Line<'static>> = tell::photos::figures(found, measures)
        .into_iter()
        .map(Line::from)
        .collect();
    shown.push(Line::from(format!("corners {}", found.how)));
    let colours = palette(found, desk.pictures());
    let left = high.saturating_sub(shown.len() + colours.len() + 2).min(4);
    let bars = histogram(diameters, width, left, measures);
    if !bars.is_empty() {
        shown.push(Line::default());
        shown.extend(bars.into_iter().map(Line::from));
    }
    if shown.len() + colours.len() < high {
        shown.push(Line::default());
    }
    shown.extend(colours);
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::units::Share;

    #[test]
    fn columns_are_as_high_as_their_counts_and_the_ends_are_told() {
        let sizes = [4.0, 4.1, 4.2, 4.3, 8.0, 8.1, 11.9, 12.0];
        let told = histogram(&sizes, 8, 1, Measures::Metric);
        assert_eq!(told[0], "█   ▄  ▄");
        assert_eq!(told[1], "4.0 mm 12 mm");
        let tall = histogram(&sizes, 8, 2, Measures::Metric);
        assert_eq!(
            (tall[0].as_str(), tall[1].as_str()),
            ("█       ", "█   █  █")
        );
        for few in [&[][..], &[3.0, 3.0, 3.0], &[1.0, 2.0]] {
            assert!(histogram(few, 20, 2, Measures::Metric).is_empty());
        }
    }

    #[test]
    fn a_colour_has_its_name_even_where_none_is_shown() {
        let blue = Patch {
            rgb: [0x3a, 0x5f, 0x9b],
            share: Share(0.412),
        };
        let told = colour(&blue, Pictures::Words);
        assert_eq!(told.to_string(), "#3a5f9b 41 %");
        let told = colour(&blue, Pictures::Blocks).to_string();
        assert!(told.starts_with('█'), "{told}");
    }
}
