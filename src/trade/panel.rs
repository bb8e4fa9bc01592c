//! What is poured on: its shape and size, read and shown, with its area and perimeter.

use super::amount::Measures;
use super::number::{split_float, trimmed};
use super::problem::{Misread, ParseProblem, Sought, one_field, said_back};
use super::units::{INCH, Millilitres, Millimetres, SquareMillimetres};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;
use std::fmt;
use std::str::FromStr;

/// The longest side of a panel: 10 m (common practice, no source).
const MOST: Millimetres = Millimetres(10_000.0);
/// The shortest side of a panel: 1 mm (common practice, no source).
const LEAST: Millimetres = Millimetres(1.0);

/// The outline of a panel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Shape {
    /// Four square corners.
    Rectangle {
        /// From left to right, in millimetres.
        width: Millimetres,
        /// From top to bottom, in millimetres.
        height: Millimetres,
    },
    /// A circle.
    Round {
        /// Across, in millimetres.
        diameter: Millimetres,
    },
    /// An ellipse.
    Oval {
        /// The axis from left to right, in millimetres.
        width: Millimetres,
        /// The axis from top to bottom, in millimetres.
        height: Millimetres,
    },
}

/// What is poured on. Written with `{}` it is in millimetres, and reads back as the same panel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Panel {
    /// Its outline and size.
    pub shape: Shape,
}

/// The word before the sizes, which tells the outline.
#[derive(Clone, Copy, PartialEq)]
enum Outline {
    Rectangle,
    Round,
    Oval,
}

impl Panel {
    /// Reads a panel: `40x50cm`, `16 x 20 in`, `16x20"`, `1.2x0.8m`, `round 30cm`, `oval 30x40cm`.
    /// A side without a unit takes the other's. Sizes are kept to the micrometre.
    ///
    /// ```
    /// use stillcup::trade::panel::Panel;
    /// let panel = Panel::parse("40x50cm").unwrap();
    /// assert_eq!(panel.to_string(), "400 x 500 mm");
    /// ```
    ///
    /// # Errors
    /// No number, no or an unknown unit, too few or too many sides for its outline, or a side
    /// that is negative, zero, under 1 mm or over 10 m.
    pub fn parse(text: &str) -> Result<Self, ParseProblem> {
        let said = one_field(text, Sought::Panel)?;
        let lower = said.to_lowercase();
        let (outline, sizes) = outline(&lower);
        let sides = sides(said, sizes)?;
        let shape = match (outline, sides.as_slice()) {
            (Outline::Rectangle, &[width, height]) => Shape::Rectangle { width, height },
            (Outline::Oval, &[width, height]) => Shape::Oval { width, height },
            (Outline::Round, &[diameter]) => Shape::Round { diameter },
            (Outline::Round, _) => return Err(refused(said, Misread::RoundTwoSides)),
            _ => return Err(refused(said, Misread::NotTwoSides)),
        };
        Ok(Self { shape })
    }

    /// The area of the top, in square millimetres; edges are not in it.
    #[must_use]
    pub fn area(self) -> SquareMillimetres {
        SquareMillimetres(match self.shape {
            Shape::Rectangle { width, height } => width.0 * height.0,
            Shape::Round { diameter } => PI / 4.0 * diameter.0 * diameter.0,
            Shape::Oval { width, height } => PI / 4.0 * width.0 * height.0,
        })
    }

    /// As [`Panel::parse`], where a size without its unit is in the studio's own: `40x50` in centimetres or inches.
    ///
    /// # Errors
    /// As [`Panel::parse`].
    pub fn parse_in(text: &str, measures: Measures) -> Result<Self, ParseProblem> {
        let unit = match measures {
            Measures::Metric => "cm",
            Measures::UsCustomary => "in",
        };
        Self::parse(text).or_else(|problem| {
            let bare = text.trim_end().ends_with(|c: char| c.is_ascii_digit());
            let lent = bare.then(|| Self::parse(&format!("{}{unit}", text.trim_end())));
            lent.and_then(Result::ok).ok_or(problem)
        })
    }

    /// The wet film of a volume spread over the top.
    #[must_use]
    pub fn film(self, volume: Millilitres) -> Millimetres {
        Millimetres(volume.0 * 1000.0 / self.area().0)
    }

    /// The length of the edge all round, in millimetres.
    ///
    /// An oval's is Ramanujan's second approximation (S. Ramanujan, "Modular equations and
    /// approximations to pi", Quarterly Journal of Mathematics 45, 1914, 350-372), within
    /// 1 in 100 000 for an oval no more than five times as long as it is wide.
    #[must_use]
    pub fn perimeter(self) -> Millimetres {
        Millimetres(match self.shape {
            Shape::Rectangle { width, height } => 2.0 * (width.0 + height.0),
            Shape::Round { diameter } => PI * diameter.0,
            Shape::Oval { width, height } => {
                let (a, b) = (width.0 / 2.0, height.0 / 2.0);
                let h = ((a - b) / (a + b)).powi(2);
                PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()))
            }
        })
    }

    /// The panel in centimetres or inches: `40 x 50 cm`, `round 12 in`.
    #[must_use]
    pub fn show(self, measures: Measures) -> String {
        match measures {
            Measures::Metric => self.written("cm", |side| trimmed(side.0 / 10.0, 1)),
            Measures::UsCustomary => self.written("in", |side| trimmed(side / INCH, 2)),
        }
    }

    fn written(self, unit: &str, side: impl Fn(Millimetres) -> String) -> String {
        match self.shape {
            Shape::Rectangle { width, height } => {
                format!("{} x {} {unit}", side(width), side(height))
            }
            Shape::Round { diameter } => format!("round {} {unit}", side(diameter)),
            Shape::Oval { width, height } => {
                format!("oval {} x {} {unit}", side(width), side(height))
            }
        }
    }
}

impl fmt::Display for Panel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.written("mm", |side| side.0.to_string()))
    }
}

impl FromStr for Panel {
    type Err = ParseProblem;

    fn from_str(text: &str) -> Result<Self, ParseProblem> {
        Self::parse(text)
    }
}

fn refused(said: &str, why: Misread) -> ParseProblem {
    ParseProblem::new(said, Sought::Panel, why)
}

/// The outline a text begins with, and its sizes.
fn outline(lower: &str) -> (Outline, &str) {
    let words = [
        ("round", Outline::Round),
        ("circle", Outline::Round),
        ("oval", Outline::Oval),
    ];
    words
        .iter()
        .find_map(|&(word, outline)| Some((outline, lower.strip_prefix(word)?.trim_start())))
        .unwrap_or((Outline::Rectangle, lower))
}

/// The sides between the crosses; the last one's unit is lent to those without.
fn sides(said: &str, sizes: &str) -> Result<Vec<Millimetres>, ParseProblem> {
    let mut read = Vec::new();
    for side in sizes.split(['x', '×']) {
        let found =
            split_float(side.trim()).map_err(|trouble| trouble.with(said, Sought::Panel))?;
        read.push(found);
    }
    let lent = read
        .iter()
        .rev()
        .map(|&(_, unit)| unit)
        .find(|unit| !unit.is_empty());
    let lent = lent.ok_or_else(|| refused(said, Misread::NoUnit))?;
    read.iter()
        .map(|&(number, unit)| length(said, number, if unit.is_empty() { lent } else { unit }))
        .collect()
}

fn length(said: &str, number: f64, unit: &str) -> Result<Millimetres, ParseProblem> {
    let each = match unit.trim() {
        "mm" | "millimetres" | "millimeters" => 1.0,
        "cm" | "centimetres" | "centimeters" => 10.0,
        "m" | "metres" | "meters" => 1000.0,
        "in" | "inch" | "inches" | "\"" | "″" | "”" | "''" => INCH.0,
        "ft" | "feet" | "foot" | "'" | "′" | "’" => INCH.0 * 12.0,
        other => return Err(refused(said, Misread::UnknownUnit(said_back(other)))),
    };
    let side = Millimetres((number * each * 1000.0).round() / 1000.0);
    match side {
        side if number == 0.0 || side.0 == 0.0 => Err(refused(said, Misread::Zero)),
        side if side < LEAST => Err(refused(said, Misread::TooSmall)),
        side if side > MOST => Err(refused(said, Misread::TooLarge)),
        side => Ok(side),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rectangle(width: f64, height: f64) -> Shape {
        Shape::Rectangle {
            width: Millimetres(width),
            height: Millimetres(height),
        }
    }

    fn oval(width: f64, height: f64) -> Shape {
        Shape::Oval {
            width: Millimetres(width),
            height: Millimetres(height),
        }
    }

    fn round(diameter: f64) -> Shape {
        Shape::Round {
            diameter: Millimetres(diameter),
        }
    }

    #[test]
    fn panels_are_read_as_they_are_said() {
        let table = [
            ("40x50cm", rectangle(400.0, 500.0)),
            ("40 x 50 cm", rectangle(400.0, 500.0)),
            ("40×50 CM", rectangle(400.0, 500.0)),
            ("40cmx50cm", rectangle(400.0, 500.0)),
            ("40cm x 50", rectangle(400.0, 500.0)),
            ("400X500mm", rectangle(400.0, 500.0)),
            ("1.2x0.8m", rectangle(1200.0, 800.0)),
            ("1,2x0,8m", rectangle(1200.0, 800.0)),
            ("16x20in", rectangle(406.4, 508.0)),
            ("16x20\"", rectangle(406.4, 508.0)),
            ("16\" x 20\"", rectangle(406.4, 508.0)),
            ("2x3ft", rectangle(609.6, 914.4)),
            ("round 30cm", round(300.0)),
            ("Round30cm", round(300.0)),
            ("circle 12 in", round(304.8)),
            ("oval 30x40cm", oval(300.0, 400.0)),
            ("10x10m", rectangle(10_000.0, 10_000.0)),
        ];
        for (said, shape) in table {
            assert_eq!(Panel::parse(said).unwrap().shape, shape, "{said}");
        }
    }

    #[test]
    fn what_is_no_panel_is_refused_with_its_reason() {
        let table = [
            ("", Misread::Empty),
            ("40x50", Misread::NoUnit),
            ("40cm", Misread::NotTwoSides),
            ("40x50x2cm", Misread::NotTwoSides),
            ("oval 30cm", Misread::NotTwoSides),
            ("round 30x40cm", Misread::RoundTwoSides),
            ("round", Misread::NoNumber),
            ("x50cm", Misread::NoNumber),
            ("0x50cm", Misread::Zero),
            ("0.0000001x50cm", Misread::Zero),
            ("0.5x50mm", Misread::TooSmall),
            ("-4x50cm", Misread::Negative),
            ("40x-50cm", Misread::Negative),
            ("NaNxNaN cm", Misread::NoNumber),
            ("11x1m", Misread::TooLarge),
            ("40x50km", Misread::UnknownUnit("km".to_owned())),
            ("1,000x500mm", Misread::Thousands),
        ];
        for (said, why) in table {
            assert_eq!(Panel::parse(said).unwrap_err().why, why, "{said}");
        }
    }

    #[test]
    fn areas_are_those_of_plane_geometry() {
        let area = |shape| Panel { shape }.area().0;
        assert!((area(rectangle(400.0, 500.0)) - 200_000.0).abs() < 1e-9);
        assert!((area(round(200.0)) - 10_000.0 * PI).abs() < 1e-9);
        assert!((area(oval(200.0, 200.0)) - area(round(200.0))).abs() < 1e-9);
    }

    /// The perimeter of an ellipse by its arc-length integral, summed evenly over the whole turn.
    fn integrated(width: f64, height: f64) -> f64 {
        let steps = 4000;
        let step = 2.0 * PI / f64::from(steps);
        let arc = |angle: f64| (width / 2.0 * angle.sin()).hypot(height / 2.0 * angle.cos());
        (0..steps).map(|at| arc(f64::from(at) * step) * step).sum()
    }

    #[test]
    fn perimeters_agree_with_the_arc_length_integral() {
        assert!(
            (Panel {
                shape: rectangle(400.0, 500.0)
            }
            .perimeter()
            .0 - 1800.0)
                .abs()
                < 1e-9
        );
        assert!(
            (Panel {
                shape: round(100.0)
            }
            .perimeter()
            .0 - 100.0 * PI)
                .abs()
                < 1e-9
        );
        for (width, height) in [
            (300.0, 300.0),
            (300.0, 400.0),
            (200.0, 400.0),
            (100.0, 500.0),
        ] {
            let ours = Panel {
                shape: oval(width, height),
            }
            .perimeter()
            .0;
            let exact = integrated(width, height);
            assert!(
                (ours / exact - 1.0).abs() < 1e-5,
                "{width} {height}: {ours} {exact}"
            );
        }
    }

    #[test]
    fn panels_are_shown_in_the_studios_measures() {
        let show = |said| {
            let panel = Panel::parse(said).unwrap();
            (
                panel.show(Measures::Metric),
                panel.show(Measures::UsCustomary),
            )
        };
        assert_eq!(
            show("16x20in"),
            ("40.6 x 50.8 cm".to_owned(), "16 x 20 in".to_owned())
        );
        assert_eq!(
            show("round 30cm"),
            ("round 30 cm".to_owned(), "round 11.81 in".to_owned())
        );
    }

    proptest! {
        #[test]
        fn no_text_panics(text in any::<String>(), like in "(round |oval )?[0-9.x×]{0,9} ?[cmin\"]{0,3}") {
            let _ = Panel::parse(&text);
            let _ = Panel::parse(&like);
            let _ = Panel::parse(&text.repeat(1 + 200_000 / (1 + text.len())));
        }

        #[test]
        fn written_panels_read_back_the_same(
            w in 1_000..=10_000_000_u32, h in 1_000..=10_000_000_u32, kind in 0..3,
        ) {
            let (w, h) = (f64::from(w) / 1000.0, f64::from(h) / 1000.0);
            let shape = match kind { 0 => rectangle(w, h), 1 => round(w), _ => oval(w, h) };
            let panel = Panel { shape };
            prop_assert_eq!(panel.to_string().parse::<Panel>().unwrap(), panel);
        }

        #[test]
        fn shown_panels_show_the_same_again(w in 1.0..9_999.0_f64, h in 1.0..9_999.0_f64) {
            for measures in [Measures::Metric, Measures::UsCustomary] {
                let shown = Panel { shape: oval(w, h) }.show(measures);
                if let Ok(back) = Panel::parse(&shown) {
                    prop_assert_eq!(back.show(measures), shown);
                } else {
                    prop_assert!(w < 1.1 || h < 1.1, "{}", shown);
                }
            }
        }
    }
}
