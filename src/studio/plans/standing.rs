//! Cups that stand already and will be of use at a pour: what a plan needs not mix again.

use crate::logbook::Reader;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::learned::Learned;
use crate::studio::plans::plan::PlanLayer;
use crate::studio::plans::went;
use crate::studio::{Answer, Note};
use crate::trade::cup::Cup;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::plan::{Plan, PlannedCup};
use crate::trade::units::Millilitres;
use std::collections::{BTreeMap, BTreeSet};

/// What is left in a cup is counted on from so much on (ours).
const COUNTED_FROM: Millilitres = Millilitres(10.0);

/// Less than this cannot be measured into a cup well: rather less is taken from what stands (ours).
const LEAST: Millilitres = Millilitres(20.0);

/// How a cup that stands will be of use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Usable {
    /// As it is.
    Ready,
    /// As it is until then; by the pour it may have thickened.
    Until(Moment),
    /// Once its bubbles are gone.
    Clears(Moment),
    /// Once it was read, and brought back where it has thickened.
    Read,
}

/// A cup that stands for a planned layer, or for a part of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// The cup.
    pub cup: i64,
    /// Its mark.
    pub mark: Mark,
    /// How it will be of use.
    pub usable: Usable,
}

impl Standing {
    pub(super) fn of(status: &CupStatus, pour_at: Option<Moment>) -> Self {
        let holds = |until: &Moment| pour_at.is_some_and(|pour| *until >= pour);
        let usable = match (status.state, status.ready_until) {
            (State::Ready, Some(until)) if !holds(&until) => Usable::Until(until),
            (State::Ready, _) => Usable::Ready,
            (State::Resting, _) => Usable::Clears(status.life.clears_at),
            _ => Usable::Read,
        };
        Self {
            cup: status.cup.id,
            mark: status.cup.mark.clone(),
            usable,
        }
    }
}

/// What stands and is spoken for by no plan that is still to be poured.
#[derive(Debug, Default)]
pub(crate) struct Spare(Vec<(CupStatus, Millilitres)>);

impl Spare {
    /// The ready and resting cups, the oldest first; of those that rest the ones that clear by the pour, where its time is
    /// said.
    pub(crate) fn read(
        read: &Reader<'_>,
        learned: &Learned,
        pour_at: Option<Moment>,
        now: &Now,
    ) -> Answer<Self> {
        let taken = spoken_for(read, now)?;
        let clears = |one: &CupStatus| pour_at.is_none_or(|pour| one.life.clears_at <= pour);
        let serves = |one: &CupStatus| match one.state {
            State::Ready => true,
            State::Resting => !one.life.gelled && clears(one),
            _ => false,
        };
        let mut spare = Vec::new();
        for cup in read.living_cups()? {
            let promised = taken.get(&cup.id).copied().unwrap_or(Millilitres::ZERO);
            let stands = learned.stand(read, cup, now)?;
            let left = stands.life.left - promised;
            if serves(&stands) && left >= COUNTED_FROM {
                spare.push((stands, left));
            }
        }
        spare.sort_by_key(|(one, _)| (one.cup.mixed_at, one.cup.id));
        Ok(Self(spare))
    }

    /// Takes so much of a variant: of the oldest cup that is enough, else of each in turn.
    pub(crate) fn take(
        &mut self,
        variant: i64,
        wanted: Millilitres,
        pour_at: Option<Moment>,
    ) -> Vec<(Standing, Millilitres)> {
        let own = |one: &&mut (CupStatus, Millilitres)| {
            one.0.cup.variant == variant && one.1 >= Millilitres::DROP
        };
        let mut own: Vec<_> = self.0.iter_mut().filter(own).collect();
        let wanted = to_take(wanted, own.iter().map(|one| one.1).sum());
        let enough = |one: &&mut (CupStatus, Millilitres)| one.1 + Millilitres::DROP >= wanted;
        if let Some(one) = own.iter().position(enough) {
            own = vec![own.swap_remove(one)];
        }
        let (mut lacks, mut taken) = (wanted, Vec::new());
        for (status, left) in own {
            if lacks.is_nothing() {
                break;
            }
            let ml = lacks.min(*left);
            (*left, lacks) = (*left - ml, lacks - ml);
            taken.push((Standing::of(status, pour_at), ml));
        }
        taken
    }
}

/// The cups that plans which are still to be poured count on, and how much of each.
fn spoken_for(read: &Reader<'_>, now: &Now) -> Answer<BTreeMap<i64, Millilitres>> {
    let plans = read.plans()?.into_iter();
    let open = plans.filter(|plan| plan.pour_at.is_some_and(|at| at >= now.at));
    let mut taken = BTreeMap::new();
    for plan in open {
        for planned in &plan.cups {
            // What was poured for it, or went elsewhere, is promised to it no more.
            let waits = |went: &went::Went| !went.gone && went.poured.is_nothing();
            let went = went::of(read, &plan, planned)?.filter(waits);
            if let Some(went) = went {
                let promised = taken.entry(went.cup.id).or_insert(Millilitres::ZERO);
                *promised += planned.ml;
            }
        }
    }
    Ok(taken)
}

/// How much of a layer is taken from what stands, so that what is left to be mixed can be measured.
fn to_take(whole: Millilitres, stands: Millilitres) -> Millilitres {
    let lacks = whole - stands;
    match lacks >= Millilitres::DROP && lacks < LEAST {
        true => (whole - LEAST).max(Millilitres::ZERO),
        false => whole,
    }
}

/// What is mixed of a layer of which so much is taken from what stands.
pub(crate) fn left_to_mix(whole: Millilitres, taken: Millilitres) -> Millilitres {
    let lacks = whole - taken;
    match lacks < Millilitres::DROP {
        true => Millilitres::ZERO,
        false => lacks,
    }
}

/// The cup that stood already when a plan was kept that counts on it, as it stands now.
pub(super) fn of_kept(
    read: &Reader<'_>,
    learned: &Learned,
    plan: &Plan,
    planned: &PlannedCup,
    now: &Now,
) -> Answer<Option<Standing>> {
    let cup = planned.cup.map(|id| read.cup(id)).transpose()?.flatten();
    let stood = |cup: &Cup| cup.mixed_at < plan.at;
    let Some(cup) = cup.filter(stood) else {
        return Ok(None);
    };
    if went::is_open(read, plan, planned)? {
        return Ok(None);
    }
    let status = learned.stand(read, cup, now)?;
    Ok(Some(Standing::of(&status, plan.pour_at)))
}

/// What is to be known of the cups that stand for some layers: of each variant once.
pub(super) fn notes(layers: &[PlanLayer]) -> Vec<Note> {
    let mut seen = BTreeSet::new();
    let standing = layers.iter().filter(|layer| layer.standing.is_some());
    let first = standing.filter(|layer| seen.insert(layer.variant.id));
    let note = |layer: &PlanLayer| {
        let same = || {
            layers
                .iter()
                .filter(|one| one.variant.id == layer.variant.id)
        };
        let from = same().filter_map(|one| Some((one.standing.clone()?, one.ml)));
        let mixed = same().filter(|one| one.standing.is_none());
        Note::CupServes {
            variant: layer.variant_ref(),
            from: from.collect(),
            mixed: mixed.map(|one| one.ml).sum(),
        }
    };
    first.map(note).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_to_be_mixed_can_be_measured() {
        let ml = |whole, stands| to_take(Millilitres(whole), Millilitres(stands)).get();
        assert_eq!(ml(345.0, 320.0), 345.0);
        // 5 ml are no cup: 20 are mixed, and 325 taken.
        assert_eq!(ml(345.0, 340.0), 325.0);
        assert_eq!(ml(345.0, 345.0), 345.0);
        // A layer of 15 ml is mixed whole.
        assert_eq!(ml(15.0, 5.0), 0.0);
    }
}
