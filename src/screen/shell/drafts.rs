//! What is being built and is in no deed yet: the stack and half-filled forms. It is kept while the hands rest, so that neither
//! a quit nor a kill costs it, and is offered again by the next screen.

use crate::screen::kit::form::Form;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::places::{plan, pour};
use crate::screen::shell::ask::{Ask, Asked};
use crate::screen::shell::model::{Model, Over};
use crate::studio::Studio;
use serde::{Deserialize, Serialize};

/// All of it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Drafts {
    stack: Option<pour::Stack>,
    /// A cup of a plan that is half mixed.
    #[serde(default)]
    ticks: Option<plan::Ticks>,
    forms: Vec<LeftForm>,
}

/// A form with something typed in it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeftForm {
    /// Which form, for what.
    ask: String,
    title: String,
    begun: Option<String>,
    /// What stands in each field, by the field's key.
    texts: Vec<(String, String)>,
}

impl LeftForm {
    fn of(asked: &Asked) -> Self {
        Self {
            ask: key(&asked.ask),
            title: asked.form.title.clone(),
            begun: asked.form.name_begun().map(str::to_owned),
            texts: asked.form.texts(),
        }
    }

    /// Whether it was the form that is opened now.
    pub fn is_like(&self, ask: &Ask, form: &Form) -> bool {
        self.ask == key(ask) && self.begun.as_deref() == form.name_begun()
    }

    /// The form with what was typed in it.
    pub fn filled(&self, form: Form) -> Form {
        form.filled(&self.texts)
    }
}

/// Which form it is, in a word that another run of the program knows again.
fn key(ask: &Ask) -> String {
    format!("{ask:?}")
}

impl Drafts {
    /// What is being built now.
    pub fn of(model: &Model) -> Self {
        let open = match &model.over {
            Some(Over::Form(asked)) if asked.form.is_touched() || asked.form.is_restored() => {
                Some(LeftForm::of(asked))
            }
            _ => None,
        };
        let forms = model.put_by.iter().map(LeftForm::of).chain(open);
        Self {
            stack: model.pour.draft(),
            ticks: model.plan.ticks().cloned(),
            forms: forms.chain(model.left.iter().cloned()).collect(),
        }
    }

    fn is_empty(&self) -> bool {
        self.stack.is_none() && self.ticks.is_none() && self.forms.is_empty()
    }
}

/// Offers again what screens were building that are no more; answers what of this screen's is kept now, where that is known.
pub fn offer(studio: &mut Studio, model: &mut Model) -> Option<Drafts> {
    // Where it cannot be read there is nothing to offer: the file's own trouble is said elsewhere.
    let texts = studio.adopt_drafts().unwrap_or_default();
    let mut offered = Vec::new();
    for drafts in texts
        .iter()
        .filter_map(|text| serde_json::from_str::<Drafts>(text).ok())
    {
        if let Some(stack) = drafts.stack
            && model.pour.take_up(stack)
        {
            offered.push("the stack on the Pour (2)".to_owned());
        }
        if let Some(ticks) = drafts.ticks {
            model.plan.take_ticks(ticks);
            offered.push("the cup of a plan on the Plan (6)".to_owned());
        }
        offered.extend(
            drafts
                .forms
                .iter()
                .map(|form| format!("\"{}\"", form.title)),
        );
        model.left.extend(drafts.forms);
    }
    if !offered.is_empty() {
        let words = format!("As you left it: {}", offered.join(", "));
        model.desk.say(Message::new(Tone::Done, &words));
    }
    texts.is_empty().then(Drafts::default)
}

/// Keeps what is being built, where it is another than was kept last.
pub fn keep(studio: &mut Studio, model: &Model, kept: &mut Option<Drafts>) {
    let drafts = Drafts::of(model);
    if kept.as_ref() == Some(&drafts) {
        return;
    }
    let text = serde_json::to_string(&drafts).ok();
    let text = text.filter(|_| !drafts.is_empty());
    // One that cannot be kept now is tried again with the next rest: what it costs is only typing.
    if studio.keep_draft(text.as_deref()).is_ok() {
        *kept = Some(drafts);
    }
}
