//! `recipe` and `recipes`: named mixtures and their numbered variants.

use crate::command::naming::{
    MergeArguments, RemoveArguments, RetireArguments, SetRecipeArguments,
};
use crate::command::report::Report;
use crate::command::show::retired;
use crate::command::{Desk, word};
use crate::studio::orders::{RecipeField, RecipeOrder, Typed};
use crate::studio::{Answer, RecipePage};
use crate::tell;
use crate::tell::views::{RecipeView, RecipesView};
use crate::trade::recipe::{LayerKind, PartOf, Target};
use clap::{Args, Subcommand};

/// What is done to a recipe.
#[derive(Debug, Subcommand)]
pub enum RecipeVerb {
    /// Write a new recipe down
    #[command(after_help = ADD_EXAMPLE)]
    Add(AddRecipeArguments),
    /// Change a recipe: a new variant that remembers the one before
    #[command(after_help = "Example: stillcup recipe change \"River blue\" --mound 2.2..2.8")]
    Change(ChangeRecipeArguments),
    /// Give it another name or layer; its variants stay as they are
    #[command(after_help = "Example: stillcup recipe set \"River blue\" --rename \"Lake blue\"")]
    Set(SetRecipeArguments),
    /// Two names of one recipe: the first goes, its cups and variants are of the second
    #[command(after_help = "Example: stillcup recipe merge \"River bleu\" \"River blue\"")]
    Merge(MergeArguments),
    /// No longer offer it; it stays in the past
    #[command(after_help = "Example: stillcup recipe retire \"River blue\"")]
    Retire(RetireArguments),
    /// Remove what nothing ever used
    #[command(after_help = "Example: stillcup recipe remove \"River bleu\"")]
    Remove(RemoveArguments),
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
    fn typed(self) -> Typed<RecipeField> {
        let counted = match (self.by_weight, self.by_volume) {
            (true, _) => Some(RecipeField::BY_WEIGHT),
            (_, true) => Some(RecipeField::BY_VOLUME),
            _ => None,
        };
        let typed = Typed::default()
            .given(RecipeField::Counted, counted.map(str::to_owned))
            .given(RecipeField::Mound, self.mound)
            .given(RecipeField::Rest, self.rest)
            .given(RecipeField::Recheck, self.again)
            .given(RecipeField::Stir, self.stir)
            .given(RecipeField::Limit, self.limit)
            .given(RecipeField::Note, self.note);
        let parts = self.parts.into_iter();
        parts.fold(typed, |typed, part| {
            typed.given(RecipeField::Parts, Some(part))
        })
    }
}

impl AddRecipeArguments {
    fn typed(self) -> Typed<RecipeField> {
        let typed = self.mixture.typed();
        typed
            .given(RecipeField::Name, Some(self.name))
            .with(RecipeField::Layer, self.layer.to_string())
    }
}

impl ChangeRecipeArguments {
    fn typed(self) -> Typed<RecipeField> {
        let usual = self.usual.iter().map(ToString::to_string);
        usual.fold(self.mixture.typed(), |typed, target| {
            typed.with(RecipeField::Usual, target)
        })
    }
}

impl Desk<'_> {
    pub(super) fn recipe(&mut self, verb: RecipeVerb) -> Answer<Report> {
        let known = self.studio.known([])?;
        let given = self.given(&known);
        let of = |name: &str| known.recipe(name).map(|one| PartOf::Recipe(one.0));
        let page = match verb {
            RecipeVerb::Set(typed) => return self.set_recipe(&typed),
            RecipeVerb::Merge(typed) => return self.merge(of(&typed.name)?, typed),
            RecipeVerb::Retire(typed) => return self.retire(of(&typed.name)?, &typed),
            RecipeVerb::Remove(typed) => return self.remove(of(&typed.name)?),
            RecipeVerb::Add(typed) => {
                let (name, layer, order) = RecipeOrder::new(&typed.typed(), &given)?;
                self.studio.add_recipe(&name, layer, &order, &self.now)?
            }
            RecipeVerb::Change(typed) => {
                let recipe = known.recipe(&typed.name)?;
                let order = RecipeOrder::read(&typed.typed(), &given)?;
                self.studio.change_recipe(recipe, &order, &self.now)?
            }
        };
        Ok(self.recipe_report(&page))
    }

    pub(super) fn recipe_report(&self, page: &RecipePage) -> Report {
        let last = page.variants.len().saturating_sub(1);
        Report::of(&RecipeView::of(page, &self.telling()))
            .line(format!("{} ({})", page.recipe.name, page.recipe.layer))
            .lines(self.variant_lines(page, last))
    }

    pub(super) fn recipes(&mut self) -> Answer<Report> {
        let pages = self.studio.recipes()?;
        let report = Report::of(&RecipesView::of(&pages, &self.telling()));
        if pages.is_empty() {
            return Ok(report
                .line("No recipe is known.")
                .line("Add one: stillcup recipe add NAME --layer colour --part \"NAME 1\""));
        }
        Ok(pages.iter().fold(report, |report, page| {
            let name = retired(&page.recipe.name, page.recipe.retired);
            let head = format!("{name} ({})", page.recipe.layer);
            let newest_first = (0..page.variants.len()).rev();
            report
                .line(head)
                .lines(newest_first.flat_map(|place| self.variant_lines(page, place)))
        }))
    }

    fn variant_lines(&self, page: &RecipePage, place: usize) -> Vec<String> {
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
            format!("      {}", tell::recipes::targets(&variant.targets)),
        ];
        let colour = page.colours.get(place).copied().flatten();
        lines.extend(colour.map(|one| format!("      {}", tell::recipes::colour(one))));
        let changed = tell::recipes::changed(page, place, self.settings.measures, &self.now);
        lines.extend(changed.map(|words| format!("      {words}")));
        let note = variant.note.iter();
        lines.extend(note.map(|note| format!("      note: {note}")));
        lines
    }
}
