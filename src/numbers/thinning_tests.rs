use super::*;
use proptest::prelude::*;

/// A reading's noise.
const READING: f64 = 0.1;

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

fn learn(own: &[Triple], others: &[Vec<Triple>]) -> Strength {
    Strength::learn(own, others, &[], Scatter::alike(READING))
}

fn dose_of(cup: Cup, strength: &Strength) -> Dose {
    match advise(cup, WINDOW, strength).unwrap() {
        Advice::Add(dose) => dose,
        other => panic!("{other:?}"),
    }
}

/// From memory, no source: 10 % halves the mound, within a factor of 1.9.
#[test]
fn prior_halves_at_ten_per_cent() {
    let prior = learn(&[], &[]);
    assert!((prior.expect(Seconds(6.0), Share(0.1)).band.mid.0 - 3.0).abs() < 0.02);
    let band = prior.band();
    assert!(
        (band.high / band.mid - 1.92).abs() < 0.01 && (band.mid / band.low - 1.92).abs() < 0.01
    );
    assert_eq!(prior.from, Backing::Practice);
}

#[test]
fn start_is_under_likely_and_neither_passes_the_limit() {
    let prior = learn(&[], &[]);
    let dose = dose_of(cup(6.0, 0.0), &prior);
    assert!(dose.start_with < dose.likely.band.mid);
    // phi = ln 2 / 6.9 = 0.1005 by hand: 200 x 0.1005 / 0.8995.
    assert!((dose.likely.band.mid.0 - 22.34).abs() < 0.05);
    // Room for 4 ml, and far more is needed: the limit is no amount to begin with.
    assert_eq!(advise(cup(6.0, 47.0), WINDOW, &prior), Ok(Advice::Beyond));
    assert_eq!(advise(cup(6.0, 50.0), WINDOW, &prior), Ok(Advice::Beyond));
    assert_eq!(advise(cup(60.0, 0.0), WINDOW, &prior), Ok(Advice::Beyond));
    assert_eq!(advise(cup(3.9, 0.0), WINDOW, &prior), Ok(Advice::Ready));
    assert_eq!(advise(cup(1.9, 0.0), WINDOW, &prior), Ok(Advice::TooThin));
}

#[test]
fn what_is_no_reading_is_an_error() {
    let prior = learn(&[], &[]);
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
    let (clean, marred) = (learn(&good, &[]), learn(&mixed, &[]));
    assert_eq!((marred.readings, marred.contradicting), (5, 1));
    assert!(marred.band().mid < clean.band().mid);
    assert!(marred.band().mid > 0.9 * clean.band().mid);
}

#[test]
fn other_variants_lend_strength_but_less_than_ones_own() {
    let strong = vec![triple(8.0, 0.1, 2.4); 6];
    let none = learn(&[], &[]).band();
    let lent = learn(&[], std::slice::from_ref(&strong)).band();
    let own = learn(&strong, &[]).band();
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
        let strength = learn(&[triple(before, 0.1, after)], &[]);
        let expect = |phi| strength.expect(Seconds(m), Share(phi)).band.mid;
        prop_assert!(expect(a + more) <= expect(a));
        let band = strength.band();
        prop_assert!(band.low.is_finite() && band.low > 0.0 && band.low <= band.high);
    }

    #[test]
    fn limit_is_never_passed(m in 4.01..60.0_f64, had in 0.0..80.0_f64, limit in 0.0..0.9_f64) {
        let cup = Cup { limit: Share(limit), ..cup(m, had) };
        if let Ok(Advice::Add(dose)) = advise(cup, WINDOW, &learn(&[], &[])) {
            let most = dose.likely.band.mid.max(dose.start_with);
            prop_assert!((had + most.0) / (200.0 + most.0) <= limit + 1e-9);
        }
    }
}

/// Two thinners, one of .4 the strength: thirty triples of the other leave what is known of each its own.
#[test]
fn each_thinner_has_its_own_strength() {
    let with = |b: f64| -> Vec<Triple> {
        let one = |nth: i32| {
            triple(
                6.0,
                0.08,
                6.0 * (-b * 0.08 + f64::from(nth % 3 - 1) * 0.05).exp(),
            )
        };
        (0..30).map(one).collect()
    };
    let strong = Strength::learn(
        &with(6.9),
        &[],
        &[vec![with(2.76)]],
        Scatter::alike(READING),
    )
    .band();
    let weak = Strength::learn(
        &with(2.76),
        &[],
        &[vec![with(6.9)]],
        Scatter::alike(READING),
    )
    .band();
    assert!(strong.low < 6.9 && 6.9 < strong.high, "{strong:?}");
    assert!(weak.low < 2.76 && 2.76 < weak.high, "{weak:?}");
    // What nobody has tried is not taken for as sure as what was.
    let new = Strength::learn(
        &[],
        &[],
        &[vec![with(6.9)], vec![with(2.76)]],
        Scatter::alike(READING),
    );
    assert_eq!(new.from, Backing::Practice);
    assert!(new.band().high / new.band().low > 2.5);
}

/// By hand: 200 ml with 40 ml of thinner (phi .2), b 6.9, at 1.5 s; to 3 s, ln 2 = .693 = 6.9 x .2 x, x = .502, 202 ml.
#[test]
fn paint_thickens_what_thinner_thinned() {
    let thin = cup(1.5, 40.0);
    let paint = paint_to_thicken(thin, WINDOW, &learn(&[], &[]))
        .unwrap()
        .band;
    assert!((paint.mid.0 - 201.9).abs() < 0.5, "{paint:?}");
    assert!(paint.low < paint.mid && paint.mid < paint.high);
    assert_eq!(
        paint_to_thicken(cup(3.0, 40.0), WINDOW, &learn(&[], &[])),
        None
    );
    assert_eq!(
        paint_to_thicken(cup(1.5, 0.0), WINDOW, &learn(&[], &[])),
        None
    );
    // Half of each of 1.5 s and 6 s is their geometric mean, 3 s.
    let cup = cup_to_thicken(thin, WINDOW, Seconds(6.0)).unwrap();
    assert!((cup.0 - 200.0).abs() < 1e-9);
    assert_eq!(cup_to_thicken(thin, WINDOW, Seconds(2.0)), None);
}

/// What is added cannot be taken out: the less is known of the mound, the less of it goes in first.
#[test]
fn a_mound_that_is_not_known_well_is_begun_with_less() {
    let strength = learn(&[], &[]);
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
