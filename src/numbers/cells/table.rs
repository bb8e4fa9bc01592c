//! What is panel and what is table: two guesses, one by the table's few colours, one by how often each colour stands at
//! the edge of the picture and in its middle (the idea of Rother, Kolmogorov and Blake, "GrabCut", 2004, without the cut).

use super::blur::boxed;
use super::colour::{Lab, apart, lab};
use super::plane::{Mask, Plane};
use super::regions::regions;

/// How wide the strip along the edge is that is taken for table, of the long side.
const STRIP: f64 = 0.015;
/// Colours that the strip is shared among.
const COLOURS: usize = 6;
/// A colour with less of the strip than this is dropped.
const FEWEST: f64 = 0.04;
/// How far a colour stands from all of the table's to be none of them.
const FOREIGN: f32 = 15.0;
/// The part of a side that a panel takes which runs out there.
const OUT: f64 = 0.35;
/// The table in more and in less light.
const LIGHTS: [f64; 5] = [0.85, 0.93, 1.0, 1.08, 1.16];
/// The table in a panel's shadow.
const SHADOWS: [f64; 4] = [0.45, 0.6, 0.75, 0.87];

/// The pixels within a strip along the edge.
fn strip(picture: &Plane<Lab>, wide: usize) -> Vec<Lab> {
    let (w, h) = (picture.width, picture.height);
    let inside = |x: usize, y: usize| x < wide || y < wide || x + wide >= w || y + wide >= h;
    let all = (0..h).flat_map(|y| (0..w).map(move |x| (x, y)));
    all.filter(|&(x, y)| inside(x, y))
        .map(|(x, y)| picture.at(x, y))
        .collect()
}

fn width_of_strip(picture: &Plane<Lab>) -> usize {
    ((picture.width.max(picture.height) as f64 * STRIP).round() as usize).max(2)
}

/// The same colour in more or less light.
fn lit(colour: Lab, factor: f64) -> Lab {
    let light = super::colour::light_of(colour.map(f64::from));
    lab(light.map(|one| (one * factor).max(0.0))).map(|one| one as f32)
}

/// How far each pixel stands apart from the table's few colours in so many lights, and the same of the strip alone.
fn off_table(picture: &Plane<Lab>, lights: &[f64]) -> (Plane<f32>, Vec<f32>) {
    let edge = strip(picture, width_of_strip(picture));
    let table: Vec<Lab> = few_colours(&edge)
        .into_iter()
        .flat_map(|colour| lights.iter().map(move |&factor| lit(colour, factor)))
        .collect();
    let far = |colour: Lab| {
        table
            .iter()
            .map(|&one| apart(one, colour))
            .fold(f32::MAX, f32::min)
    };
    let own = edge.iter().map(|&one| far(one)).collect();
    (picture.map(far), own)
}

/// Two masks of what stands apart from the table's few colours: a careful one and a bolder one.
#[must_use]
pub fn by_colours(picture: &Plane<Lab>) -> Vec<Mask> {
    let (off, mut own) = off_table(picture, &LIGHTS);
    let q97 = quantile(&mut own, 0.97);
    [(5.0_f32).max(1.4 * q97), (9.0_f32).max(2.0 * q97)]
        .map(|least| off.map(|value| value > least))
        .into()
}

/// Whether one side of the picture shows, over much of its length, what the three others do not: a panel that runs out there.
#[must_use]
pub fn runs_out(picture: &Plane<Lab>) -> bool {
    let (w, h, wide) = (picture.width, picture.height, width_of_strip(picture));
    let side = |k: usize| -> Vec<Lab> {
        let (x, y) = match k {
            0 => (0..w, 0..wide.min(h)),
            1 => (w.saturating_sub(wide)..w, 0..h),
            2 => (0..w, h.saturating_sub(wide)..h),
            _ => (0..wide.min(w), 0..h),
        };
        y.flat_map(|y| x.clone().map(move |x| (x, y)))
            .map(|(x, y)| picture.at(x, y))
            .collect()
    };
    let foreign = |k: usize| {
        let others: Vec<Lab> = (1..4).flat_map(|step| side((k + step) % 4)).collect();
        let table: Vec<Lab> = few_colours(&others)
            .into_iter()
            .flat_map(|colour| LIGHTS.map(|factor| lit(colour, factor)))
            .collect();
        let own = side(k);
        let far = own
            .iter()
            .filter(|one| table.iter().all(|&other| apart(other, **one) > FOREIGN));
        far.count() as f64 > OUT * own.len() as f64
    };
    (0..4).any(foreign)
}

/// What looks like the table, in a panel's shadow too.
#[must_use]
pub fn table_like(picture: &Plane<Lab>) -> Mask {
    let lights = [&LIGHTS[..], &SHADOWS[..]].concat();
    let (off, mut own) = off_table(picture, &lights);
    let most = (6.0_f32).max(1.4 * quantile(&mut own, 0.97));
    off.map(|value| value <= most)
}

/// A quantile of values, which are put in another order.
pub(super) fn quantile(values: &mut [f32], share: f64) -> f32 {
    if values.is_empty() {
        return 0.0;
    }
    let at = ((values.len() - 1) as f64 * share).round() as usize;
    *values.select_nth_unstable_by(at, f32::total_cmp).1
}

/// The few colours of a strip: k-means from spread seeds, each the median of its pixels.
fn few_colours(pixels: &[Lab]) -> Vec<Lab> {
    let groups = grouped(pixels, COLOURS);
    let least = (pixels.len() as f64 * FEWEST) as usize;
    groups
        .iter()
        .filter(|group| group.len() > least)
        .map(|group| median(group))
        .collect()
}

fn median(group: &[Lab]) -> Lab {
    std::array::from_fn(|k| quantile(&mut group.iter().map(|one| one[k]).collect::<Vec<_>>(), 0.5))
}

/// Pixels shared among `count` means (Lloyd, ten rounds), each seed the one farthest from those before.
pub(super) fn grouped(pixels: &[Lab], count: usize) -> Vec<Vec<Lab>> {
    let mut means = seeds(pixels, count);
    let mut groups = vec![Vec::new(); means.len()];
    for _ in 0..10 {
        groups = vec![Vec::new(); means.len()];
        for &pixel in pixels {
            groups[nearest(&means, pixel)].push(pixel);
        }
        for (mean, group) in means
            .iter_mut()
            .zip(&groups)
            .filter(|(_, group)| !group.is_empty())
        {
            *mean = mean_of(group);
        }
    }
    groups
}

fn mean_of(group: &[Lab]) -> Lab {
    let n = group.len() as f32;
    let sum = group.iter().fold([0.0; 3], |s: Lab, one| {
        [s[0] + one[0], s[1] + one[1], s[2] + one[2]]
    });
    sum.map(|one| one / n)
}

/// The place of the nearest of a few colours.
pub(super) fn nearest(means: &[Lab], pixel: Lab) -> usize {
    let far = |at: usize| apart(means[at], pixel);
    (0..means.len())
        .min_by(|&a, &b| far(a).total_cmp(&far(b)))
        .unwrap_or(0)
}

/// Seeds spread over the pixels: the middle one, then each time that of the 98th part in a hundred farthest off, so that
/// no single speck becomes one.
fn seeds(pixels: &[Lab], count: usize) -> Vec<Lab> {
    let Some(_) = pixels.first() else {
        return Vec::new();
    };
    let mut means = vec![median(pixels)];
    let mut far: Vec<(f32, usize)> = Vec::with_capacity(pixels.len());
    while means.len() < count {
        far.clear();
        let off = |pixel: Lab| {
            means
                .iter()
                .map(|&one| apart(one, pixel))
                .fold(f32::MAX, f32::min)
        };
        far.extend(
            pixels
                .iter()
                .enumerate()
                .map(|(at, &pixel)| (off(pixel), at)),
        );
        let at = (far.len() - 1) * 98 / 100;
        let next = far
            .select_nth_unstable_by(at, |a, b| a.0.total_cmp(&b.0))
            .1
            .1;
        means.push(pixels[next]);
    }
    means
}

/// How often each colour occurs, in bins of lightness 3 and of a and b 2.5, smoothed.
struct Histogram {
    counts: Vec<f32>,
    total: f32,
}

const L_BINS: usize = 36;
const AB_BINS: usize = 96;

fn bin(colour: Lab) -> [usize; 3] {
    let ab = |value: f32| ((value + 120.0) / 2.5).clamp(0.0, (AB_BINS - 1) as f32) as usize;
    [
        (colour[0] / 3.0).clamp(0.0, (L_BINS - 1) as f32) as usize,
        ab(colour[1]),
        ab(colour[2]),
    ]
}

fn place([l, a, b]: [usize; 3]) -> usize {
    (l * AB_BINS + a) * AB_BINS + b
}

impl Histogram {
    /// Of colours with their weights, each spread over its bin and the nearest (a Gaussian of 0.8 bins).
    fn new(colours: impl Iterator<Item = (Lab, f32)>) -> Self {
        let mut raw = std::collections::BTreeMap::new();
        for (colour, weight) in colours {
            *raw.entry(bin(colour)).or_insert(0.0) += weight;
        }
        let mut counts = vec![0.0; L_BINS * AB_BINS * AB_BINS];
        raw.iter()
            .for_each(|(&at, &weight)| spread(&mut counts, at, weight));
        let total = raw.values().sum::<f32>().max(1.0);
        Self { counts, total }
    }

    fn density(&self, at: usize) -> f32 {
        self.counts[at] / self.total
    }
}

fn spread(counts: &mut [f32], at: [usize; 3], weight: f32) {
    const BELL: [f32; 5] = [0.022, 0.229, 0.498, 0.229, 0.022];
    let sides = [L_BINS, AB_BINS, AB_BINS];
    let ways = |k: usize| {
        let from = at[k];
        (0..5_usize).filter_map(move |step| {
            let to = (from + step).checked_sub(2).filter(|&to| to < sides[k])?;
            Some((to, BELL[step]))
        })
    };
    for (l, wl) in ways(0) {
        for (a, wa) in ways(1) {
            for (b, wb) in ways(2) {
                counts[place([l, a, b])] += weight * wl * wa * wb;
            }
        }
    }
}

/// The mask of what looks more like the middle of the picture than like its edge; guessed anew from itself a few times.
#[must_use]
pub fn by_frequency(picture: &Plane<Lab>) -> Vec<Mask> {
    let edge = strip(picture, 2 * width_of_strip(picture));
    let shade = edge
        .iter()
        .flat_map(|&one| SHADOWS.map(|factor| (lit(one, factor), 0.15 / 4.0)));
    let table = Histogram::new(edge.iter().map(|&one| (one, 1.0)).chain(shade));
    let bins = picture.map(|colour| place(bin(colour)) as u32);
    let mut mask = middle_third(picture.width, picture.height);
    for pass in 0..4 {
        let chosen = picture
            .values
            .iter()
            .zip(&mask.values)
            .filter(|(_, belongs)| **belongs);
        let panel = Histogram::new(chosen.map(|(&one, _)| (one, 1.0)));
        let ratio = |at: u32| {
            let (p, t) = (panel.density(at as usize), table.density(at as usize));
            ((p + 1e-7) / (t + 1e-7)).ln().clamp(-3.0, 3.0)
        };
        let smooth = boxed(&bins.map(ratio), if pass == 3 { 2 } else { 4 });
        mask = smooth.map(|value| value > 0.0);
        if pass < 3 {
            mask = largest(&mask);
        }
    }
    vec![mask]
}

fn middle_third(width: usize, height: usize) -> Mask {
    super::plane::by_rows(width, height, false, |y, row| {
        if (height / 3..height - height / 3).contains(&y) {
            row[width / 3..width - width / 3].fill(true);
        }
    })
}

/// The largest joined region alone.
fn largest(mask: &Mask) -> Mask {
    let found = regions(mask, false);
    let best = (0..found.regions.len()).max_by_key(|&at| found.regions[at].area);
    found
        .labels
        .map(|label| best.is_some_and(|at| label as usize == at + 1))
}
