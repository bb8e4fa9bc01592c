//! Two-level trials: which small pours to make, in which order, and what a fraction of them cannot tell apart.
//!
//! Full and regular fractional designs for one to seven factors in 4, 8, 16 or 32 runs, with the usual
//! generators (Box, Hunter and Hunter, Statistics for Experimenters; from memory). All generators are positive.

use crate::trade::trial::Level;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand::seq::SliceRandom;

/// An effect as a set of factors: bit i stands for factor i.
pub(super) type Word = u32;

/// Why a trial cannot be laid out or read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DesignError {
    /// The number of factors is out of range.
    Factors(usize),
    /// The number of runs is none of those known.
    Runs(usize),
    /// So few runs would mix the factors up with each other.
    TooFew {
        /// The factors asked for.
        factors: usize,
        /// The fewest runs that tell them apart.
        least: usize,
    },
    /// The runs cannot be split over so many days.
    Blocks(u32),
    /// So many settings have no layout for curves.
    Curve(usize),
    /// A layout for curves is poured in one day, or in so many where that is more.
    CurveDays(u32),
    /// Middles of edges alone cannot tell how it bends.
    NoCentres,
    /// The runs and the results do not belong together.
    Ragged,
    /// High and low are no longer weighed alike.
    Unbalanced,
    /// So many runs were given up that a factor cannot be told.
    GivenUp,
}

/// How a factor beyond the first few is set: by these together. Factors by their place, from 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Generator {
    /// The factor.
    pub factor: usize,
    /// What it is set by.
    pub set_by: Vec<usize>,
}

/// What cannot be told apart. Factors by their place, from 0; several are taken together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Alias {
    /// An effect, from each of these.
    Effects {
        /// The effect.
        effect: Vec<usize>,
        /// The others.
        others: Vec<Vec<usize>>,
    },
    /// The difference between days, from this effect.
    Days(Vec<usize>),
}

/// One run as planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedRun {
    /// The day's block it belongs to, from 1.
    pub block: u32,
    /// One level a factor.
    pub levels: Vec<Level>,
}

/// How sharp a trial is: by the length of its shortest mix-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Resolution {
    /// Every combination is poured.
    Full,
    /// A factor cannot be told from a pair of others.
    Three,
    /// Each factor can be told from the others, pairs cannot be told from each other.
    Four,
    /// Factors and pairs stand clear; so from here on.
    Five,
    /// The shortest mix-up is of six.
    Six,
    /// It is of seven or more.
    Seven,
}

impl Resolution {
    /// As it is usually written.
    #[must_use]
    pub const fn written(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Three => "III",
            Self::Four => "IV",
            Self::Five => "V",
            Self::Six => "VI",
            Self::Seven => "VII",
        }
    }
}

/// A trial's layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Design {
    /// How many things are varied.
    pub factors: usize,
    /// The runs, in the order they are to be poured in.
    pub runs: Vec<PlannedRun>,
    /// The length of the shortest mix-up; none when every combination is poured. III: a factor cannot be told
    /// from a pair; IV: pairs cannot be told from each other; V and more: factors and pairs stand clear.
    pub resolution: Option<u32>,
    generators: Vec<(usize, Word)>,
    blocked_on: Vec<Word>,
}

impl Design {
    /// Lays out a trial. `runs` counts the corners; where they are more than all combinations, each is repeated.
    /// `blocks` is 1, 2, 4, ...; `centres` runs with every factor halfway are added to each block; the order is
    /// drawn with `seed`, block by block.
    ///
    /// # Errors
    /// Where the numbers asked for fit no such design.
    pub fn plan(
        factors: usize,
        runs: usize,
        blocks: u32,
        centres: usize,
        seed: u64,
    ) -> Result<Self, DesignError> {
        let generators = generators(factors, runs)?;
        let group = defining(&generators);
        let distinct = runs.min(1 << factors);
        let repeats = runs / distinct;
        let free = distinct.trailing_zeros() as usize;
        let by_repeat = blocks > 0 && repeats.is_multiple_of(blocks as usize);
        let blocked_on = if by_repeat {
            Vec::new()
        } else {
            block_words(free, &group, blocks)?
        };
        let mut planned = vec![Vec::new(); blocks as usize];
        for (place, i) in (0..runs).map(|i| (i / distinct, (i % distinct) as Word)) {
            let setting = setting(i, free, &generators);
            let block = if by_repeat {
                place % blocks as usize
            } else {
                block_of(setting, &blocked_on[..blocks.trailing_zeros() as usize])
            };
            planned[block].push(levels(setting, factors));
        }
        Ok(Self {
            factors,
            runs: shuffled(planned, factors, centres, seed),
            resolution: group.iter().map(|w| w.count_ones()).min(),
            generators,
            blocked_on,
        })
    }

    /// How the factors beyond the first few are set.
    #[must_use]
    pub fn generators(&self) -> Vec<Generator> {
        let one = |(factor, word): &(usize, Word)| Generator {
            factor: *factor,
            set_by: members(*word),
        };
        self.generators.iter().map(one).collect()
    }

    /// What cannot be told apart, among factors and pairs of them; three together and more are taken as nothing. Blocks
    /// and the interaction they swallow come last.
    #[must_use]
    pub fn aliases(&self) -> Vec<Alias> {
        let group = defining(&self.generators);
        let (mut found, mut seen) = (Vec::new(), Vec::new());
        for word in words_up_to(self.factors, 2) {
            if seen.contains(&word) {
                continue;
            }
            let mut others: Vec<Word> = group.iter().map(|d| d ^ word).collect();
            others.retain(|w| w.count_ones() <= 2);
            others.sort_by_key(|w| (w.count_ones(), *w));
            seen.extend(&others);
            if !others.is_empty() {
                let others = others.into_iter().map(members).collect();
                let effect = members(word);
                found.push(Alias::Effects { effect, others });
            }
        }
        let days = self.blocked_on.iter().map(|w| Alias::Days(members(*w)));
        found.extend(days);
        found
    }

    /// What can be told apart.
    #[must_use]
    pub const fn sharpness(&self) -> Resolution {
        match self.resolution {
            None => Resolution::Full,
            Some(3) => Resolution::Three,
            Some(4) => Resolution::Four,
            Some(5) => Resolution::Five,
            Some(6) => Resolution::Six,
            Some(_) => Resolution::Seven,
        }
    }
}

/// The factors of an effect, by their place.
pub(super) fn members(word: Word) -> Vec<usize> {
    (0..7).filter(|i| word >> i & 1 == 1).collect()
}

/// The factors beyond the free ones, each with the word it is set by.
fn generators(factors: usize, runs: usize) -> Result<Vec<(usize, Word)>, DesignError> {
    if !(1..=7).contains(&factors) {
        return Err(DesignError::Factors(factors));
    }
    if ![4, 8, 16, 32].contains(&runs) {
        return Err(DesignError::Runs(runs));
    }
    if runs <= factors {
        let least = if factors < 4 { 4 } else { 8 };
        return Err(DesignError::TooFew { factors, least });
    }
    let words: &[Word] = match (factors, runs) {
        (3, 4) => &[0b11],
        (4, 8) => &[0b111],
        (5..=7, 8) => &[0b011, 0b101, 0b110, 0b111],
        (5, 16) => &[0b1111],
        (6 | 7, 16) => &[0b0111, 0b1110, 0b1101],
        (6, 32) => &[0b11111],
        (7, 32) => &[0b01111, 0b11011],
        _ => &[],
    };
    let free = runs.trailing_zeros() as usize;
    Ok((free..factors).zip(words.iter().copied()).collect())
}

/// Every word that is the same on all runs: the products of the generators, the empty one left out.
fn defining(generators: &[(usize, Word)]) -> Vec<Word> {
    let mut group = vec![0];
    for (factor, word) in generators {
        let twice: Vec<Word> = group.iter().map(|g| g ^ word ^ (1 << factor)).collect();
        group.extend(twice);
    }
    group.remove(0);
    group
}

/// The high factors of one combination, as bits.
fn setting(free_bits: Word, free: usize, generators: &[(usize, Word)]) -> Word {
    let set = |all: Word, (factor, word): &(usize, Word)| {
        let low = (!free_bits & word & ((1 << free) - 1)).count_ones() % 2;
        all | ((1 - low) << factor)
    };
    generators.iter().fold(free_bits, set)
}

/// Which block a combination falls in: one bit a blocking word.
fn block_of(setting: Word, words: &[Word]) -> usize {
    let bit = |w: &Word| ((setting & w).count_ones() % 2) as usize;
    words.iter().fold(0, |block, w| block * 2 + bit(w))
}

/// The words to give up to the blocks: those whose shortest alias is longest, products counted in.
fn block_words(free: usize, group: &[Word], blocks: u32) -> Result<Vec<Word>, DesignError> {
    let shortest = |w: Word| {
        group
            .iter()
            .map(|d| (d ^ w).count_ones())
            .fold(w.count_ones(), u32::min)
    };
    let all = 1..(1 as Word) << free;
    let best = match blocks {
        2 => all.map(|w| vec![w]).max_by_key(|v| (shortest(v[0]), v[0])),
        4 => all
            .clone()
            .flat_map(|v| all.clone().filter(move |w| v < *w).map(move |w| vec![v, w]))
            .max_by_key(|v| {
                let three = [v[0], v[1], v[0] ^ v[1]].map(shortest);
                (three.iter().min().copied(), three.iter().sum::<u32>())
            }),
        _ => None,
    };
    let mut words = best.ok_or(DesignError::Blocks(blocks))?;
    if blocks == 4 {
        words.push(words[0] ^ words[1]);
    }
    if words.iter().any(|w| shortest(*w) < 2) {
        return Err(DesignError::Blocks(blocks));
    }
    Ok(words)
}

fn levels(setting: Word, factors: usize) -> Vec<Level> {
    let one = |i: usize| {
        if setting >> i & 1 == 1 {
            Level::High
        } else {
            Level::Low
        }
    };
    (0..factors).map(one).collect()
}

fn shuffled(
    blocks: Vec<Vec<Vec<Level>>>,
    factors: usize,
    centres: usize,
    seed: u64,
) -> Vec<PlannedRun> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut blocks: Vec<_> = blocks.into_iter().filter(|b| !b.is_empty()).collect();
    blocks.shuffle(&mut rng);
    let mut runs = Vec::new();
    for (block, mut settings) in (1..).zip(blocks) {
        settings.extend(vec![vec![Level::Middle; factors]; centres]);
        settings.shuffle(&mut rng);
        runs.extend(
            settings
                .into_iter()
                .map(|levels| PlannedRun { block, levels }),
        );
    }
    runs
}

/// All words of at most so many factors, the shortest first.
pub(super) fn words_up_to(factors: usize, most: u32) -> Vec<Word> {
    let mut words: Vec<Word> = (1..(1 as Word) << factors)
        .filter(|w| w.count_ones() <= most)
        .collect();
    words.sort_by_key(|w| (w.count_ones(), std::cmp::Reverse(w.reverse_bits())));
    words
}
