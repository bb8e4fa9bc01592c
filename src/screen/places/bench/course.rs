//! A cup's life drawn: its rest as a bar with the looks on it, its mound over time with its window, its readings and what is
//! expected of it.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::strong;
use crate::screen::kit::text::plain;
use crate::screen::kit::time_span::TimeSpan;
use crate::studio::{CupPage, local};
use crate::trade::cup::{Happened, Seen};
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::moment::Moment;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Under so many lines of room nothing is drawn: what is written comes first.
const ROOM: usize = 26;
/// Lines of the drawn mound.
const TALL: usize = 9;
/// Cells of its width at most, and what its scale takes.
const WIDEST: usize = 72;
const MARGIN: usize = 7;

/// What stands in one cell of the drawing; a later one covers an earlier one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    Nothing,
    Window,
    Band,
    Middle,
    Now,
    Thinned,
    Read,
}

impl Mark {
    const fn sign(self) -> char {
        match self {
            Self::Nothing => ' ',
            Self::Window => '┄',
            Self::Band => '░',
            Self::Middle => '·',
            Self::Now => '│',
            Self::Thinned => '▼',
            Self::Read => '●',
        }
    }

    fn style(self, desk: &Desk) -> Style {
        match self {
            Self::Window => desk.look.state(State::Ready),
            Self::Band | Self::Now => desk.look.faint(),
            Self::Read | Self::Thinned => strong(),
            Self::Nothing | Self::Middle => Style::new(),
        }
    }
}

/// From when to when, and from which mound to which, on the log.
struct Frame {
    span: TimeSpan,
    low: f64,
    high: f64,
}

impl Frame {
    fn around(page: &CupPage, across: usize) -> Option<Self> {
        let read = readings(page);
        let from = read.first()?.0;
        let ahead = page.foreseen.iter().map(|one| one.at);
        let until = ahead.chain(read.iter().map(|one| one.0)).max()?;
        let window = page.standing.variant.targets.window;
        let mut seconds: Vec<f64> = read.iter().map(|one| one.1).collect();
        seconds.extend(
            window
                .iter()
                .flat_map(|one| [one.low.get(), one.high.get()]),
        );
        let bands = page.foreseen.iter().map(|one| one.mound);
        seconds.extend(bands.flat_map(|band| [band.low.get(), band.high.get()]));
        let seconds = seconds.into_iter().filter(|s| s.is_finite() && *s > 0.0);
        let (low, high) = seconds.fold((f64::INFINITY, 0.0_f64), |(low, high), s| {
            (low.min(s), high.max(s))
        });
        let span = TimeSpan {
            from,
            until,
            cells: across,
        };
        Some(Self {
            span,
            low: low / 1.05,
            high: high * 1.05,
        })
    }

    fn column(&self, at: Moment) -> Option<usize> {
        self.span.holds(at).then(|| self.span.cell(at))
    }

    fn row(&self, seconds: f64) -> usize {
        let share = (seconds / self.low).ln() / (self.high / self.low).ln();
        let up = (share.clamp(0.0, 1.0) * (TALL - 1) as f64).round() as usize;
        TALL - 1 - up
    }
}

fn readings(page: &CupPage) -> Vec<(Moment, f64)> {
    let read = page.entries.iter().filter_map(|entry| {
        let mound = entry.what.reading()?.mound()?;
        Some((entry.at, mound.get()))
    });
    read.collect()
}

/// The lines of the drawing, where there is room and something to draw.
pub fn lines(desk: &Desk, page: &CupPage, width: usize, height: usize) -> Vec<Line<'static>> {
    let across = width.saturating_sub(MARGIN + 1).min(WIDEST);
    if height < ROOM || across < 20 {
        return Vec::new();
    }
    let now = &desk.beat.now;
    let rest = rest(page, now, across);
    let mut lines: Vec<Line<'static>> = rest.map(|words| plain(words).into()).into_iter().collect();
    let Some(frame) = Frame::around(page, across) else {
        return lines;
    };
    let cells = cells(page, &frame, now);
    let scale = scale(page, &frame);
    lines.extend(cells.iter().zip(scale).map(|(row, scale)| {
        let mut spans = vec![Span::styled(scale, desk.look.faint())];
        spans.extend(row.chunk_by(|a, b| a == b).map(|run| {
            let words: String = run.iter().map(|mark| mark.sign()).collect();
            Span::styled(words, run[0].style(desk))
        }));
        Line::from(spans)
    }));
    lines.push(Line::styled(under(&frame, now), desk.look.faint()));
    lines.push(Line::styled(
        format!(
            "{:MARGIN$}● read  ▼ thinned  · expected, ░ 80 in 100  ┄ window",
            ""
        ),
        desk.look.faint(),
    ));
    lines
}

fn cells(page: &CupPage, frame: &Frame, now: &Now) -> Vec<Vec<Mark>> {
    let mut cells = vec![vec![Mark::Nothing; frame.span.cells]; TALL];
    let mut put = |row: usize, column: usize, mark: Mark| {
        let cell = &mut cells[row][column];
        *cell = mark.max(*cell);
    };
    if let Some(window) = page.standing.variant.targets.window {
        for edge in [window.low, window.high] {
            (0..frame.span.cells)
                .for_each(|column| put(frame.row(edge.get()), column, Mark::Window));
        }
    }
    for column in 0..frame.span.cells {
        let Some(band) = foreseen(page, frame, column) else {
            continue;
        };
        let (top, bottom) = (frame.row(band[2]), frame.row(band[0]));
        (top..=bottom).for_each(|row| put(row, column, Mark::Band));
        put(frame.row(band[1]), column, Mark::Middle);
    }
    if let Some(column) = frame.column(now.at) {
        (0..TALL).for_each(|row| put(row, column, Mark::Now));
    }
    for entry in page
        .entries
        .iter()
        .filter(|one| one.what.thinned().is_some())
    {
        if let Some(column) = frame.column(entry.at) {
            put(TALL - 1, column, Mark::Thinned);
        }
    }
    for (at, seconds) in readings(page) {
        if let Some(column) = frame.column(at) {
            put(frame.row(seconds), column, Mark::Read);
        }
    }
    cells
}

/// What is expected in a column, on the straight line between the instants that are told: low, middle, high.
fn foreseen(page: &CupPage, frame: &Frame, column: usize) -> Option<[f64; 3]> {
    let place = |at: Moment| frame.column(at);
    let pair = page.foreseen.windows(2).find(|pair| {
        place(pair[0].at).is_some_and(|from| from <= column)
            && place(pair[1].at).is_some_and(|until| column <= until)
    })?;
    let (from, until) = (place(pair[0].at)?, place(pair[1].at)?);
    let share = (column - from) as f64 / (until - from).max(1) as f64;
    let of = |nth: usize| {
        let band = pair[nth].mound;
        [band.low.get(), band.mid.get(), band.high.get()]
    };
    let (a, b) = (of(0), of(1));
    Some(std::array::from_fn(|i| a[i] + share * (b[i] - a[i])))
}

/// The window's edges, else the ends of the scale, beside their lines.
fn scale(page: &CupPage, frame: &Frame) -> Vec<String> {
    let mut words = vec![" ".repeat(MARGIN); TALL];
    let ends = match page.standing.variant.targets.window {
        Some(window) => [window.low.get(), window.high.get()],
        None => [frame.low, frame.high],
    };
    for seconds in ends {
        words[frame.row(seconds)] = format!("{:>w$} ", format!("{seconds:.1} s"), w = MARGIN - 1);
    }
    words
}

/// When it begins, and what the line upright is.
fn under(frame: &Frame, now: &Now) -> String {
    let from = local(frame.span.from, now);
    let mut line = format!("{:MARGIN$}{from}", "");
    if let Some(column) = frame.column(now.at) {
        let wanted = MARGIN + column.saturating_sub(1);
        match wanted.checked_sub(line.chars().count()) {
            Some(blanks @ 1..) => line += &format!("{:blanks$}now", ""),
            // Where it would stand on the beginning it says which sign it is.
            _ => line += "  │ now",
        }
    }
    line
}

/// `rest   00:27 ■■■■■■○■■■■■■●····· 13:40`: the last rest, what is over of it, and what was seen.
fn rest(page: &CupPage, now: &Now, across: usize) -> Option<String> {
    let life = &page.standing.life;
    let stirs = |what: &Happened| what.is_mixing() || matches!(what, Happened::Stirred { .. });
    let from = page.entries.iter().rev().find(|one| stirs(&one.what))?.at;
    let until = life.clears_at.max(from);
    let ends = [from, until].map(|at| local(at, now));
    let cells = across.saturating_sub(ends[0].len() + ends[1].len() + 2);
    let whole = (until - from).num_seconds() as f64;
    if cells < 8 || whole <= 0.0 {
        return None;
    }
    let place = |at: Moment| {
        let share = (at - from).num_seconds() as f64 / whole;
        (share * (cells - 1) as f64).round()
    };
    let over = place(now.at);
    let mut bar: Vec<char> = (0..cells)
        .map(|cell| if cell as f64 <= over { '■' } else { '·' })
        .collect();
    for entry in page.entries.iter().filter(|one| one.at >= from) {
        let sign = match entry.what {
            Happened::Looked(Seen::Bubbles) => '○',
            Happened::Looked(Seen::Clear) => '●',
            _ => continue,
        };
        let cell = place(entry.at).clamp(0.0, (cells - 1) as f64) as usize;
        bar[cell] = sign;
    }
    let bar: String = bar.into_iter().collect();
    Some(format!("{:<MARGIN$}{} {bar} {}", "rest", ends[0], ends[1]))
}
