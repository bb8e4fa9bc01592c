//! A field of a form: what may be typed in it, the names it chooses among, and what is wrong with it.

use crate::screen::kit::field::Line;
use crate::screen::kit::pick::Pick;
use crate::studio::near_names;
use crate::studio::orders::{self, AnyField, Hint};
use crate::trade::amount::Measures;
use crate::trade::text::inert;

/// One field.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Which it is; by this its value is asked for.
    pub id: AnyField,
    /// What may be typed.
    pub hint: Hint,
    /// What is typed.
    pub line: Line,
    /// What it was read as, where that is more than what is typed: the day of a time.
    pub read_as: Option<String>,
    /// The names it chooses among, if it does.
    pub pick: Option<Pick>,
    /// What is shown of an amount or a measure, and what that is to the last digit: a proposal that nobody touched is no
    /// rounding of what it stands for.
    exact: Option<(String, String)>,
    /// Whether one of the names must be chosen.
    pub(super) must: bool,
    /// Whether one key says it, and the next field is then in hand.
    pub(super) one_key: bool,
}

impl Field {
    /// A field of a deed, empty.
    pub fn of(field: impl orders::Field, measures: Measures) -> Self {
        Self {
            id: field.into(),
            hint: field.hint(measures),
            line: Line::offering(""),
            read_as: None,
            pick: None,
            exact: None,
            must: false,
            one_key: false,
        }
    }

    /// The same with a proposal in it.
    #[must_use]
    pub fn offering(self, offer: &str) -> Self {
        let line = Line::offering(offer);
        let mut pick = self.pick;
        if let Some(pick) = &mut pick {
            pick.show(offer);
        }
        Self { line, pick, ..self }
    }

    /// The same with a proposal in it of which no more is shown than is read at a glance.
    #[must_use]
    pub fn showing(mut self, shown: &str, exact: String) -> Self {
        self.show(shown, exact);
        self
    }

    /// Puts such a proposal in it.
    pub fn show(&mut self, shown: &str, exact: String) {
        self.line = Line::offering(shown);
        self.exact = Some((shown.to_owned(), exact));
    }

    /// The same, left by itself once one key has said it: a grade, or a word known by its first letter.
    #[must_use]
    pub fn one_key(self) -> Self {
        let one_key = true;
        Self { one_key, ..self }
    }

    /// The same choosing among names, of which one may be chosen.
    #[must_use]
    pub fn among(self, names: Vec<String>) -> Self {
        let pick = Some(Pick::among(names));
        Self { pick, ..self }
    }

    /// The same choosing among names, of which one must be chosen.
    #[must_use]
    pub fn one_of(self, names: Vec<String>) -> Self {
        let must = true;
        Self {
            must,
            ..self.among(names)
        }
    }

    /// What is said beneath it while it is in hand.
    pub fn told(&self) -> Option<String> {
        match self.hint {
            Hint::Says(words) => Some(words.to_owned()),
            Hint::SuchAs(example) if self.line.text().is_empty() => {
                Some(format!("such as {example}"))
            }
            Hint::SuchAs(_) => None,
        }
    }

    /// The same choosing among names that stand for other texts, of which one must be chosen: each with its text.
    #[must_use]
    pub fn one_meant(self, pairs: Vec<(String, String)>) -> Self {
        let (pick, must) = (Some(Pick::meaning(pairs)), true);
        Self { pick, must, ..self }
    }

    /// What it stands for: what the name chosen stands for, or the text typed.
    pub fn value(&self) -> &str {
        if let Some((_, exact)) = self.exact.as_ref().filter(|one| one.0 == self.line.text()) {
            return exact;
        }
        let meant = self.pick.as_ref().and_then(Pick::meant);
        meant.unwrap_or_else(|| self.line.text().trim())
    }

    /// The name chosen, or the text typed.
    pub(super) fn name(&self) -> &str {
        let chosen = self.pick.as_ref().and_then(Pick::chosen);
        chosen.unwrap_or_else(|| self.line.text().trim())
    }

    /// Whether Enter has a name to take.
    pub(super) fn holds_a_name(&self) -> bool {
        self.pick
            .as_ref()
            .is_some_and(|pick| pick.chosen().is_some())
    }

    /// Whether it is a choice in which a text stands that fits none of the names.
    pub fn is_unmatched(&self) -> bool {
        self.pick.is_some() && !self.holds_a_name() && !self.line.text().trim().is_empty()
    }

    /// What is wrong with a choice: a text that fits no name, or no name where one must be chosen.
    pub(super) fn unchosen(&self) -> Option<Fault> {
        let pick = self.pick.as_ref().filter(|_| !self.holds_a_name())?;
        let text = self.line.text().trim();
        let words = match (text.is_empty(), self.must) {
            (true, true) => "is needed".to_owned(),
            (true, false) => return None,
            (false, _) => match pick.fitting().next() {
                Some(_) => several(pick),
                None => none_of(text, pick.names()),
            },
        };
        Some(Fault::of(self.id, words))
    }

    pub(super) fn narrow(&mut self) {
        if let Some(pick) = &mut self.pick {
            pick.narrow(self.line.text());
        }
    }

    /// Writes the chosen name out, once the field is left.
    pub(super) fn leave(&mut self) {
        let Some(pick) = &mut self.pick else {
            return;
        };
        if let Some(chosen) = pick.chosen().map(str::to_owned) {
            self.line = Line::offering(&chosen);
            pick.show(&chosen);
        }
    }

    pub(super) fn turn(&mut self, forward: bool) {
        if let Some(pick) = &mut self.pick {
            pick.turn(forward);
            let chosen = pick.chosen().unwrap_or_default().to_owned();
            self.line = Line::offering(&chosen);
        }
    }
}

/// That a text fits several names.
fn several(pick: &Pick) -> String {
    let some: Vec<_> = pick.fitting().take(4).map(|name| inert(name)).collect();
    format!(
        "may be {}: type more of it, or choose with ← and →",
        some.join(", ")
    )
}

/// That a text fits none of some names, with those that come near it.
fn none_of(text: &str, names: &[String]) -> String {
    let near = near_names(text, names.iter());
    let (word, some, more) = match near.is_empty() {
        true => ("is none of", names.iter().take(4).collect(), names.len()),
        false => (
            "is none of them; near it",
            near.iter().collect::<Vec<_>>(),
            0,
        ),
    };
    let more = match more.saturating_sub(some.len()) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let some: Vec<_> = some.into_iter().map(|name| inert(name)).collect();
    format!("{word}: {}{more}", some.join(", "))
}

/// What is wrong, and in which field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The field; `None` where it is about the whole.
    pub field: Option<AnyField>,
    /// What is wrong, and what to do.
    pub words: String,
}

impl Fault {
    /// A fault in one field.
    pub fn of(field: impl Into<AnyField>, words: impl Into<String>) -> Self {
        Self {
            field: Some(field.into()),
            words: words.into(),
        }
    }
}
