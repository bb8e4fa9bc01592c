//! Pages made from the templates in `assets/`; what is put into one is escaped by its name's ending.

use crate::studio::{Answer, Refusal};
use minijinja::{Environment, UndefinedBehavior};
use serde::Serialize;

/// The pages there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Page {
    Report,
    Certificate,
}

impl Page {
    const fn template(self) -> (&'static str, &'static str) {
        match self {
            Self::Report => ("report.html", include_str!("../../assets/report.html")),
            Self::Certificate => (
                "certificate.html",
                include_str!("../../assets/certificate.html"),
            ),
        }
    }
}

/// Fills a page.
///
/// # Errors
/// Where the template asks for what is not there.
pub(super) fn fill(page: Page, view: &impl Serialize) -> Answer<String> {
    let (name, source) = page.template();
    let mut pages = Environment::new();
    pages.set_undefined_behavior(UndefinedBehavior::Strict);
    let made = pages.add_template(name, source).and_then(|()| {
        pages
            .get_template(name)?
            .render(minijinja::value::Serde(view))
    });
    let unfit = |error: minijinja::Error| Refusal::OwnData {
        what: name,
        why: error.to_string(),
    };
    Ok(made.map_err(unfit)?)
}
