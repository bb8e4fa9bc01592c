//! A list that is said while it is read, so that a hundred thousand lines need no more memory than a hundred.

use crate::command::report::{Report, Table};
use crate::exchange::Outlet;
use clap::Args;

/// So many lines are read and said at once (ours): enough to align columns by, few enough to cost nothing.
pub(super) const AT_ONCE: u32 = 250;

/// Which lines of a list that grows are wanted.
#[derive(Debug, Clone, Copy, Args)]
pub struct PageArguments {
    /// Begin with this one, counted from the newest
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    pub from: u32,
    /// At most so many
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..))]
    pub limit: Option<u32>,
}

impl PageArguments {
    /// Without so many of the newest.
    pub(super) const fn skip(self) -> u32 {
        self.from - 1
    }

    /// Of a list at hand, the lines that are wanted.
    pub(super) fn of<T>(self, list: Vec<T>) -> Vec<T> {
        let most = self.limit.map_or(usize::MAX, |limit| limit as usize);
        list.into_iter()
            .skip(self.skip() as usize)
            .take(most)
            .collect()
    }

    /// What is said where older lines follow, or none is so old; nothing where all were shown.
    pub(super) fn rest(self, what: &str, shown: u64, all: u64) -> Option<String> {
        let up_to = u64::from(self.skip()) + shown;
        match (shown, all.saturating_sub(up_to)) {
            (0, _) if all > 0 => Some(format!(
                "There is no {what} {} from the newest: {all} are written down.",
                self.from
            )),
            (0, _) | (_, 0) => None,
            (_, more) => Some(format!(
                "{more} older ones: begin with --from {}",
                up_to + 1
            )),
        }
    }
}

/// A list on its way out.
pub(super) struct Flow<'a> {
    out: &'a mut Outlet,
    json: bool,
    /// The key of the list, as JSON has it.
    key: &'static str,
    heads: Option<Table>,
    right: &'static [usize],
    widths: Vec<usize>,
    said: u64,
    most: Option<u32>,
}

impl<'a> Flow<'a> {
    /// A list of at most so many lines: its key in JSON, its columns' heads, and which of them are numbers.
    pub(super) fn new(
        (out, json): (&'a mut Outlet, bool),
        key: &'static str,
        (heads, right): (&[&str], &'static [usize]),
        most: Option<u32>,
    ) -> Self {
        Self {
            out,
            json,
            key,
            heads: Some(Table::headed(heads)),
            right,
            widths: Vec::new(),
            said: 0,
            most,
        }
    }

    /// How many lines are to be read next; none where all were said, or nobody listens.
    pub(super) fn wanted(&self) -> u32 {
        let said = u32::try_from(self.said).unwrap_or(u32::MAX);
        let left = self.most.map_or(u32::MAX, |most| most.saturating_sub(said));
        match self.out.is_closed() {
            true => 0,
            false => left.min(AT_ONCE),
        }
    }

    /// Says some lines, each as a row or as JSON, whichever was asked for.
    pub(super) fn say<T>(
        &mut self,
        lines: &[T],
        view: impl Fn(&T) -> Report,
        row: impl Fn(&T) -> Vec<String>,
    ) {
        if self.json {
            lines.iter().for_each(|line| self.element(&view(line)));
        } else if !lines.is_empty() {
            self.rows(lines.iter().map(row));
        }
        self.said += lines.len() as u64;
    }

    fn element(&mut self, view: &Report) {
        let is_first = !self.out.has_begun();
        self.out.say(&view.in_list(self.key, is_first));
    }

    /// Columns grow no narrower, so that lines read later stand beneath those before.
    fn rows(&mut self, rows: impl Iterator<Item = Vec<String>>) {
        let table = rows.fold(self.heads.take().unwrap_or_default(), Table::row);
        let table = table.right(self.right).at_least(&self.widths);
        self.widths = table.widths();
        let lines = table.lines().into_iter();
        self.out
            .say(&lines.map(|line| line + "\n").collect::<String>());
    }

    /// Ends the list: how many lines it had, and an answer with what is said beneath it.
    pub(super) fn end(self) -> (u64, Report) {
        (self.said, Report::flowed(self.key, self.said == 0))
    }
}
