//! Two pictures side by side: what was not the same comes first.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Field, Form};
use crate::screen::kit::sheet::Sheet;
use crate::studio::orders::RepeatField;
use crate::studio::{Aspect, Compared, Comparison, Had};
use crate::tell;

/// Asks for the other picture.
pub fn form(pour: i64, desk: &Desk) -> Form {
    let fields = vec![Field::of(RepeatField::Against, desk.measures())];
    Form::new(format!("Picture {pour} beside another"), fields)
}

/// The page.
pub fn sheet(comparison: &Comparison, desk: &Desk) -> Sheet {
    let [left, right] = [&comparison.left, &comparison.right].map(|page| page.pour.id);
    let mut sheet = Sheet::titled(&format!("Picture {left} beside picture {right}"));
    if comparison.repeats {
        sheet.words(&format!("{left} makes {right} once more."));
    }
    let part = |wanted: Option<bool>| {
        comparison
            .lines
            .iter()
            .filter(move |one| one.same() == wanted)
    };
    put(
        &mut sheet,
        "what was not the same",
        part(Some(false)),
        |line| apart(line, right, desk),
    );
    put(&mut sheet, "what was the same", part(Some(true)), |line| {
        had(line.left.as_ref(), desk)
    });
    put(&mut sheet, "known of one alone", part(None), |line| {
        apart(line, right, desk)
    });
    sheet
}

fn put<'a>(
    sheet: &mut Sheet,
    heading: &str,
    lines: impl Iterator<Item = &'a Compared>,
    words: impl Fn(&Compared) -> String,
) {
    let mut lines = lines.peekable();
    if lines.peek().is_some() {
        sheet.heading(heading);
    }
    for line in lines {
        sheet.beside(&aspect(line.aspect), &words(line));
    }
}

/// `2.0 s; 2.6 s in 1`.
fn apart(line: &Compared, right: i64, desk: &Desk) -> String {
    let [this, other] = [&line.left, &line.right].map(|one| had(one.as_ref(), desk));
    format!("{this}; {other} in {right}")
}

fn had(had: Option<&Had>, desk: &Desk) -> String {
    let unknown = || "not known".to_owned();
    had.map_or_else(unknown, |had| {
        tell::words(had, desk.measures(), &desk.beat.now)
    })
}

/// `layer 2: mound`.
fn aspect(of: Aspect) -> String {
    match (of, of.layer()) {
        (Aspect::Layer(_), _) | (_, None) => tell::aspect(of),
        (_, Some(number)) => format!("layer {number}: {}", tell::aspect(of)),
    }
}
