//! The form in which a photo is named: type-ahead over the folder that its path leads into, the newest first.

use crate::exchange::photo::{listed, path_typed};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::field::Line;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::pick::Pick;
use crate::studio::PhotoOrder;
use crate::studio::orders::PhotoField;
use std::path::PathBuf;

/// The form; `typed` is the path of the photo before.
pub fn add(pour: i64, typed: &str, desk: &Desk) -> Form {
    let led = typed.rfind('/').map_or("", |at| &typed[..=at]);
    let names = listed(led, &base(desk));
    let newest = names.iter().find(|name| !name.ends_with('/'));
    let newest = newest.cloned().unwrap_or_default();
    let films = PhotoField::FILMS.map(str::to_owned).to_vec();
    let field = |field| Field::of(field, desk.measures());
    let fields = vec![
        field(PhotoField::File).one_of(names).offering(&newest),
        field(PhotoField::Film).among(films),
        field(PhotoField::Note),
    ];
    Form::new(format!("A photo of picture {pour}"), fields).at_once()
}

/// Where paths begin that do not begin at the root.
fn base(desk: &Desk) -> PathBuf {
    let settings = desk.known.settings.as_ref();
    let folder = settings.and_then(|one| one.photos_from.clone());
    path_typed(&folder.unwrap_or_default(), &PathBuf::from("."))
}

/// Offers what lies in the folder that the path leads into by now.
pub fn follow(form: &mut Form, desk: &Desk) {
    let Some(field) = form.field_mut(PhotoField::File) else {
        return;
    };
    if let Some(bare) = unquoted(field.line.text()) {
        field.line = Line::default();
        bare.chars().for_each(|c| field.line.insert(c));
    }
    let text = field.line.text().to_owned();
    let led = folder_of(&text);
    let names = field.pick.as_ref().map(Pick::names).unwrap_or_default();
    let same = names
        .first()
        .is_some_and(|name| folder_of(name.trim_end_matches('/')) == led);
    if same {
        return;
    }
    let mut pick = Pick::among(listed(led, &base(desk)));
    pick.narrow(text.get(led.len()..).map_or("", |_| &text));
    if text.ends_with('/') {
        pick.show("");
        pick.turn(true);
    }
    field.pick = Some(pick);
}

/// Up to the last slash, with it.
fn folder_of(text: &str) -> &str {
    text.rfind('/').map_or("", |at| &text[..=at])
}

/// A path as a terminal writes it after a file was dropped on it, without its quotes and backslashes.
fn unquoted(text: &str) -> Option<String> {
    let text = text.trim();
    for quote in ['\'', '"'] {
        let inner = text
            .strip_prefix(quote)
            .and_then(|one| one.strip_suffix(quote));
        if let Some(inner) = inner.filter(|inner| !inner.is_empty()) {
            return Some(inner.to_owned());
        }
    }
    text.contains("\\ ").then(|| text.replace("\\ ", " "))
}

/// What was typed: the photo's path, and what is said of it.
///
/// # Errors
/// A folder in place of a photo.
pub fn read(form: &Form, desk: &Desk) -> Result<(PathBuf, PhotoOrder), Fault> {
    let path = form.value(PhotoField::File);
    if path.is_empty() {
        return Err(Fault::of(PhotoField::File, "is needed"));
    }
    if path.ends_with('/') {
        let words = "is a folder: Tab opens it, then choose a photo";
        return Err(Fault::of(PhotoField::File, words));
    }
    let order = PhotoField::order(&form.typed()).map_err(|wrong| desk.fault(wrong))?;
    Ok((path_typed(path, &base(desk)), order))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dropped_file_loses_its_quotes_and_backslashes() {
        assert_eq!(
            unquoted("'/card/a b.jpg' ").as_deref(),
            Some("/card/a b.jpg")
        );
        assert_eq!(
            unquoted("/card/a\\ b.jpg").as_deref(),
            Some("/card/a b.jpg")
        );
        assert_eq!(unquoted("/card/a b.jpg"), None);
        assert_eq!(unquoted("'"), None);
    }
}
