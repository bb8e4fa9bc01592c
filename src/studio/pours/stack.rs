//! The ladder of layers: whether their order holds, what heavy over light does, and what would mend it.

use crate::numbers::Z_80;
use crate::numbers::film::anchor_film;
use crate::numbers::stack::{self, NoRung, Poured, Rung, STOPWATCH, Sinking};
use crate::numbers::thinning;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::forecast::Forecast;
use crate::studio::cups::mixture::cup_density;
use crate::studio::{Answer, Refusal, Studio, lookup};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::length::show_length;
use crate::trade::mark::Mark;
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
    /// What is odd about its whole film, where that was said.
    pub words: Vec<String>,
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
    /// What is wrong and what would mend it, in words.
    pub words: Vec<String>,
}

/// Below this probability the order is said to be wrong; above the next, to be sure.
const WRONG_BELOW: f64 = 0.5;
const SURE_FROM: f64 = 0.9;

/// A film outside these is likely a slip of the finger (ours, no source; practice pours 1 to 2 mm).
const LEAST_FILM: Millimetres = Millimetres(0.3);
const MOST_FILM: Millimetres = Millimetres(5.0);

impl Studio {
    /// The ladder of a stack, lowest first; `films` gives wet films in the same order, an even share of the usual
    /// film otherwise.
    ///
    /// # Errors
    /// Where a mark is on no living cup, or a film is none.
    pub fn stack(&self, marks: &[String], films: &[Millimetres], now: &Now) -> Answer<StackSheet> {
        let read = self.book.read()?;
        if films
            .iter()
            .any(|film| !(0.01..=20.0).contains(&film.get()))
        {
            return Err(Refusal::Range {
                what: "a wet film",
                range: "0.01 to 20 mm",
            }
            .into());
        }
        if films.len() > 1 && films.len() != marks.len() {
            return Err(Refusal::Range {
                what: "the number of films",
                range: "one, or one for each cup",
            }
            .into());
        }
        let learned = self.memory.recall(&read)?;
        let even = anchor_film() / marks.len().max(1) as f64;
        let film = |place: usize| films.get(place).or(films.last()).copied().unwrap_or(even);
        let layer = |(place, mark): (usize, &String)| {
            let cup = lookup::living_cup(&read, mark)?;
            let density = cup_density(&read, &learned.mixture, &cup)?;
            Ok(StackLayer {
                standing: learned.stand(&read, cup, now)?,
                film: film(place),
                density,
            })
        };
        let layers = marks
            .iter()
            .enumerate()
            .map(layer)
            .collect::<Answer<Vec<_>>>()?;
        let mender = Mender {
            forecast: &learned.forecast,
            measures: learned.cards().measures,
        };
        let steps = layers
            .windows(2)
            .map(|pair| step(&pair[0], &pair[1], &mender))
            .collect();
        let whole: Millimetres = layers.iter().map(|layer| layer.film).sum();
        let said = !films.is_empty();
        let words = said.then(|| odd_film(whole, mender.measures)).flatten();
        Ok(StackSheet {
            layers,
            steps,
            words: words.into_iter().collect(),
        })
    }
}

/// What is needed to say how much thinner would mend an order.
struct Mender<'a> {
    forecast: &'a Forecast,
    measures: Measures,
}

impl Mender<'_> {
    /// The thinner that brings a cup a stopwatch error below a mound; `None` where no amount would.
    fn below(&self, cup: &CupStatus, mound: Seconds) -> Option<Millilitres> {
        let goal = mound - STOPWATCH;
        let edge = Seconds(0.01);
        let window = Window {
            low: goal - edge,
            high: goal + edge,
        };
        let from = thinning::Cup {
            volume: cup.life.left,
            thinner: cup.life.thinner,
            mound: cup.outlook.mound_mid()?,
            spread: thinning::READING,
            limit: cup.variant.targets.limit,
        };
        match thinning::advise(from, window, &self.forecast.strength(cup.variant.id)).ok()? {
            thinning::Advice::Add(dose) if !dose.limited => Some(dose.likely.band.mid),
            _ => None,
        }
    }
}

fn step(lower: &StackLayer, upper: &StackLayer, mender: &Mender<'_>) -> StackStep {
    let order = order(lower, upper).ok();
    let mut step = StackStep {
        order_holds: order.map(|one| one.holds),
        gap: order.map(|one| one.gap),
        heavy_over_light: lower.density.zip(upper.density).map(|(low, up)| up > low),
        spacing: None,
        shows_in: None,
        words: Vec::new(),
    };
    if let (Some(over), Some(under)) = (poured(upper), poured(lower))
        && let Sinking::Cells { spacing, shows_in } = stack::sinking(over, under)
    {
        (step.spacing, step.shows_in) = (Some(spacing), Some(shows_in));
    }
    step.words = words(lower, upper, &step, mender);
    step
}

fn order(lower: &StackLayer, upper: &StackLayer) -> Result<stack::Step, NoRung> {
    let rung = |layer: &StackLayer| {
        let mound = layer.standing.outlook.mound.ok_or(NoRung)?.band;
        let grown = (mound.high - mound.low).get() / (2.0 * Z_80);
        Ok(Rung {
            mound: mound.mid,
            sd: Seconds(STOPWATCH.get().hypot(grown)),
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

fn words(
    lower: &StackLayer,
    upper: &StackLayer,
    step: &StackStep,
    mender: &Mender<'_>,
) -> Vec<String> {
    let (low, up) = (&lower.standing.cup.mark, &upper.standing.cup.mark);
    let mut words = Vec::new();
    let activator = |layer: &StackLayer| layer.standing.recipe.layer == LayerKind::Activator;
    if activator(lower) && !activator(upper) {
        words.push(format!("the activator goes on top: pour {up} under {low}"));
        return words;
    }
    match step.order_holds.map(Share::get) {
        None => words.push(unknown(lower, upper)),
        Some(holds) if holds < WRONG_BELOW => words.push(mend(lower, upper, mender)),
        Some(holds) if holds < SURE_FROM => {
            words.push(format!(
                "{up} may not be thinner than {low}: {:.0} of 100",
                holds * 100.0
            ));
        }
        Some(_) => {}
    }
    let weighed = |layer: &StackLayer| (layer.standing.cup.mark.clone(), layer.density);
    words.extend(heavier(&weighed(lower), &weighed(upper)));
    words
}

/// That the upper cup sinks into the lower, each with its density; `None` where one is unknown.
pub(in crate::studio) fn heavier(
    (low, below): &(Mark, Option<Density>),
    (up, above): &(Mark, Option<Density>),
) -> Option<String> {
    let sinks = below.zip(*above).is_some_and(|(low, up)| up > low);
    sinks.then(|| format!("{up} is heavier than {low}: it sinks into it in cells"))
}

/// That a whole wet film is far from what is poured.
pub(in crate::studio) fn odd_film(film: Millimetres, measures: Measures) -> Option<String> {
    let shown = show_length(film, measures);
    if film > MOST_FILM {
        return Some(format!(
            "the wet film is {shown} deep: check the amounts and the panel"
        ));
    }
    (film < LEAST_FILM).then(|| {
        format!("the wet film is only {shown}: it may not cover; check the amounts and the panel")
    })
}

/// Why the order cannot be told.
fn unknown(lower: &StackLayer, upper: &StackLayer) -> String {
    let no_mound = |layer: &&&StackLayer| layer.standing.outlook.mound.is_none();
    let blind: Vec<_> = [lower, upper].iter().filter(no_mound).copied().collect();
    let marks: Vec<_> = blind
        .iter()
        .map(|layer| layer.standing.cup.mark.to_string())
        .collect();
    let marks = marks.join(" and ");
    let flow = blind
        .iter()
        .any(|layer| layer.standing.flow_viscosity().is_some());
    match flow {
        true => format!(
            "order cannot be told: a flow cup's reading of {marks} is no mound; time its mound"
        ),
        false => format!("unknown order: read {marks}"),
    }
}

fn mend(lower: &StackLayer, upper: &StackLayer, mender: &Mender<'_>) -> String {
    let (low, up) = (&lower.standing.cup.mark, &upper.standing.cup.mark);
    let mound = lower.standing.outlook.mound_mid();
    match mound.and_then(|mound| mender.below(&upper.standing, mound)) {
        Some(ml) => {
            let ml = show_volume(ml, mender.measures);
            format!("thin {up} by {ml}, or pour it under {low}")
        }
        None => format!("pour {up} under {low}: it is not the thinner"),
    }
}
