//! `repeat` and `compare`: a picture made once more, and two pictures side by side.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::studio::orders::{RepeatField, RepeatOrder, Typed};
use crate::studio::{Answer, Aspect, Compared, PlanKept};
use crate::tell::views::ComparisonView;
use clap::Args;

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup repeat 12                                   what it takes, and what would differ today
  stillcup repeat 12 --panel 60x80cm --pour \"sat 10:00\" --keep
  stillcup plan --mix 3                                its cups, one after another, once it is kept as plan 3";

/// A picture to be made once more.
#[derive(Debug, Args)]
pub struct RepeatArguments {
    /// The pour that made it
    pub pour: i64,
    /// On another panel: 60x80cm; the amounts go by what is painted
    #[arg(long, value_name = "PANEL", allow_hyphen_values = true)]
    pub panel: Option<String>,
    /// How deep the edges are painted, then and now: 2cm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub edge: Option<String>,
    /// When the pour is to begin; as soon as it can otherwise
    #[arg(long = "pour", value_name = "WHEN", allow_hyphen_values = true)]
    pub pour_at: Option<String>,
    /// The room's air now: 21C,45%; the sensor's, or the last that was set, otherwise
    #[arg(long, value_name = "AIR", allow_hyphen_values = true)]
    pub air: Option<String>,
    /// Mix every cup anew, though one stands that serves
    #[arg(long)]
    pub fresh: bool,
    /// Keep the plan, so that its cups can be mixed from it
    #[arg(long)]
    pub keep: bool,
}

/// Two pictures to be held side by side.
#[derive(Debug, Args)]
pub struct CompareArguments {
    /// A pour's number
    pub pour: i64,
    /// The other's; the one that it makes once more otherwise
    pub with: Option<i64>,
}

impl Desk<'_> {
    pub(super) fn repeat(&mut self, typed: RepeatArguments) -> Answer<Report> {
        let fields = Typed::default()
            .given(RepeatField::Panel, typed.panel)
            .given(RepeatField::Edge, typed.edge)
            .given(RepeatField::Pour, typed.pour_at)
            .given(RepeatField::Air, typed.air);
        let known = self.studio.known([])?;
        let order = RepeatOrder::read(typed.pour, &fields, &self.given(&known))?;
        let mut order = RepeatOrder {
            fresh: typed.fresh,
            ..order
        };
        let failed = self.read_room(&mut order.air, None);
        let report = match typed.keep {
            true => {
                let PlanKept { plan, sheet } = self.studio.keep_repeat(&order, &self.now)?;
                self.plan_report(&sheet, Some(plan))
            }
            false => self.plan_report(&self.studio.repeat(&order, &self.now)?, None),
        };
        Ok(report.note(failed))
    }

    pub(super) fn compare(&mut self, typed: &CompareArguments) -> Answer<Report> {
        let comparison = self.studio.compare(typed.pour, typed.with)?;
        let [left, right] = [&comparison.left, &comparison.right].map(|page| page.pour.id);
        let heads = ["", &format!("pour {left}"), &format!("pour {right}"), ""];
        let rows = comparison.lines.iter().map(|line| self.compared(line));
        let table = rows.fold(Table::headed(&heads), Table::row);
        let report = Report::of(&ComparisonView::of(&comparison, &self.telling()));
        let again = comparison.repeats;
        let again = again.then(|| format!("pour {left} makes picture {right} once more"));
        Ok(report.lines(again).table(&table))
    }

    fn compared(&self, line: &Compared) -> [String; 4] {
        let had = |had: &Option<_>| or_dash(had.as_ref().map(|had| self.words(had)));
        let differs = line.same() == Some(false);
        let indent = match line.aspect {
            Aspect::Layer(_) => "",
            other => other.layer().map_or("", |_| "  "),
        };
        [
            format!("{indent}{}", self.words(&line.aspect)),
            had(&line.left),
            had(&line.right),
            if differs { "differs" } else { "" }.to_owned(),
        ]
    }
}
