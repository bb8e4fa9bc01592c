//! `history`, `undo` and `redo`: what was done, taken back and done again.

use crate::command::Desk;
use crate::command::flow::{Flow, PageArguments};
use crate::command::report::Report;
use crate::command::show::or_dash;
use crate::studio::{Answer, Change, Names};
use crate::tell;
use crate::tell::views::{ChangeView, RedoneView, UndoneView};
use clap::Args;

/// How much of the history is shown.
#[derive(Debug, Args)]
pub struct HistoryArguments {
    /// Begin with this one, counted from the newest
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    pub from: u32,
    /// At most so many changes
    #[arg(long, value_name = "NUMBER", default_value_t = 30, value_parser = clap::value_parser!(u32).range(1..))]
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
        let page = PageArguments {
            from: typed.from,
            limit: Some(typed.limit),
        };
        let mut out = std::mem::take(self.out);
        let heads = ["no", "when", "what", ""];
        let mut flow = Flow::new((&mut out, self.json), "history", (&heads, &[0]), page.limit);
        let read = self.change_flow(&mut flow, page.skip());
        let (shown, report) = flow.end();
        *self.out = out;
        read?;
        let all = self.studio.count_changes()?;
        if all == 0 {
            return Ok(report.line("Nothing was done yet."));
        }
        Ok(report.lines(page.rest("change", shown, all)))
    }

    /// Reads what was done and says it, a few changes at a time.
    fn change_flow(&self, flow: &mut Flow<'_>, mut skip: u32) -> Answer<()> {
        let names = self.studio.names_today()?;
        let telling = self.telling();
        let mut before = None;
        while flow.wanted() > 0 {
            let changes = self.studio.history_paged(before, skip, flow.wanted())?;
            flow.say(
                &changes,
                |change| Report::of(&ChangeView::of(change, &names, &telling)),
                |change| self.change_row(change, &names),
            );
            let Some(last) = changes.last() else { break };
            (before, skip) = (Some(last.id), 0);
        }
        Ok(())
    }

    fn change_row(&self, change: &Change, names: &Names) -> Vec<String> {
        let sign = match (change.is_deed(), change.done) {
            (true, true) => "",
            (true, false) => "taken back",
            (false, _) => change.kind.word(),
        };
        vec![
            change.id.to_string(),
            or_dash(change.at.local().map(|at| self.clock(at))),
            tell::change(change, names, self.settings.measures),
            sign.to_owned(),
        ]
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
