//! What a cup, a pour or a picture cost.

use crate::logbook::Reader;
use crate::numbers::cost::{self, Cost as Sum, Money, Purchase};
use crate::studio::cups::mixture::Mixture;
use crate::studio::orders::CostOf;
use crate::studio::{Answer, Refusal, Studio, lookup};
use crate::trade::cup::{Cup, PutFrom};
use crate::trade::mark::Mark;
use crate::trade::pour::Pour;
use crate::trade::recipe::PartOf;
use crate::trade::units::Millilitres;
use rust_decimal::Decimal;

/// One line of a cost.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// What it is for.
    pub what: CostFor,
    /// How much paint.
    pub ml: Millilitres,
    /// What it cost; `None` where a price or a pack is unknown.
    pub cost: Option<Decimal>,
}

/// What a line of a cost is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CostFor {
    /// The layer of a pour, by the mark of its cup; `None` where the cup is gone.
    Layer(i64, Option<Mark>),
    /// A material of a name.
    Material(String),
    /// Paint out of the cup with the mark; `None` where the cup is gone.
    Cup(Option<Mark>),
    /// Thinner of which nobody said what it was.
    Thinner,
}

/// What something cost, line by line.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// The lines.
    pub lines: Vec<CostLine>,
    /// Their sum; `None` where that of any is unknown.
    pub total: Option<Decimal>,
    /// What is known of it.
    pub known: Decimal,
    /// How many lines have no price.
    pub unpriced: usize,
}

impl Cost {
    /// Each line to a hundredth, as it is shown, so that a reader who adds them up finds the same sum.
    fn shown(mut lines: Vec<CostLine>) -> Self {
        for line in &mut lines {
            line.cost = line.cost.map(|cost| cost.round_dp(2));
        }
        Self::of(lines)
    }

    fn of(lines: Vec<CostLine>) -> Self {
        let parts = lines.iter().map(|line| Sum::of(line.cost.map(Money)));
        // A sum too large to be written is not known either.
        let sum = Sum::total(parts).unwrap_or(Sum::of(None));
        Self {
            total: (sum.unknown == 0).then_some(sum.known.0),
            known: sum.known.0,
            unpriced: sum.unknown,
            lines,
        }
    }
}

/// Cups filled from cups are followed so deep; deeper only in a damaged store.
const DEEPEST: u8 = 32;

impl Studio {
    /// What a cup or a picture cost.
    ///
    /// # Errors
    /// Where there is no such cup or pour, or the store cannot be read.
    pub fn cost(&self, of: &CostOf) -> Answer<Cost> {
        match of {
            CostOf::Cup(mark) => self.cup_cost(mark),
            CostOf::Pour(pour) => self.pour_cost(*pour),
        }
    }

    /// What a cup cost: its parts and its thinner.
    ///
    /// # Errors
    /// Where no cup bears the mark, or the store cannot be read.
    fn cup_cost(&self, mark: &Mark) -> Answer<Cost> {
        let read = self.book.read()?;
        let cup = lookup::cup_marked(&read, mark.as_str())?;
        let mixture = Mixture::read(&read)?;
        Ok(Cost::shown(cup_lines(&read, &mixture, &cup, 0)?))
    }

    /// What a picture cost: the layers of a pour and of the start-overs that were scraped before it.
    ///
    /// # Errors
    /// Where there is no such pour, or the store cannot be read.
    pub fn pour_cost(&self, id: i64) -> Answer<Cost> {
        let read = self.book.read()?;
        let mixture = Mixture::read(&read)?;
        let mut lines = Vec::new();
        let mut next = Some(id);
        while let Some(id) = next {
            let pour = read.pour(id)?.ok_or(Refusal::NoPour(id))?;
            lines.extend(pour_lines(&read, &mixture, &pour)?);
            next = pour.again_of;
        }
        Ok(Cost::shown(lines))
    }
}

fn pour_lines(read: &Reader<'_>, mixture: &Mixture, pour: &Pour) -> Answer<Vec<CostLine>> {
    let line = |layer: &crate::trade::pour::PouredLayer| {
        let cup = read.cup(layer.cup)?;
        let mark = cup.as_ref().map(|cup| cup.mark.clone());
        let whole = cup
            .map(|cup| cost_of_whole(read, mixture, &cup, 0))
            .transpose()?
            .flatten();
        Ok(CostLine {
            what: CostFor::Layer(pour.id, mark),
            ml: layer.ml,
            cost: whole.and_then(|whole| share_of(whole, layer.ml)),
        })
    };
    pour.layers.iter().map(line).collect()
}

fn cup_lines(read: &Reader<'_>, mixture: &Mixture, cup: &Cup, depth: u8) -> Answer<Vec<CostLine>> {
    let mut lines = Vec::new();
    for put in read.puts(cup.id)? {
        let (what, cost) = match put.from {
            PutFrom::Material(id) => {
                let of = PartOf::Material(id);
                (
                    CostFor::Material(mixture.name(of)),
                    mixture.cost(of, put.ml),
                )
            }
            PutFrom::Cup(id) => drawn_cost(read, mixture, id, put.ml, depth)?,
        };
        lines.push(CostLine {
            what,
            ml: put.ml,
            cost,
        });
    }
    for entry in read.entries(cup.id)? {
        if let Some((ml, from)) = entry.what.added() {
            let (what, cost) = match from {
                PutFrom::Material(id) => {
                    let of = PartOf::Material(id);
                    (CostFor::Material(mixture.name(of)), mixture.cost(of, ml))
                }
                PutFrom::Cup(id) => drawn_cost(read, mixture, id, ml, depth)?,
            };
            lines.push(CostLine { what, ml, cost });
        }
        if let Some((ml, with)) = entry.what.thinned() {
            // Thinner of no name is taken for water from the tap, which costs nothing here.
            let of = with.map(PartOf::Material);
            let named = |of| CostFor::Material(mixture.name(of));
            let what = of.map_or(CostFor::Thinner, named);
            let cost = of.map_or(Some(Decimal::ZERO), |of| mixture.cost(of, ml));
            lines.push(CostLine { what, ml, cost });
        }
    }
    Ok(lines)
}

fn drawn_cost(
    read: &Reader<'_>,
    mixture: &Mixture,
    from: i64,
    ml: Millilitres,
    depth: u8,
) -> Answer<(CostFor, Option<Decimal>)> {
    let Some(cup) = read.cup(from)? else {
        return Ok((CostFor::Cup(None), None));
    };
    let whole = cost_of_whole(read, mixture, &cup, depth + 1)?;
    let cost = whole.and_then(|whole| share_of(whole, ml));
    Ok((CostFor::Cup(Some(cup.mark)), cost))
}

/// What all that ever went into a cup cost.
fn cost_of_whole(
    read: &Reader<'_>,
    mixture: &Mixture,
    cup: &Cup,
    depth: u8,
) -> Answer<Option<Purchase>> {
    if depth > DEEPEST {
        return Ok(None);
    }
    let lines = cup_lines(read, mixture, cup, depth)?;
    let volume = lines.iter().map(|line| line.ml).sum();
    let price = Cost::of(lines).total.map(Money);
    Ok(price.map(|price| Purchase { price, volume }))
}

fn share_of(whole: Purchase, ml: Millilitres) -> Option<Decimal> {
    cost::of_part(ml, whole).ok().map(|cost| cost.0)
}
