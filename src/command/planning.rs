//! `plan`, `plans`, `cost` and `cautions`.

use crate::command::report::{Report, Table};
use crate::command::show::{ml, number, or_dash};
use crate::command::{Desk, maybe, word};
use crate::studio::{
    Answer, Basis, Cost, Limit, PlanLayer, PlanLine, PlanOrder, PlanPage, PlanSheet, Refusal, Step,
};
use crate::trade::amount::{Amount, Measures};
use crate::trade::caution::{self, Caution, Place};
use crate::trade::instant::{Lean, parse_instant};
use crate::trade::length::{parse_film, parse_length, show_band};
use crate::trade::panel::Panel;
use crate::trade::plan::Panels;
use crate::trade::units::{Backing, INCH, Millilitres, Millimetres};
use clap::Args;
use rust_decimal::Decimal;
use serde_json::{Value, json};

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

impl Desk<'_> {
    pub(super) fn plan(&mut self, typed: &PlanArguments) -> Answer<Report> {
        if let Some(plan) = typed.mix {
            let mixed = self.studio.mix_from_plan(plan, &self.now)?;
            return Ok(self.mix_report(&mixed));
        }
        let order = self.plan_order(typed)?;
        let sheet = self.studio.plan(&order, &self.now)?;
        let kept = match typed.keep {
            true => Some(self.studio.keep_plan(&order, &self.now)?),
            false => None,
        };
        let report = Report::new(self.sheet_json(&sheet, kept)).lines(self.sheet_head(&sheet));
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
        Ok(report
            .lines(self.sheet_tail(&sheet))
            .table(&steps.fold(Table::default(), Table::row))
            .lines(kept.map(|number| format!("kept as plan {number}"))))
    }

    fn plan_order(&self, typed: &PlanArguments) -> Answer<PlanOrder> {
        let panel = typed.panel.as_deref().unwrap_or_default();
        let edge = maybe(typed.edge.as_deref(), parse_length)?;
        let panels = Panels {
            panel: Panel::parse(panel)?,
            count: typed.count,
            edge: edge.unwrap_or(Millimetres::ZERO),
        };
        let pour_at = maybe(typed.pour_at.as_deref(), |text| {
            parse_instant(text, &self.now, Lean::Future)
        })?;
        if pour_at.is_some_and(|at| at < self.now.at) {
            return Err(Refusal::Range(Limit::PlannedPour).into());
        }
        Ok(PlanOrder {
            panels,
            way: typed.way.clone(),
            pour_at,
            film: maybe(typed.film.as_deref(), parse_film)?,
            recipes: typed.recipes.clone(),
            holds: maybe(typed.cup.as_deref(), |text| self.holds(text))?,
            note: typed.note.clone(),
        })
    }

    /// What a cup holds, by volume.
    fn holds(&self, text: &str) -> Answer<Millilitres> {
        Ok(Amount::parse(text)?.volume(None)?)
    }

    fn sheet_head(&self, sheet: &PlanSheet) -> Vec<String> {
        let (inch, area) = (INCH.get(), sheet.area.get());
        let area = match self.settings.measures {
            Measures::Metric => format!("{:.0} cm2", area / 100.0),
            Measures::UsCustomary => format!("{:.0} sq in", area / inch / inch),
        };
        let total = self.volume(sheet.total);
        let film = show_band(sheet.film, self.settings.measures);
        let from = sheet.basis.words();
        vec![format!("{total} on {area}, {film} wet, {from}")]
    }

    fn layer_line(&self, layer: &PlanLayer) -> String {
        let title = format!("{} v{}", layer.recipe.name, layer.variant.number);
        let each = self.volume(layer.ml / f64::from(layer.cups.max(1)));
        let cups = match layer.cups {
            0 | 1 => String::new(),
            cups => format!(", in {cups} cups of {each}"),
        };
        let (layer, ml) = (layer.recipe.layer, self.volume(layer.ml));
        format!("{layer}: {ml} of {title}{cups}")
    }

    fn sheet_tail(&self, sheet: &PlanSheet) -> Vec<String> {
        let mut lines: Vec<String> = sheet
            .lacks
            .iter()
            .map(|lack| {
                let (needed, left) = (self.volume(lack.needed), self.volume(lack.left));
                format!(
                    "! the shelf lacks {}: {needed} needed, {left} left",
                    lack.name
                )
            })
            .collect();
        let unknown = || {
            format!(
                "cost unknown: no price or pack of {}",
                sheet.unpriced.join(", ")
            )
        };
        let cost = sheet
            .cost
            .map_or_else(unknown, |cost| format!("cost {}", self.money(cost)));
        lines.push(cost);
        let warnings = self.plan_warnings(sheet).into_iter();
        lines.extend(warnings.map(|words| format!("! {words}")));
        lines
    }

    fn plan_warnings(&self, sheet: &PlanSheet) -> Vec<String> {
        let warnings = sheet.warnings.iter();
        warnings.map(|one| self.words(one)).collect()
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

    fn sheet_json(&self, sheet: &PlanSheet, kept: Option<i64>) -> Value {
        let (from, pours, technique) = match sheet.basis {
            Basis::Yours(pours) => (Backing::Yours, pours, None),
            Basis::Practice(word) => (Backing::Practice, 0, word),
            Basis::Kept => (Backing::Practice, 0, None),
        };
        let layers: Vec<Value> = sheet.layers.iter().map(layer_json).collect();
        let lacks = sheet.lacks.iter().map(|lack| {
            let short = ml(lack.needed - lack.left);
            json!({"name": lack.name, "ml": short, "needed_ml": ml(lack.needed), "left_ml": ml(lack.left)})
        });
        let steps = sheet
            .schedule
            .iter()
            .map(|step| json!({"at": self.stamp(step.at), "do": step.deed, "cup": step.cup.as_ref().map(ToString::to_string)}));
        json!({
            "area_cm2": number(sheet.area.get() / 100.0),
            "film_mm": number(sheet.film.mid.get()),
            "film_band_mm": [number(sheet.film.low.get()), number(sheet.film.high.get())],
            "from": from,
            "pours": pours,
            "technique": technique,
            "total_ml": ml(sheet.total),
            "layers": layers,
            "lacks": lacks.collect::<Vec<Value>>(),
            "pour_at": self.stamp(sheet.pour_at),
            "schedule": steps.collect::<Vec<Value>>(),
            "cost": sheet.cost.map(cents),
            "warnings": self.plan_warnings(sheet),
            "plan": kept,
            "note": sheet.note,
        })
    }

    pub(super) fn plans(&mut self) -> Answer<Report> {
        let plans = self.studio.plans()?;
        let pages: Vec<Value> = plans.iter().map(|page| self.page_of_plan(page)).collect();
        let report = Report::new(json!({"plans": pages}));
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
        format!(
            "plan {}: {} x {panel}{}{}",
            page.plan.id,
            panels.count,
            pour.unwrap_or_default(),
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
            told(line.poured, "poured"),
        ]
    }

    fn page_of_plan(&self, page: &PlanPage) -> Value {
        let cups = page.cups.iter().map(|line| {
            json!({
                "variant": line.variant.to_string(),
                "newer_variant": line.newer,
                "planned_ml": ml(line.planned),
                "mark": line.mark,
                "mixed_ml": line.mixed.map(ml),
                "poured_ml": line.poured.map(ml),
            })
        });
        json!({
            "plan": page.plan.id,
            "at": self.stamp(page.plan.at),
            "panel": page.plan.panels.panel.to_string(),
            "count": page.plan.panels.count,
            "pour_at": page.plan.pour_at.map(|at| self.stamp(at)),
            "cups": cups.collect::<Vec<Value>>(),
            "note": page.plan.note,
        })
    }

    pub(super) fn cost(&mut self, typed: &CostArguments) -> Answer<Report> {
        // A mark holds a letter; a pour's number does not.
        let cost = match typed.of.parse::<i64>() {
            Ok(pour) => self.studio.pour_cost(pour)?,
            Err(_) => self.studio.cup_cost(&typed.of)?,
        };
        let rows = cost.lines.iter().map(|line| {
            [
                line.what.clone(),
                self.volume(line.ml),
                or_dash(line.cost.map(|one| self.money(one))),
            ]
        });
        let partly = || {
            let others = match cost.known > Decimal::ZERO {
                true => format!(", the others cost {}", self.money(cost.known)),
                false => String::new(),
            };
            let lines = cost.unpriced;
            format!("in all: unknown, of {lines} lines a price or a pack is missing{others}")
        };
        let total = |total| format!("in all: {}", self.money(total));
        let total = cost.total.map_or_else(partly, total);
        let table = Table::default().right(&[1, 2]);
        Ok(Report::new(cost_json(&cost))
            .table(&rows.fold(table, Table::row))
            .line(total))
    }

    pub(super) fn cautions(&mut self, typed: &CautionsArguments) -> Answer<Report> {
        let shown: Vec<&Caution> = caution::CAUTIONS
            .iter()
            .filter(|one| typed.place.is_none_or(|place| one.place == place))
            .collect();
        let cautions = shown
            .iter()
            .map(|one| json!({"where": one.place, "short": one.short, "full": one.full}));
        let report = Report::new(json!({"cautions": cautions.collect::<Vec<Value>>()}));
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
        let price = price.round_dp(2);
        match self.settings.currency.as_str() {
            "" => format!("{price:.2}"),
            currency => format!("{price:.2} {currency}"),
        }
    }
}

fn layer_json(layer: &PlanLayer) -> Value {
    let parts = layer.parts.iter().map(|part| {
        json!({
            "name": part.name,
            "ml": ml(part.ml),
            "g": part.g.map(|g| number(g.get())),
            "cost": part.cost.map(cents),
        })
    });
    json!({
        "layer": layer.recipe.layer,
        "recipe": layer.recipe.name,
        "variant": layer.variant.number,
        "ml": ml(layer.ml),
        "cups": layer.cups,
        "parts": parts.collect::<Vec<Value>>(),
    })
}

fn cost_json(cost: &Cost) -> Value {
    let lines = cost
        .lines
        .iter()
        .map(|line| json!({"what": line.what, "ml": ml(line.ml), "cost": line.cost.map(cents)}));
    json!({
        "lines": lines.collect::<Vec<Value>>(),
        "cost": cost.total.map(cents),
        "known": cents(cost.known),
        "unpriced": cost.unpriced,
    })
}

/// Money to a hundredth, as a number for programs.
fn cents(price: Decimal) -> Value {
    let rounded = price.round_dp(2).to_string();
    rounded
        .parse::<f64>()
        .map_or(Value::Null, |price| json!(price))
}
