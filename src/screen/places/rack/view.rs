//! How the Rack looks: one picture a line, a bar from poured to touch-dry to varnish.

use super::Rack;
use super::page;
use super::words::{Stage, cells, dates, day, reckoned};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::picture::Pictures;
use crate::screen::kit::text::{Cut, fit, lines_of, plain};
use crate::studio::RackLine;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::judgement::Fate;
use crate::trade::moment::Moment;
use crate::trade::panel::{Panel, Shape};
use crate::trade::text::inert;
use crate::trade::units::{Band, INCH, Millimetres};
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// From this width on the chosen pour's page stands beside the pictures.
const WIDE: u16 = 120;
/// From this width on each line has its technique and its next date.
const MIDDLING: u16 = 72;

/// A thumbnail has no more lines than this.
const THUMB: u16 = 14;

/// Draws it.
pub fn view(rack: &Rack, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if area.width < WIDE {
        return pictures(rack, desk, frame, area);
    }
    let parts = Layout::horizontal([Constraint::Min(78), Constraint::Length(52)]).spacing(2);
    let [left, right] = parts.areas(area);
    pictures(rack, desk, frame, left);
    if let (Some(line), Some(settings)) = (rack.chosen(), &desk.known.settings) {
        let right = thumb(rack, desk, frame, right);
        let title = rack.title_of(line.page.pour.id);
        let sheet = page::sheet((line, title), None, settings, &desk.beat.now);
        let lines = sheet.lines(desk.look, right.width.into());
        frame.render_widget(Paragraph::new(lines), right);
    }
}

/// The chosen picture's thumbnail on top of its page; what is left of the area.
fn thumb(rack: &Rack, desk: &Desk, frame: &mut Frame<'_>, area: Rect) -> Rect {
    let Some(small) = rack.thumb().filter(|_| desk.pictures() != Pictures::Words) else {
        return area;
    };
    let parts = [
        Constraint::Length(THUMB.min(area.height / 3)),
        Constraint::Min(0),
    ];
    let [top, rest] = Layout::vertical(parts).spacing(1).areas(area);
    desk.draw(small, top, frame);
    rest
}

/// From this height on each picture has two lines, if there are thumbnails.
const TALL: u16 = 30;

/// How many cells the thumbnail of a row has: none where no picture has one, or where there is no room.
fn row_thumb(rack: &Rack, desk: &Desk, area: Rect) -> Option<(u16, u16)> {
    let is_shown = rack.row_thumbs.any() && desk.pictures() != Pictures::Words;
    match (area.width >= MIDDLING + 4 && is_shown, area.height >= TALL) {
        (false, _) => None,
        (true, false) => Some((3, 1)),
        (true, true) => Some((6, 2)),
    }
}

/// A row with its thumbnail before it.
fn with_thumb(
    rack: &Rack,
    desk: &Desk,
    (line, row): (&RackLine, Line<'static>),
    size: (u16, u16),
) -> Vec<Line<'static>> {
    let pour = line.page.pour.id;
    let thumb = rack.row_thumbs.spans(pour, size, desk.pictures().blocks());
    let mut rest = Some(row);
    let lines = thumb.into_iter().map(|mut spans| {
        spans.push(plain(" "));
        spans.extend(rest.take().into_iter().flat_map(|row| row.spans));
        Line::from(spans)
    });
    lines.collect()
}

fn pictures(rack: &Rack, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let thumb = row_thumb(rack, desk, area);
    let row_width = thumb.map_or(area.width, |(wide, _)| area.width - wide - 1);
    let room = room(rack, desk, width);
    let mut lines = vec![Line::styled(fit(&room, width, Cut::End), desk.look.faint())];
    let mut at = 0..0;
    for (place, line) in rack.lines.iter().enumerate() {
        let first = lines.len();
        let is_chosen = place == rack.place();
        let fate = rack.fates.get(place).copied().flatten();
        let title = rack.title_of(line.page.pour.id);
        let row = row(desk, (line, fate, title), is_chosen, row_width);
        match thumb {
            Some(size) => lines.extend(with_thumb(rack, desk, (line, row), size)),
            None => lines.push(row),
        }
        if is_chosen {
            lines.extend(beneath(desk, line, width));
            at = first..lines.len();
        }
    }
    let used = u16::try_from(lines.len())
        .unwrap_or(u16::MAX)
        .saturating_add(1);
    list::draw(lines, &at, frame, area);
    // Where the list leaves room, the chosen picture is seen beneath it.
    let left = area.height.saturating_sub(used);
    if area.width < WIDE && left >= THUMB / 2 && desk.pictures() != Pictures::Words {
        let height = left.min(THUMB);
        let beneath = Rect {
            y: area.y + used,
            height,
            ..area
        };
        rack.thumb()
            .into_iter()
            .for_each(|small| desk.draw(small, beneath, frame));
    }
}

/// The room's air, where it is said, and what the signs stand for; the headline asks for air that is not.
fn room(rack: &Rack, desk: &Desk, width: usize) -> String {
    const SIGNS: &str = "■ over  ░ may be dry, may be varnished";
    let Some(air) = rack.room else {
        return SIGNS.to_owned();
    };
    let air = air.show(desk.measures());
    let whole = format!("The room: {air}. {SIGNS}");
    match whole.chars().count() <= width {
        true => whole,
        false => format!("{air}. {SIGNS}"),
    }
}

fn row(
    desk: &Desk,
    (line, fate, title): (&RackLine, Option<Fate>, Option<&str>),
    is_chosen: bool,
    width: u16,
) -> Line<'static> {
    let middling = width >= MIDDLING;
    let now = &desk.beat.now;
    let stage = Stage::of(line, now);
    let (style, (sign, word)) = match fate {
        Some(fate) => (desk.look.faint(), (" ", fate.word())),
        None => (stage.style(desk.look), stage.words()),
    };
    let bar_width = match width {
        _ if !middling => 8,
        100.. => 30,
        _ => 16,
    };
    let fixed = 2 + 5 + 13 + 6 + bar_width + if middling { 17 } else { 0 };
    let room = usize::from(width).saturating_sub(fixed + 1);
    let number = format!("{:>3}", line.page.pour.id);
    let number_style = if is_chosen { chosen() } else { strong() };
    let mut spans = vec![
        plain(if is_chosen { "› " } else { "  " }),
        Span::styled(number, number_style),
        plain("  "),
        Span::styled(format!("{sign} {word:<11}"), style),
        plain(fit(&panel(desk, line, title), room, Cut::End)),
        plain(format!(" {:<6}", cells(&line.page))),
    ];
    // What is no more on the rack dries no more.
    if fate.is_some() {
        spans.push(plain(format!("poured {}", day(line.page.pour.at, now))));
        return Line::from(spans);
    }
    spans.push(Span::styled(bar(line, now, bar_width), style));
    if middling {
        spans.push(plain(format!("  {:<15}", next(line, stage, now))));
    }
    Line::from(spans)
}

/// `40 x 50 cm swipe`; a picture that has a title is known by it: `River in May, 40 x 50 cm`.
fn panel(desk: &Desk, line: &RackLine, title: Option<&str>) -> String {
    let pour = &line.page.pour;
    let panel = short(pour.panel, desk.measures());
    if let Some(title) = title {
        return format!("{}, {panel}", inert(title));
    }
    let way = pour.way.as_deref().map(inert).unwrap_or_default();
    format!("{panel} {way}").trim_end().to_owned()
}

/// A panel's size; inches to a tenth, for the technique wants its room too.
fn short(panel: Panel, measures: Measures) -> String {
    let inches = |side: Millimetres| ((side / INCH) * 10.0).round() / 10.0;
    match (measures, panel.shape) {
        (Measures::Metric, _) => panel.show(measures),
        (_, Shape::Rectangle { width, height }) => {
            format!("{} x {} in", inches(width), inches(height))
        }
        (_, Shape::Round { diameter }) => format!("round {} in", inches(diameter)),
        (_, Shape::Oval { width, height }) => {
            format!("oval {} x {} in", inches(width), inches(height))
        }
    }
}

/// The next date of a picture.
fn next(line: &RackLine, stage: Stage, now: &Now) -> String {
    let touch = line.touch.as_ref().ok();
    let varnish = line.varnish.as_ref().ok();
    match stage {
        Stage::Stuck => "no date".to_owned(),
        Stage::Wet | Stage::Nearly => touch
            .map(|touch| format!("dry {}", day(touch.high, now)))
            .unwrap_or_default(),
        Stage::Dry if varnish.is_some_and(|varnish| now.at >= varnish.high) => {
            "judge it".to_owned()
        }
        Stage::Dry => varnish
            .map(|varnish| from(&day(varnish.high, now)))
            .unwrap_or_default(),
        Stage::Varnish => "now".to_owned(),
    }
}

/// A day with its year needs the room of the word before it.
fn from(day: &str) -> String {
    match day.len() {
        ..=10 => format!("from {day}"),
        _ => day.to_owned(),
    }
}

/// A third of the bar leads to touch-dry, the rest to varnish; what is over is full, the bands are hatched.
fn bar(line: &RackLine, now: &Now, width: usize) -> String {
    let (Ok(touch), Ok(varnish)) = (&line.touch, &line.varnish) else {
        return fit("will not dry", width, Cut::End);
    };
    let poured = line.page.pour.at;
    let third = width / 3;
    let to_touch = (0..third).map(|cell| {
        let at = between(poured, touch.high, cell, third);
        sign(at, touch, now)
    });
    let to_varnish = (0..width - third).map(|cell| {
        let at = between(touch.high, varnish.high, cell, width - third);
        sign(at, varnish, now)
    });
    to_touch.chain(to_varnish).collect()
}

/// The instant at the end of a cell.
fn between(from: Moment, to: Moment, cell: usize, cells: usize) -> Moment {
    let whole = (to - from).num_milliseconds() as f64;
    let part = whole * (cell + 1) as f64 / cells.max(1) as f64;
    let part = chrono::TimeDelta::try_milliseconds(part as i64).unwrap_or_default();
    from.checked_add_signed(part).unwrap_or(to)
}

fn sign(at: Moment, band: &Band<Moment>, now: &Now) -> char {
    match at {
        at if at <= now.at => '■',
        at if at > band.low => '░',
        _ => '·',
    }
}

/// The chosen picture's dates, beneath its line.
fn beneath(desk: &Desk, line: &RackLine, width: usize) -> Vec<Line<'static>> {
    let mut words = dates(line, &desk.beat.now);
    words.push(reckoned(line, desk.measures()));
    let lines = lines_of(&words.join("; "), width.saturating_sub(4), 4).into_iter();
    lines
        .map(|line| plain(format!("    {line}")).into())
        .collect()
}
