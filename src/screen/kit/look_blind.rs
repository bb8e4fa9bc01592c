//! That the states' colours differ to every eye: what an eye without one kind of cone sees of them, held apart.
//!
//! G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A physiologically-based model for simulation of color vision
//! deficiency", IEEE Transactions on Visualization and Computer Graphics 15, 2009, 1291-1298: their matrices of severity
//! 1.0, on linear light. MEMORY: typed from memory; a test holds that each row leaves a grey as it is. The sixteen colours
//! are those that xterm has where nobody set others (MEMORY); a terminal's own may differ.

use super::Look;
use crate::numbers::cells::colour::{ciede2000, lab, to_linear};
use crate::trade::life::State;
use ratatui::style::Color;

type Matrix = [[f64; 3]; 3];

const EYES: [(&str, Matrix); 4] = [
    (
        "all cones",
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    ),
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

/// What a colour is on the screen; what the terminal writes with where none is said.
fn rgb(colour: Option<Color>, plain: [u8; 3]) -> [u8; 3] {
    match colour {
        None => plain,
        Some(Color::Rgb(r, g, b)) => [r, g, b],
        Some(Color::Red) => [205, 0, 0],
        Some(Color::Green) => [0, 205, 0],
        Some(Color::Blue) => [0, 0, 238],
        Some(Color::Magenta) => [205, 0, 205],
        Some(Color::LightCyan) => [0, 255, 255],
        Some(Color::DarkGray) => [127, 127, 127],
        Some(other) => panic!("{other:?} is no colour of a state"),
    }
}

fn seen(rgb: [u8; 3], eye: &Matrix) -> [f64; 3] {
    let light = rgb.map(|value| to_linear(f64::from(value) / 255.0));
    let band = |row: &[f64; 3]| row.iter().zip(light).map(|(k, l)| k * l).sum::<f64>();
    lab(eye.each_ref().map(|row| band(row).clamp(0.0, 1.0)))
}

#[test]
fn the_states_differ_to_every_eye_on_every_ground() {
    let (white, black) = ([229; 3], [0; 3]);
    let looks = [
        (Look::Full, white),
        (Look::Full, black),
        (Look::Sixteen, white),
        (Look::SixteenOnLight, black),
    ];
    for (look, plain) in looks {
        for (eye, matrix) in &EYES {
            for (at, one) in ACT.iter().enumerate() {
                for other in &ACT[at + 1..] {
                    let of = |state: State| seen(rgb(look.state(state).fg, plain), matrix);
                    let apart = ciede2000(of(*one), of(*other));
                    assert!(
                        apart > 10.0,
                        "{look:?}, {eye}: {one} and {other}: {apart:.1}"
                    );
                }
            }
        }
    }
}

/// The states that are told apart by colour; resting and spent have none.
const ACT: [State; 4] = [State::Thick, State::Thin, State::Look, State::Ready];

#[test]
fn a_grey_is_the_same_grey_to_every_eye() {
    for (eye, matrix) in EYES {
        for row in matrix {
            let sum: f64 = row.iter().sum();
            assert!((sum - 1.0).abs() < 2e-6, "{eye}: {sum}");
        }
    }
}
