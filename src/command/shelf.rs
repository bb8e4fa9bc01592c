//! `shelf`, `bought` and `counted`: what is left of every material.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::{or_dash, retired};
use crate::studio::orders::{BoughtField, BoughtOrder, CountedField, CountedOrder, Typed};
use crate::studio::{Answer, ShelfLine};
use crate::tell::views::{ShelfLineView, ShelfView};
use crate::tell::{self, care};
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
    /// What one pack cost, or all of the amount: 8.90; as before otherwise
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub price: Option<String>,
    /// Keep it though the price or the amount is far from those before
    #[arg(long)]
    pub even_so: bool,
}

/// A count of the shelf.
#[derive(Debug, Args)]
pub struct CountedArguments {
    /// The material's name, or its beginning
    pub name: String,
    /// How much is there: 180ml, or 0 for none
    #[arg(allow_hyphen_values = true)]
    pub amount: String,
    /// Keep it though it is far more or less than was thought to be there
    #[arg(long)]
    pub even_so: bool,
}

impl BoughtArguments {
    fn typed(self) -> Typed<BoughtField> {
        Typed::default()
            .given(BoughtField::Material, Some(self.name))
            .given(BoughtField::Packs, self.packs)
            .given(BoughtField::Amount, self.amount)
            .given(BoughtField::Price, self.price)
    }
}

impl CountedArguments {
    fn typed(self) -> Typed<CountedField> {
        Typed::default()
            .given(CountedField::Material, Some(self.name))
            .given(CountedField::Amount, Some(self.amount))
    }
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

    pub(super) fn bought(&mut self, typed: BoughtArguments) -> Answer<Report> {
        let known = self.studio.known([])?;
        let even_so = typed.even_so;
        let order = BoughtOrder::read(&typed.typed(), &self.given(&known))?;
        let order = BoughtOrder { even_so, ..order };
        let bought = self.studio.bought(&order, &self.now)?;
        Ok(self.shelf_report(&bought))
    }

    pub(super) fn counted(&mut self, typed: CountedArguments) -> Answer<Report> {
        let known = self.studio.known([])?;
        let even_so = typed.even_so;
        let order = CountedOrder::read(&typed.typed(), &self.given(&known))?;
        let order = CountedOrder { even_so, ..order };
        let counted = self.studio.counted(&order, &self.now)?;
        Ok(self.shelf_report(&counted))
    }

    fn shelf_report(&self, line: &ShelfLine) -> Report {
        let report = Report::of(&ShelfLineView::of(line, &self.telling()));
        report.table(&heads().row(self.shelf_row(line)))
    }

    fn shelf_row(&self, line: &ShelfLine) -> [String; 8] {
        [
            retired(&line.material.name, line.material.retired),
            line.material.kind.to_string(),
            or_dash(line.left.map(|left| self.volume(left))),
            self.volume(line.used_30d),
            or_dash(tell::lasts(line)),
            or_dash(line.counted_at.map(|at| self.clock(at))),
            or_dash(tell::price_each(
                &line.material,
                &self.settings.currency,
                self.settings.measures,
            )),
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
        "price",
        "care",
    ];
    Table::headed(&heads).right(&[2, 3, 4, 6])
}
