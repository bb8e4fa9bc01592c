//! `plan`, `plans`, `cost` and `cautions`.

use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::command::{Desk, word};
use crate::studio::orders::{CostOf, PlanField, PlanOrder, Typed};
use crate::studio::{Answer, PlanKept, PlanLayer, PlanLine, PlanPage, PlanSheet, Repeat, Step};
use crate::tell;
use crate::tell::views::{CautionsView, CostView, PlanView, PlansView};
use crate::trade::caution::{self, Caution, Place};
use clap::Args;
use rust_decimal::Decimal;

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup plan --panel 40x50cm --edge 2cm --count 2 --pour \"tomorrow 10:00\"
  stillcup plan --panel \"round 30cm\" --recipe \"White base\" --recipe Teal --keep
  stillcup plan --mix 3          the next cup that plan 3 asks for";

/// What is to be planned.
#[derive(Debug, Args)]
pub struct PlanArguments {
    /// What is poured on: 40x50cm, 16x20in, round 30cm
    #[arg(
        long,
        value_name = "PANEL",
        required_unless_present = "mix",
        allow_hyphen_values = true
    )]
    pub panel: Option<String>,
    /// How deep the edges are painted: 2cm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub edge: Option<String>,
    /// How many panels
    #[arg(long, default_value_t = 1)]
    pub count: u32,
    /// The technique: its own film and split are used once three pours of it are known
    #[arg(long, value_name = "TEXT")]
    pub way: Option<String>,
    /// When the pour is to begin; as soon as it can otherwise
    #[arg(long = "pour", value_name = "WHEN", allow_hyphen_values = true)]
    pub pour_at: Option<String>,
    /// The whole wet film: 1.8mm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub film: Option<String>,
    /// A recipe, repeated, the lowest layer first; those of the last pour otherwise
    #[arg(long = "recipe", value_name = "RECIPE")]
    pub recipes: Vec<String>,
    /// What a cup holds at most; a layer that is more is split over several: 250ml
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    pub cup: Option<String>,
    /// Keep the plan, so that its cups can be mixed from it
    #[arg(long)]
    pub keep: bool,
    /// Mix all of it anew: cups that stand are not counted
    #[arg(long)]
    pub fresh: bool,
    /// What it is to try
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
    /// Mix the next cup of a kept plan
    #[arg(long, value_name = "PLAN", conflicts_with_all = ["panel", "keep"])]
    pub mix: Option<i64>,
}

/// What cost is asked for.
#[derive(Debug, Args)]
pub struct CostArguments {
    /// A cup's mark, or a pour's number
    #[arg(value_name = "MARK|POUR")]
    pub of: String,
}

/// Which cautions are shown.
#[derive(Debug, Args)]
pub struct CautionsArguments {
    /// Only where they bite
    #[arg(value_name = "WHERE", value_parser = word!(Place))]
    pub place: Option<Place>,
}

impl PlanArguments {
    fn typed(self) -> Typed<PlanField> {
        let typed = Typed::default()
            .given(PlanField::Panel, self.panel)
            .given(PlanField::Count, Some(self.count.to_string()))
            .given(PlanField::Edge, self.edge)
            .given(PlanField::Pour, self.pour_at)
            .given(PlanField::Way, self.way)
            .given(PlanField::Film, self.film)
            .given(PlanField::Holds, self.cup)
            .given(PlanField::Note, self.note);
        let anew = self.fresh.then(|| PlanField::STANDING[1].to_owned());
        let typed = typed.given(PlanField::Standing, anew);
        let recipes = self.recipes.into_iter();
        recipes.fold(typed, |typed, recipe| {
            typed.given(PlanField::Recipes, Some(recipe))
        })
    }
}

impl Desk<'_> {
    pub(super) fn plan(&mut self, typed: PlanArguments) -> Answer<Report> {
        if let Some(plan) = typed.mix {
            let mixed = self.studio.mix_from_plan(plan, &self.now)?;
            return Ok(self.mix_report(&mixed));
        }
        let known = self.studio.known([])?;
        let keep = typed.keep;
        let order = PlanOrder::read(&typed.typed(), &self.given(&known))?;
        if keep {
            let PlanKept { plan, sheet } = self.studio.keep_plan(&order, &self.now)?;
            return Ok(self.plan_report(&sheet, Some(plan)));
        }
        let sheet = self.studio.plan(&order, &self.now)?;
        Ok(self.plan_report(&sheet, None))
    }

    pub(super) fn plan_report(&self, sheet: &PlanSheet, kept: Option<i64>) -> Report {
        let report = Report::of(&PlanView::of(sheet, kept, &self.telling()));
        let measures = self.settings.measures;
        let report = report.line(tell::plans::summary(sheet, measures, &self.now));
        let report = sheet.layers.iter().fold(report, |report, layer| {
            let rows = layer.parts.iter().map(|part| {
                let mass = part.g.map(|g| self.mass(g));
                let cost = part.cost.map(|cost| self.money(cost));
                [
                    String::new(),
                    part.name.clone(),
                    self.volume(part.ml),
                    or_dash(mass),
                    or_dash(cost),
                ]
            });
            let table = Table::default().right(&[2, 3, 4]);
            report
                .line(self.layer_line(layer))
                .table(&rows.fold(table, Table::row))
        });
        let steps = sheet.schedule.iter().map(|step| self.step_row(step));
        report
            .lines(self.sheet_tail(sheet))
            .table(&steps.fold(Table::default(), Table::row))
            .lines(sheet.repeat.iter().flat_map(|one| self.repeat_lines(one)))
            .lines(kept.map(|number| format!("kept as plan {number}")))
    }

    fn layer_line(&self, layer: &PlanLayer) -> String {
        let title = layer.variant_ref();
        let cups = tell::plans::in_cups(layer, self.settings.measures);
        let (layer, ml) = (layer.recipe.layer, self.volume(layer.ml));
        format!("{layer}: {ml} of {title}{cups}")
    }

    fn sheet_tail(&self, sheet: &PlanSheet) -> Vec<String> {
        let lacks = sheet.lacks.iter();
        let mut lines: Vec<String> = lacks
            .map(|lack| format!("! {}", self.words(lack)))
            .collect();
        lines.push(tell::cost::of_plan(sheet, &self.settings.currency));
        let warnings = sheet.warnings.iter();
        lines.extend(warnings.map(|one| format!("! {}", self.words(one))));
        lines.extend(sheet.notes.iter().map(|one| self.words(one)));
        lines
    }

    /// What would differ, then what is poured and done, as a list to follow.
    fn repeat_lines(&self, repeat: &Repeat) -> Vec<String> {
        let differs = repeat.differs.iter();
        let mut lines: Vec<_> = differs
            .map(|one| format!("! {}", self.words(one)))
            .collect();
        lines.push(format!(
            "to pour, lowest first, as in picture {}:",
            repeat.pour
        ));
        let measures = self.settings.measures;
        let layers = repeat
            .layers
            .iter()
            .map(|one| tell::plans::layer(one, measures));
        let moves = repeat.moves.iter().map(tell::show_move);
        lines.extend(
            (1..)
                .zip(layers.chain(moves))
                .map(|(step, words)| format!("  {step}. {words}")),
        );
        lines
    }

    fn step_row(&self, step: &Step) -> [String; 3] {
        [
            self.clock(step.at),
            step.deed.to_string(),
            step.cup
                .as_ref()
                .map_or_else(String::new, ToString::to_string),
        ]
    }

    pub(super) fn plans(&mut self) -> Answer<Report> {
        let plans = self.studio.plans()?;
        let report = Report::of(&PlansView::of(&plans, &self.telling()));
        if plans.is_empty() {
            return Ok(
                report.line("No plan is kept. Keep one: stillcup plan --panel 40x50cm --keep")
            );
        }
        Ok(plans.iter().fold(report, |report, page| {
            let rows = page.cups.iter().map(|line| self.plan_row(line));
            let table = Table::default().right(&[2, 4, 5]);
            let changed = page.cups.iter().filter_map(|line| {
                let newer = line.newer?;
                Some(format!(
                    "! {} was planned, variant {newer} is newer",
                    line.variant
                ))
            });
            report
                .line(self.plan_head(page))
                .table(&rows.fold(table, Table::row))
                .lines(changed)
        }))
    }

    fn plan_head(&self, page: &PlanPage) -> String {
        let panels = &page.plan.panels;
        let pour = page
            .plan
            .pour_at
            .map(|at| format!(", to pour {}", self.clock(at)));
        let panel = panels.panel.show(self.settings.measures);
        let note = page.plan.note.as_ref().map(|note| format!("; {note}"));
        let again = page.plan.repeats;
        let again = again.map(|pour| format!("; picture {pour} once more"));
        format!(
            "plan {}: {} x {panel}{}{}{}",
            page.plan.id,
            panels.count,
            pour.unwrap_or_default(),
            again.unwrap_or_default(),
            note.unwrap_or_default()
        )
    }

    fn plan_row(&self, line: &PlanLine) -> [String; 6] {
        let told =
            |ml: Option<_>, word: &str| or_dash(ml.map(|ml| format!("{word} {}", self.volume(ml))));
        [
            String::new(),
            line.variant.to_string(),
            format!("planned {}", self.volume(line.planned)),
            or_dash(line.mark.clone()),
            told(line.mixed, "mixed"),
            match line.gone {
                true => "gone elsewhere".to_owned(),
                false => told(line.poured, "poured"),
            },
        ]
    }

    pub(super) fn cost(&mut self, typed: &CostArguments) -> Answer<Report> {
        let cost = self.studio.cost(&CostOf::read(&typed.of)?)?;
        let currency = &self.settings.currency;
        let rows = cost.lines.iter().map(|line| {
            [
                tell::cost::what(&line.what),
                self.volume(line.ml),
                tell::cost::price(line.cost, currency),
            ]
        });
        let missing = tell::cost::missing(&cost, currency).map(|missing| format!(", {missing}"));
        let total = format!(
            "in all: {}{}",
            tell::cost::price(cost.total, currency),
            missing.unwrap_or_default()
        );
        let table = Table::default().right(&[1, 2]);
        Ok(Report::of(&CostView::of(&cost))
            .table(&rows.fold(table, Table::row))
            .line(total))
    }

    pub(super) fn cautions(&mut self, typed: &CautionsArguments) -> Answer<Report> {
        let shown: Vec<&Caution> = caution::CAUTIONS
            .iter()
            .filter(|one| typed.place.is_none_or(|place| one.place == place))
            .collect();
        let report = Report::of(&CautionsView::of(&shown));
        let lines = shown.iter().flat_map(|one| {
            [
                format!("{}: {}", one.place, one.short),
                format!("  {}", one.full),
            ]
        });
        Ok(report.lines(lines))
    }

    /// A price with the studio's currency.
    pub(super) fn money(&self, price: Decimal) -> String {
        tell::money(price, &self.settings.currency)
    }
}
