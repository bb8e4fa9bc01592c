//! `trial findings`: the effects in words, numbers and a drawing.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::studio::{Answer, EffectAxis};
use crate::tell;
use crate::tell::views::TrialFindingsView;

/// Columns of the drawing on either side of nothing.
const HALF: usize = 24;

impl Desk<'_> {
    pub(super) fn trial_findings(&mut self, trial: i64) -> Answer<Report> {
        let found = self.studio.trial_findings(trial)?;
        let report = Report::of(&TrialFindingsView::of(&found, &self.telling()))
            .lines(tell::trials::words(&found))
            .lines(tell::trials::notes(&found));
        if found.analysis.is_none() {
            return Ok(report);
        }
        let names = found.names();
        let shown = found.shown();
        let axis = EffectAxis::of(&shown, HALF);
        let heads = ["effect", "cells", &axis.head(), "and how sure"];
        let table = Table::headed(&heads).right(&[1]);
        let rows = shown.iter().map(|effect| {
            [
                name(&effect.factors, &names),
                format!("{:+.1}", effect.value),
                axis.line(effect),
                tell::trials::sureness(effect),
            ]
        });
        let report = report.table(&rows.fold(table, Table::row));
        let rest = tell::trials::left_out(&found);
        Ok(report.lines(rest).lines(tell::trials::aliases(&found.page)))
    }
}

fn name(factors: &[usize], names: &[&str]) -> String {
    let called = factors
        .iter()
        .filter_map(|place| names.get(*place).copied());
    called.collect::<Vec<_>>().join(" x ")
}
