//! The colours of a picture, up to six, with how much of it each has.

use super::colour::{Lab, apart};
use super::ground::Ground;
use super::plane::{Mask, Plane};
use super::table::{grouped, nearest};

/// One colour of the palette.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colour {
    /// The colour, as it would be in the light of the picture's middle.
    pub lab: Lab,
    /// Its part of what is in sight, 0 to 1.
    pub share: f64,
}

/// The most colours told.
const MOST: usize = 6;
/// Colours looked for before the alike are joined.
const SOUGHT: usize = 8;
/// Two colours nearer than this are one; the less a colour has, the farther it must stand apart.
const ALIKE: f64 = 8.0;
/// A colour with less than this is dropped.
const LEAST: f64 = 0.015;
/// A pixel whose neighbours differ by more is on an edge, and has no colour of its own.
const FLAT: f32 = 4.0;

/// The palette of a small picture in CIELAB, of the places in sight, the ground's uneven light taken out.
#[must_use]
pub fn palette(picture: &Plane<Lab>, open: &Mask, ground: &Ground) -> Vec<Colour> {
    let middle = ground.middle();
    let even = |at: usize| -> Lab {
        let (own, under) = (
            picture.values[at],
            ground.at(at % picture.width, at / picture.width),
        );
        std::array::from_fn(|k| own[k] - under[k] + middle[k])
    };
    let places: Vec<usize> = (0..picture.values.len())
        .filter(|&at| open.values[at])
        .collect();
    let flat: Vec<Lab> = places
        .iter()
        .filter(|&&at| is_flat(picture, at))
        .map(|&at| even(at))
        .collect();
    if flat.is_empty() {
        return Vec::new();
    }
    let mut colours = of_groups(&grouped(&flat, SOUGHT));
    join(&mut colours);
    let means: Vec<Lab> = colours.iter().map(|one| one.lab).collect();
    colours.iter_mut().for_each(|one| one.share = 0.0);
    for &at in &places {
        colours[nearest(&means, even(at))].share += 1.0 / places.len() as f64;
    }
    colours.retain(|one| one.share >= LEAST);
    colours.sort_by(|a, b| b.share.total_cmp(&a.share));
    colours.truncate(MOST);
    colours
}

fn is_flat(picture: &Plane<Lab>, at: usize) -> bool {
    let (x, y) = ((at % picture.width) as isize, (at / picture.width) as isize);
    let across = apart(picture.near(x - 1, y), picture.near(x + 1, y));
    let down = apart(picture.near(x, y - 1), picture.near(x, y + 1));
    across.max(down) / 2.0 < FLAT
}

fn of_groups(groups: &[Vec<Lab>]) -> Vec<Colour> {
    let all: usize = groups.iter().map(Vec::len).sum();
    let mean = |group: &[Lab]| -> Lab {
        std::array::from_fn(|k| group.iter().map(|one| one[k]).sum::<f32>() / group.len() as f32)
    };
    let full = groups.iter().filter(|group| !group.is_empty());
    full.map(|group| Colour {
        lab: mean(group),
        share: group.len() as f64 / all as f64,
    })
    .collect()
}

/// Joins the two most alike, as long as two are.
fn join(colours: &mut Vec<Colour>) {
    loop {
        let pairs = (0..colours.len()).flat_map(|a| (0..a).map(move |b| (a, b)));
        let far = |&(a, b): &(usize, usize)| {
            let least = colours[a].share.min(colours[b].share);
            f64::from(apart(colours[a].lab, colours[b].lab)) * (4.0 * least).min(1.0).sqrt()
        };
        let best = pairs
            .map(|pair| (far(&pair), pair))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, (a, b))) = best.filter(|(far, _)| *far < ALIKE) else {
            return;
        };
        let gone = colours.swap_remove(a);
        let kept = &mut colours[b];
        let all = kept.share + gone.share;
        kept.lab = std::array::from_fn(|k| {
            ((f64::from(kept.lab[k]) * kept.share + f64::from(gone.lab[k]) * gone.share) / all)
                as f32
        });
        kept.share = all;
    }
}
