//! How the Shelf looks: one material a line, what is left as packs, days, price, what to beware of.

use super::words::{days_words, left_words};
use super::{Shelf, course};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::message::Tone;
use crate::screen::kit::text::{Cut, fit, lines_of, plain};
use crate::studio::{ShelfLine, local};
use crate::tell::{self, care, metal_caution};
use crate::trade::amount::Measures;
use crate::trade::text::inert;
use crate::trade::units::Millilitres;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// From this width on each line has its price and what to beware of.
const MIDDLING: usize = 72;
/// From this width on the chosen material's days stand beside the list.
const WIDE: u16 = 120;
/// Cells of the bar of packs.
const BAR: usize = 11;
/// Cells of one pack, while they are few.
const PACK: usize = 3;

/// Draws it; where there is room, with what was left of the chosen material day by day.
pub fn view(shelf: &Shelf, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if area.width < WIDE {
        return materials(shelf, desk, frame, area);
    }
    let parts = Layout::horizontal([Constraint::Max(100), Constraint::Min(42)]).spacing(2);
    let [left, right] = parts.areas(area);
    materials(shelf, desk, frame, left);
    let lines = course::lines(shelf, desk, right.width.into());
    frame.render_widget(Paragraph::new(lines), right);
}

fn materials(shelf: &Shelf, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let (width, measures) = (usize::from(area.width), desk.measures());
    let mut lines = vec![Line::styled(heads(width, measures), desk.look.faint())];
    let mut chosen_at = 0..0;
    for (place, line) in shelf.lines.iter().enumerate() {
        let first = lines.len();
        let is_chosen = place == shelf.place();
        lines.push(row(desk, line, is_chosen, width));
        if is_chosen {
            lines.extend(beneath(desk, line, width));
            chosen_at = first..lines.len();
        }
    }
    list::draw(lines, &chosen_at, frame, area);
}

/// Cells of the columns.
struct Columns {
    name: usize,
    left: usize,
    price: usize,
    /// Of what to beware of; none where there is little room.
    rest: usize,
}

/// Fluid ounces take more room than millilitres.
fn columns(width: usize, measures: Measures) -> Columns {
    let (left, price) = match measures {
        Measures::Metric => (9, 13),
        Measures::UsCustomary => (11, 15),
    };
    let fixed = 2 + 2 + left + 1 + BAR + 7;
    let (name, rest) = match width < MIDDLING {
        true => (width.saturating_sub(fixed), 0),
        false => {
            let room = width.saturating_sub(fixed + price + 1);
            let name = (room * 3 / 5).min(40);
            (name, room - name)
        }
    };
    Columns {
        name,
        left,
        price,
        rest,
    }
}

fn heads(width: usize, measures: Measures) -> String {
    let Columns {
        name,
        left,
        price,
        rest,
    } = columns(width, measures);
    let name = fit("", name + 4, Cut::End);
    let mut heads = format!("{name}{:>left$} {:<BAR$}{:>7}", "left", "packs", "lasts");
    if rest > 0 {
        heads.push_str(&format!("{:>price$} beware of", "price"));
    }
    fit(&heads, width, Cut::End)
}

fn row(desk: &Desk, line: &ShelfLine, is_chosen: bool, width: usize) -> Line<'static> {
    let measures = desk.measures();
    let room = columns(width, measures);
    let dangers = care(line);
    let (sign, warned) = match dangers.is_empty() {
        true => ("  ", Style::new()),
        false => ("! ", desk.look.tone(Tone::Odd)),
    };
    let name_style = if is_chosen { chosen() } else { strong() };
    let left = format!("{:>1$} ", left_words(line, measures), room.left);
    let style = supply(desk, line);
    let mut spans = vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(sign, warned),
        desk.swatch(line.material.colour),
        Span::styled(
            fit(
                &inert(&line.material.name),
                room.name.saturating_sub(desk.swatch_cells()),
                Cut::End,
            ),
            name_style,
        ),
        Span::styled(left, style),
        Span::styled(fit(&packs(line), BAR, Cut::End), style),
        Span::styled(format!("{:>7}", days_words(line)), style),
    ];
    if room.rest > 0 {
        let price = tell::price_each(&line.material, currency(desk), measures);
        let price = price.unwrap_or_default();
        spans.push(plain(format!("{:>1$} ", price, room.price)));
        let dangers = fit(&inert(&dangers), room.rest, Cut::End);
        spans.push(Span::styled(dangers, warned));
    }
    Line::from(spans)
}

fn currency(desk: &Desk) -> &str {
    let settings = desk.known.settings.as_ref();
    settings.map_or("", |settings| settings.currency.as_str())
}

/// What runs out is written as what is wrong; its numbers say it too.
fn supply(desk: &Desk, line: &ShelfLine) -> Style {
    match line.runs_out_soon() {
        true => desk.look.wrong(),
        false => Style::new(),
    }
}

/// What is left as packs; of what is no longer offered, that.
fn packs(line: &ShelfLine) -> String {
    let pack = line.material.pack_ml.map_or(0.0, Millilitres::get);
    match line.left {
        _ if line.material.retired => "retired".to_owned(),
        Some(left) if pack > 0.0 => pack_bar(left.get() / pack),
        _ => String::new(),
    }
}

/// Packs as cells: `■■■│■■■│■··`; more of them take a cell each, `■│■│■│·`; of many the rest is counted.
fn pack_bar(packs: f64) -> String {
    let packs = packs.max(0.0);
    let begun = (packs.ceil() as usize).max(1);
    let each = |cells: usize| {
        let all = (0..begun).map(|place| list::bar(packs - place as f64, cells));
        all.collect::<Vec<_>>().join("│")
    };
    match begun {
        _ if begun * (PACK + 1) - 1 <= BAR => each(PACK),
        _ if begun * 2 - 1 <= BAR => each(1),
        _ => format!("■│■│■ +{}", packs.floor() - 3.0),
    }
}

/// The chosen material in a sentence or two, beneath its line.
fn beneath(desk: &Desk, line: &ShelfLine, width: usize) -> Vec<Line<'static>> {
    let (material, measures) = (&line.material, desk.measures());
    let mut words = vec![material.kind.to_string()];
    let number = line.left.zip(material.pack_ml);
    words.extend(number.map(|(left, pack)| format!("{:.1} packs", left.get() / pack.get())));
    if line.used_30d.get() > 0.0 {
        let used = crate::trade::amount::show_volume(line.used_30d, measures);
        words.push(format!("{used} used in 30 days"));
    }
    words.extend(tell::price_each(material, currency(desk), measures));
    words.push(match line.counted_at {
        Some(at) => format!("counted {}", local(at, &desk.beat.now)),
        None => "never counted".to_owned(),
    });
    let index = material.colour_index.iter().cloned();
    words.extend(material.colour.map(tell::colour));
    words.extend(index.chain(Some(care(line)).filter(|care| !care.is_empty())));
    words.extend(metal_caution(line).map(str::to_owned));
    let words = inert(&words.join("; ")).into_owned();
    let lines = lines_of(&words, width.saturating_sub(4), 5).into_iter();
    lines
        .map(|line| plain(format!("    {line}")).into())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_are_told_apart_from_parts_of_one() {
        assert_eq!(pack_bar(1.0), "■■■");
        assert_eq!(pack_bar(2.4), "■■■│■■■│■··");
        assert_eq!(pack_bar(3.0), "■■■│■■■│■■■");
        assert_eq!(pack_bar(3.4), "■│■│■│■");
        assert_eq!(pack_bar(11.7), "■│■│■ +8");
        assert_eq!(
            (pack_bar(0.0), pack_bar(-2.0)),
            ("···".into(), "···".into())
        );
    }
}
