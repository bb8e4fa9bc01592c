//! `findings`: which variants gave good cells.

use crate::command::report::{Report, Table};
use crate::command::{Desk, maybe};
use crate::studio::{Answer, Findings, Since, VariantTally};
use crate::trade::duration;
use crate::trade::instant::parse_month;
use clap::Args;
use serde_json::{Value, json};

/// Which window of time is looked at; all of it where none is said.
#[derive(Debug, Args)]
pub struct FindingsArguments {
    /// The last while: 30d
    #[arg(
        long,
        value_name = "TIME",
        conflicts_with = "month",
        allow_hyphen_values = true
    )]
    pub since: Option<String>,
    /// A month: 2026-10
    #[arg(long, value_name = "MONTH")]
    pub month: Option<String>,
}

impl Desk<'_> {
    pub(super) fn findings(&mut self, typed: &FindingsArguments) -> Answer<Report> {
        let window = self.window(typed)?;
        let found = self.studio.findings(window)?;
        let report = Report::new(self.findings_json(&found));
        let report = report.line(format!(
            "judged pours: {}, good ones (cells {} or more): {}",
            found.pours, found.bar, found.good
        ));
        if found.variants.is_empty() {
            return Ok(report.line("Judge a pour: stillcup judge POUR --cells 4"));
        }
        let heads = ["variant", "pours", "good", "rate", "likely (95 %)"];
        let table = Table::headed(&heads).right(&[1, 2, 3]);
        let rows = found.variants.iter().map(tally_row);
        Ok(report.table(&rows.fold(table, Table::row)))
    }

    fn window(&self, typed: &FindingsArguments) -> Answer<Since> {
        let since = maybe(typed.since.as_deref(), duration::parse)?;
        let month = maybe(typed.month.as_deref(), |text| {
            parse_month(text, self.now.zone)
        })?;
        Ok(Since {
            from: month
                .map(|span| span.0)
                .or(since.map(|time| self.now.at - time)),
            to: month.map(|span| span.1),
        })
    }

    fn findings_json(&self, found: &Findings) -> Value {
        let variants: Vec<Value> = found.variants.iter().map(tally_json).collect();
        json!({
            "from": found.window.from.map(|at| self.stamp(at)),
            "to": found.window.to.map(|at| self.stamp(at)),
            "bar": found.bar,
            "pours": found.pours,
            "good": found.good,
            "variants": variants,
        })
    }
}

fn tally_json(one: &VariantTally) -> Value {
    json!({
        "recipe": one.recipe,
        "variant": one.variant,
        "pours": one.pours,
        "good": one.good,
        "rate": one.rate,
        "wilson": [one.wilson.0, one.wilson.1],
        "behind": one.behind,
    })
}

fn tally_row(one: &VariantTally) -> [String; 5] {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    [
        format!("{} v{}", one.recipe, one.variant),
        one.pours.to_string(),
        one.good.to_string(),
        percent(one.rate),
        format!("{} to {}", percent(one.wilson.0), percent(one.wilson.1)),
    ]
}
