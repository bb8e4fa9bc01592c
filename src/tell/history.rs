//! What the history says of a deed: in today's names and measures, where its rows still have a name.

use crate::studio::{Change, Names};
use crate::tell::done::mixing;
use crate::tell::{happened, money};
use crate::trade::act::{Act, Called};
use crate::trade::amount::{Measures, show_volume};
use rust_decimal::Decimal;

/// What was done. A change of an older version, or of a kind that this one does not know, is told as it was written.
#[must_use]
pub fn change(change: &Change, names: &Names, measures: Measures) -> String {
    match &change.act {
        Some(act) => {
            let stands = change.done && !change.is_undo();
            Teller {
                names,
                measures,
                stands,
            }
            .act(act)
        }
        None => change.label.clone(),
    }
}

struct Teller<'a> {
    names: &'a Names,
    measures: Measures,
    /// Whether the deed stands. The rows of one that was taken back are gone, and their numbers may be others' by now.
    stands: bool,
}

impl Teller<'_> {
    /// `for 240.00 EUR`; nothing where no sum was kept.
    fn sum(&self, before: &str, sum: Option<Decimal>) -> String {
        let sum = sum.map(|sum| money(sum, self.names.currency()));
        sum.map(|sum| format!(" {before} {sum}"))
            .unwrap_or_default()
    }

    fn act(&self, act: &Act) -> String {
        match act {
            Act::Mixed {
                cup,
                variant,
                ml,
                plan,
            } => {
                let (title, ml) = (self.variant(variant), show_volume(*ml, self.measures));
                let plan = plan.map(|plan| format!(" from plan {plan}"));
                format!(
                    "mixed {}: {title}, {ml}{}",
                    cup.name,
                    plan.unwrap_or_default()
                )
            }
            Act::Tended { cup, what } => {
                let what = happened(what, self.names, self.measures);
                format!("{} {what}", cup.name)
            }
            Act::Amended {
                cup,
                was,
                what,
                to,
                at,
                volume,
            } => {
                let mixed = |what, volume| mixing(what, volume, self.names, self.measures);
                let [was_ml, ml] = [0, 1].map(|side| volume.map(|both| both[side]));
                let (was, what) = (mixed(was, was_ml), mixed(what, ml));
                let to = to.as_ref().map(|to| format!(", on {}", to.name));
                let at = at.map(|at| format!(", at {}", at.format("%Y-%m-%d %H:%M")));
                let (to, at) = (to.unwrap_or_default(), at.unwrap_or_default());
                format!("put right on {}: {was} is {what}{to}{at}", cup.name)
            }
            Act::Struck { cup, was } => {
                let was = happened(was, self.names, self.measures);
                format!("struck from {}: {was}", cup.name)
            }
            Act::Poured { panel, run, .. } => {
                let run = run.map(|(trial, run)| format!(" for run {run} of trial {trial}"));
                let panel = panel.show(self.measures);
                format!("poured on {panel}{}", run.unwrap_or_default())
            }
            Act::StartedOver { pour, .. } => format!("started over pour {pour}"),
            Act::PourCorrected { pour, moves } if !moves.is_empty() => {
                let moves: Vec<_> = moves.iter().map(|one| one.kind.word()).collect();
                format!("put pour {pour} right: {}", moves.join(", "))
            }
            Act::PourCorrected { pour, .. } => format!("put pour {pour} right"),
            Act::Judged { pour, dry, cells } => {
                format!("judged pour {pour} {}: cells {cells}", seen(*dry))
            }
            Act::Rejudged { pour, dry, cells } => {
                format!(
                    "put right how pour {pour} was judged {}: cells {cells}",
                    seen(*dry)
                )
            }
            Act::JudgementStruck { pour, dry, cells } => {
                format!(
                    "struck how pour {pour} was judged {}: cells {cells}",
                    seen(*dry)
                )
            }
            Act::Varnished { pour } => format!("varnished pour {pour}"),
            Act::Planned { count, panel, .. } => {
                format!("planned {count} x {}", panel.show(self.measures))
            }
            Act::Designed { runs, .. } => format!("designed a trial of {runs} runs"),
            Act::RunDone { trial, run, pour } => {
                format!("pour {pour} is run {run} of trial {trial}")
            }
            Act::RunGivenUp { trial, run } => format!("gave up run {run} of trial {trial}"),
            Act::MaterialAdded { material } => format!("added {}", self.material(material)),
            Act::MaterialChanged { material } => format!("changed {}", self.material(material)),
            Act::RecipeAdded { recipe } => format!("added recipe {}", self.recipe(recipe)),
            Act::RecipeChanged { recipe, number } => {
                format!("changed recipe {}: variant {number}", self.recipe(recipe))
            }
            Act::RecipeRenamed { recipe, was, layer } => {
                let layer = layer.map(|layer| format!("is a {layer} now"));
                let name = &recipe.name;
                let renamed = (name != was).then(|| format!("is called {name} now"));
                let changed: Vec<String> = renamed.into_iter().chain(layer).collect();
                format!("recipe {was} {}", changed.join(" and "))
            }
            Act::Relabelled { cup, was, tape } => {
                let mark = &cup.name;
                let marked = (mark != was).then(|| format!("is marked {mark} now"));
                let taped = tape.as_ref().map(|tape| format!("has {tape} tape now"));
                let changed: Vec<String> = marked.into_iter().chain(taped).collect();
                match changed.is_empty() {
                    true => format!("{was} has no tape now"),
                    false => format!("{was} {}", changed.join(" and ")),
                }
            }
            Act::Merged { from, into, recipe } => {
                let into = match recipe {
                    true => self.recipe(into),
                    false => self.material(into),
                };
                format!("{} is {into} now", from.name)
            }
            Act::Retired {
                named,
                recipe,
                retired,
            } => {
                let name = match recipe {
                    true => self.recipe(named),
                    false => self.material(named),
                };
                let done = if *retired { "retired" } else { "brought back" };
                format!("{done} {name}")
            }
            Act::Removed { named, .. } => format!("removed {}", named.name),
            Act::Bought { material, ml } => {
                let ml = show_volume(*ml, self.measures);
                format!("bought {}, {ml}", self.material(material))
            }
            Act::Counted { material, ml } => {
                let ml = show_volume(*ml, self.measures);
                format!("counted {}: {ml}", self.material(material))
            }
            Act::Set { name, value } if value.is_empty() => format!("cleared {name}"),
            Act::Set { name, value } => format!("set {name} to {value}"),
            Act::Titled {
                pour,
                title: Some(title),
            } => format!("called pour {pour} \"{title}\""),
            Act::Titled { pour, title: None } => format!("took the title of pour {pour} away"),
            Act::Priced { pour, asked } => format!("priced pour {pour}{}", self.sum("at", *asked)),
            Act::Sold { pour, price } => format!("sold pour {pour}{}", self.sum("for", *price)),
            Act::SaleCorrected { pour, price } => {
                let price = self.sum("for", Some(*price));
                format!("put right that pour {pour} was sold{price}")
            }
            Act::PhotoKept { pour } => format!("kept a photo of pour {pour}"),
            Act::PhotoMeasured { photo } => format!("measured photo {photo} anew"),
            Act::PhotoRefused { photo } => {
                format!("refused what was measured last in photo {photo}")
            }
            Act::PhotoDropped { photo, pour } => format!("dropped photo {photo} of pour {pour}"),
            Act::ListTaken | Act::Starters => act.word().to_owned(),
        }
    }

    fn variant(&self, called: &Called) -> String {
        let now = self.names.variant(called.id).filter(|_| self.stands);
        now.map_or_else(|| called.name.clone(), |one| one.to_string())
    }

    fn material(&self, called: &Called) -> String {
        let now = self.names.material(called.id).filter(|_| self.stands);
        now.unwrap_or_else(|| called.name.clone())
    }

    fn recipe(&self, called: &Called) -> String {
        let now = self.names.recipe(called.id).filter(|_| self.stands);
        now.unwrap_or_else(|| called.name.clone())
    }
}

const fn seen(dry: bool) -> &'static str {
    if dry { "dry" } else { "wet" }
}
