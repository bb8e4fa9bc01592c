//! What the Bench's keys change, and what is to be done about them.

use super::{Ask, Deed, Wish, forms};
use crate::screen::Screen;
use crate::screen::kit::form::{Field, Form};
use crate::screen::shell::effect::Effect;
use crate::screen::shell::model::{Model, Over, Timed, Watch};
use crate::studio::CupStatus;
use crate::trade::cup::{Reading, Seen};
use crate::trade::units::{Minutes, Seconds};

/// Takes a wish.
pub fn update(model: &mut Model, wish: Wish) -> Vec<Effect> {
    match wish {
        Wish::Mix => mix(model),
        Wish::Like => like(model),
        Wish::First => ask(model, forms::first()),
        Wish::Starters => deed(Deed::Starters),
        Wish::Demo => deed(Deed::Demo),
        Wish::Never => never(model),
        Wish::Ended(end) => match model.over.take() {
            Some(Over::Ending(mark)) => deed(Deed::End(mark, end)),
            _ => Vec::new(),
        },
        wish => with_cup(model, wish),
    }
}

fn deed(deed: Deed) -> Vec<Effect> {
    vec![Effect::Bench(deed)]
}

fn ask(model: &mut Model, form: Form) -> Vec<Effect> {
    model.ask(form);
    Vec::new()
}

/// A wish about the chosen cup.
fn with_cup(model: &mut Model, wish: Wish) -> Vec<Effect> {
    let Some(cup) = model.bench.chosen() else {
        model.refuse("There is no cup on the bench: m mixes one");
        return Vec::new();
    };
    let mark = cup.cup.mark.to_string();
    match wish {
        Wish::Thin => {
            let form = forms::thin(cup, &model.known);
            ask(model, form)
        }
        Wish::Read => ask(model, forms::read(&mark)),
        Wish::Watch => clock(model, mark, Timed::Mound),
        Wish::Stir => clock(model, mark, Timed::Stirring),
        Wish::Clear => deed(Deed::Look(mark, Seen::Clear, None)),
        Wish::Bubbles => deed(Deed::Look(mark, Seen::Bubbles, None)),
        Wish::Lid => deed(lid(cup)),
        Wish::Life => deed(Deed::Life(mark)),
        Wish::Stack => {
            model.pour.add(&mark, cup.life.left);
            model.screen = Screen::Pour;
            Vec::new()
        }
        _ => {
            model.over = Some(Over::Ending(mark));
            Vec::new()
        }
    }
}

fn lid(cup: &CupStatus) -> Deed {
    let mark = cup.cup.mark.to_string();
    if cup.life.capped {
        Deed::Open(mark)
    } else {
        Deed::Cap(mark)
    }
}

/// Stirring has begun when the clock is called; a mound begins at the next press.
fn clock(model: &mut Model, mark: String, what: Timed) -> Vec<Effect> {
    let since = (what == Timed::Stirring).then_some(model.beat.elapsed);
    model.over = Some(Over::Clock(Watch { mark, what, since }));
    Vec::new()
}

/// The clock's key: starts it; once it runs, stops it and writes it down.
pub fn press(model: &mut Model) -> Vec<Effect> {
    let Some(Over::Clock(watch)) = &mut model.over else {
        return Vec::new();
    };
    let Some(since) = watch.since else {
        watch.since = Some(model.beat.elapsed);
        return Vec::new();
    };
    let ran = model.beat.elapsed.saturating_sub(since).as_secs_f64();
    let written = timed(watch, ran);
    model.over = None;
    deed(written)
}

/// The clock's other key: the mound that is timed does not fade.
fn never(model: &mut Model) -> Vec<Effect> {
    match model.over.take() {
        Some(Over::Clock(watch)) if watch.what == Timed::Mound => {
            deed(Deed::Look(watch.mark, Seen::Gelled, None))
        }
        over => {
            model.over = over;
            Vec::new()
        }
    }
}

/// A mound is kept to the tenth of a second, stirring to the tenth of a minute; neither is ever nothing.
fn timed(watch: &Watch, seconds: f64) -> Deed {
    let tenths = |number: f64| (number * 10.0).round().max(1.0) / 10.0;
    match watch.what {
        Timed::Mound => {
            let mound = Reading::Mound(Seconds(tenths(seconds)));
            Deed::Read(watch.mark.clone(), mound, None)
        }
        Timed::Stirring => Deed::Stir(watch.mark.clone(), Minutes(tenths(seconds / 60.0))),
    }
}

fn mix(model: &mut Model) -> Vec<Effect> {
    if model.known.recipes.is_empty() {
        model.refuse("There is no recipe yet: n on the Recipes (7) writes one down");
        return Vec::new();
    }
    let form = forms::mix(Ask::Mix, &model.bench, &model.known);
    opened(model, form)
}

/// Opens the mixing form with a recipe in it, over the Bench, where the cup will stand.
pub fn mix_by(model: &mut Model, recipe: &str) -> Vec<Effect> {
    mix_with(model, Ask::Mix, recipe)
}

/// The same with one of its variants, which need not be the newest.
pub fn mix_variant(model: &mut Model, recipe: &str, variant: i64) -> Vec<Effect> {
    mix_with(model, Ask::Of(recipe.to_owned(), variant), recipe)
}

fn mix_with(model: &mut Model, ask: Ask, recipe: &str) -> Vec<Effect> {
    let mut form = forms::mix(ask, &model.bench, &model.known);
    let field = form.fields.iter_mut().find(|field| field.name == "recipe");
    if let Some(field) = field {
        let names = model.known.recipe_names();
        *field = Field::choice(field.name, field.hint, names, recipe);
    }
    model.screen = Screen::Bench;
    opened(model, form.starting_at("amount"))
}

fn like(model: &mut Model) -> Vec<Effect> {
    let Some(cup) = model.bench.newest() else {
        model.refuse("No cup lives that this one could be like: m mixes by a recipe");
        return Vec::new();
    };
    let ask = Ask::Like(cup.cup.mark.to_string());
    let form = forms::mix(ask, &model.bench, &model.known);
    opened(model, form)
}

/// Opens a mixing form and asks at once what would go in.
fn opened(model: &mut Model, form: Form) -> Vec<Effect> {
    model.ask(form);
    model.form().map(forms::draft).unwrap_or_default()
}
