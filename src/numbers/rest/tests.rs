use super::*;
use proptest::prelude::*;

const BLUE: i64 = 1;
const WHITE: i64 = 2;
const NEW: i64 = 9;

/// A look at a cup that rests 12 h by practice.
fn look(after: f64, clear: bool) -> Look {
    beside_practice(12.0, after, clear)
}

fn beside_practice(practice: f64, after: f64, clear: bool) -> Look {
    Look {
        after: Hours(after),
        scale: 1.0,
        practice: Hours(practice),
        clear,
    }
}

/// Cups of as many days, each with its looks.
fn cups(cups: impl IntoIterator<Item = Vec<Look>>) -> Looked {
    let rest = |(day, looks)| Rest { day, looks };
    Looked {
        rests: (0..).zip(cups).map(rest).collect(),
    }
}

fn learn(looked: Looked) -> Beside {
    Rests::learn(&BTreeMap::from([(BLUE, looked)]))
        .of(BLUE)
        .unwrap()
}

fn hours(known: Beside) -> Band<f64> {
    known.factor.map(|factor| factor * known.anchor.unwrap().0)
}

/// Six cups, each with bubbles at 14, 20 and 30 h: the next does not clear in 12.
#[test]
fn bubbles_alone_lengthen_the_rest() {
    let late = || vec![look(14.0, false), look(20.0, false), look(30.0, false)];
    let known = learn(cups((0..6).map(|_| late())));
    assert!(hours(known).low > 25.0, "{known:?}");
    assert_eq!(known.looks, 6);
}

/// A painter who looks at one cup every 30 min until it is clear at 12 h has seen one cup.
#[test]
fn many_looks_at_one_cup_are_one_cup() {
    let often: Vec<Look> = (1..=24)
        .map(|nth| look(f64::from(nth) / 2.0, nth == 24))
        .collect();
    let twice = vec![look(11.5, false), look(12.0, true)];
    let (often, twice) = (learn(cups([often])), learn(cups([twice])));
    assert_eq!((often.looks, often.own), (2, false));
    // All that the others say is that this painter seldom slips.
    let near = |a: f64, b: f64| (a / b).ln().abs() < 0.2;
    let (often, twice) = (hours(often), hours(twice));
    assert!(
        near(often.mid, 12.0) && near(often.low, twice.low) && near(often.high, twice.high),
        "{often:?} {twice:?}"
    );
}

/// Three cups looked at every 6 min from 6 h on, clear at 12 h.
#[test]
fn looks_every_six_minutes_pull_nothing() {
    let often = || {
        (0..=60)
            .map(|nth| look(6.0 + f64::from(nth) / 10.0, nth == 60))
            .collect()
    };
    let band = hours(learn(cups((0..3).map(|_| often()))));
    assert!((11.0..13.0).contains(&band.mid), "{band:?}");
    assert!(band.low < 12.0 && 12.0 < band.high);
}

/// Blue clears in 8 h by thirty looks; Heavy white, which rests 24 h by its recipe, has three looks of its own about that.
#[test]
fn a_variant_goes_by_its_own_looks() {
    let blue = (0..15).map(|nth| {
        let near = 8.0 + f64::from(nth % 5 - 2) * 0.4;
        vec![look(near - 1.0, false), look(near + 1.0, true)]
    });
    let white = |after, clear| vec![beside_practice(24.0, after, clear)];
    let white = [white(22.0, false), white(26.0, true), white(25.0, true)];
    let rests = Rests::learn(&BTreeMap::from([(BLUE, cups(blue)), (WHITE, cups(white))]));
    let (blue, white) = (rests.of(BLUE).unwrap(), rests.of(WHITE).unwrap());
    assert!(
        blue.own && (7.5..8.5).contains(&hours(blue).mid),
        "{blue:?}"
    );
    assert!(hours(white).mid > 19.0, "{white:?}");
    assert_eq!(white.looks, 3);
    // What nobody looked at goes by practice and by what the studio's other paints do.
    let new = rests.of(NEW).unwrap();
    assert!(
        !new.own && new.anchor.is_none() && new.factor.mid < 0.95,
        "{new:?}"
    );
    assert!(new.factor.high / new.factor.low > 2.0);
}

/// One look at a cup that cleared at noon says little: a studio begins from practice and not at five looks.
#[test]
fn each_look_moves_practice_a_little() {
    let one = learn(cups([vec![look(6.0, false), look(8.0, true)]]));
    let two = learn(cups([
        vec![look(6.0, false), look(8.0, true)],
        vec![look(6.0, false), look(8.0, true)],
    ]));
    assert!(!one.own && (6.9..9.0).contains(&hours(one).mid), "{one:?}");
    assert!(hours(two).high / hours(two).low < hours(one).high / hours(one).low);
    assert_eq!(Rests::learn(&BTreeMap::new()).of(BLUE), None);
}

/// A wrong key, or a wrong cup: one late `bubbles` shortens no rest, and lengthens it little.
#[test]
fn one_late_bubble_shortens_no_rest() {
    let mut looks: Vec<Vec<Look>> = (0..30)
        .map(|nth| vec![look(5.0, false), look(9.0 + f64::from(nth % 4), true)])
        .collect();
    let before = hours(learn(cups(looks.clone())));
    looks.push(vec![look(30.0, false)]);
    let after = hours(learn(cups(looks)));
    assert!(
        (1.0..1.2).contains(&(after.mid / before.mid)),
        "{before:?} {after:?}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// One more cup that still had bubbles says that paint takes longer, one that was clear that it takes less long; what
    /// a look says of slips and of spread is smaller than that.
    #[test]
    fn one_more_cup_moves_the_middle_its_own_way(
        logs in prop::collection::vec((1.5..3.2_f64, any::<bool>()), 2..12), more in 1.8..2.8_f64, clear in any::<bool>(),
    ) {
        let mut all: Vec<Vec<Look>> = logs.iter().map(|&(log, clear)| vec![look(log.exp(), clear)]).collect();
        let before = hours(learn(cups(all.clone()))).mid;
        all.push(vec![look(more.exp(), clear)]);
        let after = hours(learn(cups(all))).mid;
        prop_assert!(if clear { after <= before * 1.03 } else { after >= before / 1.03 }, "{before} {after}");
    }
}
