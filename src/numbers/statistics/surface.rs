//! A curved surface through a trial's outcomes: how it slopes and bends, where it is flat, and what that place is.
//!
//! A second-order model by least squares with days taken out (Box and Wilson, Journal of the Royal Statistical Society
//! B 13:1, 1951). Whether there is anything at all is Fisher's F over all its terms; the height at a place that was picked by
//! looking has Scheffé's band, which holds for every place at once (Biometrika 40:87, 1953); the bend along an axis has the
//! error of its coefficient once the settings are turned to it (Bisgaard and Ankenman, Technometrics 38:238, 1996).
//! Formulas from memory.

use super::distribution::{beta_cdf, beta_quantile, t_quantile};
use super::effects::{Effect, around};
use super::improvement::best_place;
use super::proportion::Interval;
use super::trial_error::rounding;
use nalgebra::{DMatrix, DVector};

/// What the stationary point is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// It falls off in every direction.
    Top,
    /// It rises in every direction.
    Bottom,
    /// It rises in one and falls in another.
    Saddle,
    /// In one direction it hardly bends, or no bend can be told from none: places along it are as good.
    Ridge,
}

/// One of the surface's own axes through its stationary point.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Which way it goes: one coded share a setting, of length 1.
    pub along: Vec<f64>,
    /// Half the second derivative along it.
    pub bend: f64,
    /// Its 95 % interval; none where nothing is left to take it from.
    pub interval: Option<Interval>,
}

/// What the surface leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Left {
    /// The standard deviation of one run.
    pub error: f64,
    /// Its degrees of freedom.
    pub freedom: f64,
    /// How often outcomes that follow no setting would seem to follow them as well as these.
    pub p: f64,
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
    /// What it leaves; none where there are as many terms as runs.
    pub left: Option<Left>,
    /// Where it is flat, coded; none where it does not bend.
    pub flat: Option<Vec<f64>>,
    /// Its own axes, the most downward first.
    pub axes: Vec<Axis>,
    /// What the stationary point is.
    pub kind: Kind,
    /// The products of the terms' errors in units of that of a run: centre, slopes, then bends as [`pairs`] has them.
    products: DMatrix<f64>,
}

/// A bend under this share of the strongest is none.
const HARDLY: f64 = 0.05;

/// The surface through outcomes at coded settings, days taken out. None where the runs cannot tell it.
#[must_use]
pub fn surface(x: &[Vec<f64>], days: &[u32], y: &[f64]) -> Option<Surface> {
    let settings = x.first()?.len();
    let terms = 1 + settings + pairs(settings).len();
    let shifts = later_days(days);
    let width = terms + shifts.len();
    if x.len() < width || x.len() != y.len() || x.len() != days.len() {
        return None;
    }
    let share =
        |day: u32| days.iter().filter(|one| **one == day).count() as f64 / days.len() as f64;
    let shift = |row: usize, day: u32| f64::from(u8::from(days[row] == day)) - share(day);
    let rows: Vec<Vec<f64>> = x.iter().map(|place| powers(place)).collect();
    let table = DMatrix::from_fn(x.len(), width, |row, at| match at.checked_sub(terms) {
        None => rows[row][at],
        Some(day) => shift(row, shifts[day]),
    });
    let outcome = DVector::from_column_slice(y);
    let (b, products) = least_squares(&table, &outcome)?;
    let rest = (&outcome - &table * &b).norm_squared();
    let b: Vec<f64> = b.rows(0, terms).iter().copied().collect();
    let level = level_of(days, y);
    let left = left(
        rest,
        level - rest,
        (terms - 1, x.len() - width),
        rounding(y),
    );
    Some(of_terms(
        settings,
        &b,
        left,
        products.view((0, 0), (terms, terms)).into_owned(),
    ))
}

impl Surface {
    /// The height at a place.
    #[must_use]
    pub fn at(&self, place: &[f64]) -> f64 {
        let place = DVector::from_column_slice(place);
        let slopes = DVector::from_column_slice(&self.slopes);
        self.centre + slopes.dot(&place) + place.dot(&(&self.bends * &place))
    }

    /// The height at a place with its 95 % interval, whichever place it is and however it was picked.
    #[must_use]
    pub fn range(&self, place: &[f64]) -> Option<Interval> {
        let left = self.left?;
        let terms = DVector::from_vec(powers(place));
        let error = left.error * terms.dot(&(&self.products * &terms)).sqrt();
        let count = terms.len() as f64;
        Some(around(
            self.at(place),
            error * (count * f_quantile(count, left.freedom)).sqrt(),
        ))
    }

    /// Whether it stands clear of chance.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.left.is_some_and(|left| left.p < 0.05)
    }

    /// The highest place of those between the ends.
    #[must_use]
    pub fn best(&self) -> Vec<f64> {
        best_place(&vec![-1.0..=1.0; self.slopes.len()], |place| self.at(place))
    }

    /// Its terms as the effects of a trial: high less low of a setting, halfway less the mean of both ends, and two settings
    /// together.
    #[must_use]
    pub fn effects(&self) -> Vec<Effect> {
        let settings = self.slopes.len();
        let slope = |at: usize| (vec![at], 2.0 * self.slopes[at], 2.0);
        let bend = |(i, j): (usize, usize)| match i == j {
            true => (vec![i, i], -self.bends[(i, i)], 1.0),
            false => (vec![i, j], 4.0 * self.bends[(i, j)], 2.0),
        };
        let all = (0..settings).map(slope);
        let all: Vec<_> = all.chain(pairs(settings).into_iter().map(bend)).collect();
        let count = all.len();
        let told = all.into_iter().enumerate();
        told.map(|(at, (factors, value, times))| {
            let error = self.left.map(|left| {
                let error = times * left.error * self.products[(at + 1, at + 1)].sqrt();
                (error, left.freedom)
            });
            judged(factors, value, error, count)
        })
        .collect()
    }
}

/// An effect with its interval, clear where it is so among so many.
fn judged(factors: Vec<usize>, value: f64, error: Option<(f64, f64)>, count: usize) -> Effect {
    let alone = error.map(|(error, freedom)| error * t_quantile(0.975, freedom));
    let share = 0.95_f64.powf(1.0 / count as f64);
    let margin = error.map(|(error, freedom)| error * t_quantile(0.5 + 0.5 * share, freedom));
    Effect {
        factors,
        aliases: Vec::new(),
        with_blocks: false,
        value,
        interval: alone.map(|reach| around(value, reach)),
        is_clear: margin.is_some_and(|margin| value.abs() > margin),
    }
}

/// The pairs of settings that a bend belongs to, a setting with itself too.
fn pairs(settings: usize) -> Vec<(usize, usize)> {
    let to = |i| (0..=i).map(move |j| (j, i));
    (0..settings).flat_map(to).collect()
}

/// What the terms multiply at a place.
fn powers(place: &[f64]) -> Vec<f64> {
    let products = pairs(place.len()).into_iter();
    let products = products.map(|(i, j)| place[i] * place[j]);
    [1.0]
        .into_iter()
        .chain(place.iter().copied())
        .chain(products)
        .collect()
}

/// The coefficients, and the products of their errors in units of that of a run; none where columns are one.
fn least_squares(table: &DMatrix<f64>, y: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
    let split = table.clone().qr();
    let inverse = split.r().try_inverse()?;
    if inverse.iter().any(|v| !v.is_finite() || v.abs() > 1e8) {
        return None;
    }
    let b = &inverse * split.q().tr_mul(y);
    Some((b, &inverse * inverse.transpose()))
}

/// All days but the first.
fn later_days(days: &[u32]) -> Vec<u32> {
    let mut names = days.to_vec();
    names.sort_unstable();
    names.dedup();
    names.into_iter().skip(1).collect()
}

/// The sum of squares about the mean of each day.
fn level_of(days: &[u32], y: &[f64]) -> f64 {
    let mut names = days.to_vec();
    names.sort_unstable();
    names.dedup();
    let of_day = |day: u32| -> f64 {
        let own = days.iter().zip(y).filter(move |(one, _)| **one == day);
        let own: Vec<f64> = own.map(|(_, y)| *y).collect();
        let mean = own.iter().sum::<f64>() / own.len() as f64;
        own.iter().map(|y| (y - mean).powi(2)).sum()
    };
    names.into_iter().map(of_day).sum()
}

/// `rest` is the sum of squares that it leaves, `told` what it tells, with the terms and the degrees of freedom left.
fn left(rest: f64, told: f64, (terms, freedom): (usize, usize), floor: f64) -> Option<Left> {
    if freedom == 0 {
        return None;
    }
    let (terms, freedom) = (terms as f64, freedom as f64);
    let error = (rest / freedom).sqrt().max(floor);
    let p = match error > 0.0 {
        true => f_tail(told.max(0.0) / terms / (error * error), terms, freedom),
        false => 1.0,
    };
    Some(Left { error, freedom, p })
}

/// The upper tail of Fisher's F.
fn f_tail(f: f64, above: f64, below: f64) -> f64 {
    beta_cdf(0.5 * below, 0.5 * above, below / (below + above * f))
}

/// The 95 % point of Fisher's F.
fn f_quantile(above: f64, below: f64) -> f64 {
    let share = beta_quantile(0.5 * above, 0.5 * below, 0.95);
    below * share / (above * (1.0 - share))
}

fn of_terms(settings: usize, b: &[f64], left: Option<Left>, products: DMatrix<f64>) -> Surface {
    let slopes = b[1..=settings].to_vec();
    let mut bends = DMatrix::zeros(settings, settings);
    for (value, (i, j)) in b[1 + settings..].iter().zip(pairs(settings)) {
        let half = if i == j { *value } else { 0.5 * value };
        (bends[(i, j)], bends[(j, i)]) = (half, half);
    }
    let slope = DVector::from_column_slice(&slopes);
    let flat = bends.clone().lu().solve(&(-0.5 * &slope));
    let axes = axes(&bends, left, &products);
    Surface {
        flat: flat.map(|flat| flat.as_slice().to_vec()),
        kind: kind(&axes),
        centre: b[0],
        slopes,
        bends,
        left,
        axes,
        products,
    }
}

fn axes(bends: &DMatrix<f64>, left: Option<Left>, products: &DMatrix<f64>) -> Vec<Axis> {
    let own = bends.clone().symmetric_eigen();
    let mut axes: Vec<Axis> = own
        .eigenvalues
        .iter()
        .zip(own.eigenvectors.column_iter())
        .map(|(bend, along)| {
            let along = along.as_slice().to_vec();
            let reach = left.map(|left| reach(&along, left, products));
            Axis {
                interval: reach.map(|reach| around(*bend, reach)),
                bend: *bend,
                along,
            }
        })
        .collect();
    axes.sort_by(|a, b| a.bend.total_cmp(&b.bend));
    axes
}

/// How far chance reaches in the bend along a direction.
fn reach(along: &[f64], left: Left, products: &DMatrix<f64>) -> f64 {
    let mut terms = powers(along);
    terms[..=along.len()].fill(0.0);
    let terms = DVector::from_vec(terms);
    let error = left.error * terms.dot(&(products * &terms)).sqrt();
    error * t_quantile(0.975, left.freedom)
}

fn kind(axes: &[Axis]) -> Kind {
    let sizes = axes.iter().map(|axis| axis.bend.abs());
    let strongest = sizes.fold(0.0, f64::max);
    let hardly = |axis: &Axis| {
        let unsure = axis.interval.is_some_and(|interval| interval.holds(0.0));
        unsure || axis.bend.abs() <= HARDLY * strongest
    };
    if axes.iter().any(hardly) {
        return Kind::Ridge;
    }
    match (
        axes.iter().all(|axis| axis.bend < 0.0),
        axes.iter().all(|axis| axis.bend > 0.0),
    ) {
        (true, _) => Kind::Top,
        (_, true) => Kind::Bottom,
        _ => Kind::Saddle,
    }
}

#[cfg(test)]
mod tests;
