//! Cells in a picture against published values, general imaging libraries and pictures with a known truth.

use serde_json::Value;
use std::collections::HashMap;
use std::path::PathBuf;
use stillcup::numbers::cells::colour::{ciede2000, lab_of};
use stillcup::numbers::cells::distance::distance;
use stillcup::numbers::cells::otsu::otsu;
use stillcup::numbers::cells::plane::{Mask, Plane};
use stillcup::numbers::cells::regions::{filled, perimeter, regions};
use stillcup::numbers::cells::segment::pieces;
use stillcup::numbers::cells::{Measured, Pixels, Point, Sought, Wanted, find, measure};

fn file(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("tests/data")
        .join(name)
}

fn text(name: &str) -> String {
    std::fs::read_to_string(file(name)).unwrap()
}

fn picture(name: &str) -> Pixels {
    let opened = image::open(file(name)).unwrap().to_rgb8();
    let (width, height) = (opened.width() as usize, opened.height() as usize);
    Pixels {
        width,
        height,
        rgb: opened.into_raw(),
    }
}

fn grey(name: &str) -> Plane<u8> {
    let opened = image::open(file(name)).unwrap().to_luma8();
    let (width, height) = (opened.width() as usize, opened.height() as usize);
    Plane {
        width,
        height,
        values: opened.into_raw(),
    }
}

fn histogram(picture: &Plane<u8>) -> Vec<u64> {
    let mut counts = vec![0; 256];
    picture
        .values
        .iter()
        .for_each(|&value| counts[value as usize] += 1);
    counts
}

/// READ: the 34 pairs of Sharma, Wu and Dalal 2005 as scikit-image's test suite has them; printed to four digits.
#[test]
fn ciede2000_has_the_published_differences() {
    let (mut rows, mut sum) = (0, 0.0);
    for line in text("ciede2000_34.csv").lines().skip(1) {
        let v: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        let (one, other) = ([v[1], v[2], v[3]], [v[4], v[5], v[6]]);
        let got = ciede2000(one, other);
        assert!(
            (got - v[7]).abs() <= 5e-5,
            "pair {}: {got}, want {}",
            v[0],
            v[7]
        );
        assert!(
            (ciede2000(other, one) - got).abs() < 1e-10,
            "pair {} the other way",
            v[0]
        );
        (rows, sum) = (rows + 1, sum + got);
    }
    assert_eq!(rows, 34);
    assert!((sum - 183.186_296_206_323_36).abs() < 1e-6, "{sum}");
}

/// COMPUTED: sRGB to CIELAB with the exact primaries and the white .3127 .3290, beside scikit-image 0.26 and Lindbloom's matrix.
#[test]
fn lab_agrees_with_exact_primaries() {
    let table = [
        ([255, 0, 0], [53.237_12, 80.090_11, 67.203_26]),
        ([0, 255, 0], [87.735_52, -86.181_60, 83.186_62]),
        ([0, 0, 255], [32.300_87, 79.195_27, -107.855_47]),
        ([255, 255, 255], [100.0, 0.0, 0.0]),
        ([119, 119, 119], [50.034_44, 0.0, 0.0]),
        ([200, 100, 50], [53.627_72, 36.301_53, 45.379_03]),
        ([18, 52, 86], [21.042_47, 1.058_12, -24.100_55]),
    ];
    for (rgb, want) in table {
        let got = lab_of(rgb);
        (0..3).for_each(|k| {
            assert!(
                (got[k] - want[k]).abs() < 0.03,
                "{rgb:?}: {got:?}, want {want:?}"
            )
        });
    }
}

/// COMPUTED: Otsu's threshold of the coins by scikit-image 0.26 and OpenCV 5, 107, and what follows from it.
#[test]
fn coins_are_parted_and_counted_as_other_libraries_do() {
    let coins = grey("cells/coins.png");
    assert_eq!(otsu(&histogram(&coins)), Some(107));
    let mask = coins.map(|value| value > 107);
    assert_eq!(mask.count(), 45_117);
    assert_eq!(regions(&mask, false).regions.len(), 154);
    assert_eq!(regions(&mask, true).regions.len(), 96);
    let whole = filled(&mask);
    assert_eq!(whole.count(), 46_748);
    let mut areas: Vec<usize> = regions(&whole, true)
        .regions
        .iter()
        .map(|one| one.area)
        .filter(|&area| area >= 100)
        .collect();
    areas.sort_unstable();
    areas.reverse();
    assert_eq!(
        areas,
        [
            9076, 3109, 2606, 2438, 2194, 1965, 1895, 1738, 1727, 1687, 1639, 1521, 1481, 1474,
            1385, 1325, 1233, 1218, 1176, 1157, 1136, 1130, 1111, 1104
        ]
    );
}

/// COMPUTED: ties of Otsu's criterion go to the lowest, as in scikit-image; one colour has no threshold.
#[test]
fn otsu_takes_the_lowest_of_equals_and_none_of_one_colour() {
    let counts = |values: &[usize]| {
        let mut counts = vec![0; 256];
        values.iter().for_each(|&value| counts[value] += 1);
        counts
    };
    assert_eq!(otsu(&counts(&[0, 0, 255, 255])), Some(0));
    assert_eq!(otsu(&counts(&[10, 10, 200, 200, 200])), Some(10));
    assert_eq!(otsu(&counts(&[5, 5, 5])), None);
}

/// COMPUTED: scikit-image's binary_blobs, seed 0, length 256: joined regions and their areas.
#[test]
fn blobs_are_joined_as_other_libraries_do() {
    let blobs = grey("cells/blobs_s0_L256.png").map(|value| value > 0);
    assert_eq!(blobs.count(), 19_661);
    for eight in [false, true] {
        let found = regions(&blobs, eight).regions;
        assert_eq!(found.len(), 34);
        let mut areas: Vec<usize> = found.iter().map(|one| one.area).collect();
        areas.sort_unstable();
        areas.reverse();
        assert_eq!(areas[..6], [2333, 1976, 1553, 1506, 1402, 1071]);
    }
}

fn drawn(rows: &[&str]) -> Mask {
    let values = rows
        .iter()
        .flat_map(|row| row.chars().map(|c| c == '1'))
        .collect();
    Plane {
        width: rows[0].len(),
        height: rows.len(),
        values,
    }
}

/// COMPUTED: scikit-image and scipy on a matrix made by hand; distances of a square by hand.
#[test]
fn the_hand_matrix_has_its_regions_and_its_hole() {
    let matrix = drawn(&["110001", "100100", "001110", "011010", "001111", "100000"]);
    assert_eq!(regions(&matrix, false).regions.len(), 4);
    assert_eq!(regions(&matrix, true).regions.len(), 4);
    assert_eq!(filled(&matrix).count(), matrix.count() + 1);
    let square = drawn(&[
        "0000000", "0111110", "0111110", "0111110", "0111110", "0111110", "0000000",
    ]);
    let far = distance(&square);
    assert_eq!([far.at(1, 1), far.at(2, 2), far.at(3, 3)], [1.0, 2.0, 3.0]);
}

/// COMPUTED: scikit-image's gallery of two overlapping discs: the sum of distances by scipy, two domes of 20 and 16.
#[test]
fn two_overlapping_discs_are_two() {
    let discs = grey("cells/two_circles_80.png").map(|value| value > 0);
    assert_eq!(discs.count(), 1938);
    assert_eq!(regions(&discs, true).regions.len(), 1);
    let far = distance(&discs);
    let sum: f64 = far.values.iter().map(|&value| f64::from(value)).sum();
    assert!((sum - 13_417.764_962_782).abs() < 0.05, "{sum}");
    assert!((far.at(52, 44) - 20.0).abs() < 1e-6 || (far.at(44, 52) - 20.0).abs() < 1e-6);
    // All of one colour, twice as far from the ground as the threshold is.
    let even = discs.map(|own| if own { 2.0 } else { 0.0 });
    let found = pieces(&even, &discs.map(|_| false), 1.0, 1);
    let mut areas: Vec<usize> = found.iter().map(|piece| piece.area).collect();
    areas.sort_unstable();
    // scikit-image's watershed on the unsmoothed distance: 735 and 1203.
    assert_eq!(areas.len(), 2, "{areas:?}");
    assert_eq!(areas.iter().sum::<usize>(), 1938);
    assert!((areas[0] as f64 - 735.0).abs() < 25.0, "{areas:?}");
}

/// COMPUTED: scikit-image's `perimeter_crofton` (4 directions) of discs x2 + y2 <= r2.
#[test]
fn discs_have_their_area_and_perimeter() {
    let table = [
        (3, 29, 20.992_061),
        (5, 81, 33.939_571),
        (10, 317, 65.197_624),
        (20, 1257, 127.713_731),
        (50, 7845, 315.262_053),
        (100, 31_417, 630.064_030),
    ];
    for (r, area, crofton) in table {
        let side = 2 * r + 3;
        let within = |at: usize| {
            let (x, y) = (
                (at % side) as i64 - r as i64 - 1,
                (at / side) as i64 - r as i64 - 1,
            );
            x * x + y * y <= (r * r) as i64
        };
        let disc = Plane {
            width: side,
            height: side,
            values: (0..side * side).map(within).collect(),
        };
        let found = regions(&disc, true);
        assert_eq!(found.regions[0].area, area);
        let got = perimeter(&found.labels, 1, &found.regions[0]);
        assert!((got - crofton).abs() < 1e-3, "r {r}: {got}, want {crofton}");
    }
}

/// How a measured panel matches its truth: cells that overlap by more than half, of those found and those there.
fn f1(found: &Measured, truth: &Plane<u16>) -> f64 {
    let (mut both, mut theirs, mut ours) = (HashMap::new(), HashMap::new(), HashMap::new());
    for (&a, &b) in truth.values.iter().zip(&found.drawn.labels.values) {
        *theirs.entry(a).or_insert(0) += usize::from(a > 0);
        *ours.entry(b).or_insert(0) += usize::from(b > 0);
        *both.entry((a, b)).or_insert(0) += usize::from(a > 0 && b > 0);
    }
    let matched = both
        .iter()
        .filter(|((a, b), n)| **n > 0 && 2 * **n > theirs[a] + ours[b] - **n)
        .count();
    let all =
        theirs.values().filter(|n| **n > 0).count() + ours.values().filter(|n| **n > 0).count();
    2.0 * matched as f64 / all as f64
}

fn whole(picture: &Pixels) -> [Point; 4] {
    let (x, y) = (picture.width as f64, picture.height as f64);
    [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)].map(|(x, y)| Point { x, y })
}

#[test]
fn flat_panels_give_their_cells_and_diameters() {
    for (name, mean) in [("easy", 31.8186), ("isolum", 32.1281), ("persp", 29.7330)] {
        let panel = picture(&format!("cells/panel_{name}.png"));
        let wanted = Wanted {
            corners: whole(&panel),
            size: None,
            round: false,
            least: 1.0,
        };
        let found = measure(&panel, &wanted).unwrap();
        let truth = image::open(file(&format!("cells/panel_{name}_truth.png")))
            .unwrap()
            .to_luma16();
        let truth = Plane {
            width: panel.width,
            height: panel.height,
            values: truth.into_raw(),
        };
        let score = f1(&found, &truth);
        assert!(score >= 0.99, "{name}: F1 {score}");
        let got =
            found.cells.iter().map(|cell| cell.diameter).sum::<f64>() / found.cells.len() as f64;
        assert!(
            (got / mean - 1.0).abs() < 0.01,
            "{name}: mean {got}, want {mean}"
        );
    }
}

/// What one photo's truth says.
struct Truth(Value);

impl Truth {
    fn of(name: &str) -> Self {
        Self(serde_json::from_str(&text(&format!("cells/{name}.json"))).unwrap())
    }
    fn number(&self, key: &str) -> f64 {
        self.0[key].as_f64().unwrap()
    }
    fn corners(&self) -> [Point; 4] {
        std::array::from_fn(|k| {
            let at = |i: usize| self.0["corners_px"][k][i].as_f64().unwrap();
            Point { x: at(0), y: at(1) }
        })
    }
}

#[test]
fn photos_on_tables_give_corners_cells_and_diameters() {
    for name in ["a_wood", "b_sheet_glare", "c_isolum_dark"] {
        let (photo, truth) = (picture(&format!("cells/{name}.jpg")), Truth::of(name));
        let found = find(&photo, Sought::Sides(Some(4.0 / 3.0))).unwrap();
        for (got, want) in found.corners.iter().zip(truth.corners()) {
            assert!(
                got.to(want) < 0.002 * photo.diagonal(),
                "{name}: {got:?}, want {want:?}"
            );
        }
        let wanted = Wanted {
            corners: found.corners,
            size: Some((400.0, 300.0)),
            round: false,
            least: 1.2,
        };
        let measured = measure(&photo, &wanted).unwrap();
        let (cells, want) = (measured.cells.len() as f64, truth.number("cells_in_sight"));
        assert!(
            (cells / want - 1.0).abs() <= 0.02,
            "{name}: {cells} cells, want {want}"
        );
        let mut sizes: Vec<f64> = measured.cells.iter().map(|cell| cell.diameter).collect();
        sizes.sort_by(f64::total_cmp);
        let (median, want) = (sizes[sizes.len() / 2], truth.number("median_mm"));
        assert!(
            (median / want - 1.0).abs() <= 0.02,
            "{name}: median {median}, want {want}"
        );
        let off = measured.share - truth.number("coverage_in_sight");
        assert!(off.abs() <= 0.006, "{name}: share off by {off}");
        let off = measured.glare - truth.number("glare_share");
        assert!(off.abs() <= 0.004, "{name}: glare off by {off}");
    }
}
