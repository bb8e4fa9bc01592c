//! The help: the keys of a place, then those that hold everywhere; on one screen where they find room, else on pages.

use crate::screen::kit::keys::Binding;
use crate::screen::kit::look::strong;
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{self, Context};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// A column is no narrower than the eye can read a sentence in (our own choice).
const NARROWEST: usize = 38;

/// What stands between two columns.
const GAP: usize = 2;

/// Room for the names of keys, the gap after them with it.
const NAMES: usize = 13;

/// So many keys are named each; of more, the first and the last.
const NAMED: usize = 3;

/// Lines that stay together: a key with its sentence, the first beneath its heading.
type Block = Vec<(String, Style)>;

/// The help of a place in as few pages as its keys take, each in lines of so many cells.
pub fn pages(context: Context, width: usize, height: usize) -> Vec<Vec<Line<'static>>> {
    let most = ((width + GAP) / (NARROWEST + GAP)).max(1);
    let laid = |columns: usize, height| {
        let wide = (width + GAP) / columns - GAP;
        paged(&blocks(context, wide), columns, wide, height)
    };
    let best = |height| {
        let all = (1..=most).map(|columns| laid(columns, height));
        all.min_by_key(Vec::len).unwrap_or_default()
    };
    let whole = best(height);
    match whole.len() {
        0 | 1 => whole,
        // The line that says which page it is.
        _ => numbered(best(height.saturating_sub(1).max(1))),
    }
}

fn numbered(pages: Vec<Vec<Line<'static>>>) -> Vec<Vec<Line<'static>>> {
    let count = pages.len();
    let with_number = |(at, mut page): (usize, Vec<_>)| {
        let words = format!("{} of {count}: Space turns, ↑ turns back", at + 1);
        page.push(Line::styled(words, strong()));
        page
    };
    pages.into_iter().enumerate().map(with_number).collect()
}

/// Blocks filled into columns, and columns into pages.
fn paged(blocks: &[Block], columns: usize, wide: usize, height: usize) -> Vec<Vec<Line<'static>>> {
    let mut filled: Vec<Vec<&(String, Style)>> = vec![Vec::new()];
    for block in blocks {
        let used = filled.last().map_or(0, Vec::len);
        if used > 0 && used + block.len() > height {
            filled.push(Vec::new());
        }
        let Some(column) = filled.last_mut() else {
            continue;
        };
        // Air before a heading stands only between what is in one column.
        let air = usize::from(column.is_empty() && block.first().is_some_and(is_air));
        column.extend(block.iter().skip(air));
    }
    filled
        .chunks(columns)
        .map(|page| side_by_side(page, wide))
        .collect()
}

fn is_air(line: &(String, Style)) -> bool {
    line.0.is_empty()
}

fn side_by_side(columns: &[Vec<&(String, Style)>], wide: usize) -> Vec<Line<'static>> {
    let high = columns.iter().map(Vec::len).max().unwrap_or(0);
    let line = |at: usize| {
        let cells = columns.iter().map(|column| match column.get(at) {
            Some((words, style)) => Span::styled(fit(words, wide, Cut::End), *style),
            None => plain(" ".repeat(wide)),
        });
        let mut spans: Vec<Span<'static>> = Vec::new();
        for cell in cells {
            if !spans.is_empty() {
                spans.push(plain(" ".repeat(GAP)));
            }
            spans.push(cell);
        }
        Line::from(spans)
    };
    (0..high).map(line).collect()
}

/// The keys of a place and of all that lies beneath it, then those of forms.
fn blocks(context: Context, width: usize) -> Vec<Block> {
    let mut blocks = Vec::new();
    for place in places(context) {
        let mut heading = vec![(String::new(), Style::new())];
        heading.push((place.title().to_owned(), strong()));
        for same in keys::bindings(place).chunk_by(|one, next| one.help == next.help) {
            let mut block = std::mem::take(&mut heading);
            block.extend(told(same, width));
            blocks.push(block);
        }
    }
    blocks
}

fn places(context: Context) -> Vec<Context> {
    let mut places = vec![context];
    places.extend(std::iter::successors(context.beneath(), |one| {
        one.beneath()
    }));
    // Hands that pour or mix part by part reach nothing else: a foot must not lead away.
    let steps = matches!(context, Context::Pouring | Context::Mixing);
    if !steps && !places.contains(&Context::Shell) {
        places.push(Context::Shell);
    }
    // In a form a question mark is typed.
    places.push(Context::Form);
    places
}

/// One sentence beside the keys that all do it.
fn told(same: &[Binding<Action>], width: usize) -> Block {
    let help = same.first().map_or("", |one| one.help);
    let lines = wrap(help, width.saturating_sub(NAMES + GAP)).into_iter();
    let names = format!("  {}", names(same));
    let beside = |(at, line): (usize, String)| {
        let name = if at == 0 { names.as_str() } else { "" };
        (format!("{name:<NAMES$}  {line}"), Style::new())
    };
    lines.enumerate().map(beside).collect()
}

fn names(same: &[Binding<Action>]) -> String {
    let keys = same.iter().flat_map(|one| one.keys);
    let names: Vec<_> = keys.map(|key| key.name()).collect();
    let heads = same.iter().filter_map(|one| one.keys.first());
    let heads: Vec<_> = heads.map(|key| key.name()).collect();
    let said = match (names.len() > NAMED, heads.as_slice()) {
        (true, [first, .., last]) => format!("{first} … {last}"),
        _ => names.join(" "),
    };
    match said.width() + GAP > NAMES {
        true => heads.into_iter().next().unwrap_or_default(),
        false => said,
    }
}
