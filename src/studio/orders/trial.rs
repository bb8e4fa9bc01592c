//! To design a trial, or to give a run of one up.

use super::field::wrong;
use super::{Field, Hint, Typed, Wrong};
use crate::numbers::statistics::curves::Layout;
use crate::studio::lookup::proper_name;
use crate::studio::{Limit, Refusal, RunFault, WordOf, read_factor};
use crate::trade::amount::Measures;
use crate::trade::trial::TrialFactor;

/// A trial to be designed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct TrialOrder {
    /// What is varied.
    pub factors: Vec<TrialFactor>,
    /// How many pours: 4, 8, 16 or 32, centre runs not counted; a curve has its own number.
    pub runs: usize,
    /// The layout where a curve is to be read from it, and not only the ends compared.
    pub curve: Option<Layout>,
    /// Over how many days they are spread: 1, 2, 4, ….
    pub blocks: u32,
    /// How many runs with everything halfway are added to each block; unsaid, none, or three for a curve.
    pub centres: Option<usize>,
    /// What the order is drawn with; the present instant otherwise.
    pub seed: Option<u64>,
    /// Whether settings are hidden until every run is judged or given up.
    pub blind: bool,
    /// What it is to find out.
    pub note: Option<String>,
}

/// The fields of a trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TrialField {
    /// What is varied in a row, the first row 0; its settings stand beside it.
    Vary(u8),
    /// A row's low setting.
    Low(u8),
    /// A row's high setting.
    High(u8),
    /// What is varied with its settings in one text: `rest=12h,24h`; may be said several times.
    Factors,
    /// How many pours, or the word of a curve's layout.
    Runs,
    /// Over how many days.
    Days,
    /// How many runs a day have everything halfway.
    Centres,
    /// Whether the settings are hidden.
    Blind,
    /// What the order is drawn with.
    Seed,
    /// What it is to find out.
    Note,
}

/// The field of a run that is given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SkipField {
    /// Why.
    Why,
}

/// What the rows of a form are called.
const LABELS: [[&str; 3]; TrialField::ROWS as usize] = [
    ["vary 1", "low 1", "high 1"],
    ["vary 2", "low 2", "high 2"],
    ["vary 3", "low 3", "high 3"],
    ["vary 4", "low 4", "high 4"],
    ["vary 5", "low 5", "high 5"],
];

fn labels(row: u8) -> [&'static str; 3] {
    let labels = LABELS.get(usize::from(row)).copied();
    labels.unwrap_or(["vary", "low", "high"])
}

impl TrialField {
    /// How many rows of something varied a form may have.
    pub const ROWS: u8 = 5;
    /// That the settings are hidden.
    pub const YES: &str = "yes";
    /// That they are not.
    pub const NO: &str = "no";

    /// The word of a curve's layout, as it is read.
    #[must_use]
    pub const fn curve(layout: Layout) -> &'static str {
        match layout {
            Layout::FaceCentred => "face-centred",
            Layout::EdgeMiddles => "edge-middles",
        }
    }
}

impl Field for TrialField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Trial(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Vary(row) => labels(row)[0],
            Self::Low(row) => labels(row)[1],
            Self::High(row) => labels(row)[2],
            Self::Factors => "factor",
            Self::Runs => "runs",
            Self::Days => "days",
            Self::Centres => "halfway",
            Self::Blind => "blind",
            Self::Seed => "seed",
            Self::Note => "note",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Vary(_) => "what is varied: rest, air, spin",
            Self::Low(_) => "its low setting: 12 h",
            Self::High(_) => "its high setting: 24 h",
            Self::Factors => "what is varied, low and high: rest=12h,24h",
            Self::Runs => "how many pours, and what they can tell",
            Self::Days => "the runs are split evenly over them",
            Self::Centres => "more runs a day, everything halfway; empty: none, or 3 for a curve",
            Self::Blind => "yes: settings hidden until all are judged",
            Self::Seed => "a number draws one order; empty: by the clock",
            Self::Note => "what it is to find out",
        })
    }
}

impl Field for SkipField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Skip(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        "why"
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says("it stands with the run: fell face down")
    }
}

impl SkipField {
    /// Why a run of a trial is given up.
    ///
    /// # Errors
    /// Where no reason is said.
    pub fn why(typed: &Typed<Self>, trial: i64) -> Result<String, Wrong> {
        let fault = RunFault::NoReason;
        let missing = || wrong(Self::Why, Refusal::Run { trial, fault });
        typed.note(Self::Why).ok_or_else(missing)
    }
}

impl TrialOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, and nothing that is varied.
    pub fn read(typed: &Typed<TrialField>) -> Result<Self, Wrong> {
        let order = Self::beside(typed, factors(typed)?)?;
        match order.factors.is_empty() {
            true => Err(needed(TrialField::Vary(0))),
            false => Ok(order),
        }
    }

    /// As [`TrialOrder::read`], of what is typed so far: a setting that is not said yet is called low or high.
    ///
    /// # Errors
    /// As there, what is varied aside.
    pub fn so_far(typed: &Typed<TrialField>) -> Result<Self, Wrong> {
        let row = |row| {
            let or = |field, other: &str| typed.note(field).unwrap_or_else(|| other.to_owned());
            Some(TrialFactor {
                name: typed.note(TrialField::Vary(row))?,
                low: or(TrialField::Low(row), "low"),
                high: or(TrialField::High(row), "high"),
            })
        };
        Self::beside(typed, (0..TrialField::ROWS).filter_map(row).collect())
    }

    /// How many pours, or the layout of a curve, which has its own number.
    ///
    /// # Errors
    /// Where nothing is typed, or neither.
    pub fn runs(typed: &Typed<TrialField>) -> Result<(usize, Option<Layout>), Wrong> {
        let missing = Refusal::Needed(TrialField::Runs.label());
        typed.need(TrialField::Runs, missing, runs)
    }

    /// What is said beside the factors.
    fn beside(typed: &Typed<TrialField>, factors: Vec<TrialFactor>) -> Result<Self, Wrong> {
        let (runs, curve) = Self::runs(typed)?;
        let whole = |limit| move |text: &str| number(text).ok_or(Refusal::Range(limit));
        let centres = typed.read(TrialField::Centres, whole(Limit::Centres))?;
        let days = typed.read(TrialField::Days, |text| {
            let days = text.trim().parse::<u32>();
            days.map_err(|_| Refusal::Needed(TrialField::Days.label()))
        })?;
        Ok(Self {
            factors,
            runs,
            curve,
            blocks: days.unwrap_or(1),
            centres: centres.map(|centres| usize::try_from(centres).unwrap_or(usize::MAX)),
            seed: typed.read(TrialField::Seed, whole(Limit::Seed))?,
            blind: typed.text(TrialField::Blind) == Some(TrialField::YES),
            note: typed.note(TrialField::Note),
        })
    }
}

fn needed(field: TrialField) -> Wrong {
    wrong(field, Refusal::Needed(field.label()))
}

fn number(text: &str) -> Option<u64> {
    text.trim().parse().ok()
}

/// How many pours, or the layout of a curve, which has its own number.
fn runs(text: &str) -> Result<(usize, Option<Layout>), Refusal> {
    let layouts = [Layout::FaceCentred, Layout::EdgeMiddles];
    let curve = layouts
        .into_iter()
        .find(|one| TrialField::curve(*one) == text.trim());
    if curve.is_some() {
        return Ok((0, curve));
    }
    let runs = text.trim().parse().ok();
    let runs = runs.ok_or_else(|| Refusal::Word {
        of: WordOf::Runs,
        said: text.to_owned(),
    })?;
    Ok((runs, None))
}

fn factors(typed: &Typed<TrialField>) -> Result<Vec<TrialFactor>, Wrong> {
    let said = typed.all(TrialField::Factors).map(read_factor);
    let said = said.collect::<Result<Vec<_>, Refusal>>();
    let mut factors = said.map_err(|why| wrong(TrialField::Factors, why))?;
    for row in 0..TrialField::ROWS {
        factors.extend(row_factor(typed, row)?);
    }
    Ok(factors)
}

/// What a row varies, with both settings; `None` where the row is empty.
fn row_factor(typed: &Typed<TrialField>, row: u8) -> Result<Option<TrialFactor>, Wrong> {
    let fields = [
        TrialField::Vary(row),
        TrialField::Low(row),
        TrialField::High(row),
    ];
    if fields.iter().all(|field| typed.text(*field).is_none()) {
        return Ok(None);
    }
    let named = |field| {
        let missing = Refusal::Needed(Field::label(field));
        typed.need(field, missing, proper_name)
    };
    let [name, low, high] = fields.map(named);
    Ok(Some(TrialFactor {
        name: name?,
        low: low?,
        high: high?,
    }))
}
