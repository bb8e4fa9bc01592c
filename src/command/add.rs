//! `add`: paint into a standing cup, from the shelf or out of another cup.

use crate::command::Desk;
use crate::command::report::Report;
use crate::command::tend::When;
use crate::studio::Answer;
use crate::studio::orders::{AddField, AddOrder, Typed};
use crate::tell;
use crate::tell::views::ThickerView;
use clap::Args;

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup add K7 12ml --from B4         out of a thicker cup
  stillcup add K7 --from B4              all of it: two cups poured together
  stillcup add K7 8ml --from \"Deep blue\"
  stillcup add K7 --how-much --from B4";

/// Paint for a cup.
#[derive(Debug, Args)]
pub struct AddPaintArguments {
    /// The cup's mark
    pub mark: String,
    /// How much: 12ml; all of the other cup otherwise
    #[arg(allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// Out of the cup of this mark, or a material of this name
    #[arg(
        long,
        value_name = "MARK|MATERIAL",
        required_unless_present = "how_much"
    )]
    pub from: Option<String>,
    /// Say how much would bring it back, of the cup named or of its own paint without thinner, and add nothing
    #[arg(long, conflicts_with_all = ["amount", "mound", "at"])]
    pub how_much: bool,
    /// How long its mound stays visible once it was stirred in, in seconds: 2.6
    #[arg(long, value_name = "SECONDS", allow_hyphen_values = true)]
    pub mound: Option<String>,
    /// The other cup really held more than was thought, or the reading is meant
    #[arg(long)]
    pub even_so: bool,
    #[command(flatten)]
    pub when: When,
}

impl Desk<'_> {
    pub(super) fn add(&mut self, typed: AddPaintArguments) -> Answer<Report> {
        if typed.how_much {
            return self.how_much_paint(&typed.mark, typed.from.as_deref());
        }
        let fields = Typed::default()
            .given(AddField::From, typed.from)
            .given(AddField::Amount, typed.amount)
            .given(AddField::Mound, typed.mound)
            .given(AddField::When, typed.when.at);
        let known = self.studio.known([typed.mark.as_str()])?;
        let cup = known.cup(&typed.mark)?;
        let order = AddOrder {
            even_so: typed.even_so,
            ..AddOrder::read(&fields, cup, &self.given(&known))?
        };
        let tended = self.studio.add_paint(&order, &self.now)?;
        self.tended(&tended)
    }

    fn how_much_paint(&self, mark: &str, from: Option<&str>) -> Answer<Report> {
        let known = self.studio.known([mark])?;
        let cup = known.cup(mark)?;
        let other = from.map(|from| known.cup(from)).transpose()?;
        let likely = self.studio.how_much_paint(cup, other, &self.now)?;
        let measures = self.settings.measures;
        let line = tell::cups::thicker(likely.as_ref(), from, measures);
        Ok(Report::of(&ThickerView::of(likely.as_ref())).line(line))
    }
}
