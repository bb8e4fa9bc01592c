//! A photo measured: straightened, its glare left out, its cells found and each cut anew.

use super::blur::gauss;
use super::colour::{LINEAR, Lab, Linear, lab_by, roots};
use super::cut::{BAND, Cut, median};
use super::distance::squared;
use super::ellipse::Ellipse;
use super::glare::{Glare, glare};
use super::ground::Ground;
use super::homography::{Homography, Pixels, Point, straightened};
use super::palette::{Colour, palette};
use super::plane::{Mask, Plane, by_rows};
use super::regions::{grown, perimeter, regions};
use super::segment::{Piece, Thresholds, in_two, pieces, thresholds};

/// The most pixels that the straightened picture is measured at, unless its least cells need more.
const PIXELS: f64 = 3.2e6;
/// The most in any case.
const LIMIT: f64 = 8.0e6;
/// The pixels across that the least cell has at least.
const ACROSS_LEAST: f64 = 6.0;
/// The rim of the panel that is left out, in millimetres.
const RIM: f64 = 0.4;
/// The least pixels of a cell.
const FEWEST: f64 = 20.0;
/// The part of a cell that glare may hide before it is not counted.
const HIDDEN: f64 = 0.2;
/// The part of a cell's edge that must be in sight for its whole to be guessed.
const EDGE_SEEN: f64 = 0.45;
/// The part of a picture that glare may hide.
const MOST_GLARE: f64 = 0.6;

/// What to measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// The panel's corners in the photo, clockwise from the top left.
    pub corners: [Point; 4],
    /// The panel's sides in millimetres, width first, as it lies in the photo; where unknown all is told in pixels.
    pub size: Option<(f64, f64)>,
    /// Whether the panel is round or oval.
    pub round: bool,
    /// The least diameter of a cell, in millimetres.
    pub least: f64,
}

/// One cell measured. Lengths in millimetres, or in pixels of the straightened picture where the panel's size is unknown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Its middle, from the panel's top left corner.
    pub middle: Point,
    /// The diameter of the disc of the same area.
    pub diameter: f64,
    /// The part of its area in sight, as an area.
    pub seen: f64,
    /// 1 for a disc, less the longer its edge; none where it is too small to tell.
    pub roundness: Option<f64>,
}

/// What was found in a photo.
#[derive(Debug, Clone)]
pub struct Measured {
    /// Pixels a millimetre of the straightened picture, or 1.
    pub scale: f64,
    /// The panel's sides, in the unit of all lengths.
    pub size: (f64, f64),
    /// The panel's area that was measured, without glare.
    pub area: f64,
    /// The part of the panel that glare hides.
    pub glare: f64,
    /// Places as bright as glare that were taken for white paint, there being so many.
    pub white: usize,
    /// From how far apart from the ground, in CIELAB, most of a cell stands (Otsu's threshold).
    pub apart: f32,
    /// The cells.
    pub cells: Vec<Cell>,
    /// The part of what is in sight that cells cover.
    pub share: f64,
    /// The palette.
    pub colours: Vec<Colour>,
    /// The outlines, for an overlay.
    pub drawn: Drawn,
}

/// The straightened picture and what was found in it, pixel by pixel.
#[derive(Debug, Clone)]
pub struct Drawn {
    /// The picture in linear light.
    pub light: Plane<Linear>,
    /// Which cell each pixel is counted to, from 1.
    pub labels: Plane<u32>,
    /// What glare hides.
    pub hidden: Mask,
}

/// Why nothing could be measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unmeasured {
    /// The corners make no four-sided figure.
    Corners,
    /// The panel is too small in the photo to be measured.
    TooSmall,
    /// Glare hides most of it.
    Glare,
    /// Everything has one colour: there are no cells to see.
    NoCells,
}

/// The straightened picture's size and how to look it up in the photo.
struct Frame {
    map: Homography,
    width: usize,
    height: usize,
    scale: f64,
    size: (f64, f64),
    rim: f64,
    samples: usize,
}

impl Frame {
    fn new(wanted: &Wanted) -> Result<Self, Unmeasured> {
        let side = |a: usize, b: usize| wanted.corners[a].to(wanted.corners[b]);
        let across = (
            (side(0, 1) + side(2, 3)) / 2.0,
            (side(1, 2) + side(3, 0)) / 2.0,
        );
        let (size, rim) = wanted.size.map_or((across, 0.0), |size| (size, RIM));
        let native = (across.0 * across.1 / (size.0 * size.1)).sqrt();
        let area = size.0 * size.1;
        let needed = if wanted.size.is_some() {
            ACROSS_LEAST / wanted.least
        } else {
            0.0
        };
        let scale = native
            .min((PIXELS / area).sqrt().max(needed))
            .min((LIMIT / area).sqrt());
        let pixels = |long: f64| ((long - 2.0 * rim) * scale).floor();
        let (width, height) = (pixels(size.0), pixels(size.1));
        if !(width >= 16.0 && height >= 16.0) {
            return Err(Unmeasured::TooSmall);
        }
        let edge = |u: f64, v: f64| Point {
            x: (u * size.0 - rim) * scale,
            y: (v * size.1 - rim) * scale,
        };
        let from = [
            edge(0.0, 0.0),
            edge(1.0, 0.0),
            edge(1.0, 1.0),
            edge(0.0, 1.0),
        ];
        let map = Homography::between(from, wanted.corners).ok_or(Unmeasured::Corners)?;
        let samples = if native > 1.25 * scale { 2 } else { 1 };
        Ok(Self {
            map,
            width: width as usize,
            height: height as usize,
            scale,
            size,
            rim,
            samples,
        })
    }

    /// Where a round panel is, in the straightened picture.
    fn disc(&self) -> Mask {
        let (cx, cy) = (self.width as f64 / 2.0, self.height as f64 / 2.0);
        by_rows(self.width, self.height, false, |y, row| {
            let v = (y as f64 + 0.5 - cy) / cy;
            for (x, out) in row.iter_mut().enumerate() {
                let u = (x as f64 + 0.5 - cx) / cx;
                *out = u * u + v * v <= 1.0;
            }
        })
    }
}

/// Measures a photo.
///
/// # Errors
/// [`Unmeasured`].
pub fn measure(photo: &Pixels, wanted: &Wanted) -> Result<Measured, Unmeasured> {
    let frame = Frame::new(wanted)?;
    let light = straightened(photo, &frame.map, frame.width, frame.height, frame.samples);
    let inside = wanted.round.then(|| frame.disc());
    let smooth = gauss(&light, 1.0);
    let mut glare = glare(&smooth, frame.scale);
    let within = |at: usize| inside.as_ref().is_none_or(|disc| disc.values[at]);
    let all = (0..light.values.len()).filter(|&at| within(at)).count();
    let lost = (0..light.values.len())
        .filter(|&at| within(at) && glare.hidden.values[at])
        .count();
    let share_lost = lost as f64 / all as f64;
    if share_lost > MOST_GLARE {
        return Err(Unmeasured::Glare);
    }
    if let Some(disc) = &inside {
        close_outside(&mut glare, disc);
    }
    let lab = in_lab(&smooth);
    drop(smooth);
    let (small, open) = thumbnail(&lab, &glare.wide);
    let (small, open) = if open.count() < 64 {
        thumbnail(&lab, &glare.hidden)
    } else {
        (small, open)
    };
    let ground = Ground::of(&small, &open).ok_or(Unmeasured::Glare)?;
    let delta = differences(&lab, ground.under(lab.width, lab.height));
    drop(lab);
    let Thresholds { low, otsu } =
        thresholds(&delta, &glare.hidden.map(|one| !one)).ok_or(Unmeasured::NoCells)?;
    let least = FEWEST.max(
        std::f64::consts::FRAC_PI_4
            * (wanted.least * frame.scale).powi(2)
            * f64::from(u8::from(wanted.size.is_some())),
    );
    let found = pieces(&delta, &glare.hidden, low, least as usize);
    let (cells, labels) = cut_anew(&light, &delta, &glare.hidden, &found, &frame);
    let covered = (0..labels.values.len())
        .filter(|&at| labels.values[at] > 0 && !glare.hidden.values[at])
        .count();
    Ok(Measured {
        scale: frame.scale,
        size: frame.size,
        area: (all - lost) as f64 / frame.scale.powi(2),
        glare: share_lost,
        white: glare.white,
        apart: otsu,
        share: covered as f64 / (all - lost).max(1) as f64,
        cells,
        colours: palette(&small, &open, &ground),
        drawn: Drawn {
            light,
            labels,
            hidden: glare.hidden,
        },
    })
}

/// Takes what is outside of a round panel for hidden.
fn close_outside(glare: &mut Glare, disc: &Mask) {
    for mask in [&mut glare.hidden, &mut glare.wide] {
        mask.values
            .iter_mut()
            .zip(&disc.values)
            .for_each(|(hidden, &inside)| *hidden |= !inside);
    }
}

fn in_lab(light: &Plane<Linear>) -> Plane<Lab> {
    let roots = roots();
    let _ = &*LINEAR;
    by_rows(light.width, light.height, [0.0; 3], |y, row| {
        for (out, &pixel) in row.iter_mut().zip(light.row(y)) {
            *out = lab_by(roots, pixel);
        }
    })
}

/// The picture at about 256 pixels, and which of them are wholly open.
fn thumbnail(lab: &Plane<Lab>, closed: &Mask) -> (Plane<Lab>, Mask) {
    let step = (lab.width.max(lab.height) / 256).max(1);
    let (width, height) = (lab.width / step, lab.height / step);
    let mean = by_rows(width, height, ([0.0; 3], true), |y, row| {
        for (x, out) in row.iter_mut().enumerate() {
            let (mut sum, mut shut) = ([0.0; 3], false);
            for line in y * step..(y + 1) * step {
                for at in line * lab.width + x * step..line * lab.width + (x + 1) * step {
                    (0..3).for_each(|k| sum[k] += lab.values[at][k]);
                    shut |= closed.values[at];
                }
            }
            *out = (sum.map(|one| one / (step * step) as f32), !shut);
        }
    });
    (mean.map(|one| one.0), mean.map(|one| one.1))
}

fn differences(lab: &Plane<Lab>, ground: Ground) -> Plane<f32> {
    by_rows(lab.width, lab.height, 0.0, |y, row| {
        for (x, (out, &own)) in row.iter_mut().zip(lab.row(y)).enumerate() {
            *out = super::colour::apart(own, ground.at(x, y));
        }
    })
}

/// One cell's new pixels in a window, and what was measured of it.
struct CutCell {
    x: usize,
    y: usize,
    mask: Mask,
    cell: Cell,
}

fn cut_anew(
    light: &Plane<Linear>,
    delta: &Plane<f32>,
    hidden: &Mask,
    found: &[Piece],
    frame: &Frame,
) -> (Vec<Cell>, Plane<u32>) {
    let mut first = Plane::filled(light.width, light.height, 0_u32);
    for (at, piece) in found.iter().enumerate() {
        draw(&mut first, piece.x, piece.y, &piece.mask, at as u32 + 1);
    }
    let numbered: Vec<(usize, &Piece)> = found.iter().enumerate().collect();
    let cuts = in_two(&numbered, |(at, piece)| {
        cut(light, delta, hidden, &first, *at as u32 + 1, piece, frame)
    });
    let mut labels = Plane::filled(light.width, light.height, 0_u32);
    let mut cells = Vec::with_capacity(cuts.len());
    for one in cuts.into_iter().flatten() {
        cells.push(one.cell);
        draw(&mut labels, one.x, one.y, &one.mask, cells.len() as u32);
    }
    (cells, labels)
}

fn draw(labels: &mut Plane<u32>, x: usize, y: usize, mask: &Mask, label: u32) {
    for row in 0..mask.height {
        let to = (y + row) * labels.width + x;
        let into = &mut labels.values[to..to + mask.width];
        into.iter_mut()
            .zip(mask.row(row))
            .filter(|(_, own)| **own)
            .for_each(|(out, _)| *out = label);
    }
}

/// Cuts one cell anew and measures it; none where too much of it is hidden.
fn cut(
    light: &Plane<Linear>,
    delta: &Plane<f32>,
    hidden: &Mask,
    labels: &Plane<u32>,
    label: u32,
    piece: &Piece,
    frame: &Frame,
) -> Option<CutCell> {
    let rim = 8;
    let (x, y) = (piece.x.saturating_sub(rim), piece.y.saturating_sub(rim));
    let (w, h) = (
        piece.x + piece.mask.width + rim - x,
        piece.y + piece.mask.height + rim - y,
    );
    let window = Window {
        light: light.cut(x, y, w, h),
        delta: delta.cut(x, y, w, h),
        labels: labels.cut(x, y, w, h),
        hidden: hidden.cut(x, y, w, h),
        label,
    };
    let mask = window.anew();
    let cell = window.measured(&mask, (x, y), frame)?;
    Some(CutCell { x, y, mask, cell })
}

/// The surroundings of one cell.
struct Window {
    light: Plane<Linear>,
    delta: Plane<f32>,
    labels: Plane<u32>,
    hidden: Mask,
    label: u32,
}

impl Window {
    fn own(&self) -> Mask {
        self.labels.map(|label| label == self.label)
    }

    /// A difference from the ground that the cell's own paint reaches, and what shows through its middle does not.
    fn strong(&self, own: &Mask) -> f32 {
        let inside = self
            .delta
            .values
            .iter()
            .zip(&own.values)
            .filter(|(_, own)| **own);
        let mut values: Vec<f32> = inside.map(|(&value, _)| value).collect();
        0.75 * super::table::quantile(&mut values, 0.8)
    }

    /// The cell's pixels, its edge half way between its colour and the ground's.
    fn anew(&self) -> Mask {
        let own = self.own();
        let (inward, outward) = (squared(&own), squared(&own.map(|one| !one)));
        let deepest = inward
            .values
            .iter()
            .copied()
            .fold(0.0, f32::max)
            .min(1e6)
            .sqrt();
        let deep = (0.6 * deepest).min(2.5);
        let strong = self.strong(&own);
        let pick = |wanted: &dyn Fn(usize) -> bool| -> Vec<usize> {
            (0..own.values.len()).filter(|&at| wanted(at)).collect()
        };
        let free = |at: usize| !self.hidden.values[at];
        let core = pick(&|at| {
            let rim = (deep * deep..=(deep + 4.0).powi(2)).contains(&inward.values[at]);
            own.values[at] && rim && self.delta.values[at] >= strong && free(at)
        });
        let ring = pick(&|at| {
            self.labels.values[at] == 0 && (9.0..=36.0).contains(&outward.values[at]) && free(at)
        });
        let (Some(cell), Some(ground)) = (median(&self.light, &core), median(&self.light, &ring))
        else {
            return own;
        };
        let cut = Cut::between(cell, ground);
        let band = BAND * BAND;
        let belongs = |at: usize| match own.values[at] {
            true => inward.values[at] > band || !free(at) || cut.holds(self.light.values[at]),
            false => {
                outward.values[at] <= band
                    && self.labels.values[at] == 0
                    && free(at)
                    && cut.holds(self.light.values[at])
            }
        };
        let anew = Plane {
            width: own.width,
            height: own.height,
            values: (0..own.values.len()).map(belongs).collect(),
        };
        let (before, after) = (own.count() as f64, anew.count() as f64);
        if (0.3..1.5).contains(&(after / before)) {
            anew
        } else {
            own
        }
    }

    fn measured(&self, mask: &Mask, (x, y): (usize, usize), frame: &Frame) -> Option<Cell> {
        let all = regions(mask, true);
        let largest = (0..all.regions.len()).max_by_key(|&at| all.regions[at].area)?;
        let region = all.regions[largest];
        let seen = (0..mask.values.len())
            .filter(|&at| mask.values[at] && !self.hidden.values[at])
            .count() as f64;
        let whole = self.whole(mask, region.area as f64)?;
        if 1.0 - seen / whole > HIDDEN {
            return None;
        }
        let (mx, my) = region.middle();
        let place = |at: f64, from: usize| (at + from as f64) / frame.scale + frame.rim;
        let radius = (region.area as f64 / std::f64::consts::PI).sqrt();
        let edge = perimeter(&all.labels, largest as u32 + 1, &region);
        Some(Cell {
            middle: Point {
                x: place(mx, x),
                y: place(my, y),
            },
            diameter: 2.0 * (whole / std::f64::consts::PI).sqrt() / frame.scale,
            seen: seen / frame.scale.powi(2),
            roundness: (radius >= 8.0)
                .then(|| 4.0 * std::f64::consts::PI * region.area as f64 / (edge * edge)),
        })
    }

    /// The area that the cell would have without glare; none where too little of its edge is in sight to tell.
    fn whole(&self, mask: &Mask, area: f64) -> Option<f64> {
        if self.hidden.count() == 0 {
            return Some(area);
        }
        let near = grown(&self.hidden, 2.5);
        let edge: Vec<usize> = (0..mask.values.len())
            .filter(|&at| mask.values[at] && is_edge(mask, at))
            .collect();
        let clear: Vec<Point> = edge
            .iter()
            .filter(|&&at| !near.values[at])
            .map(|&at| Point {
                x: (at % mask.width) as f64 + 0.5,
                y: (at / mask.width) as f64 + 0.5,
            })
            .collect();
        if clear.len() == edge.len() {
            return Some(area);
        }
        if (clear.len() as f64) < EDGE_SEEN * edge.len() as f64 {
            return None;
        }
        let fitted = Ellipse::fitted(&clear)?;
        // The points are the middles of pixels half a pixel within the edge.
        let whole = std::f64::consts::PI * (fitted.a + 0.5) * (fitted.b + 0.5);
        Some(whole.max(area))
    }
}

fn is_edge(mask: &Mask, at: usize) -> bool {
    let (x, y) = ((at % mask.width) as isize, (at / mask.width) as isize);
    [(-1, 0), (1, 0), (0, -1), (0, 1)]
        .iter()
        .any(|(u, v)| !mask.near(x + u, y + v))
}
