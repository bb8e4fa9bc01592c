//! Photos that were held back while the measuring was set: cells so crowded that there is more of them than of the ground, an
//! upright panel seen at a slant, two panels side by side, white paint in too much light. Generated with a known truth by
//! another generator than that of the photos in `cells.rs` (`tests/data/cells/README.md`).

use serde_json::Value;
use std::path::PathBuf;
use stillcup::numbers::cells::{Measured, NotFound, Pixels, Point, Sought, Wanted, find, measure};
use stillcup::studio::{Corners, LEAST_CELL, MeasureOrder, PhotoWarning, measure_photo};
use stillcup::trade::panel::Panel;
use stillcup::trade::units::Millimetres;

struct Held {
    photo: Pixels,
    truth: Value,
}

impl Held {
    fn of(name: &str) -> Self {
        let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/cells");
        let picture = image::open(folder.join(format!("held_{name}.jpg"))).unwrap();
        let picture = picture.to_rgb8();
        let (width, height) = (picture.width() as usize, picture.height() as usize);
        let text = std::fs::read_to_string(folder.join(format!("held_{name}.json"))).unwrap();
        Self {
            photo: Pixels {
                width,
                height,
                rgb: picture.into_raw(),
            },
            truth: serde_json::from_str(&text).unwrap(),
        }
    }

    fn numbers<const N: usize>(value: &Value) -> [f64; N] {
        std::array::from_fn(|k| value[k].as_f64().unwrap())
    }

    fn size(&self) -> (f64, f64) {
        let [width, height] = Self::numbers(&self.truth["panel_mm"]);
        (width, height)
    }

    fn corners(&self) -> [Point; 4] {
        std::array::from_fn(|k| {
            let [x, y] = Self::numbers(&self.truth["corners_px"][k]);
            Point { x, y }
        })
    }

    fn measured(&self, corners: [Point; 4]) -> Measured {
        let wanted = Wanted {
            corners,
            size: Some(self.size()),
            round: false,
            least: 1.2,
        };
        measure(&self.photo, &wanted).unwrap()
    }

    /// Twice the cells found where one is, over those found and those there: a cell is found once, its middle within a third of
    /// its diameter, its diameter within a half.
    fn f1(&self, found: &Measured) -> f64 {
        let there = self.truth["each_mm"].as_array().unwrap();
        let mut free: Vec<bool> = vec![true; found.cells.len()];
        let mut right = 0;
        for one in there {
            let [x, y, across] = Self::numbers(one);
            let place = found.cells.iter().enumerate().position(|(at, cell)| {
                let off = cell.middle.to(Point { x, y });
                free[at] && off < 0.35 * across && (0.6..1.6).contains(&(cell.diameter / across))
            });
            if let Some(at) = place {
                free[at] = false;
                right += 1;
            }
        }
        2.0 * f64::from(right) / (there.len() + found.cells.len()) as f64
    }
}

fn median(found: &Measured) -> f64 {
    let mut sizes: Vec<f64> = found.cells.iter().map(|cell| cell.diameter).collect();
    sizes.sort_by(f64::total_cmp);
    sizes[sizes.len() / 2]
}

/// The ground is what hangs together, not what there is most of; what cells that touch leave free between them is ground too.
#[test]
fn crowded_cells_are_not_taken_for_the_ground() {
    let held = Held::of("crowded");
    let found = find(&held.photo, Sought::Sides(Some(1.0))).unwrap();
    let measured = held.measured(found.corners);
    let score = held.f1(&measured);
    assert!(score > 0.92, "F1 {score}, {} cells", measured.cells.len());
    let off = measured.share - held.truth["coverage_in_sight"].as_f64().unwrap();
    assert!(off.abs() < 0.012, "share off by {off}");
}

/// 15 x 20 cm seen at 46 degrees: in the photo it is hardly higher than wide.
#[test]
fn an_upright_panel_at_a_slant_is_measured_upright() {
    let held = Held::of("slant");
    let order = MeasureOrder {
        panel: Some(Panel::parse("20x15cm").unwrap()),
        corners: Corners::Sought,
        least: LEAST_CELL,
    };
    let found = measure_photo(&held.photo, &order, "slant").unwrap();
    let sides = (Millimetres(150.0), Millimetres(200.0));
    assert_eq!(found.size, Some(sides));
    for (got, want) in found.corners.iter().zip(held.corners()) {
        assert!(
            got.to(want) < 0.002 * held.photo.diagonal(),
            "{got:?}, want {want:?}"
        );
    }
    let score = held.f1(&found.measured);
    assert!(score > 0.97, "F1 {score}");
    assert!(!found.warnings.contains(&PhotoWarning::Pale));
    let off = median(&found.measured) / held.truth["median_mm"].as_f64().unwrap() - 1.0;
    assert!(off.abs() < 0.02, "median off by {off}");
}

#[test]
fn two_panels_side_by_side_are_not_one() {
    let held = Held::of("two");
    let found = find(&held.photo, Sought::Any).map(|found| found.corners);
    assert_eq!(found, Err(NotFound::Several));
    let shaped = find(&held.photo, Sought::Sides(Some(0.75)));
    assert!(shaped.is_err(), "{shaped:?}");
}

/// Lamps are few; as many bright places as there are cells are white paint, which is counted, and the painter is told.
#[test]
fn white_paint_in_too_much_light_is_no_glare() {
    let held = Held::of("bright");
    let order = MeasureOrder {
        panel: Some(Panel::parse("20x15cm").unwrap()),
        corners: Corners::Given(held.corners()),
        least: LEAST_CELL,
    };
    let found = measure_photo(&held.photo, &order, "bright").unwrap();
    let score = held.f1(&found.measured);
    assert!(score > 0.96, "F1 {score}");
    let told = |one: &PhotoWarning| matches!(one, PhotoWarning::White(n) if *n > 12);
    assert!(found.warnings.iter().any(told), "{:?}", found.warnings);
}

/// Colours 9 apart from the ground in dim light: most cells are found, and that some are missed is said.
#[test]
fn pale_cells_are_found_but_not_without_a_word() {
    let held = Held::of("low");
    let order = MeasureOrder {
        panel: Some(Panel::parse("20x15cm").unwrap()),
        corners: Corners::Given(held.corners()),
        least: LEAST_CELL,
    };
    let found = measure_photo(&held.photo, &order, "low").unwrap();
    let score = held.f1(&found.measured);
    assert!(score > 0.93, "F1 {score}");
    assert!(found.warnings.contains(&PhotoWarning::Pale));
}
