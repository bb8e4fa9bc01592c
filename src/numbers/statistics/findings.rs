//! What went with good pours: every factor with its sides, and what all models together believe of it.

use super::averaging::{self, Averaged, Belief, Effect, Lack, Outcome, TooEarly};
use super::sides::Sides;

/// Fewer rows of either outcome than this say nothing.
pub const LEAST_OF_EACH: usize = 3;
/// Fewer rows than this are too early to tell, whatever is not found in them.
pub const LEAST_ROWS: usize = 20;

/// What one pour had of a factor.
#[derive(Debug, Clone, PartialEq)]
pub enum FactorValue {
    /// A measured number; one that is not finite counts as missing.
    Number(f64),
    /// A word chosen from a few.
    Word(String),
    /// Yes or no.
    Answer(bool),
    /// Not written down.
    Missing,
}

/// One of the few things that a factor without numbers may be; no before yes, words by their letters.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Choice {
    /// Yes or no.
    Answer(bool),
    /// A word.
    Word(String),
}

impl FactorValue {
    /// It, where it is no number.
    pub(super) fn choice(&self) -> Option<Choice> {
        match self {
            Self::Word(word) => Some(Choice::Word(word.clone())),
            Self::Answer(yes) => Some(Choice::Answer(*yes)),
            Self::Number(_) | Self::Missing => None,
        }
    }
}

/// How a factor is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FactorKind {
    /// By numbers.
    Number,
    /// By words, or by yes and no.
    Word,
}

/// A factor's name, kind, the unit shown after its numbers, and how finely they are measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// Its name, as shown.
    pub name: String,
    /// Numbers or words.
    pub kind: FactorKind,
    /// The unit's text; empty for none.
    pub unit: String,
    /// The least step its instrument shows, in the unit: 0.1 for a stopwatch. Over 0; of no matter for words.
    pub step: f64,
}

/// One pour: how it came out and its factors, in the order of the list of factors.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// Whether it was called good.
    pub good: bool,
    /// The painter's grade of the cells.
    pub cells: u8,
    /// One value for each factor.
    pub factors: Vec<FactorValue>,
}

/// What was found of one factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The factor's name.
    pub name: String,
    /// Its kind.
    pub kind: FactorKind,
    /// The unit's text; empty for none.
    pub unit: String,
    /// Pours on which it was written down.
    pub n: usize,
    /// Its sides, with the pours on each.
    pub sides: Sides,
    /// What is believed of it.
    pub standing: Standing,
}

/// What is believed of a factor.
#[derive(Debug, Clone, PartialEq)]
pub enum Standing {
    /// It was weighed.
    Weighed {
        /// The chance that it matters, or one of those that go with it.
        inclusion: f64,
        /// What it does.
        effect: Effect,
        /// The names of those that cannot be told from it.
        twins: Vec<String>,
    },
    /// It cannot be told from this one, and is said with it.
    Twin(String),
    /// It was left out.
    LeftOut(Lack),
    /// Nothing can be weighed yet.
    TooEarly(TooEarly),
}

/// All that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Every factor, the surest first, then what goes with another, then what was left out.
    pub factors: Vec<Finding>,
    /// What it rests on; or why nothing can be weighed yet.
    pub basis: Result<Basis, TooEarly>,
}

/// What a list of factors rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Basis {
    /// The pours.
    pub pours: usize,
    /// The sessions they were poured in.
    pub sessions: usize,
    /// The models that were weighed.
    pub models: usize,
}

impl Finding {
    /// The chance that it matters; none where it was not weighed.
    #[must_use]
    pub const fn inclusion(&self) -> Option<f64> {
        match &self.standing {
            Standing::Weighed { inclusion, .. } => Some(*inclusion),
            _ => None,
        }
    }

    /// Whether it is spoken of: likelier to matter than not.
    #[must_use]
    pub fn is_said(&self) -> bool {
        self.inclusion()
            .is_some_and(|chance| chance > averaging::SAID)
    }

    /// Where it stands in the list.
    fn rank(&self) -> (u8, f64) {
        match &self.standing {
            Standing::Weighed { inclusion, .. } => (0, -inclusion),
            Standing::Twin(_) => (1, 0.0),
            Standing::LeftOut(_) | Standing::TooEarly(_) => (2, 0.0),
        }
    }
}

/// Weighs every factor; `hours` is when each row was poured.
#[must_use]
pub fn find(factors: &[Factor], rows: &[Observation], hours: &[f64], outcome: &Outcome) -> Found {
    let averaged = averaging::average(factors, rows, hours, outcome);
    let finding = |(place, factor): (usize, &Factor)| {
        let sides = Sides::of(factor, place, rows);
        Finding {
            name: factor.name.clone(),
            kind: factor.kind,
            unit: factor.unit.clone(),
            n: sides.pours(),
            sides,
            standing: match &averaged {
                Ok(all) => standing(place, all, factors),
                Err(early) => Standing::TooEarly(*early),
            },
        }
    };
    let mut found: Vec<Finding> = factors.iter().enumerate().map(finding).collect();
    found.sort_by(|a, b| {
        let (a, b) = (a.rank(), b.rank());
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    Found {
        factors: found,
        basis: averaged.map(|all| all.basis()),
    }
}

fn standing(place: usize, all: &Averaged, factors: &[Factor]) -> Standing {
    let lack = all.left_out.iter().find(|one| one.0 == place);
    if let Some((_, lack)) = lack {
        return Standing::LeftOut(*lack);
    }
    let name = |place: &usize| {
        factors
            .get(*place)
            .map(|one| one.name.clone())
            .unwrap_or_default()
    };
    let own = |one: &&Belief| one.places.contains(&place);
    match all.beliefs.iter().find(own) {
        Some(belief) if belief.places.first() == Some(&place) => Standing::Weighed {
            inclusion: belief.inclusion,
            effect: belief.effect.clone(),
            twins: belief.places.iter().skip(1).map(name).collect(),
        },
        Some(belief) => Standing::Twin(belief.places.first().map(name).unwrap_or_default()),
        None => Standing::LeftOut(Lack::Same),
    }
}
