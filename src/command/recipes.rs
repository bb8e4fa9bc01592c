//! `recipe` and `recipes`: named mixtures and their numbered variants.

use crate::command::report::Report;
use crate::command::show::{number, with};
use crate::command::{Desk, maybe, word};
use crate::studio::{Answer, RecipeOrder, RecipePage, TargetsOrder};
use crate::trade::duration::{self, parse_stirring, show};
use crate::trade::range::{Window, parse_share};
use crate::trade::recipe::{LayerKind, Target, Targets, Variant};
use clap::{Args, Subcommand};
use serde_json::{Value, json};

/// What is done to a recipe.
#[derive(Debug, Subcommand)]
pub enum RecipeVerb {
    /// Write a new recipe down
    #[command(after_help = ADD_EXAMPLE)]
    Add(AddRecipeArguments),
    /// Change a recipe: a new variant that remembers the one before
    #[command(after_help = "Example: stillcup recipe change \"River blue\" --mound 2.2..2.8")]
    Change(ChangeRecipeArguments),
}

const ADD_EXAMPLE: &str = "\
Example:
  stillcup recipe add \"River blue\" --layer colour --part \"Deep blue 1\" --part \"Pouring medium 2\" \\
    --mound 2..3 --rest 12h --again 60m --stir 4m";

/// A new recipe.
#[derive(Debug, Args)]
pub struct AddRecipeArguments {
    /// Its name
    pub name: String,
    /// Where in the stack it goes
    #[arg(long, value_name = "base|colour|activator|medium", value_parser = word!(LayerKind))]
    pub layer: LayerKind,
    #[command(flatten)]
    pub mixture: MixtureArguments,
}

/// A change of a recipe.
#[derive(Debug, Args)]
pub struct ChangeRecipeArguments {
    /// Its name, or its beginning
    pub name: String,
    /// What is as usual for its layer again: mound, rest, again, stir or limit; may be repeated
    #[arg(long, value_name = "WHAT", value_parser = word!(Target))]
    pub usual: Vec<Target>,
    #[command(flatten)]
    pub mixture: MixtureArguments,
}

/// What goes in, and what it is meant to do.
#[derive(Debug, Args)]
pub struct MixtureArguments {
    /// A part and how many of it: "Titan white 2"; may be repeated
    #[arg(long = "part", value_name = "NAME SHARE")]
    pub parts: Vec<String>,
    /// The shares are by weight
    #[arg(long, conflicts_with = "by_volume")]
    pub by_weight: bool,
    /// The shares are by volume, as is usual
    #[arg(long)]
    pub by_volume: bool,
    /// The mound it should have, in seconds: 2..3
    #[arg(long, value_name = "LOW..HIGH", allow_hyphen_values = true)]
    pub mound: Option<String>,
    /// How long it rests: 12h
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub rest: Option<String>,
    /// After how long it is looked at again: 60m
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub again: Option<String>,
    /// How long it is stirred: 4m
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub stir: Option<String>,
    /// The most thinner, as a share of the cup: 25%
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub limit: Option<String>,
    /// What was changed, or anything else
    #[arg(long, allow_hyphen_values = true)]
    pub note: Option<String>,
}

impl MixtureArguments {
    fn order(self) -> Answer<RecipeOrder> {
        let by_weight = match (self.by_weight, self.by_volume) {
            (true, _) => Some(true),
            (_, true) => Some(false),
            _ => None,
        };
        let targets = TargetsOrder {
            window: maybe(self.mound.as_deref(), Window::parse)?,
            rest: maybe(self.rest.as_deref(), duration::parse)?,
            recheck_after: maybe(self.again.as_deref(), duration::parse)?,
            stir: maybe(self.stir.as_deref(), parse_stirring)?,
            limit: maybe(self.limit.as_deref(), parse_share)?,
            usual: Vec::new(),
        };
        Ok(RecipeOrder {
            parts: self.parts,
            by_weight,
            targets,
            note: self.note,
        })
    }
}

impl Desk<'_> {
    pub(super) fn recipe(&mut self, verb: RecipeVerb) -> Answer<Report> {
        let page = match verb {
            RecipeVerb::Add(typed) => {
                let order = typed.mixture.order()?;
                self.studio
                    .add_recipe(&typed.name, typed.layer, &order, &self.now)?
            }
            RecipeVerb::Change(typed) => {
                let mut order = typed.mixture.order()?;
                order.targets.usual = typed.usual;
                self.studio.change_recipe(&typed.name, &order, &self.now)?
            }
        };
        let last = page.variants.len().saturating_sub(1);
        let head = json!({"name": page.recipe.name, "layer": page.recipe.layer});
        let report = Report::new(with(head, self.variant_json(&page, last)));
        Ok(report
            .line(format!("{} ({})", page.recipe.name, page.recipe.layer))
            .lines(variant_lines(&page, last)))
    }

    pub(super) fn recipes(&mut self) -> Answer<Report> {
        let pages = self.studio.recipes()?;
        let all: Vec<Value> = pages.iter().map(|page| self.recipe_json(page)).collect();
        let report = Report::new(json!({"recipes": all}));
        if pages.is_empty() {
            return Ok(report
                .line("No recipe is known.")
                .line("Add one: stillcup recipe add NAME --layer colour --part \"NAME 1\""));
        }
        Ok(pages.iter().fold(report, |report, page| {
            let head = format!("{} ({})", page.recipe.name, page.recipe.layer);
            let newest_first = (0..page.variants.len()).rev();
            report
                .line(head)
                .lines(newest_first.flat_map(|place| variant_lines(page, place)))
        }))
    }

    fn recipe_json(&self, page: &RecipePage) -> Value {
        let places = 0..page.variants.len();
        let variants: Vec<Value> = places.map(|place| self.variant_json(page, place)).collect();
        json!({
            "name": page.recipe.name,
            "layer": page.recipe.layer,
            "variants": variants,
        })
    }

    fn variant_json(&self, page: &RecipePage, place: usize) -> Value {
        let Some(variant) = page.variants.get(place) else {
            return json!({});
        };
        let parts = page.parts[place].iter();
        let parts: Vec<Value> = parts
            .map(|(name, share)| json!({"name": name, "share": share}))
            .collect();
        let fields = json!({
            "variant": variant.number,
            "parent": parent_number(page, variant),
            "at": self.stamp(variant.at),
            "parts": parts,
            "by_weight": variant.by_weight,
            "changed": page.changed(place),
            "note": variant.note,
        });
        with(fields, targets_json(&variant.targets))
    }
}

fn parent_number(page: &RecipePage, variant: &Variant) -> Option<i64> {
    let parent = page
        .variants
        .iter()
        .find(|one| Some(one.id) == variant.parent);
    Some(parent?.number)
}

fn targets_json(targets: &Targets) -> Value {
    let window = targets.window.map(|window| [window.low, window.high]);
    json!({
        "mound_s": window,
        "rest_s": targets.rest.num_seconds(),
        "again_s": targets.recheck_after.num_seconds(),
        "stir_min": targets.stir.map(|minutes| number(minutes.get())),
        "limit": targets.limit,
    })
}

fn variant_lines(page: &RecipePage, place: usize) -> Vec<String> {
    let Some(variant) = page.variants.get(place) else {
        return Vec::new();
    };
    let parts = page.parts[place].iter();
    let parts: Vec<String> = parts
        .map(|(name, share)| format!("{share} {name}"))
        .collect();
    let by = if variant.by_weight { " by weight" } else { "" };
    let mut lines = vec![
        format!("  v{}  {}{by}", variant.number, parts.join(" + ")),
        format!("      {}", targets_words(&variant.targets)),
    ];
    let changed = page.changed(place);
    if let (Some(parent), false) = (parent_number(page, variant), changed.is_empty()) {
        lines.push(format!("      from v{parent}: {}", changed.join(", ")));
    }
    lines.extend(
        variant
            .note
            .as_ref()
            .map(|note| format!("      note: {note}")),
    );
    lines
}

fn targets_words(targets: &Targets) -> String {
    let mut words = Vec::new();
    words.extend(targets.window.map(|window| format!("mound {window}")));
    words.extend(
        targets
            .stir
            .map(|minutes| format!("stir {} min", minutes.get())),
    );
    words.push(format!("rest {}", show(targets.rest)));
    words.push(format!("look again after {}", show(targets.recheck_after)));
    words.push(format!(
        "thinner at most {:.0} %",
        targets.limit.get() * 100.0
    ));
    words.join(", ")
}
