//! What was left of a material day by day, and when it ends if it is used as in the last 30 days.

use crate::logbook::{Reader, Stock};
use crate::studio::shelf::stock::line;
use crate::studio::{Answer, Studio};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::moment::{Moment, earlier, later};
use crate::trade::units::Millilitres;
use chrono::TimeDelta;

/// How many days are looked back on.
pub const DAYS: i64 = 60;

/// What was left of a material over time.
#[derive(Debug, Clone, PartialEq)]
pub struct StockCourse {
    /// The material.
    pub material: MaterialId,
    /// What was left at this time of each day, the oldest first and now last; `None` before any was bought or counted.
    pub days: Vec<Option<Millilitres>>,
    /// When nothing is left at the rate of the last 30 days; `None` where that cannot be told.
    pub ends: Option<Moment>,
}

impl Studio {
    /// What was left of a material in the last days.
    ///
    /// # Errors
    /// Where it is gone, or the store cannot be read.
    pub fn stock_course(&self, material: MaterialId, now: &Now) -> Answer<StockCourse> {
        let read = self.book.read()?;
        let shelf = line(&read, material, now)?;
        let ends = shelf.days_of_supply().and_then(|days| {
            let seconds = TimeDelta::try_seconds((days.get() * 86_400.0) as i64)?;
            Some(later(now.at, seconds))
        });
        let moves = Moves::read(&read, material, earlier(now.at, TimeDelta::days(DAYS)))?;
        let day = |back: i64| moves.left_at(earlier(now.at, TimeDelta::days(back)));
        Ok(StockCourse {
            material,
            days: (0..=DAYS).rev().map(day).collect(),
            ends,
        })
    }
}

/// What came and went of one material.
struct Moves {
    from: i64,
    stock: Vec<Stock>,
    /// What was used after `from`, in order of time.
    used: Vec<(i64, Millilitres)>,
    /// What was used from the last count before `from` until then.
    before: Millilitres,
}

impl Moves {
    fn read(read: &Reader<'_>, material: MaterialId, from: Moment) -> Answer<Self> {
        let from = from.timestamp_millis();
        let mut stock = read.stock()?;
        stock.retain(|one| one.material == material.0);
        let since = counted(&stock, from).map_or(i64::MIN, |place| ms(&stock[place]));
        let all = read.used_since(material.0, since)?;
        Ok(Self {
            from,
            before: all - read.used_since(material.0, from)?,
            used: read.uses_since(material.0, from)?,
            stock,
        })
    }

    /// What was left at an instant within the days looked back on.
    fn left_at(&self, at: Moment) -> Option<Millilitres> {
        let at = at.timestamp_millis();
        let count = counted(&self.stock, at);
        let since = count.map_or(i64::MIN, |place| ms(&self.stock[place]));
        let own = self.stock.iter().skip(count.unwrap_or(0));
        let there: Vec<Millilitres> = own.filter(|one| ms(one) <= at).map(|one| one.ml).collect();
        let used = self
            .used
            .iter()
            .filter(|(when, _)| *when > since && *when <= at);
        let used: Millilitres = used.map(|(_, ml)| *ml).sum();
        let before = if since <= self.from {
            self.before
        } else {
            Millilitres::ZERO
        };
        let there: Option<Millilitres> = (!there.is_empty()).then(|| there.into_iter().sum());
        there.map(|there| (there - used - before).stored())
    }
}

/// The last count until an instant.
fn counted(stock: &[Stock], at: i64) -> Option<usize> {
    stock.iter().rposition(|one| one.counted && ms(one) <= at)
}

fn ms(stock: &Stock) -> i64 {
    stock.at.timestamp_millis()
}
