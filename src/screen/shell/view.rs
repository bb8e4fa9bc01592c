//! How every screen is framed: the line in words on top, the screens, what is open, what was said, the keys.

use crate::screen::Screen;
use crate::screen::kit::form::{Edit, Form};
use crate::screen::kit::form_view::form_view;
use crate::screen::kit::keys::{Binding, code};
use crate::screen::kit::list;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::text::{fold, lines_of, plain, whole_sentences, wrap};
use crate::screen::shell::action::Action;
use crate::screen::shell::day_copy::DayCopy;
use crate::screen::shell::keys;
use crate::screen::shell::model::{Done, Model, Over, Page, PageKind};
use crate::screen::shell::{help, seeking};
use crossterm::event::KeyCode;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

type Shown = Binding<Action>;

/// From this height on there is room for air between the parts.
const HIGH: u16 = 20;

/// A page of words is no wider than the eye follows (our own choice).
const READ: u16 = 100;

/// What is said while a demo studio is open.
const EXAMPLES: &str = "examples";

/// What stands around the body of a screen.
struct Around {
    head: Vec<String>,
    said: Vec<Line<'static>>,
    foot: Vec<Line<'static>>,
    air: u16,
}

impl Around {
    fn of(model: &Model, width: usize, height: u16) -> Self {
        let air = u16::from(height >= HIGH);
        Self {
            head: whole_sentences(&headline(model), width, 2),
            said: said(model, width),
            foot: footer(model, width, 1 + usize::from(air)),
            air,
        }
    }
}

/// How many lines of the screen are left for what is read on it.
pub fn body_height(model: &Model) -> usize {
    let (width, height) = model.desk.size;
    let Around {
        head,
        said,
        foot,
        air,
    } = Around::of(model, width.into(), height);
    let around = head.len() + 1 + usize::from(air) + said.len() + foot.len();
    usize::from(height).saturating_sub(around)
}

/// Draws the whole screen. It changes nothing.
pub fn view(model: &Model, frame: &mut Frame<'_>) {
    let area = frame.area();
    let width = usize::from(area.width);
    let Around {
        head,
        said,
        foot,
        air,
    } = Around::of(model, width, area.height);
    let parts = Layout::vertical([
        length(head.len()),
        Constraint::Length(1),
        Constraint::Length(air),
        Constraint::Min(0),
        length(said.len()),
        length(foot.len()),
    ]);
    let [top, strip_area, air_area, body_area, said_area, foot_area] = parts.areas(area);
    let head: Vec<Line<'_>> = head
        .into_iter()
        .map(|line| Line::styled(line, strong()))
        .collect();
    frame.render_widget(Paragraph::new(head), top);
    let strip = strip(model.screen, width);
    let used = strip.width();
    frame.render_widget(strip, strip_area);
    if model.desk.known.is_examples() {
        examples(model, used, frame, [strip_area, air_area]);
    }
    body(model, frame, body_area);
    frame.render_widget(Paragraph::new(said), said_area);
    frame.render_widget(Paragraph::new(foot), foot_area);
}

/// That all of it is invented, at the right: beside the screens where there is room, else under them.
fn examples(model: &Model, used: usize, frame: &mut Frame<'_>, areas: [Rect; 2]) {
    let [beside, under] = areas;
    let fits = used + EXAMPLES.len() < usize::from(beside.width);
    let line = if fits { beside } else { under };
    // A line's style is its whole room's: no more of it than the word takes.
    let word = u16::try_from(EXAMPLES.len())
        .unwrap_or(line.width)
        .min(line.width);
    let room = Rect {
        x: line.right() - word,
        width: word,
        ..line
    };
    frame.render_widget(Line::styled(EXAMPLES, model.desk.look.faint()), room);
}

fn length(lines: usize) -> Constraint {
    Constraint::Length(u16::try_from(lines).unwrap_or(u16::MAX))
}

fn headline(model: &Model) -> String {
    let form = model.form().and_then(|form| form.headline);
    let place = || model.place(model.screen).headline(&model.desk);
    let photos = || model.photos.headline().unwrap_or_else(place);
    form.map_or_else(photos, str::to_owned)
}

/// The screens with their digits; where there is no room, only the open one has its name.
fn strip(open: Screen, width: usize) -> Line<'static> {
    let mut spans = Vec::new();
    let names = Screen::ALL.map(|screen| 2 + screen.title().len());
    let all: usize = names.iter().sum();
    let gaps = Screen::ALL.len() - 1;
    let all_named = all + 2 * gaps <= width;
    let gap = if all_named && all + 3 * gaps <= width {
        "   "
    } else {
        "  "
    };
    for (place, screen) in Screen::ALL.into_iter().enumerate() {
        let named = all_named || screen == open;
        let name = if named { screen.title() } else { "" };
        let label = format!("{} {name}", place + 1);
        let style = if screen == open {
            chosen()
        } else {
            Style::new()
        };
        spans.push(Span::styled(label.trim_end().to_owned(), style));
        spans.push(plain(gap));
    }
    Line::from(spans)
}

fn body(model: &Model, frame: &mut Frame<'_>, area: Rect) {
    match &model.over {
        Some(Over::Form(asked)) => form_view(model.desk.look, &asked.form, frame, area),
        Some(Over::Page(page)) => page_view(model, page, frame, area),
        None if model.photos.is_open() => model.photos.view(&model.desk, frame, area),
        Some(Over::Seeking(_)) | None => model.place(model.screen).view(&model.desk, frame, area),
    }
}

/// The question that is open, and the message that was not read yet: why a key is no answer.
fn said(model: &Model, width: usize) -> Vec<Line<'static>> {
    let place = || model.place(model.screen).question();
    let seeking = seeking::question(model);
    let asked = model.outgoing.question().or(model.judging.question());
    let question = seeking.or(asked).or_else(place);
    let question = question.map(|one| lines_of(&one, width, 2));
    let question = question.into_iter().flatten();
    let mut all: Vec<_> = question.map(|line| Line::styled(line, strong())).collect();
    all.extend(message(model, width));
    all
}

fn message(model: &Model, width: usize) -> Vec<Line<'static>> {
    let Some(message) = &model.desk.message else {
        let copy = || model.day_copy.as_ref().map(DayCopy::told);
        let progress = model.outgoing.progress().or_else(copy);
        return progress.map(Line::from).into_iter().collect();
    };
    let lines = lines_of(&worded(message), width, 3).into_iter();
    lines
        .map(|line| Line::styled(line, model.desk.look.tone(message.tone)))
        .collect()
}

/// A sign beside the words, so that colour does not say it alone.
fn worded(message: &Message) -> String {
    let sign = match message.tone {
        Tone::Done => "✓",
        Tone::Odd => "?",
        Tone::Refused => "✗ Not done:",
    };
    format!("{sign} {}", message.words)
}

/// As many keys as fit; the help, undo and the way back or out are always among them.
fn footer(model: &Model, width: usize, most: usize) -> Vec<Line<'static>> {
    let all = keys::footer(model.context(), model.is_bare());
    // Where there is but one line, what the hands need more than the way out stands in it; the help tells that.
    let low = most == 1;
    let is_always = |one: &&Shown| match one.wish {
        Action::Undo => true,
        Action::Quit => !low,
        _ => one.keys.contains(&code(KeyCode::Esc)),
    };
    let help = all.iter().find(|one| one.wish == Action::Help);
    let always: Vec<_> = all.iter().filter(is_always).collect();
    let own = all.iter();
    let mut own: Vec<_> = own
        .filter(|one| !is_always(one) && one.wish != Action::Help)
        .filter(|one| !(low && one.wish == Action::Quit))
        .collect();
    let whole = own.len();
    loop {
        let help = help.map(|one| match own.len() == whole {
            true => hint(model, one),
            false => (hint(model, one).0, "more"),
        });
        let shown = own.iter().chain(&always).map(|one| hint(model, one));
        let lines = rows_of(help.into_iter().chain(shown), width);
        if lines.len() <= most || own.pop().is_none() {
            return lines.into_iter().take(most).map(Line::from).collect();
        }
    }
}

/// Keys and their words in as many lines as they take.
fn rows_of(
    keys: impl Iterator<Item = (String, &'static str)>,
    width: usize,
) -> Vec<Vec<Span<'static>>> {
    let mut lines: Vec<Vec<Span<'static>>> = vec![Vec::new()];
    let mut used = 0;
    for (key, word) in keys {
        let cells = key.width() + 1 + word.width() + 2;
        if used > 0 && used + cells > width + 2 {
            lines.push(Vec::new());
            used = 0;
        }
        used += cells;
        let spans = [Span::styled(key, strong()), plain(format!(" {word}  "))];
        if let Some(line) = lines.last_mut() {
            line.extend(spans);
        }
    }
    lines
}

fn hint(model: &Model, binding: &Shown) -> (String, &'static str) {
    let key = binding
        .keys
        .first()
        .map(|key| key.name())
        .unwrap_or_default();
    let enters = binding.wish == Action::Form(Edit::Enter);
    let goes_on = enters && model.form().is_some_and(Form::goes_on);
    (key, if goes_on { "next" } else { binding.word })
}

fn page_view(model: &Model, page: &Page, frame: &mut Frame<'_>, area: Rect) {
    let lines = match &page.kind {
        PageKind::Help(context) => {
            let pages = help::pages(*context, area.width.into(), area.height.into());
            let at = page.from.min(pages.len().saturating_sub(1));
            let lines = pages.into_iter().nth(at).unwrap_or_default();
            return frame.render_widget(Paragraph::new(lines), area);
        }
        PageKind::History(done) if !done.is_empty() => {
            return history_view(model, done, page.from, frame, area);
        }
        PageKind::History(_) => Vec::new(),
        PageKind::Sheet(sheet) => sheet.lines(model.desk.look, area.width.min(READ).into()),
        PageKind::Messages => {
            let said = model.desk.said.iter().rev();
            said.map(|one| Line::styled(worded(one), model.desk.look.tone(one.tone)))
                .collect()
        }
    };
    let lines = if lines.is_empty() {
        vec![Line::from("Nothing yet.")]
    } else {
        lines
    };
    let lines = lines
        .into_iter()
        .flat_map(|line| fold(line, area.width.into()));
    let lines: Vec<_> = lines.collect();
    let last = lines.len().saturating_sub(usize::from(area.height).max(1));
    let lines: Vec<_> = lines.into_iter().skip(page.from.min(last)).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

fn history_view(model: &Model, done: &[Done], at: usize, frame: &mut Frame<'_>, area: Rect) {
    let mut lines = Vec::new();
    let mut seen = 0..0;
    for (nth, one) in done.iter().enumerate() {
        let from = lines.len();
        lines.extend(done_lines(model, one, area.width.into()));
        if nth == at {
            seen = from..lines.len();
            let styled = |line: Line<'static>| line.patch_style(chosen());
            lines[from..]
                .iter_mut()
                .for_each(|line| *line = styled(std::mem::take(line)));
        }
    }
    list::draw(lines, &seen, frame, area);
}

fn done_lines(model: &Model, done: &Done, width: usize) -> Vec<Line<'static>> {
    let (sign, style) = match done.stands {
        true => ("", Style::new()),
        false => ("taken back: ", model.desk.look.faint().crossed_out()),
    };
    hanging(&done.at, 16, &format!("{sign}{}", done.label), width, style)
}

/// Words beside a name, their further lines beneath the first.
fn hanging(
    name: &str,
    column: usize,
    words: &str,
    width: usize,
    style: Style,
) -> Vec<Line<'static>> {
    let lines = wrap(words, width.saturating_sub(column + 2))
        .into_iter()
        .enumerate();
    let name = |place| if place == 0 { name } else { "" };
    lines
        .map(|(place, line)| Line::styled(format!("{:<column$}  {line}", name(place)), style))
        .collect()
}
