//! `history`, `undo` and `redo`: what was done, taken back and done again.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::studio::{Answer, Change};
use crate::tell;
use crate::tell::views::{HistoryView, RedoneView, UndoneView};
use clap::Args;

/// How much of the history is shown.
#[derive(Debug, Args)]
pub struct HistoryArguments {
    /// At most so many changes
    #[arg(long, value_name = "NUMBER", default_value_t = 30)]
    pub limit: u32,
}

/// What is taken back.
#[derive(Debug, Args)]
pub struct UndoArguments {
    /// A change's number in the history; the last thing done otherwise
    pub change: Option<i64>,
}

impl Desk<'_> {
    pub(super) fn history(&mut self, typed: &HistoryArguments) -> Answer<Report> {
        let changes = self.studio.history(typed.limit)?;
        let names = self.studio.names_today()?;
        let mut table = Table::headed(&["no", "when", "what", ""]).right(&[0]);
        for change in &changes {
            let at = change.at.local();
            let what = tell::change(change, &names, self.settings.measures);
            let sign = match (change.is_deed(), change.done) {
                (true, true) => "",
                (true, false) => "taken back",
                (false, _) => change.kind.word(),
            };
            table = table.row([
                change.id.to_string(),
                or_dash(at.map(|at| self.clock(at))),
                what,
                sign.to_owned(),
            ]);
        }
        let report = Report::of(&HistoryView::of(&changes, &names, &self.telling()));
        Ok(match changes.is_empty() {
            true => report.line("Nothing was done yet."),
            false => report.table(&table),
        })
    }

    pub(super) fn undo(&mut self, typed: &UndoArguments) -> Answer<Report> {
        let undone = match typed.change {
            Some(change) => self.studio.undo_one(change, &self.now)?,
            None => self.studio.undo(&self.now)?,
        };
        let undone = self.told(&undone)?;
        let line = format!("Taken back: {undone}");
        Ok(Report::of(&UndoneView { undone }).line(line))
    }

    fn told(&self, change: &Change) -> Answer<String> {
        let names = self.studio.names_today()?;
        Ok(tell::change(change, &names, self.settings.measures))
    }

    pub(super) fn redo(&mut self) -> Answer<Report> {
        let redone = self.studio.redo(&self.now)?;
        let redone = self.told(&redone)?;
        let line = format!("Done again: {redone}");
        Ok(Report::of(&RedoneView { redone }).line(line))
    }
}
