//! Pictures as goods: titles, prices, sales, and the ledger of what came of them.

use crate::logbook::Writer;
use crate::studio::pours::rack::is_scraped;
use crate::studio::{Answer, Far, FarOf, Limit, PourPage, Refusal, Studio, TimeWindow, lookup};
use crate::trade::act::Act;
use crate::trade::instant::Now;
use crate::trade::judgement::Fate;
use crate::trade::moment::Moment;
use crate::trade::picture::{Picture, Sale};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;
use std::collections::HashMap;

/// What a picture is called and what is asked for it; what is left out stays.
#[derive(Debug, Clone, Default)]
pub struct TitleOrder {
    /// Its title; an empty one takes the title away.
    pub title: Option<String>,
    /// The price asked.
    pub asked: Option<Decimal>,
    /// The price is meant, however far it is from the one before.
    pub even_so: bool,
}

/// A sale.
#[derive(Debug, Clone)]
pub struct SaleOrder {
    /// For how much.
    pub price: Decimal,
    /// When; now otherwise.
    pub at: Option<Moment>,
    /// To whom; of a sale put right, an empty text for no one.
    pub buyer: Option<String>,
    /// Where.
    pub venue: Option<String>,
    /// Whether a sale that stands is put right.
    pub anew: bool,
    /// The price is meant, however far it is from what was asked.
    pub even_so: bool,
}

/// One sold picture in the ledger.
#[derive(Debug, Clone)]
pub struct LedgerLine {
    /// The pour that made it, with its panel.
    pub page: PourPage,
    /// Its title.
    pub title: Option<String>,
    /// When it was sold.
    pub at: Moment,
    /// For how much; `None` where only its judgement says that it was sold.
    pub price: Option<Decimal>,
    /// What its paint cost, start-overs included; `None` where a price or a pack is unknown.
    pub cost: Option<Decimal>,
    /// To whom.
    pub buyer: Option<String>,
    /// Where.
    pub venue: Option<String>,
}

impl LedgerLine {
    /// What it brought over its paint, where both are known.
    #[must_use]
    pub fn margin(&self) -> Option<Decimal> {
        self.price?.checked_sub(self.cost?)
    }
}

/// Sold pictures, the first sold first.
#[derive(Debug, Clone, Default)]
pub struct Ledger {
    /// The pictures.
    pub lines: Vec<LedgerLine>,
}

impl Ledger {
    /// What all of them brought, of those whose price is known.
    #[must_use]
    pub fn takings(&self) -> Decimal {
        self.lines.iter().filter_map(|line| line.price).sum()
    }

    /// What their paint cost; `None` where that of any is unknown.
    #[must_use]
    pub fn cost(&self) -> Option<Decimal> {
        self.lines.iter().map(|line| line.cost).sum()
    }

    /// What they brought over their paint; `None` where a price or a cost is unknown.
    #[must_use]
    pub fn margin(&self) -> Option<Decimal> {
        self.lines.iter().map(LedgerLine::margin).sum()
    }
}

/// Refuses a price that is far from another, where both are known.
fn refuse_far(of: FarOf, said: Option<Decimal>, other: Option<Decimal>) -> Answer<()> {
    let both = said.zip(other);
    let both = both.and_then(|(said, other)| said.to_f64().zip(other.to_f64()));
    match both {
        Some((said, other)) => Ok(Far::refuse(of, said, other)?),
        None => Ok(()),
    }
}

/// The longest text of a picture's page.
const LONGEST: usize = 200;

impl Studio {
    /// Writes down what a picture is called and what is asked for it.
    ///
    /// # Errors
    /// Where there is no such pour, its paint was scraped, or a text is too long.
    pub fn title(&mut self, pour: i64, order: &TitleOrder, now: &Now) -> Answer<Picture> {
        let title = order.title.as_deref().map(proper).transpose()?;
        if title.is_none() && order.asked.is_none() {
            return Err(Refusal::NoTitle.into());
        }
        self.refuse_scraped(pour)?;
        self.book.commit_as(now.at.into(), |write| {
            let mut picture = known(write, pour)?;
            if !order.even_so {
                refuse_far(FarOf::Asked(pour), order.asked, picture.asked)?;
            }
            let before = picture.title.clone();
            picture.title = title.unwrap_or_else(|| before.clone());
            picture.asked = order.asked.or(picture.asked);
            write.set_picture(&picture)?;
            // A form sends the title too, as it stood.
            let only_priced = order.asked.is_some() && picture.title == before;
            let act = match only_priced {
                true => Act::Priced {
                    pour,
                    asked: order.asked,
                },
                false => Act::Titled {
                    pour,
                    title: picture.title.clone(),
                },
            };
            Ok((picture, act))
        })
    }

    /// Writes down that a picture was sold. A judgement with that fate and the last grades goes with it, so that it leaves
    /// the rack.
    ///
    /// # Errors
    /// Where there is no such pour, its paint was scraped, it was sold already, or the instant makes no sense.
    pub fn sell(&mut self, pour: i64, order: &SaleOrder, now: &Now) -> Answer<Picture> {
        let (at, _) = lookup::instant(order.at, now)?;
        let page = self.refuse_scraped(pour)?;
        if at < page.pour.at {
            return Err(Refusal::Range(Limit::Sale).into());
        }
        let text = |text: &Option<String>| -> Answer<Option<String>> {
            Ok(text.as_deref().map(proper).transpose()?.flatten())
        };
        let (buyer, venue) = (text(&order.buyer)?, text(&order.venue)?);
        self.book.commit_as(now.at.into(), |write| {
            let mut picture = known(write, pour)?;
            let was = picture.sale.take();
            match (&was, order.anew) {
                (Some(_), false) => return Err(Refusal::SoldAlready(pour).into()),
                (None, true) => return Err(Refusal::NotSold(pour).into()),
                _ => {}
            }
            if !order.even_so {
                refuse_far(FarOf::Sale(pour), Some(order.price), picture.asked)?;
            }
            let sale = Sale {
                at,
                price: order.price,
                buyer,
                venue,
            };
            let sale = match was.clone() {
                Some(was) => corrected(was, sale, order),
                None => sale,
            };
            if was.as_ref() == Some(&sale) {
                return Err(Refusal::NothingAmended.into());
            }
            picture.sale = Some(sale);
            write.set_picture(&picture)?;
            if was.is_some() {
                let price = order.price;
                return Ok((picture, Act::SaleCorrected { pour, price }));
            }
            judge_sold(write, pour, at)?;
            let price = Some(order.price);
            Ok((picture, Act::Sold { pour, price }))
        })
    }

    /// Every picture sold in a window of time, the first sold first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn ledger(&self, window: TimeWindow) -> Answer<Ledger> {
        let known = self.pictures()?;
        let mut lines = Vec::new();
        for page in self.pours(None)? {
            let picture = known.get(&page.pour.id);
            let Some(at) = sold_at(&page, picture) else {
                continue;
            };
            if !window.holds(at) {
                continue;
            }
            let cost = self.pour_cost(page.pour.id)?.total;
            let sale = picture.and_then(|picture| picture.sale.as_ref());
            lines.push(LedgerLine {
                title: picture.and_then(|picture| picture.title.clone()),
                at,
                price: sale.map(|sale| sale.price),
                cost,
                buyer: sale.and_then(|sale| sale.buyer.clone()),
                venue: sale.and_then(|sale| sale.venue.clone()),
                page,
            });
        }
        lines.sort_by_key(|line| (line.at, line.page.pour.id));
        Ok(Ledger { lines })
    }

    /// What is known of the picture of a pour.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn picture(&self, pour: i64) -> Answer<Picture> {
        let read = self.book.read()?;
        Ok(read.picture(pour)?.unwrap_or_else(|| Picture::of(pour)))
    }

    /// All that is known of pictures, by their pours' numbers.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn pictures(&self) -> Answer<HashMap<i64, Picture>> {
        let all = self.book.read()?.pictures()?.into_iter();
        Ok(all.map(|one| (one.pour, one)).collect())
    }

    fn refuse_scraped(&self, pour: i64) -> Answer<PourPage> {
        let page = self.pour_page(pour)?;
        match is_scraped(&page) {
            true => Err(Refusal::Scraped(pour).into()),
            false => Ok(page),
        }
    }
}

/// Gives a picture its title, inside a commit.
pub(in crate::studio) fn call(write: &mut Writer<'_>, pour: i64, title: &str) -> Answer<()> {
    let mut picture = known(write, pour)?;
    picture.title = proper(title)?;
    write.set_picture(&picture)?;
    Ok(())
}

fn known(write: &Writer<'_>, pour: i64) -> Answer<Picture> {
    let picture = write.read().picture(pour)?;
    Ok(picture.unwrap_or_else(|| Picture::of(pour)))
}

/// A sale put right: what was not said stays.
fn corrected(was: Sale, is: Sale, order: &SaleOrder) -> Sale {
    fn said<T>(said: bool, is: T, was: T) -> T {
        if said { is } else { was }
    }
    Sale {
        at: said(order.at.is_some(), is.at, was.at),
        price: is.price,
        buyer: said(order.buyer.is_some(), is.buyer, was.buyer),
        venue: said(order.venue.is_some(), is.venue, was.venue),
    }
}

/// When a picture was sold: by its sale, else by its judgement.
fn sold_at(page: &PourPage, picture: Option<&Picture>) -> Option<Moment> {
    let sale = picture.and_then(|picture| picture.sale.as_ref());
    sale.map(|sale| sale.at).or_else(|| {
        let mut judged = page.judgements.iter().rev();
        judged
            .find(|one| one.fate == Some(Fate::Sold))
            .map(|one| one.at)
    })
}

/// A picture that was never judged has no grades to repeat: its sale alone says that it is gone.
fn judge_sold(write: &mut Writer<'_>, pour: i64, at: Moment) -> Answer<()> {
    let all = write.read().judgements(pour)?;
    let last = all.iter().rev().find(|one| one.dry).or(all.last());
    let Some(last) = last.filter(|one| one.fate != Some(Fate::Sold)) else {
        return Ok(());
    };
    let mut new = last.clone();
    (new.at, new.fate, new.note) = (at.max(last.at), Some(Fate::Sold), None);
    write.add_judgement(&new)?;
    Ok(())
}

/// A text as it is kept; nothing where it is empty.
fn proper(text: &str) -> Answer<Option<String>> {
    let text = text.trim();
    if text.chars().count() > LONGEST {
        return Err(Refusal::Range(Limit::PictureText).into());
    }
    Ok((!text.is_empty()).then(|| text.to_owned()))
}
