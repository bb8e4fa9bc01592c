//! `cups` and `cup`: how the cups stand, and one cup's whole life.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::studio::{Answer, CupStatus, Names};
use crate::tell;
use crate::tell::views::{CupPageView, CupsView};
use crate::trade::cup::Entry;
use clap::Args;

/// Which cup.
#[derive(Debug, Args)]
pub struct CupArguments {
    /// Its mark; the last cup that bore it where none lives
    pub mark: String,
}

impl Desk<'_> {
    pub(super) fn cups(&mut self) -> Answer<Report> {
        let bench = self.studio.bench(&self.now)?;
        let report = Report::of(&CupsView::of(&bench, &self.telling()));
        if bench.is_empty() {
            return Ok(report
                .line("No cup lives.")
                .line("Mix one: stillcup mix RECIPE --volume 120ml"));
        }
        let heads = ["mark", "state", "left", "mound", "layer", "recipe", "what"];
        let table = Table::headed(&heads).right(&[2, 3]);
        let rows = bench.iter().map(|one| self.cup_row(one));
        Ok(report.table(&rows.fold(table, Table::row)))
    }

    fn cup_row(&self, one: &CupStatus) -> [String; 7] {
        [
            one.cup.mark.to_string(),
            one.state.to_string(),
            self.volume(one.life.left),
            or_dash(tell::cups::mound_now(one)),
            one.recipe.layer.to_string(),
            one.title(),
            self.words(one),
        ]
    }

    pub(super) fn cup(&mut self, typed: &CupArguments) -> Answer<Report> {
        let page = self.studio.cup_page(&typed.mark, &self.now)?;
        let names = &page.names;
        let report = Report::of(&CupPageView::of(&page, names, &self.telling()));
        let report = report.lines(self.head_lines(&page.standing));
        let puts = page.puts.iter();
        let puts = puts.map(|(name, volume)| [name.clone(), self.volume(*volume)]);
        let entries = page.entries.iter();
        let entries = entries.map(|entry| self.entry_row(entry, names));
        Ok(report
            .line("what went in:")
            .table(&indented(puts).right(&[2]))
            .line("its life:")
            .table(&indented(entries).right(&[1])))
    }

    fn entry_row(&self, entry: &Entry, names: &Names) -> [String; 3] {
        let what = tell::happened(&entry.what, names, self.settings.measures);
        [entry.id.to_string(), self.clock(entry.at), what]
    }

    /// What a cup is and how it stands, in two or three lines.
    pub(super) fn head_lines(&self, one: &CupStatus) -> Vec<String> {
        let tape = one.cup.tape.as_ref().map(|tape| format!(", {tape} tape"));
        let mut lines = vec![
            format!(
                "{}  {} ({}{}), {} left",
                one.cup.mark,
                one.title(),
                one.recipe.layer,
                tape.unwrap_or_default(),
                self.volume(one.life.left)
            ),
            format!("  {}: {}", one.state, self.words(one)),
        ];
        let rest = tell::cups::rest_line(one, self.now.at, self.settings.measures);
        lines.extend(rest.map(|words| format!("  {words}")));
        lines.extend(one.cup.note.as_ref().map(|note| format!("  note: {note}")));
        lines
    }
}

/// Rows that stand two blanks in.
pub(super) fn indented<const N: usize>(rows: impl Iterator<Item = [String; N]>) -> Table {
    rows.fold(Table::default(), |table, row| {
        table.row([String::new()].into_iter().chain(row))
    })
}
