//! Forms: a few fields filled in one after another, each with a sane proposal, each fault said in its place.
//!
//! What was typed stays until it was kept, so that a refusal or a failing store costs no typing.

use crate::screen::kit::field::Line;
pub use crate::screen::kit::form_field::{Fault, Field};
use crate::screen::kit::keys::{Binding, bind, code, ctrl};
use crate::studio::orders::{self, AnyField, Given, Typed};
use crate::studio::said_day;
use crossterm::event::KeyCode;

/// What a key does within a form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edit {
    /// Types a character.
    Insert(char),
    /// Takes the sign before the place away.
    Backspace,
    /// Takes the sign at the place away.
    Delete,
    /// One sign to the left; where a name is chosen, the name before.
    Left,
    /// One sign to the right; where a name is chosen, the next name.
    Right,
    /// Goes to the start of the line.
    Home,
    /// Goes to the end of the line.
    End,
    /// Empties the line.
    Clear,
    /// The next field.
    Next,
    /// The field before.
    Before,
    /// The next field: an arrow that climbs a form changes nothing in it.
    Down,
    /// The field before.
    Up,
    /// Takes the name and goes on, where one is chosen; else keeps the form.
    Enter,
}

/// A form being filled in.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// What is asked, in words.
    pub title: String,
    /// What the hands must do to fill it in, on the top line; the place's own line otherwise.
    pub headline: Option<&'static str>,
    /// Its fields.
    pub fields: Vec<Field>,
    /// The field in hand.
    pub at: usize,
    /// What was wrong when it was last kept.
    pub fault: Option<Fault>,
    /// What follows from what is typed, beside it.
    pub aside: Vec<String>,
    /// Whether anything was typed since it was opened.
    touched: bool,
    /// Whether it was left before, with what was typed in it.
    restored: bool,
    /// The name it was opened with, where it begins with one.
    begun: Option<String>,
    /// Whether Enter leads through all its fields before it keeps them.
    guided: bool,
    /// Whether Enter keeps it wherever it is pressed, a name taken or not.
    at_once: bool,
    /// Whether what stands in it was doubted: Enter, and nothing typed before it, keeps it all the same.
    doubted: bool,
    /// What is left of the word that one key has just said; that key has gone on to the next field already.
    said: Option<String>,
}

/// What an edit leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum After {
    /// Nothing but another place.
    Moved,
    /// A value is another one now.
    Changed,
    /// It is to be kept.
    Keep,
}

impl Form {
    /// A form with its first field in hand.
    pub fn new(title: impl Into<String>, fields: Vec<Field>) -> Self {
        Self {
            title: title.into(),
            headline: None,
            fields,
            at: 0,
            fault: None,
            aside: Vec::new(),
            touched: false,
            restored: false,
            begun: None,
            guided: false,
            at_once: false,
            doubted: false,
            said: None,
        }
    }

    /// The same as it was left before, in the field that is asked for now.
    pub fn restored(self, left: Self) -> Self {
        Self {
            at: if self.at == 0 { left.at } else { self.at },
            // What it is about may be said otherwise by now.
            title: self.title,
            touched: false,
            restored: true,
            ..left
        }
        .offered()
    }

    /// The same with all that was typed before as a proposal: what is typed now is not glued to it.
    fn offered(mut self) -> Self {
        for field in &mut self.fields {
            field.line = Line::offering(field.line.text());
        }
        self
    }

    /// Whether another was begun with the same name: what else is offered does not count.
    pub fn is_like(&self, other: &Self) -> bool {
        self.begun == other.begun
    }

    /// The same as it is opened.
    pub fn begun(self) -> Self {
        let first = self.fields.first().filter(|field| field.pick.is_some());
        let begun = first.map(|field| field.value().to_owned());
        Self { begun, ..self }
    }

    /// The name it was opened with, where it begins with one.
    pub fn name_begun(&self) -> Option<&str> {
        self.begun.as_deref()
    }

    /// What stands in each field, by the field's key.
    pub fn texts(&self) -> Vec<(String, String)> {
        let fields = self.fields.iter();
        fields
            .map(|field| (field.id.key(), field.line.text().to_owned()))
            .collect()
    }

    /// The same as it was left in another run of the program, its fields found by their keys.
    pub fn filled(mut self, texts: &[(String, String)]) -> Self {
        for field in &mut self.fields {
            let text = texts.iter().find(|(key, _)| *key == field.id.key());
            if let Some((_, text)) = text.filter(|(_, text)| text != field.line.text()) {
                field.line = Line::offering(text);
                field.narrow();
            }
        }
        self.restored = true;
        self
    }

    /// Whether anything was typed since it was opened.
    pub const fn is_touched(&self) -> bool {
        self.touched
    }

    /// Whether it was left before.
    pub const fn is_restored(&self) -> bool {
        self.restored
    }

    /// The same with another field in hand, where there is one of the name.
    pub fn starting_at(mut self, id: impl Into<AnyField>) -> Self {
        let id = id.into();
        let place = self.fields.iter().position(|field| field.id == id);
        self.at = place.unwrap_or(0);
        self
    }

    /// The same, led through field by field.
    pub fn guided(self) -> Self {
        Self {
            guided: true,
            ..self
        }
    }

    /// Whether Enter leads through all its fields.
    pub const fn is_guided(&self) -> bool {
        self.guided
    }

    /// The same, kept by Enter wherever it is pressed.
    pub fn at_once(self) -> Self {
        Self {
            at_once: true,
            ..self
        }
    }

    /// Whether Enter goes on to the next field; else it keeps the form.
    pub fn goes_on(&self) -> bool {
        let holds = self.fields.get(self.at).is_some_and(Field::holds_a_name);
        (self.guided || holds && !self.at_once) && self.at + 1 < self.fields.len()
    }

    /// The value of a field; empty where there is none of the name.
    pub fn value(&self, id: impl Into<AnyField>) -> &str {
        self.field(id).map_or("", Field::value)
    }

    /// A field; `None` where the form has none such.
    pub fn field(&self, id: impl Into<AnyField>) -> Option<&Field> {
        let id = id.into();
        self.fields.iter().find(|field| field.id == id)
    }

    /// A field to be changed.
    pub fn field_mut(&mut self, id: impl Into<AnyField>) -> Option<&mut Field> {
        let id = id.into();
        self.fields.iter_mut().find(|field| field.id == id)
    }

    /// What stands in the fields of one deed.
    pub fn typed<F: orders::Field>(&self) -> Typed<F> {
        let fields = self.fields.iter();
        let texts = fields.filter_map(|field| Some((F::of(field.id)?, field.value())));
        texts.fold(Typed::default(), |typed, (field, text)| {
            typed.with(field, text)
        })
    }

    /// As [`Form::typed`], fields that are empty too.
    pub fn as_typed<F: orders::Field>(&self) -> Typed<F> {
        let fields = self.fields.iter();
        let texts = fields.filter_map(|field| Some((F::of(field.id)?, field.value())));
        texts.fold(Typed::default(), |typed, (field, text)| {
            typed.given(field, Some(text.to_owned()))
        })
    }

    /// Whether a hand has typed in a field, and not only left what was offered.
    pub fn is_typed(&self, id: impl Into<AnyField>) -> bool {
        self.field(id).is_some_and(|field| !field.line.is_offered())
    }

    /// Says beside each instant that is over which day it is on: a time alone may be of yesterday.
    pub fn tell_days(&mut self, given: &Given<'_>) {
        let past = |field: &&mut Field| field.id.is_past();
        for field in self.fields.iter_mut().filter(past) {
            let at = given.day_or_past(field.value()).ok();
            let another = at.filter(|at| said_day(*at, given.now) != field.value());
            field.read_as = another.map(|at| said_day(at, given.now));
        }
    }

    /// The first choice in which no name stands though one is needed, or a text that fits none.
    pub fn unchosen(&self) -> Option<Fault> {
        self.fields.iter().find_map(Field::unchosen)
    }

    /// Shows a fault, and takes the field it is in in hand.
    pub fn blame(&mut self, fault: Fault) {
        self.fault = Some(fault);
        self.back_to_fault();
    }

    /// Takes the field that the fault is in in hand; what one key says is said anew.
    pub fn back_to_fault(&mut self) {
        let Some(id) = self.fault.as_ref().and_then(|fault| fault.field) else {
            return;
        };
        let Some(at) = self.fields.iter().position(|field| field.id == id) else {
            return;
        };
        self.at = at;
        if let Some(field) = self.fields.get_mut(at).filter(|field| field.one_key) {
            field.line.clear();
            field.narrow();
        }
    }

    /// As [`Form::blame`], for what may be right all the same.
    pub fn doubt(&mut self, fault: Fault) {
        self.blame(fault);
        self.doubted = true;
    }

    /// Whether what stands in it was doubted and is meant.
    pub const fn is_meant(&self) -> bool {
        self.doubted
    }

    /// Takes one edit.
    pub fn edit(&mut self, edit: Edit) -> After {
        self.doubted &= edit == Edit::Enter;
        if self.said_before(edit) {
            return After::Moved;
        }
        let (at, last) = (self.at, self.fields.len().saturating_sub(1));
        let goes_on = self.goes_on();
        let Some(field) = self.fields.get_mut(at) else {
            return After::Keep;
        };
        let picks = field.pick.is_some();
        let unchosen = field.unchosen();
        match edit {
            Edit::Next | Edit::Down => self.go(at + 1),
            Edit::Before | Edit::Up => self.go(at + last),
            Edit::Enter if unchosen.is_some() => {
                self.fault = unchosen;
                After::Moved
            }
            Edit::Enter if goes_on => self.go(at + 1),
            Edit::Enter => {
                field.leave();
                After::Keep
            }
            Edit::Left | Edit::Right if picks => {
                field.turn(edit == Edit::Right);
                self.touched = true;
                After::Changed
            }
            other => {
                let after = type_into(field, other);
                self.touched |= after == After::Changed;
                let said =
                    field.one_key && matches!(other, Edit::Insert(_)) && after == After::Changed;
                if said && at < last {
                    let rest = field.name().strip_prefix(field.line.text());
                    self.said = Some(rest.unwrap_or_default().to_owned());
                    return self.go(at + 1);
                }
                after
            }
        }
    }

    /// Whether an edit belongs to the word that one key said whole: the rest of its letters, or a Tab behind it.
    fn said_before(&mut self, edit: Edit) -> bool {
        let Some(rest) = self.said.take() else {
            return false;
        };
        match edit {
            Edit::Next => true,
            Edit::Insert(c) => {
                let rest = rest.strip_prefix(c);
                self.said = rest.map(str::to_owned);
                self.said.is_some()
            }
            _ => false,
        }
    }

    fn go(&mut self, to: usize) -> After {
        if let Some(field) = self.fields.get_mut(self.at) {
            field.leave();
        }
        self.at = to % self.fields.len().max(1);
        After::Changed
    }
}

fn type_into(field: &mut Field, edit: Edit) -> After {
    let is_letter = matches!(edit, Edit::Insert(c) if !c.is_ascii_digit());
    // A grade is a digit; a word that is typed there was meant for another field.
    if is_letter && field.one_key && field.pick.is_none() {
        return After::Moved;
    }
    let line = &mut field.line;
    match edit {
        Edit::Insert(c) => line.insert(c),
        Edit::Backspace => line.backspace(),
        Edit::Delete => line.delete(),
        Edit::Clear => line.clear(),
        Edit::Left => line.left(),
        Edit::Right => line.right(),
        Edit::Home => line.home(),
        _ => line.end(),
    }
    if matches!(edit, Edit::Left | Edit::Right | Edit::Home | Edit::End) {
        return After::Moved;
    }
    field.narrow();
    After::Changed
}

/// What the keys of a line do.
const WRITE: &str = "Take a sign away, or go along the line";

/// What the keys that lead through a form do.
const FIELDS: &str = "Another field; one that is at fault is told at once";

/// What the arrows along a line do.
const ALONG: &str = "Another name; where none is chosen, along the line";

/// The keys of a form; every other key that writes a character types it.
pub const KEYS: &[Binding<Edit>] = &[
    bind(
        &[code(KeyCode::Enter)],
        Edit::Enter,
        "keep",
        "Take the name and go on; elsewhere keep all",
    ),
    bind(&[code(KeyCode::Tab)], Edit::Next, "next", FIELDS),
    bind(&[code(KeyCode::BackTab)], Edit::Before, "", FIELDS),
    bind(&[code(KeyCode::Down)], Edit::Down, "", FIELDS),
    bind(&[code(KeyCode::Up)], Edit::Up, "", FIELDS),
    bind(&[code(KeyCode::Backspace)], Edit::Backspace, "", WRITE),
    bind(&[code(KeyCode::Delete)], Edit::Delete, "", WRITE),
    bind(&[code(KeyCode::Home)], Edit::Home, "", WRITE),
    bind(&[code(KeyCode::End)], Edit::End, "", WRITE),
    bind(&[code(KeyCode::Left)], Edit::Left, "", ALONG),
    bind(&[code(KeyCode::Right)], Edit::Right, "", ALONG),
    bind(&[ctrl('u')], Edit::Clear, "", "Empty the line"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::orders::MixField;
    use crate::trade::amount::Measures;

    fn form() -> Form {
        let names = vec!["Deep blue".to_owned(), "Rust red".to_owned()];
        let fields = vec![
            Field::of(MixField::Recipe, Measures::Metric).one_of(names),
            Field::of(MixField::Amount, Measures::Metric).offering("120 ml"),
        ];
        Form::new("", fields)
    }

    fn keys(form: &mut Form, text: &str) {
        for c in text.chars() {
            form.edit(if c == '\n' {
                Edit::Enter
            } else {
                Edit::Insert(c)
            });
        }
    }

    #[test]
    fn enter_takes_the_name_and_then_keeps() {
        let mut form = form();
        keys(&mut form, "ru\n");
        assert_eq!((form.value(MixField::Recipe), form.at), ("Rust red", 1));
        keys(&mut form, "80 ml");
        assert_eq!(form.edit(Edit::Enter), After::Keep);
        assert_eq!(form.value(MixField::Amount), "80 ml");
    }

    #[test]
    fn arrows_along_a_choice_turn_names_and_those_across_change_fields_alone() {
        let mut form = form();
        form.edit(Edit::Right);
        form.edit(Edit::Right);
        assert_eq!(form.value(MixField::Recipe), "Rust red");
        form.edit(Edit::Up);
        assert_eq!(form.at, 1);
        for (edit, at) in [(Edit::Down, 0), (Edit::Down, 1), (Edit::Up, 0)] {
            form.edit(edit);
            assert_eq!((form.at, form.value(MixField::Recipe)), (at, "Rust red"));
        }
        form.edit(Edit::Left);
        assert_eq!(form.value(MixField::Recipe), "Deep blue");
    }

    #[test]
    fn a_fault_leads_to_its_field_and_keeps_what_was_typed() {
        let mut form = form();
        form.edit(Edit::Next);
        keys(&mut form, "5 m3");
        let fault = Fault::of(MixField::Amount, "is no amount");
        form.at = 0;
        form.blame(fault);
        assert_eq!((form.at, form.value(MixField::Amount)), (1, "5 m3"));
    }
}
