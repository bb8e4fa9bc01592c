//! A line found by what is typed: the choice follows each key, and a whole mark needs no Enter.

use crate::screen::kit::seek::seek;
use crate::screen::shell::action::Seek;
use crate::screen::shell::model::{Model, Over};

/// Takes a key.
pub fn take(model: &mut Model, key: Seek) {
    let mut typed = match model.over.take() {
        Some(Over::Seeking(typed)) => typed,
        _ => String::new(),
    };
    match key {
        Seek::Begin => return begin(model),
        Seek::Insert(c) => typed.push(c),
        Seek::Backspace => {
            typed.pop();
        }
    }
    if !choose(model, &typed) {
        model.over = Some(Over::Seeking(typed));
    }
}

fn begin(model: &mut Model) {
    if model.photos.is_open() || model.place(model.screen).labels(&model.desk).is_empty() {
        return model.desk.refuse("There is no list here to find a line in");
    }
    model.over = Some(Over::Seeking(String::new()));
}

/// Chooses what fits; whether it was typed in full.
fn choose(model: &mut Model, typed: &str) -> bool {
    let labels = model.place(model.screen).labels(&model.desk);
    let Some(found) = seek(typed, &labels) else {
        return false;
    };
    let (place, desk) = model.place_mut(model.screen);
    place.choose_at(found.place, desk);
    model.just_found = found.is_whole;
    found.is_whole
}

/// What is asked while a line is sought.
pub fn question(model: &Model) -> Option<String> {
    let Some(Over::Seeking(typed)) = &model.over else {
        return None;
    };
    let labels = model.place(model.screen).labels(&model.desk);
    let none = match typed.is_empty() || seek(typed, &labels).is_some() {
        true => "",
        false => ": nothing is called so",
    };
    Some(format!("Find a mark, a number or a name: {typed}_{none}"))
}
