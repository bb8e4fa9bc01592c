//! How a form looks: a line a field, what may be typed beneath the one in hand, what follows beside it.

use crate::screen::kit::form::{Field, Form};
use crate::screen::kit::look::{Look, chosen, strong};
use crate::screen::kit::text::{Cut, fit, lines_of, plain, wrap};
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;
use unicode_width::UnicodeWidthStr;

/// Cells of the fields at most, where something follows beside them.
const FIELDS: u16 = 74;

/// Draws it.
pub fn form_view(look: Look, form: &Form, frame: &mut Frame<'_>, area: Rect) {
    let side = if area.width >= 100 && !form.aside.is_empty() {
        46
    } else {
        0
    };
    // What follows stands beside the fields, however wide the screen.
    let fields = if side > 0 { FIELDS } else { area.width };
    let [left, right] =
        Layout::horizontal([Constraint::Max(fields), Constraint::Min(side)]).areas(area);
    let mut drawn = FormLines::of(look, form, left.width.into());
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
    fn of(look: Look, form: &Form, width: usize) -> Self {
        let title = Line::styled(inert(&form.title).into_owned(), strong());
        let mut made = Self {
            lines: vec![title],
            cursor: (0, 0),
        };
        for (place, field) in form.fields.iter().enumerate() {
            made.field(look, form, field, place == form.at, width);
        }
        made
    }

    fn field(&mut self, look: Look, form: &Form, field: &Field, in_hand: bool, width: usize) {
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
        // Which keys choose another name: the names stand under one another, and yet up and down are for fields.
        let turns = in_hand && field.pick.is_some() && text.width() + 5 <= room;
        self.lines.push(Line::from(vec![
            plain(format!("{sign} ")),
            Span::styled(fit(field.id.label(), NAMES, Cut::End), look.faint()),
            plain(" "),
            Span::styled(text, style),
            Span::styled(if turns { "  ← →" } else { "" }, look.faint()),
        ]));
        self.under(look, form, field, in_hand, width);
    }

    /// What stands beneath a field: its fault, or its hint and names while it is in hand.
    fn under(&mut self, look: Look, form: &Form, field: &Field, in_hand: bool, width: usize) {
        // What is about the whole stands where the eye is: at the foot a low screen would cut it off.
        let here = |of: Option<_>| of.map_or(in_hand, |of| of == field.id);
        let fault = form.fault.as_ref().filter(|fault| here(fault.field));
        if let Some(fault) = fault {
            return self.fault(look, &fault.words, width);
        }
        let indent = " ".repeat(NAMES + 3);
        if let Some(read_as) = &field.read_as {
            let words = format!("{indent}= {}", inert(read_as));
            self.lines.push(Line::from(words));
        }
        if !in_hand {
            return;
        }
        if let Some(pick) = &field.pick {
            if field.is_unmatched() {
                let none = "nothing is called so".to_owned();
                self.lines.push(Line::from(vec![
                    plain(indent.clone()),
                    Span::styled(none, look.wrong()),
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
            let told = Span::styled(line, look.faint());
            self.lines
                .push(Line::from(vec![plain(indent.clone()), told]));
        }
    }

    fn fault(&mut self, look: Look, words: &str, width: usize) {
        for line in wrap(&format!("✗ {words}"), width.saturating_sub(2)) {
            self.lines
                .push(Line::styled(format!("  {line}"), look.wrong()));
        }
    }
}
