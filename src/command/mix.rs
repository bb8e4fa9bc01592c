//! `mix`: a recipe scaled to a volume, following what really went in.

use crate::command::Desk;
use crate::command::cups::indented;
use crate::command::report::Report;
use crate::studio::orders::{MixField, MixOrder, Typed};
use crate::studio::{Answer, MixPart, Mixed};
use crate::tell::views::MixedView;
use clap::Args;

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup mix \"River blue\" --volume 120ml --stirred 4m --mound 2.6
  stillcup mix --like K7
  stillcup mix \"River blue\" --volume 120ml --put \"Titan white 41ml\"";

/// A reading of consistency.
#[derive(Debug, Default, Args)]
pub struct ReadingArguments {
    /// How long the drizzle mound stays visible, in seconds: 2.6
    #[arg(long, value_name = "SECONDS", allow_hyphen_values = true)]
    pub mound: Option<String>,
    /// A flow cup in place of a mound, as its standard names it: iso4
    #[arg(
        long,
        value_name = "CUP",
        conflicts_with = "mound",
        requires = "efflux"
    )]
    pub flow_cup: Option<String>,
    /// The flow cup's time: 38s
    #[arg(
        long,
        value_name = "TIME",
        requires = "flow_cup",
        allow_hyphen_values = true
    )]
    pub efflux: Option<String>,
}

/// What is to be mixed.
#[derive(Debug, Args)]
pub struct MixArguments {
    /// The recipe's name, or its beginning
    #[arg(required_unless_present = "like")]
    pub recipe: Option<String>,
    /// How much: 120ml, 4 fl oz, 150 g
    #[arg(
        long,
        value_name = "AMOUNT",
        required_unless_present = "like",
        allow_hyphen_values = true
    )]
    pub volume: Option<String>,
    /// The variant's number; the newest otherwise
    #[arg(long, value_name = "NUMBER")]
    pub variant: Option<i64>,
    /// Repeat the cup of this mark; what is said beside it overrules
    #[arg(long, value_name = "MARK")]
    pub like: Option<String>,
    /// What really went in: "Titan white 41ml"; may be repeated
    #[arg(long = "put", value_name = "MATERIAL AMOUNT")]
    pub puts: Vec<String>,
    #[command(flatten)]
    pub reading: ReadingArguments,
    /// How long it was stirred: 4m
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub stirred: Option<String>,
    /// The mark on its lid; a free one otherwise
    #[arg(long)]
    pub mark: Option<String>,
    /// The colour of its lid tape
    #[arg(long, value_name = "COLOUR")]
    pub tape: Option<String>,
    /// How deep the paint stands: 60mm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub depth: Option<String>,
    /// How wide the cup is: 70mm
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub diameter: Option<String>,
    /// Fill it from this cup, whole or with the part that it holds; or from the shelf, whatever stands
    #[arg(long, value_name = "MARK|shelf")]
    pub from: Option<String>,
    /// What was asked about is so: the amount, the mound, what the cup it is filled from held
    #[arg(long)]
    pub even_so: bool,
    /// When its stirring ended: 18:30; now otherwise
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
    /// Anything else
    #[arg(long, allow_hyphen_values = true)]
    pub note: Option<String>,
}

impl MixArguments {
    fn typed(self) -> Typed<MixField> {
        let variant = self.variant.map(|number| number.to_string());
        let typed = Typed::default()
            .given(MixField::Recipe, self.recipe)
            .given(MixField::Variant, variant)
            .given(MixField::Amount, self.volume)
            .given(MixField::Like, self.like)
            .given(MixField::Mound, self.reading.mound)
            .given(MixField::FlowCup, self.reading.flow_cup)
            .given(MixField::Efflux, self.reading.efflux)
            .given(MixField::Stirred, self.stirred)
            .given(MixField::Mark, self.mark)
            .given(MixField::Tape, self.tape)
            .given(MixField::Depth, self.depth)
            .given(MixField::Diameter, self.diameter)
            .given(MixField::From, self.from)
            .given(MixField::When, self.at)
            .given(MixField::Note, self.note);
        let puts = self.puts.into_iter();
        puts.fold(typed, |typed, put| typed.given(MixField::Puts, Some(put)))
    }
}

impl Desk<'_> {
    pub(super) fn mix(&mut self, typed: MixArguments) -> Answer<Report> {
        let even_so = typed.even_so;
        let typed = typed.typed();
        let known = self.studio.known(typed.marks())?;
        let order = MixOrder {
            even_so,
            ..MixOrder::read(&typed, &self.given(&known))?
        };
        let mixed = self.studio.mix(&order, &self.now)?;
        Ok(self.mix_report(&mixed))
    }

    pub(super) fn mix_report(&self, mixed: &Mixed) -> Report {
        let rows = mixed.parts.iter().map(|one| self.part_row(one));
        let said = self.remarked(&mixed.remarks);
        Report::of(&MixedView::of(mixed, &self.telling()))
            .lines(self.head_lines(&mixed.standing))
            .table(&indented(rows).right(&[2, 3]))
            .line(format!("Write {} on its lid.", mixed.standing.cup.mark))
            .remarks(&said)
    }

    fn part_row(&self, part: &MixPart) -> [String; 4] {
        let mass = part.g.map(|grams| self.mass(grams));
        let from = part.from.as_ref().map(|mark| format!("from {mark}"));
        let from = from.or_else(|| part.apart.then(|| "from the shelf".to_owned()));
        [
            part.name.clone(),
            self.volume(part.ml),
            mass.unwrap_or_default(),
            from.unwrap_or_default(),
        ]
    }
}
