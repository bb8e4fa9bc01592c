//! Where the paint of a planned cup really went: onto the plan's own panel, or elsewhere.

use crate::logbook::Reader;
use crate::studio::cups::tend;
use crate::studio::{Answer, Warning};
use crate::trade::cup::{Cup, DrawnInto};
use crate::trade::panel::{Panel, Shape};
use crate::trade::plan::{Plan, PlannedCup};
use crate::trade::units::{Millilitres, Millimetres};

/// A panel whose sides differ by no more than this share from the planned one's is that one (ours).
const SAME_SIDE: f64 = 0.05;
/// A cup that holds less than this share of what was planned serves the plan no more (ours).
const SERVES: f64 = 0.5;

/// A planned cup's paint since it was planned.
pub(super) struct Went {
    pub(super) cup: Cup,
    /// How much of it lies on the plan's own panels.
    pub(super) poured: Millilitres,
    /// The pours on other panels that took of it.
    pub(super) elsewhere: Vec<i64>,
    /// Whether it serves the plan no more, and never did.
    pub(super) gone: bool,
}

/// What became of a planned cup; `None` where none was mixed.
pub(super) fn of(read: &Reader<'_>, plan: &Plan, planned: &PlannedCup) -> Answer<Option<Went>> {
    let cup = planned.cup.map(|id| read.cup(id)).transpose()?.flatten();
    let Some(cup) = cup else {
        return Ok(None);
    };
    let (mut poured, mut elsewhere) = (Millilitres::ZERO, Vec::new());
    let entries = read.entries(cup.id)?;
    // One that stood already when it was planned may have been poured before.
    let stood = cup.mixed_at < plan.at;
    let since = entries.iter().filter(|one| !stood || one.at > plan.at);
    for (ml, into) in since.filter_map(|entry| entry.what.drawn()) {
        let DrawnInto::Pour(pour) = into else {
            continue;
        };
        match read.pour(pour)? {
            Some(pour) if !is_same(pour.panel, plan.panels.panel) => elsewhere.push(pour.id),
            // Scraped off again: no panel of the plan has it.
            Some(pour) if read.scraped_for(pour.id)?.is_some() => elsewhere.push(pour.id),
            _ => poured += ml,
        }
    }
    let life = tend::life(read, &cup)?;
    let short = life.ended.is_some() || life.left.get() < planned.ml.get() * SERVES;
    Ok(Some(Went {
        gone: poured.is_nothing() && short,
        cup,
        poured,
        elsewhere,
    }))
}

/// Whether a place of a plan is still to be mixed: no cup is, or the one that was went elsewhere.
pub(super) fn is_open(read: &Reader<'_>, plan: &Plan, planned: &PlannedCup) -> Answer<bool> {
    Ok(of(read, plan, planned)?.is_none_or(|went| went.gone))
}

/// The cups of a plan that went elsewhere.
pub(super) fn warnings(read: &Reader<'_>, plan: &Plan) -> Answer<Vec<Warning>> {
    let went = plan.cups.iter().map(|planned| of(read, plan, planned));
    let went = went.collect::<Answer<Vec<_>>>()?.into_iter().flatten();
    let gone = went.filter(|went| went.gone);
    Ok(gone
        .map(|went| Warning::WentElsewhere {
            mark: went.cup.mark,
            pours: went.elsewhere,
        })
        .collect())
}

/// Whether a panel is as good as another one, whichever way it is turned.
fn is_same(one: Panel, other: Panel) -> bool {
    let ((a, one), (b, other)) = (sides(one.shape), sides(other.shape));
    let near = |(one, other): (&Millimetres, &Millimetres)| {
        (one.get() - other.get()).abs() <= SAME_SIDE * other.get()
    };
    a == b && one.iter().zip(&other).all(near)
}

/// Which outline, and its sides, the shorter first.
fn sides(shape: Shape) -> (u8, [Millimetres; 2]) {
    let (outline, one, other) = match shape {
        Shape::Rectangle { width, height } => (0, width, height),
        Shape::Round { diameter } => (1, diameter, diameter),
        Shape::Oval { width, height } => (2, width, height),
    };
    match one.get() <= other.get() {
        true => (outline, [one, other]),
        false => (outline, [other, one]),
    }
}
