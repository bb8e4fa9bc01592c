use super::*;
use proptest::prelude::*;
use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use rand_distr::{Distribution, Normal};

const WINDOW: Window = Window {
    low: Seconds(2.0),
    high: Seconds(4.0),
};

fn cup(mound: f64, thinner: f64) -> Cup {
    Cup {
        volume: Millilitres(200.0),
        thinner: Millilitres(thinner),
        mound: Seconds(mound),
        spread: READING,
        limit: LIMIT,
    }
}

fn triple(before: f64, added: f64, after: f64) -> Triple {
    Triple {
        before: Seconds(before),
        added: Share(added),
        after: Seconds(after),
    }
}

fn dose_of(cup: Cup, strength: &Strength) -> Dose {
    match advise(cup, WINDOW, strength).unwrap() {
        Advice::Add(dose) => dose,
        other => panic!("{other:?}"),
    }
}

/// From memory, no source: 10 % halves the mound, within a factor of 1.6.
#[test]
fn prior_halves_at_ten_per_cent() {
    let prior = Strength::learn(&[], &[]);
    assert!((prior.expect(Seconds(6.0), Share(0.1)).band.mid.0 - 3.0).abs() < 0.02);
    let band = prior.band();
    assert!((band.high / band.mid - 1.6).abs() < 0.01 && (band.mid / band.low - 1.6).abs() < 0.01);
    assert_eq!(prior.from, Backing::Practice);
}

#[test]
fn start_is_under_likely_and_neither_passes_the_limit() {
    let prior = Strength::learn(&[], &[]);
    let dose = dose_of(cup(6.0, 0.0), &prior);
    assert!(dose.start_with < dose.likely.band.mid);
    // phi = ln 2 / 6.9 = 0.1005 by hand: 200 x 0.1005 / 0.8995.
    assert!((dose.likely.band.mid.0 - 22.34).abs() < 0.05);
    let nearly_full = dose_of(cup(6.0, 47.0), &prior);
    assert!(nearly_full.limited);
    assert!((nearly_full.likely.band.mid.0 - 4.0).abs() < 1e-9);
    assert_eq!(advise(cup(6.0, 50.0), WINDOW, &prior), Ok(Advice::AtLimit));
    assert_eq!(advise(cup(3.9, 0.0), WINDOW, &prior), Ok(Advice::Ready));
    assert_eq!(advise(cup(1.9, 0.0), WINDOW, &prior), Ok(Advice::TooThin));
}

#[test]
fn what_is_no_reading_is_an_error() {
    let prior = Strength::learn(&[], &[]);
    assert_eq!(
        advise(cup(f64::NAN, 0.0), WINDOW, &prior),
        Err(ThinningError::Mound)
    );
    let empty = Cup {
        volume: Millilitres(0.0),
        ..cup(6.0, 0.0)
    };
    assert_eq!(advise(empty, WINDOW, &prior), Err(ThinningError::Volume));
    let turned = Window {
        low: Seconds(4.0),
        high: Seconds(2.0),
    };
    assert_eq!(
        advise(cup(6.0, 0.0), turned, &prior),
        Err(ThinningError::Window)
    );
    let whole = Cup {
        limit: Share(1.0),
        ..cup(6.0, 0.0)
    };
    assert_eq!(advise(whole, WINDOW, &prior), Err(ThinningError::Limit));
}

#[test]
fn contradicting_triple_is_kept_counted_and_weighs_less() {
    let good = vec![triple(6.0, 0.1, 3.0); 4];
    let mut mixed = good.clone();
    mixed.push(triple(5.0, 0.1, 5.5));
    let (clean, marred) = (Strength::learn(&good, &[]), Strength::learn(&mixed, &[]));
    assert_eq!((marred.readings, marred.contradicting), (5, 1));
    assert!(marred.band().mid < clean.band().mid);
    assert!(marred.band().mid > 0.9 * clean.band().mid);
}

#[test]
fn other_variants_lend_strength_but_less_than_ones_own() {
    let strong = vec![triple(8.0, 0.1, 2.4); 6];
    let none = Strength::learn(&[], &[]).band();
    let lent = Strength::learn(&[], std::slice::from_ref(&strong)).band();
    let own = Strength::learn(&strong, &[]).band();
    assert!(none.mid < lent.mid && lent.mid < own.mid);
    assert!(
        own.high / own.low < lent.high / lent.low && lent.high / lent.low < none.high / none.low
    );
}

proptest! {
    #[test]
    fn more_thinner_never_thickens(
        m in 0.5..30.0_f64, a in 0.0..0.4_f64, more in 0.0..0.2_f64, before in 1.0..9.0_f64, after in 1.0..9.0_f64,
    ) {
        let strength = Strength::learn(&[triple(before, 0.1, after)], &[]);
        let expect = |phi| strength.expect(Seconds(m), Share(phi)).band.mid;
        prop_assert!(expect(a + more) <= expect(a));
        let band = strength.band();
        prop_assert!(band.low.is_finite() && band.low > 0.0 && band.low <= band.high);
    }

    #[test]
    fn limit_is_never_passed(m in 4.01..60.0_f64, had in 0.0..80.0_f64, limit in 0.0..0.9_f64) {
        let cup = Cup { limit: Share(limit), ..cup(m, had) };
        if let Ok(Advice::Add(dose)) = advise(cup, WINDOW, &Strength::learn(&[], &[])) {
            let most = dose.likely.band.high.max(dose.start_with);
            prop_assert!((had + most.0) / (200.0 + most.0) <= limit + 1e-9);
        }
    }
}

/// Simulated studios: the true b drawn as the prior says, some triples, a cup to thin.
#[test]
fn band_holds_and_start_seldom_overshoots() {
    let mut rng = ChaCha8Rng::seed_from_u64(7);
    let unit = Normal::new(0.0, 1.0).unwrap();
    let (mut inside, mut doses, mut over, mut past) = (0, 0, 0, 0);
    let draws = 4000;
    for _ in 0..draws {
        let studio = PRIOR + VAR_STUDIO.sqrt() * unit.sample(&mut rng);
        let variant = |rng: &mut ChaCha8Rng, most: u32| {
            let b = (studio + VAR_VARIANT.sqrt() * unit.sample(rng)).exp();
            let count = rng.random_range(0..=most);
            let triples = (0..count)
                .map(|_| simulate(rng, unit, b))
                .collect::<Vec<_>>();
            (b, triples)
        };
        let others = vec![variant(&mut rng, 4).1, variant(&mut rng, 4).1];
        let (b, own) = variant(&mut rng, 6);
        let strength = Strength::learn(&own, &others);
        inside += usize::from((strength.band().low..=strength.band().high).contains(&b));
        let truth = rng.random_range(4.5..9.0_f64);
        let read = truth * (READING * unit.sample(&mut rng)).exp();
        let open = Cup {
            limit: Share(0.9),
            ..cup(read, 0.0)
        };
        if let Advice::Add(dose) = advise(open, WINDOW, &strength).unwrap() {
            let phi = dose.start_with.0 / (200.0 + dose.start_with.0);
            doses += 1;
            let after = truth * (-b * phi).exp();
            over += usize::from(after < WINDOW.low.0);
            past += usize::from(after < WINDOW.middle().0);
        }
    }
    let held = inside as f64 / f64::from(draws);
    assert!((0.75..=0.85).contains(&held), "held {held}");
    let overshot = over as f64 / f64::from(doses);
    assert!(overshot <= 0.25, "overshot {overshot}");
    // The sharper form: the 20th percentile passes the window's middle about one time in five.
    let passed = past as f64 / f64::from(doses);
    assert!(
        (0.15..=0.25).contains(&passed),
        "passed the middle {passed}"
    );
}

fn simulate(rng: &mut ChaCha8Rng, unit: Normal<f64>, b: f64) -> Triple {
    let (before, added) = (
        rng.random_range(4.0..9.0_f64),
        rng.random_range(0.03..0.15_f64),
    );
    let after = before * (-b * added).exp();
    let mut read = |m: f64| m * (READING * unit.sample(rng)).exp();
    triple(read(before), added, read(after))
}

/// What is added cannot be taken out: the less is known of the mound, the less of it goes in first.
#[test]
fn a_mound_that_is_not_known_well_is_begun_with_less() {
    let strength = Strength::learn(&[], &[]);
    let start = |spread: f64| {
        let cup = Cup {
            spread,
            ..cup(4.3, 0.0)
        };
        let window = Window {
            low: Seconds(2.0),
            high: Seconds(3.0),
        };
        match advise(cup, window, &strength).unwrap() {
            Advice::Add(dose) => (dose.start_with, dose.likely.band),
            other => panic!("{other:?}"),
        }
    };
    let (fresh, old) = (start(READING), start(0.57));
    assert!(old.0 < fresh.0 * 0.7, "{fresh:?} {old:?}");
    assert_eq!(old.1.mid, fresh.1.mid);
    assert!(old.1.low < fresh.1.low && old.1.high > fresh.1.high);
}
