//! `findings --outcome share|diameter|evenness|number`: variants and factors by what the photos say.

use crate::command::Desk;
use crate::command::findings::FindingsArguments;
use crate::command::report::{Report, Table};
use crate::exchange;
use crate::studio::{
    Answer, Asked, ByCells, MeasuredFindings, MeasuredVariant, OutcomeKind, Refusal,
};
use crate::tell;
use crate::tell::views::MeasuredFindingsView;
use crate::trade::recipe::variant_title;

impl Desk<'_> {
    pub(super) fn measured_findings(
        &self,
        typed: &FindingsArguments,
        asked: &Asked,
        outcome: OutcomeKind,
    ) -> Answer<Report> {
        refuse_other(typed, outcome)?;
        let mut found = self.studio.measured_findings(asked, outcome, &self.now)?;
        if let Some(by) = &typed.by {
            let name = found.factor(by)?.name.clone();
            found.factors.retain(|one| one.name == name);
        }
        let report = Report::of(&MeasuredFindingsView::of(&found, &self.telling()));
        if typed.csv {
            return Ok(report.exactly(sheet(&found)));
        }
        let report = report.line(tell::measured::head(&found, self.settings.measures));
        if found.pours == 0 {
            return Ok(report);
        }
        let agreed = found
            .agreement
            .map(|one| tell::measured::agreement(&one, outcome));
        let report = report.lines(agreed);
        if typed.statistics {
            let lines = tell::findings::statistics_of(&found.factors, found.basis, outcome);
            return Ok(report.lines(lines));
        }
        let table = self.measured_table(&found);
        Ok(report.table(&table).lines(tell::measured::factors(&found)))
    }

    fn measured_table(&self, found: &MeasuredFindings) -> Table {
        let value = |value| tell::measured::value(found.outcome, value, self.settings.measures);
        let row = |one: &MeasuredVariant| {
            let believed = &one.believed;
            let early = one.is_early().then(|| "too early to tell".to_owned());
            [
                variant_title(&one.recipe, one.variant),
                one.behind.len().to_string(),
                value(believed.own),
                value(believed.mean),
                format!("{} to {}", value(believed.low10), value(believed.high90)),
            ]
            .into_iter()
            .chain(early)
        };
        let heads = ["variant", "pours", "mean", "believed", "8 of 10"];
        let table = Table::headed(&heads).right(&[1, 2, 3]);
        found.variants.iter().map(row).fold(table, Table::row)
    }
}

/// What cannot be asked of a measured outcome.
fn refuse_other(typed: &FindingsArguments, outcome: OutcomeKind) -> Answer<()> {
    let by = match (typed.best, typed.pair.is_some(), typed.good.is_some()) {
        (true, ..) => ByCells::Best,
        (_, true, _) => ByCells::Pair,
        (_, _, true) => ByCells::Good,
        _ => return Ok(()),
    };
    Err(Refusal::ByOwnCells(by, outcome).into())
}

/// The variants as CSV.
fn sheet(found: &MeasuredFindings) -> String {
    let mut table = csv::Writer::from_writer(Vec::new());
    let heads = [
        "recipe", "variant", "pours", "own_mean", "mean", "low10", "high90",
    ];
    // Into memory nothing can fail.
    let _ = table.write_record(heads);
    let figure = |value: f64| format!("{value:.4}");
    for one in &found.variants {
        let believed = &one.believed;
        let _ = table.write_record([
            exchange::inert_cell(&one.recipe),
            one.variant.to_string(),
            one.behind.len().to_string(),
            figure(believed.own),
            figure(believed.mean),
            figure(believed.low10),
            figure(believed.high90),
        ]);
    }
    let bytes = table.into_inner().unwrap_or_default();
    String::from_utf8(bytes)
        .unwrap_or_default()
        .trim_end()
        .to_owned()
}
