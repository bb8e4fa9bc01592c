//! Designs for curves, and the curved surface read from them: where it is flat, and what that place is.
//!
//! Face-centred central composite designs (Box and Wilson, Journal of the Royal Statistical Society B 13:1, 1951) for two to
//! four settings, and Box and Behnken's (Technometrics 2:455, 1960) for three and four; days as blocks. A second-order model
//! by least squares, its stationary point and the signs of its curvature there. Layouts and formulas from memory.

use super::factorial::{DesignError, PlannedRun};
use crate::trade::trial::Level;
use nalgebra::{DMatrix, DVector};
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand::seq::SliceRandom;

/// Which layout.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// All corners, the middle of each face, and the centre.
    FaceCentred,
    /// The middle of each edge, and the centre: never all settings at an end at once.
    EdgeMiddles,
}

/// What the stationary point is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// It falls off in every direction.
    Top,
    /// It rises in every direction.
    Bottom,
    /// It rises in one and falls in another.
    Saddle,
    /// In one direction it hardly bends: any place along it is as good.
    Ridge,
}

/// A curved surface over settings coded -1 to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// The height at the centre, on the mean day.
    pub centre: f64,
    /// The slope of each setting there.
    pub slopes: Vec<f64>,
    /// How it bends: half the second derivatives, settings by settings.
    pub bends: DMatrix<f64>,
    /// The standard deviation of what it leaves, with its degrees of freedom; none where nothing is left.
    pub error: Option<(f64, f64)>,
    /// Where it is flat, coded; none where it does not bend.
    pub flat: Option<Vec<f64>>,
    /// The height there.
    pub height: Option<f64>,
    /// How it bends there along its own axes, the most downward first.
    pub axes: Vec<f64>,
    /// What that place is.
    pub kind: Kind,
}

/// A bend under this share of the strongest is none.
const HARDLY: f64 = 0.05;

/// A layout in an order drawn by lot within each day, with so many centre runs a day. A face-centred one takes one or two
/// days (corners, then faces), one of edge middles one, or three with four settings.
///
/// # Errors
/// [`DesignError`] where there is no such layout.
pub fn plan(
    layout: Layout,
    settings: usize,
    days: u32,
    centres: usize,
    seed: u64,
) -> Result<Vec<PlannedRun>, DesignError> {
    let points = match layout {
        Layout::FaceCentred if (2..=4).contains(&settings) => face_centred(settings),
        Layout::EdgeMiddles if (3..=4).contains(&settings) => edge_middles(settings),
        _ => return Err(DesignError::Factors(settings)),
    };
    let parts = points.iter().map(|one| one.0).max().unwrap_or(1);
    if days != 1 && days != parts {
        return Err(DesignError::Blocks(days));
    }
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut runs = Vec::new();
    for day in 1..=days {
        let own = points.iter().filter(|(part, _)| days == 1 || *part == day);
        let run = |levels: Vec<Level>| PlannedRun { block: day, levels };
        let mut of_day: Vec<PlannedRun> = own.map(|(_, levels)| run(levels.clone())).collect();
        of_day.extend((0..centres).map(|_| run(vec![Level::Middle; settings])));
        of_day.shuffle(&mut rng);
        runs.extend(of_day);
    }
    Ok(runs)
}

/// Each run with the part it belongs to.
type Points = Vec<(u32, Vec<Level>)>;

const ENDS: [Level; 2] = [Level::Low, Level::High];

fn face_centred(settings: usize) -> Points {
    let corner = |at: usize| (0..settings).map(|i| ENDS[at >> i & 1]).collect();
    let corners = (0..1 << settings).map(|at| (1, corner(at)));
    let face = |(setting, end): (usize, Level)| {
        let mut levels = vec![Level::Middle; settings];
        levels[setting] = end;
        (2, levels)
    };
    let faces = (0..settings).flat_map(|at| ENDS.map(|end| (at, end)));
    corners.chain(faces.map(face)).collect()
}

/// Each pair of settings at its four corners, the others in the middle; of four settings the three ways to pair them off
/// are three days.
fn edge_middles(settings: usize) -> Points {
    let pairs: &[(u32, usize, usize)] = match settings {
        3 => &[(1, 0, 1), (1, 0, 2), (1, 1, 2)],
        _ => &[
            (1, 0, 1),
            (1, 2, 3),
            (2, 0, 3),
            (2, 1, 2),
            (3, 0, 2),
            (3, 1, 3),
        ],
    };
    let edges = |(part, a, b): &(u32, usize, usize)| {
        let (part, a, b) = (*part, *a, *b);
        ENDS.into_iter().flat_map(move |first| {
            ENDS.map(|second| {
                let mut levels = vec![Level::Middle; settings];
                (levels[a], levels[b]) = (first, second);
                (part, levels)
            })
        })
    };
    pairs.iter().flat_map(edges).collect()
}

/// A level as -1, 0 or 1.
#[must_use]
pub const fn coded(level: Level) -> f64 {
    match level {
        Level::Low => -1.0,
        Level::Middle => 0.0,
        Level::High => 1.0,
    }
}

/// Whether the runs are laid out for a curve: some, but not all, settings of a run in the middle.
#[must_use]
pub fn is_for_curves(runs: &[PlannedRun]) -> bool {
    let is_part = |run: &PlannedRun| {
        let middles = run
            .levels
            .iter()
            .filter(|level| **level == Level::Middle)
            .count();
        middles > 0 && middles < run.levels.len()
    };
    runs.iter().any(is_part)
}

/// The second-order surface through outcomes at coded settings, days taken out. None where the runs cannot tell it.
#[must_use]
pub fn surface(x: &[Vec<f64>], days: &[u32], y: &[f64]) -> Option<Surface> {
    let settings = x.first()?.len();
    let names: Vec<u32> = later_days(days);
    let pairs: Vec<(usize, usize)> = (0..settings)
        .flat_map(|i| (0..=i).map(move |j| (j, i)))
        .collect();
    let width = 1 + names.len() + settings + pairs.len();
    if x.len() < width || x.len() != y.len() || x.len() != days.len() {
        return None;
    }
    let table = DMatrix::from_fn(x.len(), width, |row, at| match at {
        0 => 1.0,
        at if at <= names.len() => {
            let share = days.iter().filter(|day| **day == names[at - 1]).count() as f64;
            f64::from(u8::from(days[row] == names[at - 1])) - share / days.len() as f64
        }
        at if at <= names.len() + settings => x[row][at - 1 - names.len()],
        at => {
            let (i, j) = pairs[at - 1 - names.len() - settings];
            x[row][i] * x[row][j]
        }
    });
    let outcome = DVector::from_column_slice(y);
    let split = table.clone().qr();
    let inverse = split.r().try_inverse()?;
    if inverse.iter().any(|v| !v.is_finite() || v.abs() > 1e8) {
        return None;
    }
    let b = inverse * split.q().tr_mul(&outcome);
    let left = (&outcome - &table * &b).norm_squared();
    let freedom = (x.len() - width) as f64;
    let slopes: Vec<f64> = b.rows(1 + names.len(), settings).iter().copied().collect();
    let mut bends = DMatrix::zeros(settings, settings);
    for (at, (i, j)) in pairs.iter().enumerate() {
        let value = b[1 + names.len() + settings + at];
        let half = if i == j { value } else { 0.5 * value };
        bends[(*i, *j)] = half;
        bends[(*j, *i)] = half;
    }
    let error = (freedom > 0.0).then(|| ((left / freedom).sqrt(), freedom));
    Some(stationary(b[0], slopes, bends, error))
}

/// All days but the first.
fn later_days(days: &[u32]) -> Vec<u32> {
    let mut names = days.to_vec();
    names.sort_unstable();
    names.dedup();
    names.into_iter().skip(1).collect()
}

fn stationary(
    centre: f64,
    slopes: Vec<f64>,
    bends: DMatrix<f64>,
    error: Option<(f64, f64)>,
) -> Surface {
    let slope = DVector::from_column_slice(&slopes);
    let flat = bends.clone().lu().solve(&(-0.5 * &slope));
    let mut axes: Vec<f64> = bends
        .clone()
        .symmetric_eigenvalues()
        .iter()
        .copied()
        .collect();
    axes.sort_by(f64::total_cmp);
    Surface {
        height: flat.as_ref().map(|flat| centre + 0.5 * flat.dot(&slope)),
        flat: flat.map(|flat| flat.as_slice().to_vec()),
        kind: kind(&axes),
        centre,
        slopes,
        bends,
        error,
        axes,
    }
}

fn kind(axes: &[f64]) -> Kind {
    let strongest = axes
        .iter()
        .fold(0.0, |most: f64, axis| most.max(axis.abs()));
    if axes.iter().any(|axis| axis.abs() <= HARDLY * strongest) {
        return Kind::Ridge;
    }
    match (
        axes.iter().all(|axis| *axis < 0.0),
        axes.iter().all(|axis| *axis > 0.0),
    ) {
        (true, _) => Kind::Top,
        (_, true) => Kind::Bottom,
        _ => Kind::Saddle,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, told: f64, tolerance: f64) {
        assert!((found - told).abs() < tolerance, "{found}, not {told}");
    }

    #[test]
    fn layouts_have_the_runs_of_the_tables() {
        // Box and Behnken's and the usual tables: corners, faces, edge middles; MEMORY.
        let count =
            |layout, settings, days| plan(layout, settings, days, 3, 1).map(|runs| runs.len());
        assert_eq!(count(Layout::FaceCentred, 2, 1), Ok(4 + 4 + 3));
        assert_eq!(count(Layout::FaceCentred, 3, 2), Ok(8 + 6 + 6));
        assert_eq!(count(Layout::FaceCentred, 4, 1), Ok(16 + 8 + 3));
        assert_eq!(count(Layout::EdgeMiddles, 3, 1), Ok(12 + 3));
        assert_eq!(count(Layout::EdgeMiddles, 4, 3), Ok(24 + 9));
        assert_eq!(
            count(Layout::EdgeMiddles, 2, 1),
            Err(DesignError::Factors(2))
        );
        assert_eq!(
            count(Layout::EdgeMiddles, 3, 2),
            Err(DesignError::Blocks(2))
        );
        assert_eq!(
            count(Layout::FaceCentred, 5, 1),
            Err(DesignError::Factors(5))
        );
    }

    #[test]
    fn in_every_day_settings_are_balanced_and_no_setting_follows_the_day() {
        for (layout, settings, days) in [
            (Layout::FaceCentred, 2, 2),
            (Layout::FaceCentred, 4, 2),
            (Layout::EdgeMiddles, 4, 3),
        ] {
            let runs = plan(layout, settings, days, 2, 9).unwrap();
            assert!(is_for_curves(&runs));
            for day in 1..=days {
                for setting in 0..settings {
                    let own = runs.iter().filter(|run| run.block == day);
                    let sum: f64 = own.map(|run| coded(run.levels[setting])).sum();
                    near(sum, 0.0, 1e-12);
                }
            }
        }
    }

    // MEMORY: a textbook's chemical process, axial runs at 1.414: 79.94 + .995 x1 + .515 x2 - 1.376 x1^2 - 1.001 x2^2 +
    // .250 x1 x2, flat at (.389, .306), 80.21 high, axes -.9634 and -1.4143.
    #[test]
    fn a_textbooks_top_is_found() {
        let far = 2.0_f64.sqrt();
        let x = [
            [-1.0, -1.0],
            [-1.0, 1.0],
            [1.0, -1.0],
            [1.0, 1.0],
            [0.0, 0.0],
            [0.0, 0.0],
            [0.0, 0.0],
            [0.0, 0.0],
            [0.0, 0.0],
            [far, 0.0],
            [-far, 0.0],
            [0.0, far],
            [0.0, -far],
        ];
        let y = [
            76.5, 77.0, 78.0, 79.5, 79.9, 80.3, 80.0, 79.7, 79.8, 78.4, 75.6, 78.5, 77.0,
        ];
        let x: Vec<Vec<f64>> = x.iter().map(|row| row.to_vec()).collect();
        let found = surface(&x, &[1; 13], &y).unwrap();
        near(found.centre, 79.94, 5e-3);
        near(found.slopes[0], 0.995, 5e-4);
        near(found.slopes[1], 0.515, 5e-4);
        near(found.bends[(0, 0)], -1.376, 5e-4);
        near(found.bends[(1, 1)], -1.001, 5e-4);
        near(found.bends[(0, 1)], 0.125, 5e-4);
        let flat = found.flat.unwrap();
        near(flat[0], 0.389, 1e-3);
        near(flat[1], 0.306, 1e-3);
        near(found.height.unwrap(), 80.21, 5e-3);
        near(found.axes[0], -1.4143, 5e-4);
        near(found.axes[1], -0.9634, 5e-4);
        assert_eq!(found.kind, Kind::Top);
    }

    #[test]
    fn a_saddle_a_bottom_and_a_ridge_are_told_apart_and_days_taken_out() {
        let runs = plan(Layout::FaceCentred, 2, 2, 2, 3).unwrap();
        let x: Vec<Vec<f64>> = runs
            .iter()
            .map(|run| run.levels.iter().map(|l| coded(*l)).collect())
            .collect();
        let days: Vec<u32> = runs.iter().map(|run| run.block).collect();
        let of = |a: f64, b: f64| {
            let height = |(x, day): (&Vec<f64>, &u32)| {
                a * x[0] * x[0] + b * x[1] * x[1] + 0.3 * x[0] + 2.0 * f64::from(*day)
            };
            let y: Vec<f64> = x.iter().zip(&days).map(height).collect();
            surface(&x, &days, &y).unwrap()
        };
        assert_eq!(of(-1.0, 1.0).kind, Kind::Saddle);
        assert_eq!(of(1.0, 2.0).kind, Kind::Bottom);
        assert_eq!(of(-1.0, -0.01).kind, Kind::Ridge);
        near(of(-1.0, -2.0).bends[(0, 0)], -1.0, 1e-9);
        assert!(surface(&x[..4], &days[..4], &[1.0; 4]).is_none());
    }
}
