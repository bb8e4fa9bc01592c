//! `labels` and `session`: what goes on paper.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::files::told;
use crate::command::report::Report;
use crate::exchange;
use crate::exchange::outgoing::Outgoing;
use crate::exchange::paper::{self, LabelFault, LabelSheet, Layout, Printing, Stock};
use crate::studio::orders::{LabelField, LabelOrder, Typed};
use crate::studio::{self, Answer, Lids, Refusal, StudioError};
use crate::tell::views::LabelsView;
use crate::trade::units::Millimetres;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

pub(super) const LABELS_EXAMPLE: &str = "\
Examples:
  stillcup labels --living --out labels.pdf
  stillcup labels K7 A3 --out labels.pdf --sheet 3x8 --label 70x37mm --from 5
  stillcup labels --plan 3 --out roll.pdf --roll 62x29mm --copies 2
Print at 100 %, never \"fit to page\".";

/// The least height of a label off a roll that says all there is to say.
const ROLL_HEIGHT: Millimetres = Millimetres(40.0);

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
    pub(super) const fn stock(self) -> Stock {
        match self {
            Self::A4 => Stock::A4,
            Self::Letter => Stock::Letter,
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
        studio::refuse_no_folder(&typed.out)?;
        let fields = Typed::default()
            .given(LabelField::Count, Some(typed.sheet.clone()))
            .given(LabelField::Label, Some(typed.label.clone()))
            .given(LabelField::Margin, Some(typed.margin.clone()))
            .given(LabelField::Gap, Some(typed.gap.clone()))
            .given(LabelField::Roll, typed.roll.clone());
        let order = LabelOrder::read(&fields, typed.copies)?;
        let layout = self.layout(&order, typed).map_err(unfit)?;
        let whose = match (typed.plan, typed.living) {
            (Some(plan), _) => Lids::Plan(plan),
            (None, true) => Lids::Living,
            (None, false) => Lids::Marked(typed.marks.clone()),
        };
        let lids = self.studio.lids(&whose, &self.now)?;
        if lids.is_empty() {
            return Err(no_lids(&whose).into());
        }
        let count = lids.len() * order.copies as usize;
        let printing = Printing {
            layout,
            copies: order.copies,
            measures: self.settings.measures,
            now: &self.now,
        };
        let bar = Bar::new("labels", count);
        let pdf = paper::labels(&lids, printing, &|done| bar.at(done)).map_err(told)?;
        exchange::write_bytes(self.studio, &typed.out, typed.replace, &pdf).map_err(told)?;
        let file = typed.out.display().to_string();
        let labels = if count == 1 {
            "1 label is".to_owned()
        } else {
            format!("{count} labels are")
        };
        let line = format!("{labels} in {file}: print at 100 %, not fitted to the page");
        Ok(Report::of(&LabelsView {
            file,
            labels: count,
        })
        .line(line))
    }

    fn layout(&self, order: &LabelOrder, typed: &LabelsArguments) -> Result<Layout, LabelFault> {
        if let Some((width, height)) = order.roll {
            let size = (width, height.unwrap_or(ROLL_HEIGHT));
            return Ok(Layout::Roll(paper::readable(size)?));
        }
        let usual = Stock::usual(self.settings.measures);
        let sheet = LabelSheet {
            stock: typed.paper.map_or(usual, PaperWord::stock),
            count: order.count,
            label: order.label,
            margin: order.margin,
            gap: order.gap,
            from: typed.from,
        };
        Ok(Layout::Sheet(sheet.checked()?))
    }

    pub(super) fn session(&mut self, typed: &SessionArguments) -> Answer<Report> {
        let (plan, stock) = (typed.plan, typed.paper.map(PaperWord::stock));
        let what = Outgoing::Session { plan, stock };
        self.send_page(what, &typed.out, typed.replace)
    }
}

fn no_lids(whose: &Lids) -> Refusal {
    match whose {
        Lids::Plan(plan) => Refusal::NothingToLabel(Some(*plan)),
        Lids::Living | Lids::Marked(_) => Refusal::NothingToLabel(None),
    }
}

/// That labels do not lie on their paper, as the studio tells it.
fn unfit(fault: LabelFault) -> StudioError {
    let (said, hint) = (fault.to_string(), fault.hint().to_owned());
    Refusal::File { said, hint }.into()
}
