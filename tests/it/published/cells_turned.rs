//! What must not matter to a measurement: turning, mirroring, enlarging, swapping light and dark, the order of the cells.
//! And how far neighbours are, at the ends that Clark and Evans name.

use image::{DynamicImage, imageops};
use proptest::prelude::*;
use std::path::PathBuf;
use stillcup::numbers::cells::spread::{quantile, spacing, spacing_ratio, variation};
use stillcup::numbers::cells::{Measured, Pixels, Point, Wanted, measure};

/// A quarter of a panel with known cells, so that it is quick.
fn panel() -> DynamicImage {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/cells/panel_easy.png");
    image::open(path).unwrap().crop_imm(0, 0, 300, 220)
}

fn measured(picture: &DynamicImage) -> Measured {
    let rgb = picture.to_rgb8();
    let (width, height) = (rgb.width() as usize, rgb.height() as usize);
    let pixels = Pixels {
        width,
        height,
        rgb: rgb.into_raw(),
    };
    let (x, y) = (width as f64, height as f64);
    let wanted = Wanted {
        corners: [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)].map(|(x, y)| Point { x, y }),
        size: Some(if x > y {
            (300.0, 220.0)
        } else {
            (220.0, 300.0)
        }),
        round: false,
        // Slivers at the edge are no cells.
        least: 6.0,
    };
    measure(&pixels, &wanted).unwrap()
}

fn sizes(found: &Measured) -> Vec<f64> {
    let mut sizes: Vec<f64> = found.cells.iter().map(|cell| cell.diameter).collect();
    sizes.sort_by(f64::total_cmp);
    sizes
}

#[track_caller]
fn alike(one: &Measured, other: &Measured, within: f64) {
    let (a, b) = (sizes(one), sizes(other));
    assert_eq!(a.len(), b.len(), "as many cells");
    let (half, also) = (a[a.len() / 2], b[b.len() / 2]);
    assert!(
        (also / half - 1.0).abs() < within,
        "half under {half} mm and {also} mm"
    );
    // An area goes by the square of its diameter.
    let (share, also) = (one.share, other.share);
    assert!(
        (also / share - 1.0).abs() < 2.0 * within,
        "a share of {share} and {also}"
    );
}

#[test]
fn turned_mirrored_and_enlarged_the_cells_are_the_same() {
    let upright = panel();
    let plain = measured(&upright);
    assert!(plain.cells.len() > 20);
    alike(&plain, &measured(&upright.rotate90()), 0.01);
    alike(&plain, &measured(&upright.rotate180()), 0.01);
    alike(&plain, &measured(&upright.fliph()), 0.01);
    let large = upright.resize_exact(600, 440, imageops::FilterType::Triangle);
    alike(&plain, &measured(&large), 0.02);
}

#[test]
fn with_light_and_dark_swapped_the_cells_are_the_same() {
    let upright = panel();
    let mut negative = upright.clone();
    negative.invert();
    // The picture is blurred in light; in a negative the same blur lies on the other side of the edge.
    alike(&measured(&upright), &measured(&negative), 0.04);
}

/// Clark and Evans 1954: 1 at random, 2 on a square lattice, 2.1491 on the most even one; at random the ratio's standard
/// error is .5228 over the root of the number (their .26136 over the expected distance; from memory). Their own worked
/// example was not at hand.
#[test]
fn neighbours_are_as_far_as_clark_and_evans_say() {
    let square: Vec<(f64, f64)> = (0..900)
        .map(|at| (f64::from(at % 30), f64::from(at / 30)))
        .collect();
    let ratio = spacing_ratio(&square, 900.0).unwrap();
    assert!((ratio - 2.0).abs() < 1e-9, "{ratio}");
    let high = 3_f64.sqrt() / 2.0;
    let even: Vec<(f64, f64)> = (0..900)
        .map(|at| {
            let (column, row) = (f64::from(at % 30), at / 30);
            (column + f64::from(row % 2) / 2.0, f64::from(row) * high)
        })
        .collect();
    let ratio = spacing_ratio(&even, 900.0 * high).unwrap();
    assert!((ratio - 2.1491).abs() < 5e-5, "{ratio}");
    let mut state = 7_u64;
    let mut draw = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    // Far from any edge: of a large square strewn at random the middle alone is asked, so here the whole is many.
    let strewn: Vec<(f64, f64)> = (0..40_000).map(|_| (draw(), draw())).collect();
    let ratio = spacing_ratio(&strewn, 1.0).unwrap();
    assert!((ratio - 1.0).abs() < 4.0 * 0.5228 / 200.0, "{ratio}");
}

proptest! {
    /// No figure depends on the order in which cells were found; twice as large, lengths are twice as long.
    #[test]
    fn the_order_of_the_cells_changes_nothing(
        places in prop::collection::vec((0.0..400.0_f64, 0.0..300.0_f64), 2..60),
        by in 0_usize..60,
    ) {
        let mut turned = places.clone();
        turned.rotate_left(by % places.len());
        turned.reverse();
        let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(1.0),
            (a, b) => a == b,
        };
        prop_assert!(near(spacing(&places), spacing(&turned)));
        let large: Vec<_> = places.iter().map(|(x, y)| (2.0 * x, 2.0 * y)).collect();
        prop_assert!(near(spacing(&places).map(|one| 2.0 * one), spacing(&large)));
        prop_assert!(near(spacing_ratio(&places, 120_000.0), spacing_ratio(&large, 480_000.0)));
        let sizes: Vec<f64> = places.iter().map(|one| one.0 + 1.0).collect();
        let other: Vec<f64> = turned.iter().map(|one| one.0 + 1.0).collect();
        prop_assert!(near(variation(&sizes), variation(&other)));
        let sorted = |mut all: Vec<f64>| { all.sort_by(f64::total_cmp); all };
        prop_assert!(near(quantile(&sorted(sizes), 0.5), quantile(&sorted(other), 0.5)));
    }
}
