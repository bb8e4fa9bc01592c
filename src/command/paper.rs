//! `labels` and `session`: what goes on paper.

use crate::command::Desk;
use crate::command::report::Report;
use crate::exchange::outgoing::{Labels, Outgoing};
use crate::studio::orders::{LabelField, LabelOrder, Typed};
use crate::studio::{Answer, Lids};
use crate::tell;
use crate::tell::views::LabelsView;
use crate::trade::paper::PaperSize;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

pub(super) const LABELS_EXAMPLE: &str = "\
Examples:
  stillcup labels --living --out labels.pdf
  stillcup labels K7 A3 --out labels.pdf --sheet 3x8 --label 70x37mm --from 5
  stillcup labels --plan 3 --out roll.pdf --roll 62x29mm --copies 2
Print at 100 %, never \"fit to page\".";

/// The paper of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperWord {
    /// 210 x 297 mm
    A4,
    /// 8.5 x 11 in
    Letter,
}

impl PaperWord {
    /// The paper.
    pub(super) const fn size(self) -> PaperSize {
        match self {
            Self::A4 => PaperSize::A4,
            Self::Letter => PaperSize::Letter,
        }
    }
}

/// Labels for lids.
#[derive(Debug, Args)]
pub struct LabelsArguments {
    /// The cups' marks
    #[arg(value_name = "MARK", required_unless_present_any = ["living", "plan"])]
    pub marks: Vec<String>,
    /// Every living cup
    #[arg(long, conflicts_with = "marks")]
    pub living: bool,
    /// The cups that were mixed for a plan
    #[arg(long, value_name = "PLAN", conflicts_with_all = ["marks", "living"])]
    pub plan: Option<i64>,
    /// The PDF file
    #[arg(long, value_name = "FILE.pdf")]
    pub out: PathBuf,
    /// How many labels a sheet has across and down
    #[arg(long, value_name = "3x8", default_value = "3x8")]
    pub sheet: String,
    /// One label's width and height
    #[arg(long, value_name = "70x37mm", default_value = "70x37mm")]
    pub label: String,
    /// From the paper's left and upper edge to the first label
    #[arg(long, value_name = "0x0mm", default_value = "0x0mm")]
    pub margin: String,
    /// Between labels, across and down
    #[arg(long, value_name = "0mm", default_value = "0mm")]
    pub gap: String,
    /// The place of the first label, counted from 1 along the rows: the places before it are used up
    #[arg(long, value_name = "PLACE", default_value_t = 1)]
    pub from: u32,
    /// The sheet's paper; A4 with metric measures, letter otherwise
    #[arg(long, value_name = "a4|letter")]
    pub paper: Option<PaperWord>,
    /// A roll of this width, or of labels of this width and height, instead of sheets
    #[arg(long, value_name = "62mm", conflicts_with_all = ["sheet", "label", "margin", "gap", "from", "paper"])]
    pub roll: Option<String>,
    /// How many of each
    #[arg(long, value_name = "COUNT", default_value_t = 1)]
    pub copies: u32,
    /// Replace a file that is there already
    #[arg(long)]
    pub replace: bool,
}

impl LabelsArguments {
    fn fields(&self) -> Typed<LabelField> {
        let texts = [
            (LabelField::Count, self.sheet.clone()),
            (LabelField::Label, self.label.clone()),
            (LabelField::Margin, self.margin.clone()),
            (LabelField::Gap, self.gap.clone()),
            (LabelField::From, self.from.to_string()),
            (LabelField::Copies, self.copies.to_string()),
        ];
        let typed = Typed::default().given(LabelField::Roll, self.roll.clone());
        let each = texts.into_iter();
        each.fold(typed, |typed, (field, text)| typed.given(field, Some(text)))
    }
}

/// A plan for the wall.
#[derive(Debug, Args)]
pub struct SessionArguments {
    /// The kept plan's number
    pub plan: i64,
    /// The PDF file
    #[arg(long, value_name = "FILE.pdf")]
    pub out: PathBuf,
    /// The paper; A4 with metric measures, letter otherwise
    #[arg(long, value_name = "a4|letter")]
    pub paper: Option<PaperWord>,
    /// Replace a file that is there already
    #[arg(long)]
    pub replace: bool,
}

impl Desk<'_> {
    pub(super) fn labels(&mut self, typed: &LabelsArguments) -> Answer<Report> {
        let whose = match (typed.plan, typed.living) {
            (Some(plan), _) => Lids::Plan(plan),
            (None, true) => Lids::Living,
            (None, false) => Lids::Marked(typed.marks.clone()),
        };
        let labels = Labels {
            whose,
            order: LabelOrder::read(&typed.fields())?,
            paper: typed.paper.map(PaperWord::size),
        };
        let labels = self.send(Outgoing::Labels(labels), &typed.out, typed.replace)?;
        let file = typed.out.display().to_string();
        let line = tell::outgoing::labels_written(labels, &file);
        Ok(Report::of(&LabelsView { file, labels }).line(line))
    }

    pub(super) fn session(&mut self, typed: &SessionArguments) -> Answer<Report> {
        let (plan, paper) = (typed.plan, typed.paper.map(PaperWord::size));
        let what = Outgoing::Session { plan, paper };
        self.send_page(what, &typed.out, typed.replace)
    }
}
