//! What a cup's lid says: the facts that a label bears.

use crate::logbook::Reader;
use crate::studio::cups::add::all_in;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mixture::Mixture;
use crate::studio::{Answer, CupStatus, Refusal, Studio, lookup};
use crate::trade::caution::{self, Metal};
use crate::trade::cup::{Cup, PutFrom};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::units::Millilitres;

/// Whose lids.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lids {
    /// The cups of these marks, in this order.
    Marked(Vec<String>),
    /// Every living cup, in the order they were mixed.
    Living,
    /// The cups that were mixed for a plan.
    Plan(i64),
}

/// What one lid says.
#[derive(Debug, Clone)]
pub struct Lid {
    /// The cup as it stands.
    pub standing: CupStatus,
    /// When its bubbles are gone, where they still rise.
    pub clears: Option<Moment>,
    /// What went in: names and amounts.
    pub parts: Vec<(String, Millilitres)>,
    /// What the labels of its materials warn of, in their words.
    pub hazards: Vec<String>,
    /// The metals in its pigments.
    pub metals: Vec<Metal>,
}

/// Cups filled from cups are followed so deep; deeper only in a damaged store.
const DEEPEST: u8 = 32;

impl Studio {
    /// What the lids of some cups say.
    ///
    /// # Errors
    /// Where a mark is on no living cup, there is no such plan, or the store cannot be read.
    pub fn lids(&self, whose: &Lids, now: &Now) -> Answer<Vec<Lid>> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let cups = cups_of(&read, whose)?;
        cups.into_iter()
            .map(|cup| lid(&read, &learned, cup, now))
            .collect()
    }
}

fn cups_of(read: &Reader<'_>, whose: &Lids) -> Answer<Vec<Cup>> {
    match whose {
        Lids::Marked(marks) => marks
            .iter()
            .map(|mark| lookup::living_cup(read, mark))
            .collect(),
        Lids::Living => {
            let mut cups = read.living_cups()?;
            cups.sort_by_key(|cup| cup.id);
            Ok(cups)
        }
        Lids::Plan(id) => {
            let plan = read.plan(*id)?.ok_or(Refusal::NoPlan(*id))?;
            let mixed = plan.cups.iter().filter_map(|planned| planned.cup);
            let cups = mixed
                .map(|cup| Ok(read.cup(cup)?))
                .collect::<Answer<Vec<_>>>()?;
            Ok(cups
                .into_iter()
                .flatten()
                .filter(|cup| !cup.spent)
                .collect())
        }
    }
}

fn lid(read: &Reader<'_>, learned: &Learned, cup: Cup, now: &Now) -> Answer<Lid> {
    let standing = learned.stand(read, cup, now)?;
    let mut found = Found::default();
    found.look_into(read, &learned.mixture, standing.cup.id, 0)?;
    let clears = Some(standing.life.clears_at).filter(|at| *at > now.at);
    Ok(Lid {
        parts: parts(read, &learned.mixture, standing.cup.id)?,
        standing,
        clears,
        hazards: found.hazards,
        metals: found.metals,
    })
}

fn parts(read: &Reader<'_>, mixture: &Mixture, cup: i64) -> Answer<Vec<(String, Millilitres)>> {
    let name = |from| match from {
        PutFrom::Material(id) => Ok(mixture.material(id).map(|one| one.name.clone())),
        PutFrom::Cup(id) => read.cup(id).map(|cup| cup.map(|cup| cup.mark.to_string())),
    };
    let puts = read.puts(cup)?.into_iter();
    puts.map(|put| Ok((name(put.from)?.unwrap_or_default(), put.ml)))
        .collect()
}

/// What was found in a cup and in the cups that went into it.
#[derive(Default)]
struct Found {
    hazards: Vec<String>,
    metals: Vec<Metal>,
}

impl Found {
    fn look_into(
        &mut self,
        read: &Reader<'_>,
        mixture: &Mixture,
        cup: i64,
        depth: u8,
    ) -> Answer<()> {
        if depth > DEEPEST {
            return Ok(());
        }
        for from in all_in(read, cup)? {
            match from {
                PutFrom::Cup(id) => self.look_into(read, mixture, id, depth + 1)?,
                PutFrom::Material(id) => {
                    let Some(material) = mixture.material(id) else {
                        continue;
                    };
                    let pigments = material.colour_index.as_deref().unwrap_or_default();
                    // A paint of several pigments names them with blanks, commas or signs between.
                    let names = pigments.split(|c: char| !c.is_alphanumeric() && c != ':');
                    let metals = names.flat_map(|name| caution::metals_of(name).iter().copied());
                    metals.for_each(|metal| add(&mut self.metals, metal));
                    let hazard = material.hazard.clone();
                    hazard
                        .into_iter()
                        .for_each(|words| add(&mut self.hazards, words));
                }
            }
        }
        Ok(())
    }
}

fn add<T: PartialEq>(list: &mut Vec<T>, one: T) {
    if !list.contains(&one) {
        list.push(one);
    }
}
