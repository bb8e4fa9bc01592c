//! The shelf: what is left of every material, from packs bought, counts and use.

use crate::logbook::{Reader, Stock};
use crate::numbers::surprise::{FAR, far};
use crate::studio::cups::mixture::Mixture;
use crate::studio::orders::{Bought, BoughtOrder, CountedOrder};
use crate::studio::shelf::materials::called;
use crate::studio::{Answer, Far, FarOf, Limit, Refusal, Studio, Warning, lookup};
use crate::trade::act::Act;
use crate::trade::caution::{Metal, metals_of};
use crate::trade::cup::{Put, PutFrom};
use crate::trade::ids::MaterialId;
use crate::trade::instant::Now;
use crate::trade::material::Material;
use crate::trade::moment::Moment;
use crate::trade::recipe::PartOf;
use crate::trade::units::{Days, Millilitres};
use rust_decimal::prelude::ToPrimitive as _;
use std::collections::HashMap;

/// One material as it stands on the shelf.
#[derive(Debug, Clone)]
pub struct ShelfLine {
    /// The material.
    pub material: Material,
    /// What is left; `None` where none was ever bought or counted. Below zero where more was used than that.
    pub left: Option<Millilitres>,
    /// What was used in the last 30 days.
    pub used_30d: Millilitres,
    /// When the shelf was last counted.
    pub counted_at: Option<Moment>,
}

/// Below so many days of supply a material is to be bought (our own choice).
const SOON: Days = Days(7.0);

impl ShelfLine {
    /// How long what is left lasts if it is used as in the last 30 days; `None` where either is unknown.
    #[must_use]
    pub fn days_of_supply(&self) -> Option<Days> {
        let left = self.left.filter(|left| left.get() >= 0.0)?;
        (!self.used_30d.is_nothing()).then(|| Days(left / self.used_30d * 30.0))
    }

    /// Whether it is to be bought: below a week of supply, or nothing left.
    #[must_use]
    pub fn runs_out_soon(&self) -> bool {
        let none = self.left.is_some_and(|left| left.get() <= 0.0);
        none || self.days_of_supply().is_some_and(|days| days < SOON)
    }

    /// The metals of its pigment that call for care.
    #[must_use]
    pub fn metals(&self) -> &'static [Metal] {
        self.material.colour_index.as_deref().map_or(&[], metals_of)
    }
}

impl Studio {
    /// Every material as it stands on the shelf, by name.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn shelf(&self, now: &Now) -> Answer<Vec<ShelfLine>> {
        shelf(&self.book.read()?, now)
    }

    /// Writes down a purchase: so many packs, or an amount.
    ///
    /// # Errors
    /// Where the material is gone, or a pack's size is not known and no amount is said.
    pub fn bought(&mut self, order: &BoughtOrder, now: &Now) -> Answer<ShelfLine> {
        self.book.commit_as(now.at.into(), |write| {
            let material = lookup::material(&write.read(), order.material)?;
            let ml = bought_ml(&material, order.much)?;
            let priced = priced(&material, order);
            if !order.even_so {
                refuse_far_price(&material, &priced)?;
                refuse_far_purchase(&write.read(), &material, ml)?;
            }
            write.add_stock(&Stock {
                material: material.id,
                at: now.at,
                counted: false,
                ml,
                price: priced.price,
            })?;
            if priced != material {
                write.set_material(&priced)?;
            }
            let line = line(&write.read(), order.material, now)?;
            let material = called(&material);
            Ok((line, Act::Bought { material, ml }))
        })
    }

    /// Writes down what was counted on the shelf; nothing is a count too.
    ///
    /// # Errors
    /// Where the material is gone.
    pub fn counted(&mut self, order: &CountedOrder, now: &Now) -> Answer<ShelfLine> {
        let ml = order.ml;
        self.book.commit_as(now.at.into(), |write| {
            let material = lookup::material(&write.read(), order.material)?;
            if !order.even_so {
                let before = line(&write.read(), order.material, now)?;
                refuse_far_count(&before, ml)?;
            }
            write.add_stock(&Stock {
                material: material.id,
                at: now.at,
                counted: true,
                ml,
                price: None,
            })?;
            let line = line(&write.read(), order.material, now)?;
            let material = called(&material);
            Ok((line, Act::Counted { material, ml }))
        })
    }
}

/// Refuses a count of many times what was thought to be there, and of many packs.
fn refuse_far_count(before: &ShelfLine, counted: Millilitres) -> Answer<()> {
    let Some(left) = before.left else {
        return Ok(());
    };
    let pack = before.material.pack_ml.unwrap_or(Millilitres::ZERO);
    let expected = left.max(pack);
    // Nothing at all is a count too, and far from nothing.
    let many = far(counted.get(), expected.get(), FAR).is_some_and(|times| times > 1.0);
    let few = far(counted.get(), left.get(), FAR).is_some_and(|times| times < 1.0);
    if !many && !few {
        return Ok(());
    }
    Err(Refusal::FarCount {
        material: before.material.name.clone(),
        counted,
        left,
    }
    .into())
}

/// Refuses a price that is many times the one before, or a small part of it.
fn refuse_far_price(before: &Material, after: &Material) -> Answer<()> {
    let both = before.price_per_ml().zip(after.price_per_ml());
    let Some((was, is)) = both.filter(|(was, is)| !was.is_zero() && !is.is_zero()) else {
        return Ok(());
    };
    let times = (is / was).to_f64().unwrap_or(1.0);
    Ok(Far::refuse(FarOf::Price(before.name.clone()), times, 1.0)?)
}

/// Refuses many times the most that was bought at once before, and many packs where that was less than one.
fn refuse_far_purchase(read: &Reader<'_>, material: &Material, ml: Millilitres) -> Answer<()> {
    let name = material.name.clone();
    let most = read.most_bought(material.id)?;
    let (usual, of) = match (most, material.pack_ml) {
        (Some(most), pack) if pack.is_none_or(|pack| most >= pack) => (most, FarOf::Bought(name)),
        (_, Some(pack)) => (pack, FarOf::Packs(name)),
        (Some(most), None) => (most, FarOf::Bought(name)),
        (None, None) => return Ok(()),
    };
    match ml > usual {
        true => Ok(Far::refuse(of, ml.get(), usual.get())?),
        false => Ok(()),
    }
}

/// How much was bought of a material.
fn bought_ml(material: &Material, much: Bought) -> Answer<Millilitres> {
    let packs = match much {
        Bought::Amount(ml) => return Ok(ml),
        Bought::Packs(packs) => packs,
    };
    if !(packs.is_finite() && packs > 0.0 && packs <= 10_000.0) {
        return Err(Refusal::Range(Limit::Packs).into());
    }
    let unknown = || Refusal::NoPack(material.name.clone());
    Ok(material.pack_ml.ok_or_else(unknown)? * packs)
}

/// What is known of its price after a purchase: it is of one pack, or of the amount that it was said beside.
fn priced(before: &Material, order: &BoughtOrder) -> Material {
    let priced_ml = match order.much {
        Bought::Packs(_) => None,
        Bought::Amount(ml) => Some(ml),
    };
    let (price, priced_ml) = match order.price {
        Some(price) => (Some(price), priced_ml),
        // A price of a pack of unknown size was for what is bought now.
        None if before.paid().is_none() => {
            (before.price, priced_ml.filter(|_| before.price.is_some()))
        }
        None => (before.price, before.priced_ml),
    };
    Material {
        price,
        priced_ml,
        ..before.clone()
    }
}

/// One material as it stands on the shelf.
pub(super) fn line(read: &Reader<'_>, material: MaterialId, now: &Now) -> Answer<ShelfLine> {
    let found = shelf_of(read, now, |one| one.id == material.0)?.pop();
    Ok(found.ok_or(Refusal::MaterialGone)?)
}

/// Every material as it stands on the shelf, by name.
pub(crate) fn shelf(read: &Reader<'_>, now: &Now) -> Answer<Vec<ShelfLine>> {
    shelf_of(read, now, |_| true)
}

/// The same of those materials that are wanted: what is left of the others is not added up.
pub(crate) fn shelf_of(
    read: &Reader<'_>,
    now: &Now,
    wanted: impl Fn(&Material) -> bool,
) -> Answer<Vec<ShelfLine>> {
    let mut stock: HashMap<i64, Vec<Stock>> = HashMap::new();
    for one in read.stock()? {
        stock.entry(one.material).or_default().push(one);
    }
    let month_ago = now.at.timestamp_millis() - 30 * 86_400_000;
    let used = read.used_of_each(month_ago)?;
    let line = |material: Material| {
        let stock = stock.remove(&material.id).unwrap_or_default();
        let counted = stock.iter().rposition(|one| one.counted);
        let left = left_of(read, material.id, &stock)?;
        let used_30d = used.get(&material.id).copied().unwrap_or(Millilitres::ZERO);
        let counted_at = counted.map(|place| stock[place].at);
        Ok(ShelfLine {
            left,
            used_30d,
            counted_at,
            material,
        })
    };
    // What is no longer offered comes last.
    let mut materials = read.materials()?;
    materials.retain(wanted);
    materials.sort_by_key(|one| one.retired);
    materials.into_iter().map(line).collect()
}

/// What is left of one material; `None` where none was ever bought or counted.
fn left_of(read: &Reader<'_>, material: i64, stock: &[Stock]) -> Answer<Option<Millilitres>> {
    if stock.is_empty() {
        return Ok(None);
    }
    let counted = stock.iter().rposition(|one| one.counted);
    let since = counted.map_or(i64::MIN, |place| stock[place].at.timestamp_millis());
    let there: Millilitres = stock[counted.unwrap_or(0)..].iter().map(|one| one.ml).sum();
    Ok(Some((there - read.used_since(material, since)?).stored()))
}

/// What the shelf lacks of what just went into a cup: by how much each is below nothing.
pub(in crate::studio) fn overdrawn(
    read: &Reader<'_>,
    mixture: &Mixture,
    puts: &[Put],
) -> Answer<Vec<Warning>> {
    let stock = read.stock()?;
    let mut found = Vec::new();
    for put in puts {
        let PutFrom::Material(id) = put.from else {
            continue;
        };
        let own: Vec<Stock> = stock
            .iter()
            .filter(|one| one.material == id)
            .cloned()
            .collect();
        let left = left_of(read, id, &own)?;
        if let Some(left) = left.filter(|left| left.get() < 0.0) {
            found.push(Warning::Overdrawn {
                material: mixture.name(PartOf::Material(id)),
                needed: put.ml,
                lacks: Millilitres::ZERO - left,
            });
        }
    }
    Ok(found)
}
