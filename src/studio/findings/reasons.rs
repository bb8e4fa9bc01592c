//! What went with good pours: factors weighed over all models, any two in a table, and time.

use crate::numbers::statistics::averaging::{Outcome, TooEarly};
use crate::numbers::statistics::beta_binomial::standings;
use crate::numbers::statistics::findings::{Basis, Finding, find};
use crate::numbers::statistics::pair::{Pair, pair};
use crate::numbers::statistics::proportion::Tally;
use crate::numbers::statistics::sides::{Side, Which};
use crate::studio::file::settings::settings;
use crate::studio::findings::drift::{Drift, drift};
use crate::studio::findings::next::{Suggestion, next};
use crate::studio::lookup::{self, Offered};
use crate::studio::{
    Answer, LookedBack, NameOf, OutcomeKind, Posterior, PourPage, RecipeBook, Refusal, Studio,
    findings::factors,
};
use crate::trade::instant::Now;

/// Factors are weighed over so many of the newest judged pours at most: years of a busy studio, and the same work however
/// old it is. What paint, hand and room were before says little of what to do tomorrow.
const WEIGHED: usize = 2000;

/// Those of some pours, newest first, that factors are weighed over.
pub(super) fn weighed<T>(newest_first: &[T]) -> &[T] {
    &newest_first[..newest_first.len().min(WEIGHED)]
}

/// What went with good pours in a window of time.
#[derive(Debug, Clone)]
pub struct Reasons {
    /// How many pours of the window were judged; those that are weighed are the newest of them.
    pub judged: usize,
    /// Every factor, the surest first.
    pub factors: Vec<Finding>,
    /// What a pour was judged by.
    pub outcome: OutcomeKind,
    /// What the factors' list rests on; or why nothing can be weighed yet.
    pub basis: Result<Basis, TooEarly>,
    /// How pours came out as time went on.
    pub drift: Drift,
    /// What to try next.
    pub next: Vec<Suggestion>,
    /// The numbers of the judged pours, by the places that factors know them by.
    pours: Vec<i64>,
    /// How each of them came out.
    good: Vec<bool>,
}

/// A side of a factor, and what is believed of it by all sides together.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// Which side.
    pub which: Which,
    /// How its pours came out.
    pub tally: Tally,
    /// What is believed of it.
    pub posterior: Posterior,
}

impl Studio {
    /// What went with good pours in a window of time, and what to try next.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reasons(&self, back: &LookedBack, now: &Now) -> Answer<Reasons> {
        let LookedBack { found, judged, .. } = back;
        let all = judged.len();
        let judged = weighed(judged);
        let read = self.book.read()?;
        let factors::Factors { factors, rows, .. } = factors::table(&read, judged, found.bar, now)?;
        let hour = |page: &PourPage| page.pour.at.timestamp_millis() as f64 / 3_600_000.0;
        let hours: Vec<f64> = judged.iter().map(|(page, _)| hour(page)).collect();
        let outcome = match back.outcome {
            OutcomeKind::Good => Outcome::Good,
            OutcomeKind::Cells => Outcome::Score,
            measured => Outcome::Measured(values(judged, measured)),
        };
        let half_life = settings(&read)?.half_life;
        let weighed = find(&factors, &rows, &hours, &outcome);
        Ok(Reasons {
            judged: all,
            factors: weighed.factors,
            outcome: back.outcome,
            basis: weighed.basis,
            drift: drift(&back.judged, found.bar, now),
            next: next(back, &RecipeBook::read(&read)?, half_life, now),
            pours: judged.iter().map(|(page, _)| page.pour.id).collect(),
            good: rows.iter().map(|row| row.good).collect(),
        })
    }
}

/// What was measured of each pour; none where nothing was.
fn values(judged: &[(PourPage, u8)], outcome: OutcomeKind) -> Vec<Option<f64>> {
    let value = |(page, _): &(PourPage, u8)| outcome.of(page.seen(None)?);
    judged.iter().map(value).collect()
}

/// The factor of a name, or of the only name that begins so.
pub(super) fn called<'a>(factors: &'a [Finding], name: &str) -> Answer<&'a Finding> {
    let found = lookup::called(NameOf::Factor, name, factors.iter());
    found.map_err(|_| unknown(factors, name))
}

fn unknown(factors: &[Finding], said: &str) -> crate::studio::StudioError {
    Refusal::NoFactor(said.to_owned(), names(factors)).into()
}

fn names(factors: &[Finding]) -> Vec<String> {
    factors.iter().map(|one| one.name.clone()).collect()
}

impl Offered for Finding {
    fn name(&self) -> &String {
        &self.name
    }

    fn is_retired(&self) -> bool {
        false
    }
}

impl Reasons {
    /// How many pours are weighed, where older ones are left out.
    #[must_use]
    pub fn older(&self) -> Option<usize> {
        let weighed = self.pours.len();
        (weighed < self.judged).then_some(weighed)
    }

    /// The numbers of the pours at some places.
    #[must_use]
    pub fn numbers(&self, places: &[usize]) -> Vec<i64> {
        let numbers = places.iter().filter_map(|&place| self.pours.get(place));
        numbers.copied().collect()
    }

    /// The factor of a name, or of the only name that begins so.
    ///
    /// # Errors
    /// Where there is none; the names are said.
    pub fn factor(&self, name: &str) -> Answer<&Finding> {
        called(&self.factors, name)
    }

    fn unknown(&self, said: &str) -> crate::studio::StudioError {
        unknown(&self.factors, said)
    }

    /// Two factors in a table.
    #[must_use]
    pub fn pair(&self, first: &Finding, second: &Finding) -> Pair {
        let names = [first.name.as_str(), second.name.as_str()];
        pair(names, [&first.sides, &second.sides], &self.good)
    }

    /// Two factors in a table, by their names with a comma between. A name may hold a comma itself.
    ///
    /// # Errors
    /// Where one of them is unknown, or both are the same.
    pub fn pair_named(&self, said: &str) -> Answer<Pair> {
        let halves = said.match_indices(',');
        let mut halves = halves.map(|(at, comma)| (&said[..at], &said[at + comma.len()..]));
        let both = halves.find_map(|(first, second)| {
            let first = self.factor(first).ok()?;
            Some((first, self.factor(second).ok()?))
        });
        match both {
            Some((first, second)) if first.name == second.name => {
                Err(Refusal::FactorWithItself(said.to_owned()).into())
            }
            Some((first, second)) => Ok(self.pair(first, second)),
            None => Err(self.no_pair(said)),
        }
    }

    /// Which half of a pair is no factor.
    fn no_pair(&self, said: &str) -> crate::studio::StudioError {
        let Some((first, _)) = said.split_once(',') else {
            return Refusal::OneFactor(said.to_owned(), names(&self.factors)).into();
        };
        let known = |at: &usize| self.factor(&said[..*at]).is_ok();
        let commas = said.match_indices(',').map(|(at, _)| at);
        match commas.into_iter().find(known) {
            Some(at) => self.unknown(said[at + 1..].trim()),
            None => self.unknown(first.trim()),
        }
    }
}

/// The sides of a factor that hold a pour, the surest good one first.
#[must_use]
pub fn levels(finding: &Finding) -> Vec<Level> {
    let sides = finding.sides.each.iter();
    let sides: Vec<&Side> = sides.filter(|side| side.tally.pours > 0).collect();
    let tallies: Vec<Tally> = sides.iter().map(|side| side.tally).collect();
    let believed = standings(&tallies).into_iter().map(Posterior::from);
    let level = |(side, posterior): (&&Side, Posterior)| Level {
        which: side.which.clone(),
        tally: side.tally,
        posterior,
    };
    let mut levels: Vec<Level> = sides.iter().zip(believed).map(level).collect();
    levels.sort_by(|a, b| b.posterior.low10.total_cmp(&a.posterior.low10));
    levels
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_weighed_over_the_newest_pours() {
        let ages: Vec<usize> = (0..2003).collect();
        assert_eq!(weighed(&ages).last(), Some(&1999));
        assert_eq!(weighed(&ages[..7]), &ages[..7]);
    }
}
