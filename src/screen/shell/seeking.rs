//! A line found by what is typed: the choice follows each key, until Enter or Esc. A mark that is whole may be the beginning
//! of one that was meant, and what is typed after it is no deed.

use crate::screen::kit::seek::{Label, Sought, only_begins, seek};
use crate::screen::shell::action::Seek;
use crate::screen::shell::model::{Model, Over};

/// Takes a key.
pub fn take(model: &mut Model, key: Seek) {
    let mut sought = match model.over.take() {
        Some(Over::Seeking(sought)) => sought,
        _ => Sought::default(),
    };
    match key {
        Seek::Begin => return begin(model),
        Seek::End => return end(model, sought),
        Seek::Insert(c) => sought.typed.push(c),
        Seek::Backspace => {
            sought.typed.pop();
        }
    }
    choose(model, &sought.typed);
    model.over = Some(Over::Seeking(sought));
}

/// Leaves it: what was chosen before is chosen again.
pub fn leave(model: &mut Model, sought: &Sought) {
    let labels = labels(model);
    let place = labels
        .iter()
        .position(|one| Some(one) == sought.before.as_ref());
    let at = model.place(model.screen).chosen_at(&model.desk);
    if let Some(place) = place.filter(|place| *place != at) {
        choose_at(model, place);
    }
}

/// Where nothing fits, it is still asked.
fn end(model: &mut Model, sought: Sought) {
    let (labels, typed) = (labels(model), &sought.typed);
    let refusal = match only_begins(typed, &labels) {
        Some(place) => format!(
            "{} begins so and is another: type it whole, or Esc",
            labels[place].mark
        ),
        None if !typed.is_empty() && seek(typed, &labels).is_none() => {
            "Nothing is called so: Esc leaves it".to_owned()
        }
        None => return,
    };
    model.desk.refuse(&refusal);
    model.over = Some(Over::Seeking(sought));
}

fn begin(model: &mut Model) {
    let mut labels = labels(model);
    if model.photos.is_open() || labels.is_empty() {
        return model.desk.refuse("There is no list here to find a line in");
    }
    let at = model.place(model.screen).chosen_at(&model.desk);
    let before = (at < labels.len()).then(|| labels.swap_remove(at));
    let typed = String::new();
    model.over = Some(Over::Seeking(Sought { typed, before }));
}

/// Chooses what fits.
fn choose(model: &mut Model, typed: &str) {
    if let Some(found) = seek(typed, &labels(model)) {
        choose_at(model, found);
    }
}

fn choose_at(model: &mut Model, at: usize) {
    let (place, desk) = model.place_mut(model.screen);
    place.choose_at(at, desk);
}

fn labels(model: &Model) -> Vec<Label> {
    model.place(model.screen).labels(&model.desk)
}

/// What is asked while a line is sought.
pub fn question(model: &Model) -> Option<String> {
    let Some(Over::Seeking(Sought { typed, .. })) = &model.over else {
        return None;
    };
    let none = match typed.is_empty() || seek(typed, &labels(model)).is_some() {
        true => "",
        false => ": nothing is called so",
    };
    Some(format!("Find a mark, a number or a name: {typed}_{none}"))
}
