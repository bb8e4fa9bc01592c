//! The Trials' forms: a trial set up with what it can tell said before it is kept, and a run given up.

use super::{Ask, Deed};
use crate::numbers::statistics::curves::Layout;
use crate::numbers::statistics::factorial::DesignError;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::orders::{SkipField, TrialField, TrialOrder};
use crate::studio::{Limit, Refusal, StudioError, TrialLine, sketch_trial};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use crate::trade::trial::{Level, TrialFactor};

/// How many pours are proposed for so many factors: few, yet no factor mixed up with a pair of others.
const USUAL: [usize; 5] = [8, 8, 8, 8, 16];
/// A trial to be set up.
pub fn new(now: &Now) -> Form {
    let days = ["1", "2", "3", "4"].map(str::to_owned).to_vec();
    let blind = [TrialField::NO, TrialField::YES]
        .map(str::to_owned)
        .to_vec();
    let days = field(TrialField::Days).one_of(days).offering("1");
    let blind = field(TrialField::Blind)
        .one_of(blind)
        .offering(TrialField::NO);
    let mut fields: Vec<Field> = (0..2).flat_map(trio).collect();
    fields.extend([
        runs(2, None),
        days,
        field(TrialField::Centres),
        blind,
        field(TrialField::Seed),
        field(TrialField::Note),
    ]);
    let mut form = Form::new("A new trial", fields);
    form.headline = Some("Say what is varied, each low and high; Enter keeps the trial.");
    form.aside = told(&form, now);
    form
}

/// Why a run is given up.
pub fn skip(trial: i64, run: usize) -> Form {
    let fields = vec![Field::of(SkipField::Why, Measures::default())];
    let title = format!("Give up run {run} of trial {trial}");
    Form::new(title, fields)
}

/// No field of a trial is told in measures.
fn field(field: TrialField) -> Field {
    Field::of(field, Measures::default())
}

fn trio(row: u8) -> [Field; 3] {
    [
        TrialField::Vary(row),
        TrialField::Low(row),
        TrialField::High(row),
    ]
    .map(field)
}

/// How many pours, with what so many can tell; what was chosen stays where it can.
fn runs(factors: usize, chosen: Option<Runs>) -> Field {
    let offers = offers(factors);
    let at = |wanted: Runs| offers.iter().find(|(runs, _)| *runs == wanted);
    let offer = chosen.and_then(at).or_else(|| at(usual(factors)));
    let offer = offer.map(|(_, name)| name.clone()).unwrap_or_default();
    let pairs = offers.into_iter().map(|(runs, name)| (name, runs.typed()));
    let field = field(TrialField::Runs).one_meant(pairs.collect());
    field.offering(&offer)
}

/// How many pours, or the layout of a curve.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Runs {
    Corners(usize),
    Curve(Layout),
}

impl Runs {
    /// As it is typed on the command line.
    fn typed(self) -> String {
        match self {
            Self::Corners(runs) => runs.to_string(),
            Self::Curve(layout) => TrialField::curve(layout).to_owned(),
        }
    }
}

/// The pours that so many factors can be tried with.
fn offers(factors: usize) -> Vec<(Runs, String)> {
    let corners = 1_usize << factors;
    let kinds = [4, 8, 16, 32]
        .into_iter()
        .filter(|runs| *runs <= 4 * corners)
        .map(Runs::Corners);
    let curves = [Layout::FaceCentred, Layout::EdgeMiddles].map(Runs::Curve);
    kinds
        .chain(curves)
        .filter_map(|runs| Some((runs, offer(factors, runs)?)))
        .collect()
}

/// `8, a half: resolution IV`, `8 for a curve: ends and faces`; none where so few cannot tell the factors apart.
fn offer(factors: usize, runs: Runs) -> Option<String> {
    let (runs, curve) = match runs {
        Runs::Corners(runs) => (runs, None),
        Runs::Curve(layout) => (0, Some(layout)),
    };
    let corners = 1_usize << factors;
    let named = |place: usize| TrialFactor {
        name: place.to_string(),
        low: "low".to_owned(),
        high: "high".to_owned(),
    };
    let order = TrialOrder {
        factors: (0..factors).map(named).collect(),
        runs,
        curve,
        blocks: 1,
        seed: Some(0),
        ..TrialOrder::default()
    };
    let now = Now {
        at: chrono::DateTime::UNIX_EPOCH.into(),
        zone: crate::trade::instant::Zone::Fixed(chrono::Offset::fix(&chrono::Utc)),
    };
    let page = sketch_trial(&order, &now).ok()?;
    if let Some(layout) = curve {
        let halfway =
            |run: &TrialLine| run.levels.iter().flatten().all(|one| *one == Level::Middle);
        let pours = page.runs.iter().filter(|run| !halfway(run)).count();
        return Some(format!("{pours} for a curve: {}", layout_words(layout)));
    }
    Some(match (corners / runs, runs / corners) {
        (0 | 1, 1) => format!("{runs}, every combination"),
        (_, times @ 2..) => format!("{runs}, every combination {times} times"),
        (2, _) => format!("{runs}, a half: resolution {}", page.resolution?.written()),
        (part, _) => {
            let sharp = page.resolution?.written();
            format!("{runs}, one in {part}: resolution {sharp}")
        }
    })
}

const fn layout_words(layout: Layout) -> &'static str {
    match layout {
        Layout::FaceCentred => "all ends and faces",
        Layout::EdgeMiddles => "middles of edges",
    }
}

/// What follows from an edit: room for one more factor, the runs that fit, and what they can tell.
pub fn changed(form: &mut Form, now: &Now) {
    grow(form);
    renew_runs(form);
    form.aside = told(form, now);
}

/// Other runs fit another number of factors; a number that was not chosen by hand gives way to what is usual.
fn renew_runs(form: &mut Form) {
    let (factors, chosen) = (named(form).max(1), chosen_runs(form));
    let names = |field: &Field| field.pick.as_ref().map(|pick| pick.names().to_vec());
    let Some(field) = form.field_mut(TrialField::Runs) else {
        return;
    };
    let was = (1..=usize::from(TrialField::ROWS))
        .find(|count| names(&runs(*count, None)) == names(field));
    if was != Some(factors) {
        let by_hand = chosen.filter(|chosen| was.is_none_or(|was| usual(was) != *chosen));
        *field = runs(factors, by_hand);
    }
}

fn usual(factors: usize) -> Runs {
    let at = factors.saturating_sub(1);
    Runs::Corners(USUAL.get(at).copied().unwrap_or(8))
}

/// Room for one more thing that is varied, once the last has a name.
fn grow(form: &mut Form) {
    let at = |form: &Form, row| {
        let high = TrialField::High(row).into();
        form.fields.iter().position(|field| field.id == high)
    };
    let last = (0..TrialField::ROWS)
        .rev()
        .find_map(|row| Some((row, at(form, row)?)));
    let Some((last, at)) = last.filter(|(last, _)| last + 1 < TrialField::ROWS) else {
        return;
    };
    if !form.value(TrialField::Vary(last)).is_empty() {
        form.fields.splice(at + 1..at + 1, trio(last + 1));
    }
}

/// How many factors have a name.
fn named(form: &Form) -> usize {
    let rows = 0..TrialField::ROWS;
    rows.filter(|row| !form.value(TrialField::Vary(*row)).is_empty())
        .count()
}

/// What is chosen of all that may be offered.
fn chosen_runs(form: &Form) -> Option<Runs> {
    let (runs, curve) = TrialOrder::runs(&form.typed()).ok()?;
    Some(curve.map_or(Runs::Corners(runs), Runs::Curve))
}

/// What the trial could tell, as far as it is typed.
fn told(form: &Form, now: &Now) -> Vec<String> {
    if named(form) == 0 {
        return vec!["Nothing is varied yet.".to_owned()];
    }
    let sketch = TrialOrder::so_far(&form.typed())
        .map_err(|wrong| tell::words(&wrong.why, Measures::default(), now))
        .and_then(|order| sketched(&order, now).map_err(|fault| fault.words));
    let words = sketch.unwrap_or_else(|words| vec![words]).into_iter();
    words.map(|words| inert(&words).into_owned()).collect()
}

fn sketched(order: &TrialOrder, now: &Now) -> Result<Vec<String>, Fault> {
    let page = sketch_trial(order, now).map_err(|error| blamed(&error, order, now))?;
    let mut words = vec![format!("{} pours in all", page.runs.len())];
    words.extend(tell::trials::resolution(&page).map(str::to_owned));
    words.extend(tell::trials::generators(&page));
    words.extend(tell::trials::aliases(&page));
    Ok(words)
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn read(desk: &Desk, ask: Ask, form: &Form) -> Result<Deed, Fault> {
    let deed = match ask {
        Ask::New => {
            let order = TrialOrder::read(&form.typed());
            let order = order.map_err(|wrong| desk.fault(wrong))?;
            sketched(&order, &desk.beat.now)?;
            Deed::Design(Box::new(order))
        }
        Ask::Skip(trial, run) => {
            let why = SkipField::why(&form.typed(), trial);
            Deed::Skip(trial, run, why.map_err(|wrong| desk.fault(wrong))?)
        }
    };
    Ok(deed)
}

/// A refusal in the field it is about.
fn blamed(error: &StudioError, order: &TrialOrder, now: &Now) -> Fault {
    let lower = |text: &str| text.trim().to_lowercase();
    let mut factors = order.factors.iter();
    let row = |at: usize| u8::try_from(at).ok();
    let field = match error {
        StudioError::Refused(Refusal::FactorTwice(name)) => factors
            .rposition(|one| lower(&one.name) == lower(name))
            .and_then(row)
            .map(TrialField::Vary),
        StudioError::Refused(Refusal::OneSetting(_)) => factors
            .position(|one| lower(&one.low) == lower(&one.high))
            .and_then(row)
            .map(TrialField::High),
        StudioError::Refused(Refusal::Design(
            DesignError::Blocks(_) | DesignError::CurveDays(_),
        )) => Some(TrialField::Days),
        StudioError::Refused(Refusal::Design(DesignError::NoCentres)) => Some(TrialField::Centres),
        StudioError::Refused(Refusal::Design(_)) => Some(TrialField::Runs),
        StudioError::Refused(Refusal::Range(Limit::Seed)) => Some(TrialField::Seed),
        StudioError::Refused(Refusal::Range(_)) => Some(TrialField::Centres),
        _ => None,
    };
    Fault {
        field: field.map(Into::into),
        // No refusal of a design holds a quantity.
        words: tell::words(error, Measures::default(), now),
    }
}
