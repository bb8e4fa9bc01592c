//! A picture as goods: its title, what is asked for it, and its sale.

use crate::trade::moment::Moment;
use rust_decimal::Decimal;

/// What is known of the picture that a pour made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The pour that made it.
    pub pour: i64,
    /// What it is called.
    pub title: Option<String>,
    /// What is asked for it, in the studio's currency.
    pub asked: Option<Decimal>,
    /// Its sale, once it is sold.
    pub sale: Option<Sale>,
}

/// A sale.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sale {
    /// When.
    pub at: Moment,
    /// For how much, in the studio's currency.
    pub price: Decimal,
    /// To whom; it leaves the studio only where that is asked for.
    pub buyer: Option<String>,
    /// Where it was sold.
    pub venue: Option<String>,
}

impl Picture {
    /// One of which nothing is known yet.
    #[must_use]
    pub const fn of(pour: i64) -> Self {
        Self {
            pour,
            title: None,
            asked: None,
            sale: None,
        }
    }
}
