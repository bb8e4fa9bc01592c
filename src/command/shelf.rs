//! `shelf`, `bought` and `counted`: what is left of every material.

use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::command::{Desk, maybe};
use crate::studio::{Answer, ShelfLine};
use crate::tell::views::{ShelfLineView, ShelfView};
use crate::trade::amount::Amount;
use crate::trade::money::parse_price;
use crate::trade::range::parse_packs;
use crate::trade::units::Millilitres;
use clap::Args;

/// A purchase.
#[derive(Debug, Args)]
pub struct BoughtArguments {
    /// The material's name, or its beginning
    pub name: String,
    /// How much in all: 500ml; whole packs otherwise
    #[arg(conflicts_with = "packs", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// How many packs; one otherwise
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub packs: Option<String>,
    /// What one pack cost: 8.90
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub price: Option<String>,
}

/// A count of the shelf.
#[derive(Debug, Args)]
pub struct CountedArguments {
    /// The material's name, or its beginning
    pub name: String,
    /// How much is there: 180ml, or 0 for none
    #[arg(allow_hyphen_values = true)]
    pub amount: String,
}

impl Desk<'_> {
    pub(super) fn shelf(&mut self) -> Answer<Report> {
        let lines = self.studio.shelf(&self.now)?;
        let report = Report::of(&ShelfView::of(&lines, &self.telling()));
        if lines.is_empty() {
            return Ok(report
                .line("The shelf is empty.")
                .line("Add a material: stillcup material add NAME --kind paint"));
        }
        let rows = lines.iter().map(|line| self.shelf_row(line));
        Ok(report.table(&rows.fold(heads(), Table::row)))
    }

    pub(super) fn bought(&mut self, typed: &BoughtArguments) -> Answer<Report> {
        let amount = maybe(typed.amount.as_deref(), |text| {
            self.shelf_amount(&typed.name, text)
        })?;
        let packs = maybe(typed.packs.as_deref(), parse_packs)?;
        let price = maybe(typed.price.as_deref(), parse_price)?;
        let bought = self
            .studio
            .bought(&typed.name, packs, amount, price, &self.now)?;
        Ok(self.shelf_report(&bought))
    }

    pub(super) fn counted(&mut self, typed: &CountedArguments) -> Answer<Report> {
        let ml = match typed.amount.trim() {
            "0" | "0ml" | "0 ml" => Millilitres::ZERO,
            text => self.shelf_amount(&typed.name, text)?,
        };
        let counted = self.studio.counted(&typed.name, ml, &self.now)?;
        Ok(self.shelf_report(&counted))
    }

    /// An amount of a material; a weight needs its density.
    fn shelf_amount(&self, name: &str, text: &str) -> Answer<Millilitres> {
        let amount = Amount::parse(text)?;
        let material = self.studio.material(name)?;
        Ok(amount.volume(material.density)?.stored())
    }

    fn shelf_report(&self, line: &ShelfLine) -> Report {
        let report = Report::of(&ShelfLineView::of(line, &self.telling()));
        report.table(&heads().row(self.shelf_row(line)))
    }

    fn shelf_row(&self, line: &ShelfLine) -> [String; 7] {
        [
            line.material.name.clone(),
            line.material.kind.to_string(),
            or_dash(line.left.map(|left| self.volume(left))),
            self.volume(line.used_30d),
            or_dash(line.lasts()),
            or_dash(line.counted_at.map(|at| self.clock(at))),
            care(line),
        ]
    }
}

fn heads() -> Table {
    let heads = [
        "material",
        "kind",
        "left",
        "used in 30 days",
        "lasts",
        "counted",
        "care",
    ];
    Table::headed(&heads).right(&[2, 3, 4])
}

/// What calls for care: the pigment's metals by its Colour Index name, and what the label warns of.
fn care(line: &ShelfLine) -> String {
    let metals = line.metals().iter().map(ToString::to_string);
    metals
        .chain(line.material.hazard.clone())
        .collect::<Vec<_>>()
        .join("; ")
}
