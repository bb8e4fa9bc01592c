//! `title`, `sell` and `ledger`: pictures as goods.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::exchange::outgoing::Outgoing;
use crate::studio::orders::{OutgoingKind, SaleField, TitleField, Typed};
use crate::studio::{Answer, Ledger, LedgerLine};
use crate::tell;
use crate::tell::views::{LedgerView, PictureView};
use chrono::Datelike;
use clap::Args;
use rust_decimal::Decimal;
use std::path::PathBuf;

/// What a picture is called.
#[derive(Debug, Args)]
pub struct TitleArguments {
    /// The pour's number
    pub pour: i64,
    /// Its title; "" takes it away
    #[arg(allow_hyphen_values = true, required_unless_present = "asking")]
    pub title: Option<String>,
    /// The price asked
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub asking: Option<String>,
    /// The price is meant, however far it is from the one before
    #[arg(long)]
    pub even_so: bool,
}

/// A sale.
#[derive(Debug, Args)]
pub struct SellArguments {
    /// The pour's number
    pub pour: i64,
    /// For how much
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub price: String,
    /// When: 2026-11-20, yesterday 18:30; now otherwise
    #[arg(long, value_name = "DATE")]
    pub on: Option<String>,
    /// To whom; it leaves the studio only where that is asked for
    #[arg(long, value_name = "NAME", allow_hyphen_values = true)]
    pub to: Option<String>,
    /// Where
    #[arg(long = "where", value_name = "TEXT", allow_hyphen_values = true)]
    pub venue: Option<String>,
    /// Put a sale right that was written down wrongly; what is left out stays
    #[arg(long)]
    pub correct: bool,
    /// The price is meant, however far it is from what was asked
    #[arg(long)]
    pub even_so: bool,
}

/// Which sales.
#[derive(Debug, Args)]
pub struct LedgerArguments {
    /// Of one year; of all otherwise
    #[arg(long, value_name = "2026", allow_hyphen_values = true)]
    pub year: Option<String>,
    /// Into a CSV file
    #[arg(long, value_name = "FILE.csv")]
    pub csv: Option<PathBuf>,
    /// With the names of buyers
    #[arg(long)]
    pub with_names: bool,
    /// Replace a file that is there already
    #[arg(long, requires = "csv")]
    pub replace: bool,
}

impl Desk<'_> {
    pub(super) fn title(&mut self, typed: &TitleArguments) -> Answer<Report> {
        let fields = Typed::default()
            .given(TitleField::Title, typed.title.clone())
            .given(TitleField::Asked, typed.asking.clone());
        let mut order = TitleField::order(&fields, false)?;
        order.even_so = typed.even_so;
        let picture = self.studio.title(typed.pour, &order, &self.now)?;
        let asked = picture
            .asked
            .map(|price| format!("Asked: {}", self.money(price)));
        Ok(Report::of(&PictureView::of(&picture, &self.telling()))
            .line(tell::titled(&picture))
            .lines(asked))
    }

    pub(super) fn sell(&mut self, typed: &SellArguments) -> Answer<Report> {
        let fields = Typed::default()
            .given(SaleField::Price, Some(typed.price.clone()))
            .given(SaleField::When, typed.on.clone())
            .given(SaleField::Buyer, typed.to.clone())
            .given(SaleField::Venue, typed.venue.clone());
        let known = self.studio.known([])?;
        let mut order = SaleField::order(&fields, &self.given(&known))?;
        order.anew = typed.correct;
        order.even_so = typed.even_so;
        let picture = self.studio.sell(typed.pour, &order, &self.now)?;
        let line = tell::sold(typed.pour, &order, &self.settings.currency);
        Ok(Report::of(&PictureView::of(&picture, &self.telling())).line(line))
    }

    pub(super) fn ledger(&mut self, typed: &LedgerArguments) -> Answer<Report> {
        let window = self.time_window(None, typed.year.as_ref(), None)?;
        let ledger = self.studio.ledger(window)?;
        let year = window.from.map(|from| self.now.zone.tell(from).year());
        let (currency, telling) = (&self.settings.currency, self.telling());
        let view = LedgerView::of(&ledger, year, currency, typed.with_names, &telling);
        let report = Report::of(&view);
        if let Some(file) = &typed.csv {
            let names = typed.with_names;
            self.send(Outgoing::Ledger { window, names }, file, typed.replace)?;
            let file = file.display().to_string();
            return Ok(report.line(tell::outgoing::written(OutgoingKind::Ledger, &file)));
        }
        if ledger.lines.is_empty() {
            return Ok(report.line("No picture is sold. Sell one: stillcup sell POUR --price 240"));
        }
        Ok(self.ledger_table(report, &ledger, typed.with_names))
    }

    fn ledger_table(&self, report: Report, ledger: &Ledger, names: bool) -> Report {
        let heads = [
            "sold", "pour", "title", "panel", "price", "paint", "margin", "where", "to",
        ];
        let shown = if names { heads.len() } else { heads.len() - 1 };
        let table = Table::headed(&heads[..shown]).right(&[1, 4, 5, 6]);
        let money = |price: Option<Decimal>| or_dash(price.map(|price| self.money(price)));
        let row = |line: &LedgerLine| {
            let cells = [
                self.day(line),
                line.page.pour.id.to_string(),
                or_dash(line.title.clone()),
                line.page.pour.panel.show(self.settings.measures),
                money(line.price),
                money(line.cost),
                money(line.margin()),
                or_dash(line.venue.clone()),
                or_dash(line.buyer.clone()),
            ];
            cells.into_iter().take(shown)
        };
        let table = ledger
            .lines
            .iter()
            .fold(table, |table, line| table.row(row(line)));
        let sum = tell::outgoing::ledger_sum(ledger, &self.settings.currency);
        report.table(&table).line(format!("in all: {sum}"))
    }

    /// The day on which a picture was sold.
    fn day(&self, line: &LedgerLine) -> String {
        self.now.zone.tell(line.at).format("%Y-%m-%d").to_string()
    }
}
