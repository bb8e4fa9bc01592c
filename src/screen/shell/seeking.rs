//! A line found by what is typed: the choice follows each key, until Enter or Esc. A mark that is whole may be the beginning
//! of one that was meant, and what is typed after it is no deed.

use crate::screen::kit::seek::{only_begins, seek};
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
        Seek::End => return end(model, typed),
        Seek::Insert(c) => typed.push(c),
        Seek::Backspace => {
            typed.pop();
        }
    }
    choose(model, &typed);
    model.over = Some(Over::Seeking(typed));
}

/// Where nothing fits, it is still asked.
fn end(model: &mut Model, typed: String) {
    let labels = model.place(model.screen).labels(&model.desk);
    if let Some(place) = only_begins(&typed, &labels) {
        let words = format!(
            "{} begins so and is another: type it whole, or Esc",
            labels[place].mark
        );
        model.desk.refuse(&words);
        model.over = Some(Over::Seeking(typed));
        return;
    }
    if !typed.is_empty() && seek(&typed, &labels).is_none() {
        model.desk.refuse("Nothing is called so: Esc leaves it");
        model.over = Some(Over::Seeking(typed));
    }
}

fn begin(model: &mut Model) {
    if model.photos.is_open() || model.place(model.screen).labels(&model.desk).is_empty() {
        return model.desk.refuse("There is no list here to find a line in");
    }
    model.over = Some(Over::Seeking(String::new()));
}

/// Chooses what fits.
fn choose(model: &mut Model, typed: &str) {
    let labels = model.place(model.screen).labels(&model.desk);
    if let Some(found) = seek(typed, &labels) {
        let (place, desk) = model.place_mut(model.screen);
        place.choose_at(found, desk);
    }
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
