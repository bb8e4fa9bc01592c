//! `read`, `thin`, `stir`, `look`, `cap`, `open`, `end`: what hands do to a standing cup.

use crate::command::mix::{ReadingArguments, parse_stirring};
use crate::command::report::Report;
use crate::command::show::with;
use crate::command::{Desk, word};
use crate::studio::{Answer, Limit, Refusal, Tended, ThinOrder};
use crate::trade::amount::Amount;
use crate::trade::cup::{End, Reading, Seen};
use crate::trade::range::{never_fades, parse_mound};
use clap::Args;
use serde_json::json;

/// When it happened.
#[derive(Debug, Args)]
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

/// A lid put on or taken off.
#[derive(Debug, Args)]
pub struct LidArguments {
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

impl Desk<'_> {
    pub(super) fn read(&mut self, typed: &ReadArguments) -> Answer<Report> {
        if typed.seconds.as_deref().is_some_and(never_fades) {
            return self.saw(&typed.mark, Seen::Gelled, &typed.when);
        }
        let reading = match &typed.seconds {
            Some(seconds) => Some(Reading::Mound(parse_mound(seconds)?)),
            None => typed.reading.reading()?,
        };
        let reading = reading.ok_or(Refusal::Range(Limit::Reading))?;
        let at = self.instant(typed.when.at.as_deref())?;
        let tended = self.studio.read_cup(&typed.mark, reading, at, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn thin(&mut self, typed: ThinArguments) -> Answer<Report> {
        let Some(amount) = &typed.amount else {
            return self.how_much(&typed.mark);
        };
        let amount = Amount::parse(amount)?;
        let thinner = self.studio.thinner(typed.with.as_deref())?;
        let order = ThinOrder {
            ml: amount.volume(thinner.and_then(|one| one.density))?.stored(),
            with: typed.with,
            hard: typed.hard,
            reading: typed.reading.reading()?,
        };
        let at = self.instant(typed.when.at.as_deref())?;
        let tended = self.studio.thin_cup(&typed.mark, &order, at, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn stir(&mut self, typed: &StirArguments) -> Answer<Report> {
        let minutes = parse_stirring(&typed.time)?;
        let at = self.instant(typed.when.at.as_deref())?;
        let tended = self.studio.stir_cup(&typed.mark, minutes, at, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn look(&mut self, typed: &LookArguments) -> Answer<Report> {
        self.saw(&typed.mark, typed.seen, &typed.when)
    }

    fn saw(&mut self, mark: &str, seen: Seen, when: &When) -> Answer<Report> {
        let at = self.instant(when.at.as_deref())?;
        let tended = self.studio.look_at_cup(mark, seen, at, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn cap(&mut self, typed: &LidArguments) -> Answer<Report> {
        let at = self.instant(typed.when.at.as_deref())?;
        let tended = self.studio.cap_cup(&typed.mark, at, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn open(&mut self, typed: &LidArguments) -> Answer<Report> {
        let at = self.instant(typed.when.at.as_deref())?;
        let tended = self.studio.open_cup(&typed.mark, at, &self.now)?;
        self.tended(&tended)
    }

    pub(super) fn end(&mut self, typed: &EndArguments) -> Answer<Report> {
        let at = self.instant(typed.when.at.as_deref())?;
        let tended = self.studio.end_cup(&typed.mark, typed.end, at, &self.now)?;
        self.tended(&tended)
    }

    fn tended(&self, tended: &Tended) -> Answer<Report> {
        let names = self.studio.names(std::slice::from_ref(&tended.entry))?;
        let said = self.remarked(&tended.remarks);
        let more = json!({
            "entry": self.entry_json(&tended.entry, &names),
            "warnings": said.warnings,
            "notes": said.notes,
        });
        let cup = self.cup_json(&tended.standing);
        Ok(Report::new(with(cup, more))
            .lines(self.head_lines(&tended.standing))
            .remarks(&said))
    }
}
