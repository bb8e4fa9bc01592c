//! Pictures as goods: a title and a price, a sale, the ledger. Money is decimal text.

use super::Telling;
use crate::studio::{Ledger, LedgerLine};
use crate::trade::picture::{Picture, Sale};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

/// A picture.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PictureView {
    pour: i64,
    title: Option<String>,
    #[schemars(with = "Option<String>")]
    asked: Option<Decimal>,
    sold: Option<SaleView>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
struct SaleView {
    at: String,
    #[schemars(with = "String")]
    price: Decimal,
    to: Option<String>,
    #[serde(rename = "where")]
    venue: Option<String>,
}

/// The ledger.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LedgerView {
    year: Option<i32>,
    currency: Option<String>,
    /// The first sold first.
    pub pictures: Vec<LedgerLineView>,
    #[schemars(with = "String")]
    takings: Decimal,
    /// Null where that of any is unknown.
    #[schemars(with = "Option<String>")]
    cost: Option<Decimal>,
    #[schemars(with = "Option<String>")]
    margin: Option<Decimal>,
}

/// One sold picture.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LedgerLineView {
    /// The pour that made it.
    pub pour: i64,
    /// Its title.
    pub title: Option<String>,
    /// What it was poured on.
    pub panel: String,
    /// When it was sold.
    pub sold_at: String,
    /// For how much; null where only its judgement says that it was sold.
    #[schemars(with = "Option<String>")]
    pub price: Option<Decimal>,
    /// What its paint cost; null where a price or a pack is unknown.
    #[schemars(with = "Option<String>")]
    pub cost: Option<Decimal>,
    /// What it brought over its paint.
    #[schemars(with = "Option<String>")]
    pub margin: Option<Decimal>,
    /// Where.
    #[serde(rename = "where")]
    pub venue: Option<String>,
    /// To whom; left out unless names were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
}

impl PictureView {
    /// A picture.
    #[must_use]
    pub fn of(picture: &Picture, telling: &Telling<'_>) -> Self {
        Self {
            pour: picture.pour,
            title: picture.title.clone(),
            asked: picture.asked,
            sold: picture
                .sale
                .as_ref()
                .map(|sale| SaleView::of(sale, telling)),
        }
    }
}

impl SaleView {
    fn of(sale: &Sale, telling: &Telling<'_>) -> Self {
        Self {
            at: telling.stamp(sale.at),
            price: sale.price,
            to: sale.buyer.clone(),
            venue: sale.venue.clone(),
        }
    }
}

impl LedgerView {
    /// The sales of a year, or all; `names` keeps those of buyers.
    #[must_use]
    pub fn of(
        ledger: &Ledger,
        year: Option<i32>,
        currency: &str,
        names: bool,
        telling: &Telling<'_>,
    ) -> Self {
        let lines = ledger.lines.iter();
        Self {
            year,
            currency: Some(currency.to_owned()).filter(|one| !one.is_empty()),
            pictures: lines
                .map(|line| LedgerLineView::of(line, names, telling))
                .collect(),
            takings: ledger.takings(),
            cost: ledger.cost(),
            margin: ledger.margin(),
        }
    }
}

impl LedgerLineView {
    fn of(line: &LedgerLine, names: bool, telling: &Telling<'_>) -> Self {
        Self {
            pour: line.page.pour.id,
            title: line.title.clone(),
            panel: line.page.pour.panel.to_string(),
            sold_at: telling.stamp(line.at),
            price: line.price,
            cost: line.cost,
            margin: line.margin(),
            venue: line.venue.clone(),
            to: line.buyer.clone().filter(|_| names),
        }
    }
}
