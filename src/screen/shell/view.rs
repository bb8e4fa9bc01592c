//! How every screen is framed: the line in words on top, the screens, what is open, what was said, the keys.

use crate::screen::kit::form::{Edit, Field, Form};
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::text::{Cut, fit, fold, lines_of, plain, wrap};
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{self, Binding, Context};
use crate::screen::shell::model::{Done, Model, Over, Page, PageKind};
use crate::screen::{
    Screen,
    places::{bench, findings, plan, pour, rack, recipes, shelf, trials},
};
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

/// From this height on there is room for air between the parts.
const HIGH: u16 = 20;

/// A page of words is no wider than the eye follows (our own choice).
const READ: u16 = 100;

/// Draws the whole screen. It changes nothing.
pub fn view(model: &Model, frame: &mut Frame<'_>) {
    let area = frame.area();
    let width = usize::from(area.width);
    let head = lines_of(&headline(model), width, 2);
    let said = said(model, width);
    let foot = footer(model, width, if area.height >= HIGH { 2 } else { 1 });
    let air = u16::from(area.height >= HIGH);
    let parts = Layout::vertical([
        length(head.len()),
        Constraint::Length(1),
        Constraint::Length(air),
        Constraint::Min(0),
        length(said.len()),
        length(foot.len()),
    ]);
    let [top, strip_area, _, body_area, said_area, foot_area] = parts.areas(area);
    let head: Vec<Line<'_>> = head
        .into_iter()
        .map(|line| Line::styled(line, strong()))
        .collect();
    frame.render_widget(Paragraph::new(head), top);
    frame.render_widget(strip(model.screen, width), strip_area);
    body(model, frame, body_area);
    frame.render_widget(Paragraph::new(said), said_area);
    frame.render_widget(Paragraph::new(foot), foot_area);
}

fn length(lines: usize) -> Constraint {
    Constraint::Length(u16::try_from(lines).unwrap_or(u16::MAX))
}

fn headline(model: &Model) -> String {
    match model.screen {
        Screen::Bench => bench::headline(model),
        Screen::Pour => pour::headline(model),
        Screen::Rack => rack::headline(model),
        Screen::Findings => findings::headline(model),
        Screen::Shelf => shelf::headline(model),
        Screen::Plan => plan::headline(model),
        Screen::Recipes => recipes::headline(model),
        Screen::Trials => trials::headline(model),
    }
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
        Some(Over::Form(form)) => form_view(model, form, frame, area),
        Some(Over::Clock(watch)) => {
            let width = usize::from(area.width);
            let lines = bench::watch_lines(watch, model.beat.elapsed, width);
            frame.render_widget(Paragraph::new(lines), area);
        }
        Some(Over::Page(page)) => page_view(model, page, frame, area),
        Some(Over::Ending(_) | Over::Judging(..)) | None => screen_view(model, frame, area),
    }
}

fn screen_view(model: &Model, frame: &mut Frame<'_>, area: Rect) {
    match model.screen {
        Screen::Bench => bench::view(model, frame, area),
        Screen::Pour => pour::view(model, frame, area),
        Screen::Rack => rack::view(model, frame, area),
        Screen::Findings => findings::view(model, frame, area),
        Screen::Shelf => shelf::view(model, frame, area),
        Screen::Plan => plan::view(model, frame, area),
        Screen::Recipes => recipes::view(model, frame, area),
        Screen::Trials => trials::view(model, frame, area),
    }
}

/// The message that was not read yet, or the question that is open.
fn said(model: &Model, width: usize) -> Vec<Line<'static>> {
    let question = match &model.over {
        Some(Over::Ending(mark)) => Some(format!("How did {mark} end?")),
        Some(Over::Judging(pour, dry)) => {
            let seen = if *dry { "dry" } else { "wet" };
            Some(format!("How many cells has pour {pour}, {seen}? 0 to 5"))
        }
        _ => None,
    };
    if let Some(question) = question {
        return vec![Line::styled(question, strong())];
    }
    let Some(message) = &model.message else {
        return Vec::new();
    };
    let lines = lines_of(&worded(message), width, 3).into_iter();
    lines
        .map(|line| Line::styled(line, model.look.tone(message.tone)))
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

/// As many keys as fit; the help, undo and the way out are always among them.
fn footer(model: &Model, width: usize, most: usize) -> Vec<Line<'static>> {
    let all = keys::footer(model.context());
    let is_always = |one: &&Binding| matches!(one.action, Action::Undo | Action::Quit);
    let help = all.iter().copied().find(|one| one.action == Action::Help);
    let always: Vec<_> = all.iter().copied().filter(is_always).collect();
    let own = all.iter().copied();
    let mut own: Vec<_> = own
        .filter(|one| !is_always(one) && one.action != Action::Help)
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

fn hint(model: &Model, binding: &Binding) -> (String, &'static str) {
    let key = binding
        .keys
        .first()
        .map(|key| key.name())
        .unwrap_or_default();
    let enters = binding.action == Action::Form(Edit::Enter);
    let goes_on = enters && model.form().is_some_and(Form::goes_on);
    (key, if goes_on { "next" } else { binding.word })
}

fn form_view(model: &Model, form: &Form, frame: &mut Frame<'_>, area: Rect) {
    let side = if area.width >= 100 && !form.aside.is_empty() {
        46
    } else {
        0
    };
    let [left, right] =
        Layout::horizontal([Constraint::Min(20), Constraint::Length(side)]).areas(area);
    let mut drawn = FormLines::of(model, form, left.width.into());
    let room = if side > 0 { side } else { left.width };
    let aside = beside(&form.aside, room.into());
    let mut high = usize::from(left.height);
    let mut foot = Vec::new();
    if side > 0 {
        frame.render_widget(Paragraph::new(aside), right);
    } else if drawn.lines.len() + aside.len() <= high || aside.is_empty() {
        drawn.lines.extend(aside);
    } else {
        foot = beneath(&form.aside, left.width.into(), (high / 4).max(1));
        high = high.saturating_sub(foot.len());
    }
    let skip = (drawn.cursor.1 + 5).saturating_sub(high);
    let cursor = drawn.cursor;
    let lines = drawn.lines.into_iter().skip(skip).take(high);
    let lines: Vec<_> = lines.chain(foot).collect();
    frame.render_widget(Paragraph::new(lines), left);
    let at = |place: usize| u16::try_from(place).unwrap_or(u16::MAX);
    let y = left.y.saturating_add(at(cursor.1.saturating_sub(skip)));
    let x = left
        .x
        .saturating_add(at(cursor.0).min(left.width.saturating_sub(1)));
    frame.set_cursor_position(Position::new(x, y));
}

/// What follows from a form, a line each; a sentence that is too long is broken, a bar is left as it is.
fn beside(aside: &[String], width: usize) -> Vec<Line<'static>> {
    let broken = |line: &String| match line.width() > width {
        true => wrap(line, width),
        false => vec![line.clone()],
    };
    aside.iter().flat_map(broken).map(Line::from).collect()
}

/// What follows from a form, run together in few lines where there is no room for more.
fn beneath(aside: &[String], width: usize, most: usize) -> Vec<Line<'static>> {
    let words = format!("= {}", aside.join("; "));
    let lines = lines_of(&words, width, most).into_iter();
    lines.map(Line::from).collect()
}

/// A form as lines, and where in them the cursor stands.
struct FormLines {
    lines: Vec<Line<'static>>,
    cursor: (usize, usize),
}

/// Width of the names before the fields.
const NAMES: usize = 13;

impl FormLines {
    fn of(model: &Model, form: &Form, width: usize) -> Self {
        let title = Line::styled(inert(&form.title).into_owned(), strong());
        let mut made = Self {
            lines: vec![title],
            cursor: (0, 0),
        };
        for (place, field) in form.fields.iter().enumerate() {
            made.field(model, form, field, place == form.at, width);
        }
        if let Some(fault) = form.fault.as_ref().filter(|fault| fault.field.is_none()) {
            made.fault(model, &fault.words, width);
        }
        made
    }

    fn field(&mut self, model: &Model, form: &Form, field: &Field, in_hand: bool, width: usize) {
        let room = width.saturating_sub(NAMES + 3);
        let before = inert(field.line.before()).width();
        let text = fit(
            &inert(field.line.text()),
            room,
            if before >= room { Cut::Start } else { Cut::End },
        );
        let sign = if in_hand { "›" } else { " " };
        let style = if in_hand && field.line.is_offered() {
            chosen()
        } else {
            Style::new()
        };
        let text = if in_hand {
            text.trim_end().to_owned()
        } else {
            text
        };
        if in_hand {
            self.cursor = (
                NAMES + 3 + before.min(room.saturating_sub(1)),
                self.lines.len(),
            );
        }
        self.lines.push(Line::from(vec![
            plain(format!("{sign} ")),
            Span::styled(fit(field.name, NAMES, Cut::End), model.look.faint()),
            plain(" "),
            Span::styled(text, style),
        ]));
        self.under(model, form, field, in_hand, width);
    }

    /// What stands beneath a field: its fault, or its hint and names while it is in hand.
    fn under(&mut self, model: &Model, form: &Form, field: &Field, in_hand: bool, width: usize) {
        let fault = form
            .fault
            .as_ref()
            .filter(|fault| fault.field == Some(field.name));
        if let Some(fault) = fault {
            return self.fault(model, &fault.words, width);
        }
        if !in_hand {
            return;
        }
        let indent = " ".repeat(NAMES + 3);
        if let Some(pick) = &field.pick {
            if field.is_unmatched() {
                let none = "nothing is called so".to_owned();
                self.lines.push(Line::from(vec![
                    plain(indent.clone()),
                    Span::styled(none, model.look.wrong()),
                ]));
            }
            for (name, is_chosen) in pick.shown(4) {
                let style = if is_chosen { chosen() } else { Style::new() };
                let name = fit(&inert(name), width.saturating_sub(NAMES + 3), Cut::End);
                let name = Span::styled(name.trim_end().to_owned(), style);
                self.lines
                    .push(Line::from(vec![plain(indent.clone()), name]));
            }
        }
        let told = field.told().unwrap_or_default();
        for line in wrap(&told, width.saturating_sub(NAMES + 3)) {
            let told = Span::styled(line, model.look.faint());
            self.lines
                .push(Line::from(vec![plain(indent.clone()), told]));
        }
    }

    fn fault(&mut self, model: &Model, words: &str, width: usize) {
        for line in wrap(&format!("✗ {words}"), width.saturating_sub(2)) {
            self.lines
                .push(Line::styled(format!("  {line}"), model.look.wrong()));
        }
    }
}

fn page_view(model: &Model, page: &Page, frame: &mut Frame<'_>, area: Rect) {
    let lines = match &page.kind {
        PageKind::Help(context) => help(*context, area.width.into()),
        PageKind::History(done) => {
            let lines = done
                .iter()
                .flat_map(|line| done_lines(model, line, area.width.into()));
            lines.collect()
        }
        PageKind::Life(life) => bench::life_lines(model, life),
        PageKind::Sheet(sheet) => sheet.lines(model.look, area.width.min(READ).into()),
        PageKind::Pour(pour) => findings::page_lines(model, pour, area.width.into()),
        PageKind::Messages => {
            let said = model.said.iter().rev();
            said.map(|one| Line::styled(worded(one), model.look.tone(one.tone)))
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

fn done_lines(model: &Model, done: &Done, width: usize) -> Vec<Line<'static>> {
    let (sign, style) = match (done.kind, done.stands) {
        ("do", true) => ("", Style::new()),
        ("do", false) => ("taken back: ", model.look.faint()),
        ("undo", _) => ("undo: ", model.look.faint()),
        _ => ("redo: ", model.look.faint()),
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

/// The keys of a place, then those that hold everywhere.
fn help(context: Context, width: usize) -> Vec<Line<'static>> {
    let mut lines = Vec::new();
    let mut places = vec![context];
    if context == Context::Greeting {
        places.push(Context::Screen(Screen::Bench));
    }
    places.extend([
        Context::Shell,
        Context::Form,
        Context::Clock,
        Context::Ending,
        Context::Judging,
    ]);
    places.dedup();
    for place in places {
        lines.push(Line::styled(place.title(), strong()));
        for binding in keys::bindings(place) {
            let names: Vec<_> = binding.keys.iter().map(|key| key.name()).collect();
            let names = format!("  {}", names.join(" "));
            lines.extend(hanging(&names, 13, binding.help, width, Style::new()));
        }
        lines.push(Line::default());
    }
    lines
}
