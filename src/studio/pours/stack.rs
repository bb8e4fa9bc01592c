//! The ladder of layers: whether their order holds, what heavy over light does, and what would mend it.

use crate::numbers::Z_80;
use crate::numbers::film::anchor_film;
use crate::numbers::stack::{self, NoRung, Poured, Rung, Sinking};
use crate::numbers::thinning;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::forecast::Forecast;
use crate::studio::cups::mixture::cup_density;
use crate::studio::{
    Answer, LayerOrder, Limit, Note, Refusal, StackAdvice, StackCheck, StackFault, StackVerdict,
    Studio, lookup,
};
use crate::trade::ids::CupId;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::panel::Panel;
use crate::trade::range::Window;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Band, Density, Millilitres, Millimetres, Seconds, Share};

/// A stack of cups as it would be poured, lowest first.
#[derive(Debug, Clone)]
pub struct StackSheet {
    /// The layers, lowest first.
    pub layers: Vec<StackLayer>,
    /// One step between each two neighbours, lowest first.
    pub steps: Vec<StackStep>,
    /// What is wrong with its cups and its whole film, where amounts or films were said.
    pub faults: Vec<StackFault>,
}

impl StackSheet {
    /// Whether its order holds; `None` of cups that are all one.
    #[must_use]
    pub fn verdict(&self) -> Option<StackVerdict> {
        let is_one = |step: &&StackStep| matches!(step.check.faults[..], [StackFault::SameCup(_)]);
        let steps = || self.steps.iter().filter(|step| !is_one(step));
        let advised = steps().filter_map(|step| step.advice.as_ref());
        let unread = |advice: &StackAdvice| matches!(advice, StackAdvice::Read { .. });
        let (unknown, broken): (Vec<_>, Vec<_>) = advised.partition(|advice| unread(advice));
        let least = steps().filter_map(|step| step.order_holds);
        let least = least.min_by(|a, b| a.get().total_cmp(&b.get()))?;
        Some(match (broken.is_empty(), unknown.is_empty()) {
            (false, _) => StackVerdict::Broken,
            (true, false) => StackVerdict::Unknown,
            _ if least.get() >= SURE_FROM => StackVerdict::Holds,
            _ => StackVerdict::Probably(least),
        })
    }
}

/// One layer of a stack.
#[derive(Debug, Clone)]
pub struct StackLayer {
    /// How its cup stands.
    pub standing: CupStatus,
    /// Its wet film.
    pub film: Millimetres,
    /// Its density, where that of everything in it is known.
    pub density: Option<Density>,
}

/// One layer on another.
#[derive(Debug, Clone)]
pub struct StackStep {
    /// The probability that the upper really is the thinner; `None` where a mound is unknown.
    pub order_holds: Option<Share>,
    /// How much thinner the upper is.
    pub gap: Option<Seconds>,
    /// Whether the upper is the heavier; `None` where a density is unknown.
    pub heavy_over_light: Option<bool>,
    /// How far apart cells would come, where the upper is the heavier.
    pub spacing: Option<Band<Millimetres>>,
    /// When they would show.
    pub shows_in: Option<Band<Seconds>>,
    /// What would mend its order, or make it known.
    pub advice: Option<StackAdvice>,
    /// What else is wrong with it, and what will happen.
    pub check: StackCheck,
}

/// Below this probability the order is said to be wrong; above the next, to be sure.
const WRONG_BELOW: f64 = 0.5;
const SURE_FROM: f64 = 0.9;

/// A film outside these is likely a slip of the finger (ours, no source; practice pours 1 to 2 mm).
const LEAST_FILM: Millimetres = Millimetres(0.3);
const MOST_FILM: Millimetres = Millimetres(5.0);

/// Whether a layer can lie so deep: from a hundredth of a millimetre to two centimetres (ours, no source).
#[must_use]
pub fn is_film(film: &Millimetres) -> bool {
    (0.01..=20.0).contains(&film.get())
}

impl Studio {
    /// The ladder of a stack, lowest first; `films` gives wet films in the same order, an even share of the usual
    /// film otherwise.
    ///
    /// # Errors
    /// Where a cup is gone or spent, or a film is none.
    pub fn stack(&self, cups: &[CupId], films: &[Millimetres], now: &Now) -> Answer<StackSheet> {
        if !films.iter().all(is_film) {
            return Err(Refusal::Range(Limit::LayerFilm).into());
        }
        if films.len() > 1 && films.len() != cups.len() {
            return Err(Refusal::Range(Limit::Films).into());
        }
        self.ladder(cups, films, now)
    }

    /// The ladder of layers on a panel, lowest first: as [`Studio::stack`], with what is wrong about the amounts.
    ///
    /// # Errors
    /// Where a cup is gone or spent, or one was weighed whose density is unknown.
    pub fn stack_on(&self, panel: Panel, layers: &[LayerOrder], now: &Now) -> Answer<StackSheet> {
        let amounts = layers.iter().map(|layer| self.layer_volume(layer));
        let amounts = amounts.collect::<Answer<Vec<_>>>()?;
        let films: Vec<_> = amounts.iter().map(|ml| panel.film(*ml)).collect();
        let cups: Vec<_> = layers.iter().map(|layer| layer.cup).collect();
        let mut sheet = self.ladder(&cups, &films, now)?;
        let cups = sheet.layers.iter().map(|layer| &layer.standing);
        let overdrawn = overdrawn(cups.zip(amounts));
        sheet.faults.splice(0..0, overdrawn);
        Ok(sheet)
    }

    fn ladder(&self, cups: &[CupId], films: &[Millimetres], now: &Now) -> Answer<StackSheet> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let even = anchor_film() / cups.len().max(1) as f64;
        let film = |place: usize| films.get(place).or(films.last()).copied().unwrap_or(even);
        let layer = |(place, cup): (usize, &CupId)| {
            let cup = lookup::living(&read, *cup)?;
            let density = cup_density(&read, &learned.mixture, &cup)?;
            Ok(StackLayer {
                standing: learned.stand(&read, cup, now)?,
                film: film(place),
                density,
            })
        };
        let layers = cups
            .iter()
            .enumerate()
            .map(layer)
            .collect::<Answer<Vec<_>>>()?;
        let mender = Mender {
            forecast: &learned.forecast,
        };
        let steps = layers
            .windows(2)
            .map(|pair| step(&pair[0], &pair[1], &mender))
            .collect();
        let whole: Millimetres = layers.iter().map(|layer| layer.film).sum();
        let said = !films.is_empty();
        let ready = layers.iter().filter_map(|layer| not_ready(&layer.standing));
        let mut faults: Vec<_> = ready.collect();
        faults.extend(said.then(|| odd_film(whole)).flatten());
        Ok(StackSheet {
            layers,
            steps,
            faults,
        })
    }
}

/// What is needed to say how much thinner would mend an order.
struct Mender<'a> {
    forecast: &'a Forecast,
}

impl Mender<'_> {
    /// The thinner that brings a cup a reading's error below a mound; `None` where no amount would.
    fn below(&self, cup: &CupStatus, mound: Seconds) -> Option<Millilitres> {
        let goal = mound * (-self.forecast.noise()).exp();
        let edge = Seconds(0.01);
        let window = Window {
            low: goal - edge,
            high: goal + edge,
        };
        let from = thinning::Cup {
            volume: cup.life.left,
            thinner: cup.life.thinner,
            mound: cup.outlook.mound_mid()?,
            spread: self.forecast.noise(),
            limit: cup.variant.targets.limit,
        };
        match thinning::advise(from, window, &self.forecast.strength(cup.variant.id, None)).ok()? {
            thinning::Advice::Add(dose) => Some(dose.likely.band.mid),
            _ => None,
        }
    }
}

/// The cups of which more is asked than is left in them; one may lie in a stack twice.
pub fn overdrawn<'a>(
    layers: impl Iterator<Item = (&'a CupStatus, Millilitres)>,
) -> Vec<StackFault> {
    let mut asked: Vec<(&CupStatus, Millilitres)> = Vec::new();
    for (cup, ml) in layers {
        match asked.iter_mut().find(|(had, _)| had.cup.id == cup.cup.id) {
            Some((_, sum)) => *sum += ml,
            None => asked.push((cup, ml)),
        }
    }
    let more = |(cup, asked): &(&CupStatus, Millilitres)| {
        asked.get() > cup.life.left.get() + Millilitres::DROP.get()
    };
    let fault = |(cup, asked): (&CupStatus, Millilitres)| StackFault::Overdrawn {
        mark: cup.cup.mark.clone(),
        left: cup.life.left,
        asked,
    };
    asked.into_iter().filter(more).map(fault).collect()
}

/// That a cup is not ready to be poured.
pub(in crate::studio) fn not_ready(cup: &CupStatus) -> Option<StackFault> {
    (cup.state != State::Ready).then(|| StackFault::NotReady {
        mark: cup.cup.mark.clone(),
        state: cup.state,
        clears_at: cup.life.clears_at,
    })
}

/// One cup twice in a row.
fn one_layer(mark: &Mark) -> StackStep {
    StackStep {
        order_holds: None,
        gap: None,
        heavy_over_light: None,
        spacing: None,
        shows_in: None,
        advice: None,
        check: StackCheck::from_iter([StackFault::SameCup(mark.clone())]),
    }
}

fn step(lower: &StackLayer, upper: &StackLayer, mender: &Mender<'_>) -> StackStep {
    if lower.standing.cup.id == upper.standing.cup.id {
        return one_layer(&upper.standing.cup.mark);
    }
    let order = order(lower, upper).ok();
    let mut step = StackStep {
        order_holds: order.map(|one| one.holds),
        gap: order.map(|one| one.gap),
        heavy_over_light: lower.density.zip(upper.density).map(|(low, up)| up > low),
        spacing: None,
        shows_in: None,
        advice: None,
        check: StackCheck::default(),
    };
    if let (Some(over), Some(under)) = (poured(upper), poured(lower))
        && let Sinking::Cells { spacing, shows_in } = stack::sinking(over, under)
    {
        (step.spacing, step.shows_in) = (Some(spacing), Some(shows_in));
    }
    step.advice = advice(lower, upper, step.order_holds, mender);
    step.check = remarks(lower, upper, &step);
    step
}

fn order(lower: &StackLayer, upper: &StackLayer) -> Result<stack::Step, NoRung> {
    let rung = |layer: &StackLayer| {
        let mound = layer.standing.outlook.mound.ok_or(NoRung)?.band;
        Ok(Rung {
            mound: mound.mid,
            sd: (mound.high - mound.low) / (2.0 * Z_80),
        })
    };
    let steps = stack::ladder(&[rung(lower)?, rung(upper)?])?;
    steps.first().copied().ok_or(NoRung)
}

fn poured(layer: &StackLayer) -> Option<Poured> {
    let mound = layer.standing.outlook.mound_mid()?;
    Some(Poured {
        thickness: layer.film,
        density: layer.density,
        mound,
    })
}

fn advice(
    lower: &StackLayer,
    upper: &StackLayer,
    holds: Option<Share>,
    mender: &Mender<'_>,
) -> Option<StackAdvice> {
    let activator = |layer: &StackLayer| layer.standing.recipe.layer == LayerKind::Activator;
    if activator(lower) && !activator(upper) {
        return Some(StackAdvice::ActivatorOnTop {
            activator: lower.standing.cup.mark.clone(),
            upper: upper.standing.cup.mark.clone(),
        });
    }
    match holds.map(Share::get) {
        None => Some(unread(lower, upper)),
        Some(holds) if holds < WRONG_BELOW => Some(mend(lower, upper, mender)),
        Some(_) => None,
    }
}

/// What is wrong with two layers that no advice says already, and what will happen between them.
fn remarks(lower: &StackLayer, upper: &StackLayer, step: &StackStep) -> StackCheck {
    if matches!(step.advice, Some(StackAdvice::ActivatorOnTop { .. })) {
        return StackCheck::default();
    }
    let holds = step.order_holds;
    let unsure = holds.filter(|holds| (WRONG_BELOW..SURE_FROM).contains(&holds.get()));
    let unsure = unsure.map(|holds| StackFault::Unsure {
        upper: upper.standing.cup.mark.clone(),
        lower: lower.standing.cup.mark.clone(),
        holds,
    });
    let mut found = StackCheck::from_iter(unsure);
    found.add(sinking(
        (&lower.standing, lower.density),
        (&upper.standing, upper.density),
    ));
    found
}

/// That the upper cup sinks into the lower, each with its density. Of an activator that is wished; densities that are
/// not known say nothing.
pub(in crate::studio) fn sinking(
    (low, below): (&CupStatus, Option<Density>),
    (up, above): (&CupStatus, Option<Density>),
) -> StackCheck {
    let sinks = below.zip(above).is_some_and(|(low, up)| up > low);
    let (lower, upper) = (low.cup.mark.clone(), up.cup.mark.clone());
    let mut found = StackCheck::default();
    match (sinks, up.recipe.layer) {
        (false, _) => {}
        (true, LayerKind::Activator) => found.notes.push(Note::Cells {
            activator: upper,
            below: lower,
        }),
        (true, _) => found.faults.push(StackFault::Heavier { upper, lower }),
    }
    found
}

/// That a whole wet film is far from what is poured.
pub(in crate::studio) fn odd_film(film: Millimetres) -> Option<StackFault> {
    if film > MOST_FILM {
        return Some(StackFault::FilmDeep(film));
    }
    (film < LEAST_FILM).then_some(StackFault::FilmThin(film))
}

/// Which cups are to be read before the order can be told.
fn unread(lower: &StackLayer, upper: &StackLayer) -> StackAdvice {
    let no_mound = |cup: &&CupStatus| cup.outlook.mound.is_none();
    let both = [&lower.standing, &upper.standing].into_iter();
    let blind: Vec<&CupStatus> = both.filter(no_mound).collect();
    StackAdvice::Read {
        unread: blind.iter().map(|cup| cup.cup.mark.clone()).collect(),
        flow_cup: blind.iter().any(|cup| cup.flow_viscosity().is_some()),
    }
}

fn mend(lower: &StackLayer, upper: &StackLayer, mender: &Mender<'_>) -> StackAdvice {
    let mound = lower.standing.outlook.mound_mid();
    let by = mound.and_then(|mound| mender.below(&upper.standing, mound));
    let (upper, lower) = (
        upper.standing.cup.mark.clone(),
        lower.standing.cup.mark.clone(),
    );
    match by {
        Some(by) => StackAdvice::Thin { upper, by, lower },
        None => StackAdvice::Swap { upper, lower },
    }
}
