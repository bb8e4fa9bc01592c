//! Pouring: the layers, held to the rules of the trade; start-overs.

use crate::logbook::{Reader, Writer};
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mixture::{Mixture, cup_density};
use crate::studio::{
    Answer, Limit, Note, Refusal, Remarks, StackFault, Studio, Warning, cups::tend, facts, lookup,
    pours::stack, trials::trial_run,
};
use crate::trade::act::Act;
use crate::trade::amount::Amount;
use crate::trade::caution::Place;
use crate::trade::cup::{Cup, DrawnInto};
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind, Pour, PouredLayer};
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Density, Millilitres, Millimetres};

/// A layer to be poured.
#[derive(Debug, Clone)]
pub struct LayerOrder {
    /// The cup.
    pub cup: CupId,
    /// How much of it; what was weighed is reckoned by the cup's density.
    pub amount: Amount,
    /// When it lay on the panel, where that was kept step by step.
    pub at: Option<Moment>,
}

impl LayerOrder {
    /// So much of a cup.
    #[must_use]
    pub const fn of(cup: CupId, amount: Amount) -> Self {
        Self {
            cup,
            amount,
            at: None,
        }
    }
}

/// A pour to be written down.
#[derive(Debug, Clone)]
pub struct PourOrder {
    /// What is poured on.
    pub panel: Panel,
    /// The layers, lowest first.
    pub layers: Vec<LayerOrder>,
    /// The technique, in the painter's words.
    pub way: Option<String>,
    /// What was done with the panel, in order.
    pub moves: Vec<Move>,
    /// The air of the room.
    pub air: Option<Air>,
    /// Anything else.
    pub note: Option<String>,
    /// Whether more really came out of a cup than was thought to be in it.
    pub even_so: bool,
    /// When; now otherwise.
    pub at: Option<Moment>,
}

impl PourOrder {
    /// Layers on a panel, now, and nothing else said.
    #[must_use]
    pub const fn on(panel: Panel, layers: Vec<LayerOrder>) -> Self {
        Self {
            panel,
            layers,
            way: None,
            moves: Vec::new(),
            air: None,
            note: None,
            even_so: false,
            at: None,
        }
    }
}

/// A start-over: what is left out is as in the go that is scraped.
#[derive(Debug, Clone, Default)]
pub struct StartOverOrder {
    /// The layers, lowest first.
    pub layers: Vec<LayerOrder>,
    /// The technique.
    pub way: Option<String>,
    /// What was done with the panel.
    pub moves: Vec<Move>,
    /// The air of the room.
    pub air: Option<Air>,
    /// Anything else.
    pub note: Option<String>,
    /// Whether more really came out of a cup than was thought to be in it.
    pub even_so: bool,
    /// When; now otherwise.
    pub at: Option<Moment>,
}

/// A pour that was written down.
#[derive(Debug, Clone)]
pub struct Poured {
    /// The pour.
    pub pour: Pour,
    /// Its cups' marks, lowest first.
    pub marks: Vec<String>,
    /// What was wrong with the stack, and what will happen in it; it was poured all the same.
    pub remarks: Remarks,
}

impl Studio {
    /// What is wrong with a stack of cups, lowest first, without pouring it; with the wet film of each where that is known.
    ///
    /// # Errors
    /// Where a cup is gone or spent, or the store cannot be read.
    pub fn check_stack(
        &self,
        cups: &[CupId],
        films: &[Millimetres],
        now: &Now,
    ) -> Answer<StackCheck> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let stack = cups
            .iter()
            .map(|cup| lookup::living(&read, *cup))
            .map(|cup| learned.stand(&read, cup?, now))
            .collect::<Answer<Vec<_>>>()?;
        let film = (!films.is_empty()).then(|| films.iter().copied().sum());
        let densities = densities(&read, &learned.mixture, &stack)?;
        let mut found = check(&stack, &densities);
        found.faults.extend(film.and_then(stack::odd_film));
        Ok(found)
    }

    /// Pours: writes the go down, takes the cups down by what was poured.
    ///
    /// # Errors
    /// Where a cup is gone or spent, a cup holds less than is poured, or the instant makes no sense.
    pub fn pour(&mut self, order: &PourOrder, now: &Now) -> Answer<Poured> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let poured = first_go(write, &learned, order, now)?;
            let (pour, panel) = (poured.pour.id, poured.pour.panel);
            let act = Act::Poured {
                pour,
                panel,
                run: None,
            };
            Ok((poured, act))
        })
    }

    /// Starts over: the go before is scraped, the next is poured on the same panel. Where the go before is a
    /// trial's run that waits to be judged, the next takes its place.
    ///
    /// # Errors
    /// As [`Studio::pour`], and where there is no such pour or it was scraped already.
    pub fn start_over(&mut self, pour: i64, order: &StartOverOrder, now: &Now) -> Answer<Poured> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let learned = memory.recall(&read)?;
            let before = read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
            if let Some(newer) = read.scraped_for(pour)? {
                return Err(Refusal::ScrapedAlready(pour, newer).into());
            }
            if order.at.is_some_and(|at| at < before.at) {
                return Err(Refusal::Range(Limit::StartOver).into());
            }
            if read
                .picture(pour)?
                .is_some_and(|picture| picture.sale.is_some())
            {
                return Err(Refusal::SoldAlready(pour).into());
            }
            let repeated = repeat(&read, &before, order)?;
            let go = Go {
                panel_id: before.panel_id,
                go: before.go + 1,
                again_of: Some(pour),
            };
            let poured = pour_within(write, &learned, &repeated, go, now)?;
            let next = poured.pour.id;
            trial_run::follow(write, pour, next)?;
            Ok((poured, Act::StartedOver { pour, next }))
        })
    }

    /// How much of its cup a layer takes.
    ///
    /// # Errors
    /// Where the cup is gone or spent, or it was weighed and the density of anything in it is unknown.
    pub fn layer_volume(&self, layer: &LayerOrder) -> Answer<Millilitres> {
        let read = self.book.read()?;
        let cup = lookup::living(&read, layer.cup)?;
        let density = cup_density(&read, &self.memory.recall(&read)?.mixture, &cup)?;
        Ok(layer.amount.volume(density)?.stored())
    }
}

/// Where a go stands on its panel.
struct Go {
    panel_id: i64,
    go: i64,
    again_of: Option<i64>,
}

/// The first go on a panel.
pub(in crate::studio) fn first_go(
    write: &mut Writer<'_>,
    learned: &Learned,
    order: &PourOrder,
    now: &Now,
) -> Answer<Poured> {
    let panel_id = write.add_panel(order.panel)?;
    let go = Go {
        panel_id,
        go: 1,
        again_of: None,
    };
    pour_within(write, learned, order, go, now)
}

fn pour_within(
    write: &mut Writer<'_>,
    learned: &Learned,
    order: &PourOrder,
    go: Go,
    now: &Now,
) -> Answer<Poured> {
    if order.layers.is_empty() {
        return Err(Refusal::NoLayers.into());
    }
    let (at, backdated) = lookup::instant(order.at, now)?;
    let then = Now { at, ..*now };
    let read = write.read();
    let stand_then = |layer| {
        let (cup, ml) = layer_at(&read, &learned.mixture, layer, (at, backdated), now)?;
        Ok((learned.stand(&read, cup, &then)?, ml))
    };
    let stack = order.layers.iter().map(stand_then);
    let stack = stack.collect::<Answer<Vec<_>>>()?;
    let (stack, amounts): (Vec<CupStatus>, Vec<Millilitres>) = stack.into_iter().unzip();
    refuse_overdrawn(&read, &stack, &amounts, order.even_so)?;
    let densities = densities(&read, &learned.mixture, &stack)?;
    let mut found = check(&stack, &densities);
    let film = order.panel.film(amounts.iter().copied().sum());
    found.faults.extend(stack::odd_film(film));
    let mut remarks = Remarks::from(found);
    if order.moves.iter().any(|one| one.kind == MoveKind::Torch) {
        remarks.warnings.extend(facts::cautions(Place::Torch));
    }
    let mut pour = new_pour(order, &go, at, &stack, &amounts);
    pour.id = write.add_pour(&pour)?;
    for (standing, ml) in stack.iter().zip(&amounts) {
        tend::draw(
            write,
            &standing.cup,
            *ml,
            DrawnInto::Pour(pour.id),
            (at, backdated),
        )?;
    }
    let again = write.read().repeated_by(pour.id)?;
    remarks
        .notes
        .extend(again.map(|of| Note::Repeats { pour: pour.id, of }));
    let marks = stack
        .iter()
        .map(|standing| standing.cup.mark.to_string())
        .collect();
    Ok(Poured {
        pour,
        marks,
        remarks: remarks.dated(at, now),
    })
}

fn new_pour(
    order: &PourOrder,
    go: &Go,
    at: Moment,
    stack: &[CupStatus],
    amounts: &[Millilitres],
) -> Pour {
    let cups = stack.iter().zip(amounts).zip(&order.layers);
    let layer = |((standing, ml), asked): ((&CupStatus, &Millilitres), &LayerOrder)| PouredLayer {
        cup: standing.cup.id,
        ml: *ml,
        state: standing.state,
        mound: standing.outlook.mound_mid(),
        at: asked.at,
    };
    Pour {
        id: 0,
        panel_id: go.panel_id,
        panel: order.panel,
        go: go.go,
        again_of: go.again_of,
        at,
        way: order.way.clone(),
        air: order.air,
        layers: cups.map(layer).collect(),
        moves: order.moves.clone(),
        note: order.note.clone(),
    }
}

fn layer_at(
    read: &Reader<'_>,
    mixture: &Mixture,
    layer: &LayerOrder,
    when: (Moment, bool),
    now: &Now,
) -> Answer<(Cup, Millilitres)> {
    let cup = lookup::living(read, layer.cup)?;
    lookup::instant_of(&cup, when.1.then_some(when.0), now)?;
    let density = cup_density(read, mixture, &cup)?;
    let ml = layer.amount.volume(density)?.stored();
    Ok((cup, ml))
}

/// A cup may stand in a stack twice; what it gives is added up.
fn refuse_overdrawn(
    read: &Reader<'_>,
    stack: &[CupStatus],
    amounts: &[Millilitres],
    even_so: bool,
) -> Answer<()> {
    let mut asked: Vec<(&Cup, Millilitres)> = Vec::new();
    for (standing, ml) in stack.iter().zip(amounts) {
        match asked.iter_mut().find(|(cup, _)| cup.id == standing.cup.id) {
            Some((_, sum)) => *sum += *ml,
            None => asked.push((&standing.cup, *ml)),
        }
    }
    asked
        .into_iter()
        .try_for_each(|(cup, ml)| tend::refuse_too_much(read, cup, ml, even_so))
}

fn repeat(read: &Reader<'_>, before: &Pour, order: &StartOverOrder) -> Answer<PourOrder> {
    let same = |layer: &PouredLayer| {
        let cup = read.cup(layer.cup)?;
        if let Some(spent) = cup.as_ref().filter(|cup| cup.spent) {
            return Err(Refusal::SpentSince(before.id, spent.mark.clone()).into());
        }
        let amount = Amount::Volume(layer.ml);
        Ok(LayerOrder::of(CupId(layer.cup), amount))
    };
    let layers = match order.layers.as_slice() {
        [] => before.layers.iter().map(same).collect::<Answer<Vec<_>>>()?,
        layers => layers.to_vec(),
    };
    Ok(PourOrder {
        panel: before.panel,
        layers,
        way: order.way.clone().or_else(|| before.way.clone()),
        // What was done with the first go was not done with this one: its moves are added as they are made.
        moves: order.moves.clone(),
        air: order.air.or(before.air),
        note: order.note.clone(),
        even_so: order.even_so,
        at: order.at,
    })
}

/// What is wrong with a stack, and what will happen in it.
#[derive(Debug, Clone, Default)]
pub struct StackCheck {
    /// What is wrong.
    pub faults: Vec<StackFault>,
    /// What will happen.
    pub notes: Vec<Note>,
}

impl FromIterator<StackFault> for StackCheck {
    fn from_iter<T: IntoIterator<Item = StackFault>>(faults: T) -> Self {
        Self {
            faults: faults.into_iter().collect(),
            notes: Vec::new(),
        }
    }
}

impl StackCheck {
    /// With what else was found.
    pub(crate) fn add(&mut self, more: Self) {
        self.faults.extend(more.faults);
        self.notes.extend(more.notes);
    }
}

impl From<StackCheck> for Remarks {
    fn from(check: StackCheck) -> Self {
        Self {
            warnings: check.faults.into_iter().map(Warning::Stack).collect(),
            notes: check.notes,
        }
    }
}

/// What is wrong with a stack, lowest first: cups that are not ready, layers not thinner than the one below,
/// an activator under a colour, heavy over light; and what will happen in it.
fn check(stack: &[CupStatus], densities: &[Option<Density>]) -> StackCheck {
    let pairs = || stack.windows(2);
    let ready = stack.iter().filter_map(stack::not_ready);
    let order = pairs().filter_map(|pair| wrong_order(&pair[0], &pair[1]));
    let mut found: StackCheck = ready.chain(order).collect();
    for (pair, density) in pairs().zip(densities.windows(2)) {
        found.add(stack::sinking(
            (&pair[0], density[0]),
            (&pair[1], density[1]),
        ));
    }
    found
}

fn densities(
    read: &Reader<'_>,
    mixture: &Mixture,
    stack: &[CupStatus],
) -> Answer<Vec<Option<Density>>> {
    let one = |standing: &CupStatus| cup_density(read, mixture, &standing.cup);
    stack.iter().map(one).collect()
}

fn wrong_order(below: &CupStatus, above: &CupStatus) -> Option<StackFault> {
    let (lower, upper) = (below.cup.mark.clone(), above.cup.mark.clone());
    let over_activator =
        below.recipe.layer == LayerKind::Activator && above.recipe.layer != LayerKind::Activator;
    if over_activator {
        return Some(StackFault::OnActivator {
            upper,
            activator: lower,
        });
    }
    if lower == upper {
        return Some(StackFault::SameCup(upper));
    }
    let (low, up) = (below.outlook.mound_mid()?, above.outlook.mound_mid()?);
    (up >= low).then_some(StackFault::NotThinner {
        upper: (upper, up),
        lower: (lower, low),
    })
}
