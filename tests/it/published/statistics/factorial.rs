//! Trials: layouts by their defining properties, results against worked examples.

use crate::near::near;
use proptest::prelude::*;
use stillcup::numbers::statistics::effects::{Analysis, ErrorSource, effects};
use stillcup::numbers::statistics::factorial::{Alias, Design, DesignError, Generator, PlannedRun};
use stillcup::trade::trial::Level;

/// Runs in standard order: the first factor changes fastest.
fn standard(factors: usize) -> Vec<PlannedRun> {
    let level = |i: u32, f: usize| {
        if i >> f & 1 == 1 {
            Level::High
        } else {
            Level::Low
        }
    };
    (0..1u32 << factors)
        .map(|i| PlannedRun {
            block: 1,
            levels: (0..factors).map(|f| level(i, f)).collect(),
        })
        .collect()
}

fn value(found: &Analysis, name: &str) -> f64 {
    let factors: Vec<usize> = name.bytes().map(|b| usize::from(b - b'A')).collect();
    let is = |a: &[usize]| a == factors.as_slice();
    let effect = found
        .effects
        .iter()
        .find(|e| is(&e.factors) || e.aliases.iter().any(|a| is(a)));
    effect.unwrap().value
}

const FILTRATION: [f64; 16] = [
    45., 71., 48., 65., 68., 60., 80., 65., 43., 100., 45., 104., 75., 86., 70., 96.,
];

#[test]
fn a_full_trial_without_repeats() {
    // The pilot plant filtration example of a textbook on design of experiments, and Lenth's pseudo
    // standard error for it, 2.625: MEMORY, to the digits printed. So are Ye and Hamada's margins of fifteen effects.
    let found = effects(&standard(4), &FILTRATION).unwrap();
    for (name, told) in [
        ("A", 21.625),
        ("B", 3.125),
        ("C", 9.875),
        ("D", 14.625),
        ("AB", 0.125),
        ("AC", -18.125),
        ("AD", 16.625),
        ("BC", 2.375),
        ("BD", -0.375),
        ("CD", -1.125),
        ("ABC", 1.875),
        ("ABD", 4.125),
        ("ACD", -1.625),
        ("BCD", -2.625),
        ("ABCD", 1.375),
    ] {
        near(value(&found, name), told, 1e-12);
    }
    let (error, freedom, source) = found.error.unwrap();
    assert_eq!((freedom, source), (5.0, ErrorSource::Lenth));
    near(error, 2.625, 1e-12);
    let a = found.effects[0].interval.unwrap();
    // Seen from A the fourteen others have the same error; 2.42 is the 95 % point, simulated.
    near((a.high - a.low) / 2.0 / 2.625, 2.42, 0.02);
    let clear = found
        .effects
        .iter()
        .filter(|e| !e.interval.unwrap().holds(0.0));
    assert_eq!(clear.count(), 5);
    // Over 4.240 x 2.625 = 11.13: A, D, AC and AD; C is 9.875.
    let clear = found.effects.iter().filter(|e| e.is_clear);
    assert_eq!(clear.count(), 4);
}

#[test]
fn a_half_fraction_of_it() {
    // The same textbook's half fraction with D = ABC; MEMORY.
    let half: Vec<PlannedRun> = standard(3)
        .into_iter()
        .map(|mut r| {
            let lows = r.levels.iter().filter(|l| **l == Level::Low).count();
            r.levels.push(if lows % 2 == 0 {
                Level::High
            } else {
                Level::Low
            });
            r
        })
        .collect();
    let found = effects(&half, &[45., 100., 45., 65., 75., 60., 80., 96.]).unwrap();
    for (name, told) in [
        ("A", 19.0),
        ("B", 1.5),
        ("C", 14.0),
        ("D", 16.5),
        ("AB", -1.0),
        ("AC", -18.5),
        ("AD", 19.0),
    ] {
        near(value(&found, name), told, 1e-12);
    }
    let ab = &found.effects[4];
    assert_eq!((&ab.factors, &ab.aliases), (&vec![0, 1], &vec![vec![2, 3]]));
}

#[test]
fn repeats_give_the_error() {
    // The plasma etching example, two of each corner: MEMORY (effects, error mean square 2252.56, 8 degrees of
    // freedom); the standard error is sqrt(4 * 2252.56 / 16) by hand; t at 97.5 % with 8 is 2.306.
    let first = [550., 669., 633., 642., 1037., 749., 1075., 729.];
    let second = [604., 650., 601., 635., 1052., 868., 1063., 860.];
    let runs = [standard(3), standard(3)].concat();
    let found = effects(&runs, &[first, second].concat()).unwrap();
    for (name, told) in [
        ("A", -101.625),
        ("B", 7.375),
        ("C", 306.125),
        ("AB", -24.875),
        ("AC", -153.625),
        ("BC", -2.125),
        ("ABC", 5.625),
    ] {
        near(value(&found, name), told, 1e-9);
    }
    let (error, freedom, source) = found.error.unwrap();
    assert_eq!((freedom, source), (8.0, ErrorSource::Repeats));
    near(error, (4.0 * 2252.5625f64 / 16.0).sqrt(), 1e-9);
    let a = found.effects[0].interval.unwrap();
    near((a.high - a.low) / 2.0 / error, 2.306, 5e-4);
}

#[test]
fn centre_runs_tell_a_bend() {
    // By hand: corners mean 5, centres 8, 10, 9: mean 9, variance 1 with 2 degrees of freedom. The effects are 2, 4 and
    // 0, Lenth's of them 3 with one; pooled 11/3 with 3. A range over it reaches 2.65 errors (simulated).
    let mut runs = standard(2);
    let centre = PlannedRun {
        block: 1,
        levels: vec![Level::Middle; 2],
    };
    runs.extend(vec![centre; 3]);
    let found = effects(&runs, &[2., 4., 6., 8., 8., 10., 9.]).unwrap();
    near(value(&found, "A"), 2.0, 1e-12);
    near(value(&found, "B"), 4.0, 1e-12);
    let (bend, range) = found.curvature.unwrap();
    near(bend, 4.0, 1e-12);
    let reach = 2.65 * (11.0f64 / 3.0 * (1.0 / 3.0 + 1.0 / 4.0)).sqrt();
    near(range.unwrap().high, 4.0 + reach, 0.02);
    near(found.error.unwrap().0, (11.0f64 / 3.0).sqrt(), 1e-12);
}

#[test]
fn the_usual_resolutions() {
    // Box, Hunter and Hunter's table of fractions; MEMORY.
    for (factors, runs, told) in [
        (3, 4, "III"),
        (3, 8, "full"),
        (4, 8, "IV"),
        (5, 8, "III"),
        (6, 8, "III"),
        (7, 8, "III"),
        (5, 16, "V"),
        (6, 16, "IV"),
        (7, 16, "IV"),
        (5, 32, "full"),
        (6, 32, "VI"),
        (7, 32, "IV"),
    ] {
        let design = Design::plan(factors, runs, 1, 0, 1).unwrap();
        assert_eq!(design.sharpness().written(), told, "{factors} in {runs}");
    }
}

#[test]
fn what_sets_a_factor_and_what_it_cannot_be_told_from() {
    // D = ABC pairs AB with CD, AC with BD, AD with BC: by hand.
    let design = Design::plan(4, 8, 1, 0, 1).unwrap();
    let (factor, set_by) = (3, vec![0, 1, 2]);
    assert_eq!(design.generators(), [Generator { factor, set_by }]);
    let pairs = |effect: [usize; 2], other: [usize; 2]| Alias::Effects {
        effect: effect.to_vec(),
        others: vec![other.to_vec()],
    };
    assert_eq!(
        design.aliases(),
        [
            pairs([0, 1], [2, 3]),
            pairs([0, 2], [1, 3]),
            pairs([0, 3], [1, 2]),
        ]
    );
    let full = Design::plan(3, 8, 2, 0, 1).unwrap();
    assert_eq!(full.aliases(), [Alias::Days(vec![0, 1, 2])]);
    let clear = Design::plan(5, 16, 1, 0, 1).unwrap();
    assert!(clear.aliases().is_empty());
}

#[test]
fn what_cannot_be_laid_out() {
    let plan = |f, r, b| Design::plan(f, r, b, 0, 1).unwrap_err();
    assert_eq!(plan(8, 16, 1), DesignError::Factors(8));
    assert_eq!(plan(0, 4, 1), DesignError::Factors(0));
    assert_eq!(plan(3, 12, 1), DesignError::Runs(12));
    let few = DesignError::TooFew {
        factors: 5,
        least: 8,
    };
    assert_eq!(plan(5, 4, 1), few);
    assert_eq!(plan(3, 8, 3), DesignError::Blocks(3));
    assert_eq!(plan(3, 8, 0), DesignError::Blocks(0));
    assert_eq!(plan(7, 8, 2), DesignError::Blocks(2));
}

#[test]
fn what_cannot_be_read() {
    let runs = standard(2);
    assert_eq!(
        effects(&runs[..3], &[1., 2., 3.]),
        Err(DesignError::Unbalanced)
    );
    assert_eq!(effects(&runs, &[1., 2., 3.]), Err(DesignError::Ragged));
    assert_eq!(
        effects(&runs, &[1., 2., 3., f64::NAN]),
        Err(DesignError::Ragged)
    );
    assert_eq!(effects(&[], &[]), Err(DesignError::Ragged));
}

proptest! {
    #[test]
    fn every_layout_is_balanced(factors in 2usize..=7, size in 2u32..=5, splits in 0u32..=2, centres in 0usize..3, seed: u64) {
        // The defining properties, checked on the runs alone: every two factors meet in all four ways equally
        // often, so do a factor and the blocks, and the analysis gives back the effects that were put in.
        let Ok(design) = Design::plan(factors, 1 << size, 1 << splits, centres, seed) else {
            return Ok(());
        };
        let corners: Vec<&PlannedRun> = design.runs.iter().filter(|r| !r.levels.contains(&Level::Middle)).collect();
        prop_assert_eq!(corners.len(), 1 << size);
        prop_assert_eq!(design.runs.len(), (1 << size) + (centres << splits));
        let high = |r: &PlannedRun, f: usize| r.levels[f] == Level::High;
        for f in 0..factors {
            for g in 0..f {
                let both = corners.iter().filter(|r| high(r, f) && high(r, g)).count();
                prop_assert_eq!(both * 4, corners.len());
            }
            for block in 1..=1u32 << splits {
                let inside: Vec<_> = corners.iter().filter(|r| r.block == block).collect();
                prop_assert_eq!(inside.len() << splits, corners.len());
                prop_assert_eq!(inside.iter().filter(|r| high(r, f)).count() * 2, inside.len());
            }
        }
        let y: Vec<f64> = design.runs.iter().map(|r| {
            (0..factors).map(|f| if high(r, f) { f as f64 } else { 0.0 }).sum::<f64>() + 10.0 * f64::from(r.block)
        }).collect();
        let found = effects(&design.runs, &y).unwrap();
        for f in 0..factors {
            prop_assert!((found.effects[f].value - f as f64).abs() < 1e-9);
            prop_assert!(!found.effects[f].with_blocks);
        }
        let fewest = found.effects.iter().flat_map(|e| e.aliases.iter().map(|a| a.len() + e.factors.len())).min();
        prop_assert!(design.resolution.is_none_or(|r| fewest.is_none_or(|f| f >= r as usize)));
    }

    #[test]
    fn a_seed_is_an_order(seed: u64) {
        let plan = |s| Design::plan(4, 16, 2, 1, s).unwrap();
        prop_assert_eq!(plan(seed), plan(seed));
        let blocks: Vec<u32> = plan(seed).runs.iter().map(|r| r.block).collect();
        prop_assert!(blocks.is_sorted());
        prop_assert_ne!(plan(seed).runs, plan(seed.wrapping_add(1)).runs);
    }
}
