//! `amend` and `strike`: a cup's life put right.

use crate::command::Desk;
use crate::command::report::Report;
use crate::studio::orders::{AmendField, Typed, WhichEntry};
use crate::studio::{Amended, Answer};
use crate::tell;
use crate::tell::views::AmendedView;
use crate::trade::ids::EntryId;
use clap::Args;

/// An entry of a cup's life.
#[derive(Debug, Args)]
pub struct EntryArguments {
    /// The cup's mark
    pub mark: String,
    /// The entry's number, as `stillcup cup` shows it, or last
    #[arg(value_name = "ENTRY|last")]
    pub entry: String,
}

/// What an entry really was.
#[derive(Debug, Args)]
pub struct AmendArguments {
    #[command(flatten)]
    pub entry: EntryArguments,
    /// What it really was: seconds of a reading, an amount, a time, what was seen, how it ended
    #[arg(allow_hyphen_values = true)]
    pub really: Option<String>,
    /// How much was really mixed, of a mixing: 60ml
    #[arg(long, value_name = "AMOUNT")]
    pub volume: Option<String>,
    /// How long it was really stirred, of a mixing: 4m
    #[arg(long, value_name = "TIME")]
    pub stirred: Option<String>,
    /// What the mound really took as it was mixed, thinned or filled up: 2.6
    #[arg(long, value_name = "SECONDS")]
    pub mound: Option<String>,
    /// When it really was: 18:30
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
    /// Keep it though it is far from what was expected
    #[arg(long)]
    pub even_so: bool,
    /// The mark of the cup that it was really of
    #[arg(long, value_name = "MARK")]
    pub to: Option<String>,
}

impl Desk<'_> {
    pub(super) fn amend(&mut self, typed: AmendArguments) -> Answer<Report> {
        let entry = self.entry(&typed.entry)?;
        let fields = Typed::default()
            .given(AmendField::Value, typed.really)
            .given(AmendField::Volume, typed.volume)
            .given(AmendField::Stirred, typed.stirred)
            .given(AmendField::Mound, typed.mound)
            .given(AmendField::When, typed.at)
            .given(AmendField::Cup, typed.to);
        let known = self.studio.known(fields.marks())?;
        let mut order = AmendField::order(&fields, &entry, &self.given(&known))?;
        order.even_so = typed.even_so;
        let amended = self.studio.amend(&order, &self.now)?;
        self.put_right(&amended)
    }

    pub(super) fn strike(&mut self, typed: &EntryArguments) -> Answer<Report> {
        let entry = EntryId(self.entry(typed)?.id);
        let amended = self.studio.strike(entry, &self.now)?;
        self.put_right(&amended)
    }

    fn entry(&self, typed: &EntryArguments) -> Answer<crate::trade::cup::Entry> {
        let which = WhichEntry::read(&typed.entry)?;
        self.studio.entry_of(&typed.mark, which)
    }

    fn put_right(&self, amended: &Amended) -> Answer<Report> {
        let entries: Vec<_> = std::iter::once(&amended.was)
            .chain(&amended.entry)
            .cloned()
            .collect();
        let names = self.studio.names(&entries)?;
        let view = AmendedView::of(amended, &names, &self.telling());
        let line = tell::amended(amended, &names, self.settings.measures, &self.now);
        let said = self.remarked(&amended.remarks);
        Ok(Report::of(&view)
            .line(line)
            .lines(self.head_lines(&amended.standing))
            .remarks(&said))
    }
}
