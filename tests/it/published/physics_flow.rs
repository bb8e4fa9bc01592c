//! Flow cups.

use crate::near::in_share;
use stillcup::numbers::flow_cup::FlowCup::{self, *};
use stillcup::trade::units::{Seconds, SquareMillimetresPerSecond};

fn viscosity(cup: FlowCup, t: f64) -> f64 {
    cup.viscosity(Seconds(t)).unwrap().0
}

/// READ: examples worked in the docstrings of a general flow-cup module (2024) quoting ASTM D4212 X3.1,
/// D1200, DIN 53211 and ISO 2431; to the digits printed.
#[test]
fn worked_examples() {
    in_share(viscosity(Iso3, 57.0), 21.7422, 1e-5);
    in_share(viscosity(Ford4, 80.0), 290.7135, 1e-9);
    in_share(viscosity(Din4, 97.0), 438.6302, 1e-6);
    in_share(viscosity(Zahn2, 35.0), 73.5, 1e-12);
}

/// READ: table of standard oils, "mm2/s at seconds", on an instrument maker's page on flow cups; 3.6 %:
/// its seconds are whole (half a second is 3 % of a small cup's span) and its oils have two digits.
#[test]
fn standard_oils() {
    let oils = [
        (Zahn1, 45.0, 17.0),
        (Zahn1, 60.0, 34.0),
        (Zahn2, 33.0, 66.0),
        (Zahn2, 48.0, 120.0),
        (Zahn3, 27.0, 230.0),
        (Zahn3, 47.0, 460.0),
        (Zahn4, 21.0, 230.0),
        (Zahn4, 36.0, 460.0),
        (Zahn4, 62.0, 850.0),
        (Zahn5, 37.0, 850.0),
        (Zahn5, 70.0, 1600.0),
        (Ford1, 70.0, 17.0),
        (Ford2, 42.0, 34.0),
        (Ford2, 64.0, 66.0),
        (Ford3, 35.0, 66.0),
        (Ford3, 58.0, 120.0),
        (Ford4, 36.0, 120.0),
        (Ford4, 64.0, 230.0),
        (Ford5, 40.0, 460.0),
        (Ford5, 70.0, 850.0),
    ];
    for (cup, t, nu) in oils {
        in_share(viscosity(cup, t), nu, 0.036);
    }
}

/// COMPUTED from the formulas; half of the last digit printed.
#[test]
fn formula_values() {
    let rows = [
        (Iso3, 30.0, 6.623),
        (Iso3, 60.0, 23.247),
        (Iso3, 100.0, 42.300),
        (Iso4, 30.0, 34.433),
        (Iso4, 60.0, 78.867),
        (Iso4, 100.0, 135.000),
        (Iso5, 30.0, 91.067),
        (Iso5, 60.0, 193.133),
        (Iso5, 100.0, 325.800),
        (Iso6, 30.0, 188.000),
        (Iso6, 60.0, 404.500),
        (Iso6, 100.0, 684.300),
        (Din4, 25.0, 96.17),
        (Din4, 50.0, 219.46),
        (Din4, 100.0, 452.48),
        (Ford1, 55.0, 9.80),
        (Ford1, 80.0, 22.05),
        (Ford1, 100.0, 31.85),
    ];
    for (cup, t, nu) in rows {
        in_share(viscosity(cup, t), nu, 1e-4);
        in_share(
            cup.efflux(SquareMillimetresPerSecond(nu))
                .unwrap_or(Seconds(t))
                .0,
            t,
            1e-4,
        );
    }
}

/// READ: windows in the same module and in the text of ASTM D1200-94.
#[test]
fn windows() {
    let windows = [
        (Iso4, 30.0, 100.0),
        (Din4, 25.0, 150.0),
        (Ford1, 55.0, 100.0),
        (Ford2, 40.0, 100.0),
        (Ford5, 20.0, 100.0),
        (Zahn1, 35.0, 80.0),
        (Zahn5, 20.0, 80.0),
    ];
    for (cup, low, high) in windows {
        assert!(cup.viscosity(Seconds(low)).is_ok() && cup.viscosity(Seconds(high)).is_ok());
        assert!(cup.viscosity(Seconds(low - 0.01)).is_err());
        assert!(cup.viscosity(Seconds(high + 0.01)).is_err());
    }
}
