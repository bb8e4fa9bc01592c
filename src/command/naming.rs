//! Names put right: a recipe's name and layer, a lid's mark and tape; two names merged, one retired or removed.

use crate::command::report::Report;
use crate::command::{Desk, word};
use crate::studio::Answer;
use crate::studio::orders::{
    LidField, LidOrder, MergeField, MergeOrder, RecipeNameField, RecipeNameOrder, Typed,
};
use crate::tell;
use crate::tell::views::{CupView, MergedView, RemovedView, RetiredView};
use crate::trade::ids::CupId;
use crate::trade::recipe::{LayerKind, PartOf};
use clap::Args;

/// Two names of one thing.
#[derive(Debug, Args)]
pub struct MergeArguments {
    /// The name that goes
    pub name: String,
    /// The name that stays: all that was done with the first is of it
    pub into: String,
}

/// What is no longer offered.
#[derive(Debug, Args)]
pub struct RetireArguments {
    /// Its name
    pub name: String,
    /// Offer it again
    #[arg(long)]
    pub back: bool,
}

/// What is removed.
#[derive(Debug, Args)]
pub struct RemoveArguments {
    /// Its name
    pub name: String,
}

/// A recipe's name and layer.
#[derive(Debug, Args)]
pub struct SetRecipeArguments {
    /// Its name, or its beginning
    pub name: String,
    /// A new name
    #[arg(long, value_name = "NAME")]
    pub rename: Option<String>,
    /// Where in the stack it goes
    #[arg(long, value_name = "base|colour|activator|medium", value_parser = word!(LayerKind))]
    pub layer: Option<LayerKind>,
}

/// What a lid says.
#[derive(Debug, Args)]
pub struct RelabelArguments {
    /// The cup's mark as it is
    pub cup: String,
    /// Its new mark
    #[arg(long, value_name = "MARK")]
    pub mark: Option<String>,
    /// The colour of its lid tape; "" takes it off
    #[arg(long, value_name = "COLOUR")]
    pub tape: Option<String>,
}

impl SetRecipeArguments {
    fn typed(&self) -> Typed<RecipeNameField> {
        let layer = self.layer.map(|layer| layer.to_string());
        Typed::default()
            .given(RecipeNameField::Name, self.rename.clone())
            .given(RecipeNameField::Layer, layer)
    }
}

impl Desk<'_> {
    pub(super) fn merge(&mut self, from: PartOf, typed: MergeArguments) -> Answer<Report> {
        let known = self.studio.known([])?;
        let into = Typed::default().given(MergeField::Into, Some(typed.into));
        let order = MergeOrder::read(&into, &self.given(&known), from)?;
        let merged = self.studio.merge(&order, &self.now)?;
        Ok(Report::of(&MergedView::of(&merged)).line(self.words(&merged)))
    }

    pub(super) fn retire(&mut self, of: PartOf, typed: &RetireArguments) -> Answer<Report> {
        let done = self.studio.retire(of, !typed.back, &self.now)?;
        Ok(Report::of(&RetiredView::of(&done)).line(self.words(&done)))
    }

    pub(super) fn remove(&mut self, of: PartOf) -> Answer<Report> {
        let name = self.studio.remove(of, &self.now)?;
        Ok(Report::of(&RemovedView::of(&name)).line(tell::removed(&name)))
    }

    pub(super) fn set_recipe(&mut self, typed: &SetRecipeArguments) -> Answer<Report> {
        let recipe = self.studio.known([])?.recipe(&typed.name)?;
        let order = RecipeNameOrder::read(&typed.typed(), recipe)?;
        let page = self.studio.rename_recipe(&order, &self.now)?;
        Ok(self.recipe_report(&page))
    }

    pub(super) fn relabel(&mut self, typed: RelabelArguments) -> Answer<Report> {
        let known = self.studio.known([typed.cup.as_str()])?;
        let cup = CupId(known.cup_ever(&typed.cup)?.id);
        let fields = Typed::default()
            .given(LidField::Mark, typed.mark)
            .given(LidField::Tape, typed.tape);
        let order = LidOrder::read(&fields, cup)?;
        let standing = self.studio.relabel(&order, &self.now)?;
        let report = Report::of(&CupView::of(&standing, &self.telling()));
        Ok(report.lines(self.head_lines(&standing)))
    }
}
