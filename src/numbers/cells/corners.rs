//! The panel found in a photo, with its doubt: a wrong corner must never pass silently, so in doubt it is not found.

use super::blur::{gauss, shrunk};
use super::border::{Side, corners, sides, strongest};
use super::colour::{LINEAR, Lab, lab_by, roots};
use super::ellipse::Ellipse;
use super::homography::{Homography, Pixels, Point};
use super::plane::{Mask, Plane, by_rows};
use super::pose::misfit;
use super::quad::{area, four, from_top_left, hull, is_convex};
use super::regions::{closed, filled, opened, regions};
use super::table::{by_colours, by_frequency, runs_out, table_like};

/// The long side that masks are made at, in pixels.
const SMALL: usize = 500;
/// The long side that lines are looked for at.
const FINE: usize = 1000;

/// Where less of the weakest side than this lies on a line, nothing is there that looks like a panel.
const HINTED: f64 = 0.4;

/// How far off the shape of a panel may be that was measured with a rule: about this part of a side.
const SHAPED: f64 = 0.12;

/// Places that a panel is looked through at, each way.
const GRID: f64 = 96.0;
/// The part of a line through it that must be table to part it.
const THROUGH: f64 = 0.92;

/// What outline is looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sought {
    /// Four straight sides, as long as `width` to `height` in whichever turn, where that is known.
    Sides(Option<f64>),
    /// An ellipse.
    Round,
    /// Whichever is there.
    Any,
}

/// A panel found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// Its corners clockwise from the top left, in the photo's pixels; of a round panel those of the rectangle around it.
    pub corners: [Point; 4],
    /// Whether it is round or oval.
    pub round: bool,
    /// 0 where everything speaks for it, towards 1 the less does.
    pub doubt: f64,
}

/// Why no panel was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotFound {
    /// Nothing differs from what stands at the edge of the picture as one four-sided or round thing.
    Nothing,
    /// Something is there, and four straight lines do not explain its border well enough.
    Unsure,
    /// A side runs out of the picture.
    CutOff,
    /// More than one panel is there.
    Several,
    /// A panel is there whose sides are not as long as they should be.
    OtherShape,
}

/// One guess refined, with what speaks for it.
#[derive(Debug, Clone, Copy)]
struct Tried {
    corners: [Point; 4],
    round: bool,
    support: f64,
    worst_third: f64,
    lasting: f64,
    fullness: f64,
    outside: f64,
    shape: f64,
}

/// Looks for the panel.
///
/// # Errors
/// [`NotFound`]: nothing, or not surely.
pub fn find(photo: &Pixels, sought: Sought) -> Result<Found, NotFound> {
    let fine = in_lab(photo, FINE);
    let small = halved(&fine);
    let fine = gauss(&fine, 0.8);
    let scale = fine.width as f64 / small.width as f64;
    let tried = tried(&small, &fine, scale, sought);
    let up = photo.width as f64 / fine.width as f64;
    let up_y = photo.height as f64 / fine.height as f64;
    let found = chosen(&tried, fine_diagonal(&fine)).map_err(|why| match why {
        NotFound::Nothing | NotFound::Unsure if runs_out(&small) => NotFound::CutOff,
        other => other,
    })?;
    if !found.round && is_parted(&small, &found.corners.map(|p| shrunk_by(p, scale))) {
        return Err(NotFound::Several);
    }
    let corners = found.corners.map(|p| Point {
        x: p.x * up,
        y: p.y * up_y,
    });
    Ok(Found {
        corners,
        round: found.round,
        doubt: doubt(&found),
    })
}

fn shrunk_by(p: Point, scale: f64) -> Point {
    Point {
        x: p.x / scale,
        y: p.y / scale,
    }
}

/// Whether a straight strip of table runs right through what was found: then it is two panels side by side.
fn is_parted(small: &Plane<Lab>, corners: &[Point; 4]) -> bool {
    let square = [(0.0, 0.0), (GRID, 0.0), (GRID, GRID), (0.0, GRID)].map(|(x, y)| Point { x, y });
    let Some(map) = Homography::between(square, *corners) else {
        return false;
    };
    let table = table_like(small);
    let is_table = |u: f64, v: f64| {
        let at = map.apply(Point { x: u, y: v });
        let inside = |value: f64, of: usize| (value.max(0.0) as usize).min(of - 1);
        table.at(inside(at.x, table.width), inside(at.y, table.height))
    };
    let strip = |from: f64, to: f64, across: &dyn Fn(f64, f64) -> bool| {
        let on = (0..GRID as u32).filter(|&step| {
            let along = f64::from(step) + 0.5;
            across(from + (to - from) * along / GRID, along)
        });
        on.count() as f64 >= THROUGH * GRID
    };
    let inner = || (6..GRID as u32 - 6).map(f64::from);
    inner().any(|from| {
        (-8..=8).map(|lean| from + f64::from(lean)).any(|to| {
            strip(from, to, &|u, v| is_table(u, v)) || strip(from, to, &|v, u| is_table(u, v))
        })
    })
}

fn fine_diagonal(picture: &Plane<Lab>) -> f64 {
    (picture.width as f64).hypot(picture.height as f64)
}

/// The means of four pixels, where the picture is large enough to be halved.
fn halved(picture: &Plane<Lab>) -> Plane<Lab> {
    let (w, h) = (picture.width / 2, picture.height / 2);
    if w.max(h) < SMALL / 2 {
        return picture.clone();
    }
    by_rows(w, h, [0.0; 3], |y, row| {
        for (x, out) in row.iter_mut().enumerate() {
            let (x, y) = (2 * x, 2 * y);
            let four = [
                picture.at(x, y),
                picture.at(x + 1, y),
                picture.at(x, y + 1),
                picture.at(x + 1, y + 1),
            ];
            *out = std::array::from_fn(|k| four.iter().map(|one| one[k]).sum::<f32>() / 4.0);
        }
    })
}

/// A photo shrunk and in CIELAB.
fn in_lab(photo: &Pixels, most: usize) -> Plane<Lab> {
    let small = shrunk(&photo.rgb, photo.width, photo.height, most);
    let roots = roots();
    let table = &*LINEAR;
    let light = |value: f32| {
        let (low, part) = (value as usize, value.fract());
        table[low] + (table[(low + 1).min(255)] - table[low]) * part
    };
    by_rows(small.width, small.height, [0.0; 3], |y, row| {
        for (out, pixel) in row.iter_mut().zip(small.row(y)) {
            *out = lab_by(roots, pixel.map(light));
        }
    })
}

/// Every outline that the masks suggest, refined.
fn tried(small: &Plane<Lab>, fine: &Plane<Lab>, scale: f64, sought: Sought) -> Vec<Tried> {
    let mut masks = by_colours(small);
    masks.extend(by_frequency(small));
    let mut guesses: Vec<(f64, [Point; 4])> = Vec::new();
    let mut found = Vec::new();
    for mask in masks {
        let mask = tidied(&mask, small.width);
        for (outline, fullness) in outlines(&mask) {
            let outline = outline.map(|p| Point {
                x: p.x * scale,
                y: p.y * scale,
            });
            let same = |other: &[Point; 4]| far(other, &outline) < 0.012 * fine_diagonal(fine);
            if sought != Sought::Round && !guesses.iter().any(|(_, other)| same(other)) {
                guesses.push((fullness, outline));
            }
        }
        if !matches!(sought, Sought::Sides(_)) {
            found.extend(round(&mask, fine, scale));
        }
    }
    found.extend(
        guesses
            .into_iter()
            .filter_map(|(fullness, guess)| refined(fine, guess, fullness, sought)),
    );
    found
}

/// How far apart the corners of two outlines are at the most.
fn far(one: &[Point; 4], other: &[Point; 4]) -> f64 {
    one.iter()
        .zip(other)
        .map(|(a, b)| a.to(*b))
        .fold(0.0, f64::max)
}

fn tidied(mask: &Mask, width: usize) -> Mask {
    let r = (0.008 * width as f64) as f32;
    opened(&filled(&closed(mask, r)), 2.0 * r)
}

/// The four corners around each of the three largest regions that are over 4 % of the picture, with how much of the
/// four-sided figure the region's hull fills.
fn outlines(mask: &Mask) -> Vec<([Point; 4], f64)> {
    let found = regions(mask, false);
    let mut large: Vec<usize> = (0..found.regions.len())
        .filter(|&at| found.regions[at].area as f64 > 0.04 * mask.values.len() as f64)
        .collect();
    large.sort_by_key(|&at| std::cmp::Reverse(found.regions[at].area));
    large
        .into_iter()
        .take(3)
        .filter_map(|at| {
            let hull = hull(&found.labels, at as u32 + 1);
            let corners = four(&hull)?;
            is_convex(&corners).then(|| (corners, area(&hull) / area(&corners)))
        })
        .collect()
}

/// A guess refined to lines, thrice, each time nearer.
fn refined(fine: &Plane<Lab>, guess: [Point; 4], fullness: f64, sought: Sought) -> Option<Tried> {
    let diagonal = fine_diagonal(fine);
    let mut lines = sides(fine, &guess, 0.016 * diagonal);
    if support(&lines) < 0.8 {
        let wider = sides(fine, &guess, 0.036 * diagonal);
        if support(&wider) > support(&lines) {
            lines = wider;
        }
    }
    for _ in 0..2 {
        let better = corners(&lines).filter(is_convex)?;
        if far(&better, &guess) > 0.15 * diagonal {
            return None;
        }
        lines = sides(fine, &better, 8.0);
    }
    let corners = corners(&lines).filter(is_convex).map(from_top_left)?;
    Some(Tried {
        corners,
        round: false,
        support: support(&lines),
        worst_third: lines
            .iter()
            .map(|side| side.worst_third)
            .fold(1.0, f64::min),
        lasting: lines
            .iter()
            .map(|side| side.lasting)
            .fold(f64::MAX, f64::min),
        fullness: fullness
            .min(area(&guess) / area(&corners))
            .min(area(&corners) / area(&guess)),
        outside: corners.iter().map(|p| beyond(*p, fine)).fold(0.0, f64::max) / diagonal,
        shape: off_shape(&corners, sought, fine),
    })
}

fn support(lines: &[Side; 4]) -> f64 {
    lines.iter().map(|side| side.support).fold(1.0, f64::min)
}

/// How far a point is outside of the picture.
fn beyond(p: Point, picture: &Plane<Lab>) -> f64 {
    let over = |value: f64, most: usize| (-value).max(value - most as f64).max(0.0);
    over(p.x, picture.width).max(over(p.y, picture.height))
}

/// How badly sides of the right ratio explain the corners; seen from above their lengths tell too, whatever was cut off the
/// photo since.
fn off_shape(corners: &[Point; 4], sought: Sought, picture: &Plane<Lab>) -> f64 {
    let Sought::Sides(Some(ratio)) = sought else {
        return 0.0;
    };
    let size = (picture.width as f64, picture.height as f64);
    let turned = [ratio, 1.0 / ratio].into_iter();
    let seen = turned
        .filter_map(|ratio| misfit(corners, ratio, size))
        .fold(f64::MAX, f64::min);
    let side = |k: usize| corners[k].to(corners[(k + 1) % 4]);
    let own = ((side(0) + side(2)) / (side(1) + side(3))).ln();
    let above = (own - ratio.ln()).abs().min((own + ratio.ln()).abs());
    seen.min(above)
}

impl Tried {
    fn sound(&self) -> bool {
        self.support >= 0.8
            && self.worst_third >= 0.5
            && self.lasting >= 0.35
            && self.fullness >= 0.9
    }
}

/// The one outline that is sure, and that no other sure one speaks against.
fn chosen(tried: &[Tried], diagonal: f64) -> Result<Tried, NotFound> {
    let sound: Vec<&Tried> = tried.iter().filter(|one| one.sound()).collect();
    let whole = |one: &&&Tried| one.outside <= 0.03;
    let shaped = |one: &&&Tried| one.shape <= SHAPED;
    let good: Vec<&&Tried> = sound.iter().filter(whole).filter(shaped).collect();
    let best = good.iter().max_by(|a, b| merit(a).total_cmp(&merit(b)));
    match best {
        None if sound.iter().any(|one| one.outside > 0.03) => Err(NotFound::CutOff),
        None if !sound.is_empty() => Err(NotFound::OtherShape),
        None if tried.iter().all(|one| one.support < HINTED) => Err(NotFound::Nothing),
        None => Err(NotFound::Unsure),
        Some(best) => {
            let other = |one: &&Tried| far(&one.corners, &best.corners) > 0.012 * diagonal;
            match sound
                .iter()
                .filter(|one| other(one))
                .any(|one| clear_of(one, best))
            {
                true => Err(NotFound::Several),
                false if good.iter().any(|one| other(one)) => Err(NotFound::Unsure),
                false => Ok(***best),
            }
        }
    }
}

/// Whether two outlines lie beside each other.
fn clear_of(one: &Tried, other: &Tried) -> bool {
    let span = |t: &Tried, pick: fn(&Point) -> f64| {
        let values = t.corners.iter().map(pick);
        (
            values.clone().fold(f64::MAX, f64::min),
            values.fold(f64::MIN, f64::max),
        )
    };
    let part = |pick: fn(&Point) -> f64| {
        let (a, b) = (span(one, pick), span(other, pick));
        a.1 < b.0 + 0.1 * (b.1 - b.0) || b.1 < a.0 + 0.1 * (a.1 - a.0)
    };
    part(|p| p.x) || part(|p| p.y)
}

fn merit(one: &Tried) -> f64 {
    one.support + 0.5 * one.worst_third + 0.2 * one.lasting.min(1.0)
}

fn doubt(one: &Tried) -> f64 {
    (1.0 - one.support * (0.5 + 0.5 * one.worst_third) * one.lasting.clamp(0.0, 1.0).sqrt())
        .clamp(0.0, 1.0)
}

/// The ellipse of a mask's largest region, where it is one, refined by the steps in colour around it.
fn round(mask: &Mask, fine: &Plane<Lab>, scale: f64) -> Option<Tried> {
    let found = regions(mask, false);
    let at = (0..found.regions.len()).max_by_key(|&at| found.regions[at].area)?;
    let region = found.regions[at];
    if (region.area as f64) < 0.04 * mask.values.len() as f64 {
        return None;
    }
    let pixels = (0..mask.values.len())
        .filter(|&pixel| found.labels.values[pixel] as usize == at + 1)
        .map(|pixel| Point {
            x: (pixel % mask.width) as f64 + 0.5,
            y: (pixel / mask.width) as f64 + 0.5,
        });
    let guess = Ellipse::of_moments(pixels.clone())?;
    let both = pixels.filter(|p| guess.holds(*p)).count() as f64;
    let overlap = both / (guess.area() + region.area as f64 - both);
    if overlap < 0.965 {
        return None;
    }
    let mut ellipse = Ellipse {
        middle: Point {
            x: guess.middle.x * scale,
            y: guess.middle.y * scale,
        },
        a: guess.a * scale,
        b: guess.b * scale,
        turn: guess.turn,
    };
    let mut support = 0.0;
    for reach in [20, 8, 8] {
        (ellipse, support) = nearer(fine, &ellipse, reach)?;
    }
    let corners = around(&ellipse);
    Some(Tried {
        corners,
        round: true,
        support,
        worst_third: support,
        lasting: 1.0,
        fullness: overlap,
        outside: (0..36)
            .map(|k| beyond(ellipse.at(f64::from(k) * 0.174_5).0, fine))
            .fold(0.0, f64::max)
            / 30.0,
        shape: 0.0,
    })
}

/// The ellipse through the steps around another, and the share of them that lie on it.
fn nearer(fine: &Plane<Lab>, ellipse: &Ellipse, reach: usize) -> Option<(Ellipse, f64)> {
    let all = 240;
    let mut points: Vec<Point> = (0..all)
        .map(|k| ellipse.at(std::f64::consts::TAU * f64::from(k) / f64::from(all)))
        .filter_map(|(at, out)| strongest(fine, at, out, reach))
        .collect();
    let mut fitted = Ellipse::fitted(&points)?;
    for near in [4.0_f64, 2.5, 1.5, 1.5] {
        points.retain(|p| off(&fitted, *p) < near.max(0.003 * fitted.a));
        fitted = Ellipse::fitted(&points)?;
    }
    Some((fitted, points.len() as f64 / f64::from(all)))
}

/// About how far a point is from an ellipse.
fn off(ellipse: &Ellipse, p: Point) -> f64 {
    let (x, y) = (p.x - ellipse.middle.x, p.y - ellipse.middle.y);
    let (sin, cos) = ellipse.turn.sin_cos();
    let (u, v) = (
        (x * cos + y * sin) / ellipse.a,
        (y * cos - x * sin) / ellipse.b,
    );
    let r = u.hypot(v);
    (r - 1.0).abs() / r.max(1e-9) * x.hypot(y)
}

/// The corners of what a square (or the oval's rectangle) around the panel became: the stretch of the ellipse without a turn.
fn around(ellipse: &Ellipse) -> [Point; 4] {
    let (sin, cos) = ellipse.turn.sin_cos();
    let (a, b) = (ellipse.a, ellipse.b);
    let (xx, xy, yy) = (
        a * cos * cos + b * sin * sin,
        (a - b) * sin * cos,
        a * sin * sin + b * cos * cos,
    );
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(u, v): (f64, f64)| Point {
        x: ellipse.middle.x + xx * u + xy * v,
        y: ellipse.middle.y + xy * u + yy * v,
    })
}
