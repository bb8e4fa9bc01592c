//! The Trials' forms: a trial set up with what it can tell said before it is kept, and a run given up.

use super::{Ask, Deed, Trials};
use crate::numbers::statistics::curves::Layout;
use crate::numbers::statistics::factorial::DesignError;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::{Limit, Refusal, StudioError, TrialLine, TrialOrder, sketch_trial};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use crate::trade::trial::{Level, TrialFactor};

/// The fields of what is varied: its name, its low and its high setting.
const FACTORS: [[&str; 3]; 5] = [
    ["vary 1", "low 1", "high 1"],
    ["vary 2", "low 2", "high 2"],
    ["vary 3", "low 3", "high 3"],
    ["vary 4", "low 4", "high 4"],
    ["vary 5", "low 5", "high 5"],
];
/// How many pours are proposed for so many factors: few, yet no factor mixed up with a pair of others.
const USUAL: [usize; 5] = [8, 8, 8, 8, 16];
/// The most characters of a name or a setting.
const LONGEST: usize = 80;
const NO: &str = "no";
const YES: &str = "yes";

/// A trial to be set up.
pub fn new(now: &Now) -> Form {
    let days = ["1", "2", "3", "4"].map(str::to_owned).to_vec();
    let blind = [NO, YES].map(str::to_owned).to_vec();
    let mut fields: Vec<Field> = FACTORS.into_iter().take(2).flat_map(trio).collect();
    fields.extend([
        runs(2, None),
        Field::choice("days", "the runs are split evenly over them", days, "1"),
        Field::text(
            "halfway",
            "more runs a day, everything halfway; empty: none, or 3 for a curve",
            "",
        ),
        Field::choice(
            "blind",
            "yes: settings hidden until all are judged",
            blind,
            NO,
        ),
        Field::text("seed", "a number draws one order; empty: by the clock", ""),
        Field::text("note", "what it is to find out", ""),
    ]);
    let mut form = Form::new("A new trial", fields);
    form.headline = Some("Say what is varied, each low and high; Enter keeps the trial.");
    form.aside = told(&form, now);
    form
}

/// Why a run is given up.
pub fn skip(trial: i64, run: usize) -> Form {
    let fields = vec![Field::text(
        "why",
        "it stands with the run: fell face down",
        "",
    )];
    let title = format!("Give up run {run} of trial {trial}");
    Form::new(title, fields)
}

fn trio([name, low, high]: [&'static str; 3]) -> [Field; 3] {
    [
        Field::text(name, "what is varied: rest, air, spin", ""),
        Field::text(low, "its low setting: 12 h", ""),
        Field::text(high, "its high setting: 24 h", ""),
    ]
}

/// How many pours, with what so many can tell; what was chosen stays where it can.
fn runs(factors: usize, chosen: Option<Runs>) -> Field {
    let offers = offers(factors);
    let at = |wanted: Runs| offers.iter().find(|(runs, _)| *runs == wanted);
    let offer = chosen.and_then(at).or_else(|| at(usual(factors)));
    let offer = offer.map(|(_, name)| name.clone()).unwrap_or_default();
    let names = offers.into_iter().map(|(_, name)| name).collect();
    Field::choice(
        "runs",
        "how many pours, and what they can tell",
        names,
        &offer,
    )
}

/// How many pours, or the layout of a curve.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Runs {
    Corners(usize),
    Curve(Layout),
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
        (2, _) => format!("{runs}, a half: resolution {}", page.resolution?),
        (part, _) => format!("{runs}, one in {part}: resolution {}", page.resolution?),
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
    let Some(field) = form.field_mut("runs") else {
        return;
    };
    let was = (1..=FACTORS.len()).find(|count| names(&runs(*count, None)) == names(field));
    if was != Some(factors) {
        let by_hand = chosen.filter(|chosen| was.is_none_or(|was| usual(was) != *chosen));
        *field = runs(factors, by_hand);
    }
}

fn usual(factors: usize) -> Runs {
    let at = factors.saturating_sub(1);
    Runs::Corners(USUAL.get(at).copied().unwrap_or(8))
}

fn grow(form: &mut Form) {
    let shown = form
        .fields
        .iter()
        .filter(|field| field.id.label().starts_with("vary"));
    let shown = shown.count();
    let Some(last) = shown.checked_sub(1).and_then(|last| FACTORS.get(last)) else {
        return;
    };
    let at = form
        .fields
        .iter()
        .position(|field| field.id == last[2].into());
    if let (Some(at), Some(more), false) = (at, FACTORS.get(shown), form.value(last[0]).is_empty())
    {
        form.fields.splice(at + 1..at + 1, trio(*more));
    }
}

/// How many factors have a name.
fn named(form: &Form) -> usize {
    FACTORS
        .iter()
        .filter(|[name, ..]| !form.value(*name).is_empty())
        .count()
}

/// What is chosen: the layout that it names, else the number that it begins with.
fn chosen_runs(form: &Form) -> Option<Runs> {
    let text = form.value("runs");
    let mut layouts = [Layout::FaceCentred, Layout::EdgeMiddles].into_iter();
    if let Some(layout) = layouts.find(|layout| text.ends_with(layout_words(*layout))) {
        return Some(Runs::Curve(layout));
    }
    let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().ok().map(Runs::Corners)
}

/// What the trial could tell, as far as it is typed.
fn told(form: &Form, now: &Now) -> Vec<String> {
    let factors: Vec<TrialFactor> = FACTORS
        .iter()
        .filter(|[name, ..]| !form.value(*name).is_empty())
        .map(|names| half_typed(form, names))
        .collect();
    if factors.is_empty() {
        return vec!["Nothing is varied yet.".to_owned()];
    }
    let words = match order(form, factors).and_then(|order| sketched(&order, now)) {
        Ok(words) => words,
        Err(fault) => vec![fault.words],
    };
    words
        .iter()
        .map(|words| inert(words).into_owned())
        .collect()
}

/// A factor whose settings may still be missing.
fn half_typed(form: &Form, [name, low, high]: &[&'static str; 3]) -> TrialFactor {
    let or =
        |field: &&'static str, other: &str| form.given(*field).unwrap_or_else(|| other.to_owned());
    TrialFactor {
        name: or(name, ""),
        low: or(low, "low"),
        high: or(high, "high"),
    }
}

fn sketched(order: &TrialOrder, now: &Now) -> Result<Vec<String>, Fault> {
    let page = sketch_trial(order, now).map_err(|error| blamed(&error, order, now))?;
    let mut words = vec![format!("{} pours in all", page.runs.len())];
    words.extend(page.resolution_words().map(str::to_owned));
    words.extend(page.generators);
    words.extend(page.aliases);
    Ok(words)
}

fn order(form: &Form, factors: Vec<TrialFactor>) -> Result<TrialOrder, Fault> {
    let needed = || Fault::of("runs", "is needed");
    let whole = |what: &'static str| move |text: &str| text.parse::<u64>().map_err(|_| what);
    let centres = form.read("halfway", whole("is no whole number, such as 1"))?;
    let (runs, curve) = match chosen_runs(form).ok_or_else(needed)? {
        Runs::Corners(runs) => (runs, None),
        Runs::Curve(layout) => (0, Some(layout)),
    };
    Ok(TrialOrder {
        factors,
        runs,
        curve,
        blocks: form
            .value("days")
            .parse()
            .map_err(|_| Fault::of("days", "is needed"))?,
        centres: centres.map(|centres| usize::try_from(centres).unwrap_or(usize::MAX)),
        seed: form.read("seed", whole("is no whole number, such as 7"))?,
        blind: form.value("blind") == YES,
        note: form.given("note"),
    })
}

/// The factors as typed, each with its name and both settings.
fn factors(form: &Form) -> Result<Vec<TrialFactor>, Fault> {
    let mut factors = Vec::new();
    for names in FACTORS {
        let typed = names.map(|name| form.given(name));
        if typed.iter().all(Option::is_none) {
            continue;
        }
        let [name, low, high] = needed(names, typed)?;
        factors.push(TrialFactor { name, low, high });
    }
    if factors.is_empty() {
        return Err(Fault::of(FACTORS[0][0], "is needed"));
    }
    Ok(factors)
}

fn needed(names: [&'static str; 3], typed: [Option<String>; 3]) -> Result<[String; 3], Fault> {
    for (name, text) in names.iter().zip(&typed) {
        match text {
            None => return Err(Fault::of(*name, "is needed")),
            Some(text) if text.chars().count() > LONGEST => {
                return Err(Fault::of(*name, "has more than 80 characters"));
            }
            Some(_) => {}
        }
    }
    Ok(typed.map(Option::unwrap_or_default))
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(trials: &mut Trials, desk: &Desk, ask: Ask, form: &Form) -> Result<Deed, Fault> {
    let deed = match ask {
        Ask::New => {
            let order = order(form, factors(form)?)?;
            sketched(&order, &desk.beat.now)?;
            trials.chosen.hold(None);
            Deed::Design(Box::new(order))
        }
        Ask::Skip(trial, run) => {
            let needed = || Fault::of("why", "is needed: it stands with the run for good");
            Deed::Skip(trial, run, form.given("why").ok_or_else(needed)?)
        }
    };
    Ok(deed)
}

/// A refusal in the field it is about.
fn blamed(error: &StudioError, order: &TrialOrder, now: &Now) -> Fault {
    let lower = |text: &str| text.trim().to_lowercase();
    let mut factors = order.factors.iter();
    let named = |at: usize, field: usize| FACTORS.get(at).map(|names| names[field]);
    let field = match error {
        StudioError::Refused(Refusal::FactorTwice(name)) => factors
            .rposition(|one| lower(&one.name) == lower(name))
            .and_then(|at| named(at, 0)),
        StudioError::Refused(Refusal::OneSetting(_)) => factors
            .position(|one| lower(&one.low) == lower(&one.high))
            .and_then(|at| named(at, 2)),
        StudioError::Refused(Refusal::Design(
            DesignError::Blocks(_) | DesignError::CurveDays(_),
        )) => Some("days"),
        StudioError::Refused(Refusal::Design(DesignError::NoCentres)) => Some("halfway"),
        StudioError::Refused(Refusal::Design(_)) => Some("runs"),
        StudioError::Refused(Refusal::Range(Limit::Seed)) => Some("seed"),
        StudioError::Refused(Refusal::Range(_)) => Some("halfway"),
        _ => None,
    };
    Fault {
        field: field.map(Into::into),
        // No refusal of a design holds a quantity.
        words: tell::words(error, Measures::default(), now),
    }
}
