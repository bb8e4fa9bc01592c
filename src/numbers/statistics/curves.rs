//! Designs for curves: which pours show where a setting is best between its ends. `surface` reads them.
//!
//! Face-centred central composite designs (Box and Wilson, Journal of the Royal Statistical Society B 13:1, 1951) for two to
//! four settings, and Box and Behnken's (Technometrics 2:455, 1960) for three and four; days as blocks. Layouts from memory.

use super::factorial::{DesignError, PlannedRun};
use crate::trade::trial::Level;
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
        _ => return Err(DesignError::Curve(settings)),
    };
    let parts = points.iter().map(|one| one.0).max().unwrap_or(1);
    if days != 1 && days != parts {
        return Err(DesignError::CurveDays(parts));
    }
    if centres == 0 && layout == Layout::EdgeMiddles {
        return Err(DesignError::NoCentres);
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

/// Which layout for curves the runs have: some, but not all, settings of a run in the middle. None of any other.
#[must_use]
pub fn layout(runs: &[PlannedRun]) -> Option<Layout> {
    let middles = |run: &PlannedRun| {
        let middle = run.levels.iter().filter(|one| **one == Level::Middle);
        middle.count()
    };
    let is_part = |run: &PlannedRun| middles(run) > 0 && middles(run) < run.levels.len();
    let has_corners = runs.iter().any(|run| middles(run) == 0);
    runs.iter().any(is_part).then_some(match has_corners {
        true => Layout::FaceCentred,
        false => Layout::EdgeMiddles,
    })
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
        assert_eq!(count(Layout::EdgeMiddles, 2, 1), Err(DesignError::Curve(2)));
        assert_eq!(
            count(Layout::EdgeMiddles, 3, 2),
            Err(DesignError::CurveDays(1))
        );
        assert_eq!(count(Layout::FaceCentred, 5, 1), Err(DesignError::Curve(5)));
    }

    #[test]
    fn in_every_day_settings_are_balanced_and_no_setting_follows_the_day() {
        for (layout, settings, days) in [
            (Layout::FaceCentred, 2, 2),
            (Layout::FaceCentred, 4, 2),
            (Layout::EdgeMiddles, 4, 3),
        ] {
            let runs = plan(layout, settings, days, 2, 9).unwrap();
            assert!(super::layout(&runs) == Some(layout));
            for day in 1..=days {
                for setting in 0..settings {
                    let own = runs.iter().filter(|run| run.block == day);
                    let sum: f64 = own.map(|run| coded(run.levels[setting])).sum();
                    near(sum, 0.0, 1e-12);
                }
            }
        }
    }
}
