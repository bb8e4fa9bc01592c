//! A climb along a known slope: the quasi-Newton steps of Broyden, Fletcher, Goldfarb and Shanno, cut until they rise.

use nalgebra::{DMatrix, DVector};

/// The highest place found from `start` in at most `steps` steps; `height` gives a place's height and slope, none where
/// it cannot be stood on.
pub fn ascend(
    start: &[f64],
    steps: usize,
    height: impl Fn(&[f64]) -> Option<(f64, Vec<f64>)>,
) -> Vec<f64> {
    let mut at = DVector::from_column_slice(start);
    let Some((mut here, slope)) = height(start) else {
        return start.to_vec();
    };
    let mut slope = DVector::from_vec(slope);
    let first = 1.0 / slope.amax().max(1.0);
    let mut bend = DMatrix::identity(at.len(), at.len()) * first;
    for _ in 0..steps {
        let step = &bend * &slope;
        let Some((moved, next, there)) = rise(&at, here, &slope, &step, &height) else {
            break;
        };
        let turned = &slope - &next;
        update(&mut bend, &moved, &turned);
        let gained = there - here;
        at += moved;
        slope = next;
        here = there;
        if gained < 1e-4 * (1.0 + here.abs()) * 1e-2 {
            break;
        }
    }
    at.as_slice().to_vec()
}

/// The step, cut in half until it rises by a part of what the slope promises: with the slope and the height there.
fn rise(
    at: &DVector<f64>,
    here: f64,
    slope: &DVector<f64>,
    step: &DVector<f64>,
    height: &impl Fn(&[f64]) -> Option<(f64, Vec<f64>)>,
) -> Option<(DVector<f64>, DVector<f64>, f64)> {
    let mut step = step * (2.0 / step.amax()).min(1.0);
    for _ in 0..12 {
        let place = at + &step;
        if let Some((there, next)) = height(place.as_slice())
            && there >= here + 1e-4 * slope.dot(&step)
        {
            return Some((step, DVector::from_vec(next), there));
        }
        step *= 0.4;
    }
    None
}

/// The inverse of the bend after a step, where it still is one.
fn update(bend: &mut DMatrix<f64>, moved: &DVector<f64>, turned: &DVector<f64>) {
    let across = moved.dot(turned);
    if across <= 1e-12 {
        return;
    }
    let n = moved.len();
    let left = DMatrix::identity(n, n) - moved * turned.transpose() / across;
    *bend = &left * &*bend * left.transpose() + moved * moved.transpose() / across;
}
