//! `read`, `thin`, `stir`, `look`, `cap`, `open`, `end`: what hands do to a standing cup.

use crate::command::mix::ReadingArguments;
use crate::command::report::Report;
use crate::command::{Desk, word};
use crate::studio::orders::{
    Given, ReadField, SimpleDeed, StirField, TendField, TendOrder, ThinField, Typed, Wrong,
};
use crate::studio::{Answer, Tended};
use crate::tell::views::TendedView;
use crate::trade::cup::{End, Seen};
use crate::trade::ids::CupId;
use clap::Args;

/// When it happened.
#[derive(Debug, Clone, Args)]
pub struct When {
    /// When: 18:30; now otherwise
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
}

/// A reading of a cup.
#[derive(Debug, Args)]
pub struct ReadArguments {
    /// The cup's mark
    pub mark: String,
    /// How long its mound stays visible, in seconds: 2.8; never where it does not fade
    #[arg(value_name = "SECONDS", required_unless_present = "flow_cup")]
    #[arg(conflicts_with_all = ["mound", "flow_cup"], allow_hyphen_values = true)]
    pub seconds: Option<String>,
    /// Keep it though it is far from what was expected
    #[arg(long)]
    pub even_so: bool,
    #[command(flatten)]
    pub reading: ReadingArguments,
    #[command(flatten)]
    pub when: When,
}

/// Thinner for a cup.
#[derive(Debug, Args)]
pub struct ThinArguments {
    /// The cup's mark
    pub mark: String,
    /// How much: 3ml
    #[arg(allow_hyphen_values = true, required_unless_present = "how_much")]
    pub amount: Option<String>,
    /// Say how much would bring it back, and add nothing
    #[arg(long, conflicts_with_all = ["amount", "with", "hard"])]
    pub how_much: bool,
    /// With which material; the shelf's only thinner otherwise
    #[arg(long, value_name = "MATERIAL")]
    pub with: Option<String>,
    /// It was stirred hard, so that its rest starts anew
    #[arg(long)]
    pub hard: bool,
    /// Keep the reading and the amount though they are far from what was expected
    #[arg(long)]
    pub even_so: bool,
    #[command(flatten)]
    pub reading: ReadingArguments,
    #[command(flatten)]
    pub when: When,
}

/// A stirring.
#[derive(Debug, Args)]
pub struct StirArguments {
    /// The cup's mark
    pub mark: String,
    /// How long: 4m
    #[arg(allow_hyphen_values = true)]
    pub time: String,
    #[command(flatten)]
    pub when: When,
}

/// What an eye saw.
#[derive(Debug, Args)]
pub struct LookArguments {
    /// The cup's mark
    pub mark: String,
    /// What is seen in it
    #[arg(value_name = "clear|bubbles|gelled", value_parser = word!(Seen))]
    pub seen: Seen,
    #[command(flatten)]
    pub when: When,
}

/// A deed of which nothing more is to be said.
#[derive(Debug, Args)]
pub struct SimpleArguments {
    /// The cup's mark
    pub mark: String,
    #[command(flatten)]
    pub when: When,
}

/// The end of a cup.
#[derive(Debug, Args)]
pub struct EndArguments {
    /// The cup's mark
    pub mark: String,
    /// How it ended
    #[arg(value_name = "used|binned|skinned", value_parser = word!(End))]
    pub end: End,
    #[command(flatten)]
    pub when: When,
}

impl ReadArguments {
    fn typed(&self) -> Typed<ReadField> {
        let reading = &self.reading;
        let seconds = self.seconds.as_ref().or(reading.mound.as_ref());
        Typed::default()
            .given(
                ReadField::Seconds,
                seconds.or(reading.efflux.as_ref()).cloned(),
            )
            .given(ReadField::FlowCup, reading.flow_cup.clone())
            .given(ReadField::When, self.when.at.clone())
    }
}

impl ThinArguments {
    fn typed(self) -> Typed<ThinField> {
        Typed::default()
            .given(ThinField::Amount, self.amount)
            .given(ThinField::With, self.with)
            .given(ThinField::Mound, self.reading.mound)
            .given(ThinField::FlowCup, self.reading.flow_cup)
            .given(ThinField::Efflux, self.reading.efflux)
            .given(
                ThinField::Stirred,
                self.hard.then(|| ThinField::HARD.to_owned()),
            )
            .given(ThinField::When, self.when.at)
    }
}

impl StirArguments {
    fn typed(&self) -> Typed<StirField> {
        Typed::default()
            .given(StirField::Time, Some(self.time.clone()))
            .given(StirField::When, self.when.at.clone())
    }
}

impl When {
    fn typed(&self) -> Typed<TendField> {
        Typed::default().given(TendField::When, self.at.clone())
    }
}

impl Desk<'_> {
    pub(super) fn read(&mut self, typed: &ReadArguments) -> Answer<Report> {
        self.tend(&typed.mark, |cup, given| {
            let order = ReadField::order(&typed.typed(), cup, given)?;
            Ok(order.even_so(typed.even_so))
        })
    }

    pub(super) fn thin(&mut self, typed: ThinArguments) -> Answer<Report> {
        if typed.how_much {
            return self.how_much(&typed.mark);
        }
        let mark = typed.mark.clone();
        let even_so = typed.even_so;
        let typed = typed.typed();
        self.tend(&mark, |cup, given| {
            Ok(ThinField::order(&typed, cup, given)?.even_so(even_so))
        })
    }

    pub(super) fn stir(&mut self, typed: &StirArguments) -> Answer<Report> {
        self.tend(&typed.mark, |cup, given| {
            StirField::order(&typed.typed(), cup, given)
        })
    }

    pub(super) fn look(&mut self, typed: &LookArguments) -> Answer<Report> {
        let simple = SimpleArguments {
            mark: typed.mark.clone(),
            when: typed.when.clone(),
        };
        self.simple(&simple, SimpleDeed::Look(typed.seen))
    }

    pub(super) fn simple(&mut self, typed: &SimpleArguments, deed: SimpleDeed) -> Answer<Report> {
        self.tend(&typed.mark, |cup, given| {
            TendOrder::simple(cup, deed).when(&typed.when.typed(), given)
        })
    }

    pub(super) fn end(&mut self, typed: &EndArguments) -> Answer<Report> {
        self.tend(&typed.mark, |cup, given| {
            TendOrder::end(cup, typed.end).when(&typed.when.typed(), given)
        })
    }

    /// Tends the living cup of a mark by what was read of it.
    fn tend(
        &mut self,
        mark: &str,
        order: impl FnOnce(CupId, &Given<'_>) -> Result<TendOrder, Wrong>,
    ) -> Answer<Report> {
        let known = self.studio.known([mark])?;
        let order = order(known.cup(mark)?, &self.given(&known))?;
        let tended = self.studio.tend(&order, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn tended(&self, tended: &Tended) -> Answer<Report> {
        let names = self.studio.names(std::slice::from_ref(&tended.entry))?;
        let said = self.remarked(&tended.remarks);
        Ok(Report::of(&TendedView::of(tended, &names, &self.telling()))
            .lines(self.head_lines(&tended.standing))
            .remarks(&said))
    }
}
