//! What one place wishes of another is handed over, and forms are opened.

use crate::screen::Screen;
use crate::screen::kit::form::Form;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::place::Next;
use crate::screen::places::bench::Bench;
use crate::screen::places::pour;
use crate::screen::shell::ask::{Ask, changed};
use crate::screen::shell::effect::Effect;
use crate::screen::shell::model::{Model, PageKind};

/// Does what a place left on the desk: its page is shown, its wishes are handed over.
pub fn over(model: &mut Model) -> Vec<Effect> {
    if let Some(sheet) = model.desk.take_page() {
        model.open(PageKind::Sheet(sheet));
    }
    let wishes = model.desk.take_handed().into_iter();
    let effects: Vec<_> = wishes.flat_map(|wish| hand(model, wish)).collect();
    effects
}

fn hand(model: &mut Model, wish: Handover) -> Option<Effect> {
    match wish {
        Handover::Mix { recipe, variant } => {
            model.screen = Screen::Bench;
            let next = Bench::mix_by(&recipe, variant, &model.desk);
            return follow(model, next, Ask::Bench, Effect::Bench);
        }
        Handover::Plan(usual) => {
            model.screen = Screen::Plan;
            // Another plan was wished for than the one that was left.
            model
                .put_by
                .retain(|asked| !matches!(asked.ask, Ask::Plan(_)));
            let next = model.plan.begin_with(usual, &model.desk);
            return follow(model, next, Ask::Plan, Effect::Plan);
        }
        Handover::Repeat(pour) => {
            model.screen = Screen::Plan;
            let next = model.plan.repeat(pour);
            return follow(model, next, Ask::Plan, Effect::Plan);
        }
        Handover::Stack { cup, left } => {
            if let Some(cup) = model.desk.known.cup_of(cup) {
                model.pour.add(pour::Layer::of(cup, left));
            }
            model.screen = Screen::Pour;
        }
        Handover::PourRun(run) => {
            model.pour.take_run(run);
            model.screen = Screen::Pour;
        }
        Handover::Judge { pour, dry, seen } => model.judging.open(pour, dry, seen),
        Handover::Photos(pour) => model.photos.open(pour),
        Handover::Cup(cup) => model.bench.choose(cup),
        Handover::Tended(cup) => model.bench.tended(cup, &model.desk.known.cups),
    }
    None
}

/// Follows what came of a key: opens the form, or hands on the deed.
pub fn follow<A, D>(
    model: &mut Model,
    next: Option<Next<A, D>>,
    ask: fn(A) -> Ask,
    effect: fn(D) -> Effect,
) -> Option<Effect> {
    match next? {
        Next::Ask(which, form) => open(model, ask(which), *form),
        Next::Do(deed) => Some(effect(deed)),
    }
}

/// Opens a form, and asks at once what follows from what is in it.
fn open(model: &mut Model, ask: Ask, form: Form) -> Option<Effect> {
    let mut asked = model.as_left(ask, form);
    let effect = changed(model, &mut asked);
    model.over = Some(crate::screen::shell::model::Over::Form(Box::new(asked)));
    effect
}
