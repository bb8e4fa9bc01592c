use super::*;
use crate::numbers::statistics::curves::{Layout, coded, plan};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;

fn near(found: f64, told: f64, tolerance: f64) {
    assert!((found - told).abs() < tolerance, "{found}, not {told}");
}

// MEMORY: a textbook's chemical process, axial runs at 1.414: 79.94 + .995 x1 + .515 x2 - 1.376 x1^2 - 1.001 x2^2 +
// .250 x1 x2, flat at (.389, .306), 80.21 high, axes -.9634 and -1.4143.
#[test]
fn a_textbooks_top_is_found() {
    let far = 2.0_f64.sqrt();
    let x = [
        [-1.0, -1.0],
        [-1.0, 1.0],
        [1.0, -1.0],
        [1.0, 1.0],
        [0.0, 0.0],
        [0.0, 0.0],
        [0.0, 0.0],
        [0.0, 0.0],
        [0.0, 0.0],
        [far, 0.0],
        [-far, 0.0],
        [0.0, far],
        [0.0, -far],
    ];
    let y = [
        76.5, 77.0, 78.0, 79.5, 79.9, 80.3, 80.0, 79.7, 79.8, 78.4, 75.6, 78.5, 77.0,
    ];
    let x: Vec<Vec<f64>> = x.iter().map(|row| row.to_vec()).collect();
    let found = surface(&x, &[1; 13], &y).unwrap();
    near(found.centre, 79.94, 5e-3);
    near(found.slopes[0], 0.995, 5e-4);
    near(found.slopes[1], 0.515, 5e-4);
    near(found.bends[(0, 0)], -1.376, 5e-4);
    near(found.bends[(1, 1)], -1.001, 5e-4);
    near(found.bends[(0, 1)], 0.125, 5e-4);
    let flat = found.flat.clone().unwrap();
    near(flat[0], 0.389, 1e-3);
    near(flat[1], 0.306, 1e-3);
    near(found.at(&flat), 80.21, 5e-3);
    near(found.axes[0].bend, -1.4143, 5e-4);
    near(found.axes[1].bend, -0.9634, 5e-4);
    assert_eq!(found.kind, Kind::Top);
    check_errors(&found);
}

#[test]
fn a_saddle_a_bottom_and_a_ridge_are_told_apart_and_days_taken_out() {
    let runs = plan(Layout::FaceCentred, 2, 2, 2, 3).unwrap();
    let x: Vec<Vec<f64>> = runs
        .iter()
        .map(|run| run.levels.iter().map(|l| coded(*l)).collect())
        .collect();
    let days: Vec<u32> = runs.iter().map(|run| run.block).collect();
    let of = |a: f64, b: f64| {
        let height = |(x, day): (&Vec<f64>, &u32)| {
            a * x[0] * x[0] + b * x[1] * x[1] + 0.3 * x[0] + 2.0 * f64::from(*day)
        };
        let y: Vec<f64> = x.iter().zip(&days).map(height).collect();
        surface(&x, &days, &y).unwrap()
    };
    assert_eq!(of(-1.0, 1.0).kind, Kind::Saddle);
    assert_eq!(of(1.0, 2.0).kind, Kind::Bottom);
    assert_eq!(of(-1.0, -0.01).kind, Kind::Ridge);
    near(of(-1.0, -2.0).bends[(0, 0)], -1.0, 1e-9);
    assert!(surface(&x[..4], &days[..4], &[1.0; 4]).is_none());
}

// COMPUTED: numpy, (X'X)^-1 times the residual variance, scipy for F, t and their tails.
fn check_errors(found: &Surface) {
    let left = found.left.unwrap();
    near(left.error, 0.265_999_960_7, 1e-9);
    assert_eq!(left.freedom, 7.0);
    near(left.p, 5.108_109_107e-6, 1e-12);
    for (at, value, reach) in [
        (0, 1.989_949_493_7, 0.444_763_064_6),
        (2, 1.376_25, 0.238_477_625_3),
        // Two settings together: the mean where they agree less that where they do not.
        (3, 0.5, 0.628_989_957_9),
    ] {
        let effect = &found.effects()[at];
        near(effect.value, value, 1e-9);
        near(effect.interval.unwrap().high, value + reach, 1e-8);
    }
    let axis = found.axes[0].interval.unwrap();
    near(axis.low, -1.414_096_954_7 - 0.238_477_625_3, 1e-8);
    let top = found.range(found.flat.as_ref().unwrap()).unwrap();
    near(top.high, 80.212_435_731_2 + 0.558_794_895_6, 1e-8);
    let best = found.best();
    near(best[0], 0.389_26, 1e-3);
    near(best[1], 0.305_86, 1e-3);
}

#[test]
fn of_surfaces_of_nothing_one_in_twenty_stands_clear() {
    let mut rng = ChaCha8Rng::seed_from_u64(4);
    for (layout, settings, days) in [(Layout::FaceCentred, 2, 1), (Layout::EdgeMiddles, 4, 3)] {
        let runs = plan(layout, settings, days, 3, 1).unwrap();
        let x: Vec<Vec<f64>> = runs
            .iter()
            .map(|run| run.levels.iter().map(|level| coded(*level)).collect())
            .collect();
        let days: Vec<u32> = runs.iter().map(|run| run.block).collect();
        let (mut clear, mut one) = (0, 0);
        for _ in 0..1000 {
            let noise = |day: &u32| rng.sample::<f64, _>(StandardNormal) + f64::from(*day);
            let y: Vec<f64> = days.iter().map(noise).collect();
            let found = surface(&x, &days, &y).unwrap();
            clear += usize::from(found.is_clear());
            one += usize::from(found.effects().iter().any(|effect| effect.is_clear));
        }
        // Three standard errors of 1,000 trials are .021; terms that go together make the second a little rarer.
        assert!((29..=71).contains(&clear), "{clear}");
        assert!((20..=71).contains(&one), "{one}");
    }
}
