//! A photo measured as it was asked for: its panel found, given or the whole of it.

use crate::numbers::cells::pose::misfit;
use crate::numbers::cells::{
    Found, Measured, NotFound, Pixels, Point, Sought, Summary, Unmeasured, Wanted, find, measure,
};
use crate::studio::{Answer, Refusal};
use crate::trade::panel::{Panel, Shape};
use crate::trade::problem::{self, Misread, ParseProblem};
use crate::trade::units::{Millimetres, Share};

/// The least cell that is counted, unless another is asked for (our own choice: smaller ones are few pixels of a phone's photo).
pub const LEAST_CELL: Millimetres = Millimetres(1.2);
/// The least and the most that may be asked for.
const CELL_RANGE: (Millimetres, Millimetres) = (Millimetres(0.2), Millimetres(100.0));

/// A panel's sides explain its corners, if no side would have to be longer by more than this part.
const EXPLAINED: f64 = 0.15;
/// By how much better one way of lying must explain them than the other.
const TOLD: f64 = 0.1;

/// Cells that stand no farther apart from the ground than this, in CIELAB, are pale: of photos with a known truth those had 4.5
/// to 5, and one cell in ten was missed; all others had 26 or more.
const PALE: f32 = 8.0;

/// Where the panel is in a photo.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Corners {
    /// To be found.
    #[default]
    Sought,
    /// Said: clockwise from the top left, in the photo's pixels.
    Given([Point; 4]),
    /// The photo shows the panel and nothing else.
    Whole,
}

impl Corners {
    /// The corners as the store keeps them; to be found where it has none.
    #[must_use]
    pub fn kept(text: Option<&str>) -> Self {
        let read = text.and_then(|text| Self::parse(text).ok());
        read.unwrap_or_default()
    }

    /// As the store keeps them, where they were said.
    #[must_use]
    pub fn written(self) -> Option<String> {
        let pair = |one: &Point| format!("{},{}", one.x, one.y);
        let points = self.points()?;
        Some(points.iter().map(pair).collect::<Vec<_>>().join(" "))
    }

    /// The four, where they were said.
    #[must_use]
    pub const fn points(self) -> Option<[Point; 4]> {
        match self {
            Self::Given(points) => Some(points),
            Self::Sought | Self::Whole => None,
        }
    }

    /// Reads four corners: `x,y x,y x,y x,y`.
    ///
    /// # Errors
    /// Not four pairs of numbers.
    pub fn parse(text: &str) -> Result<Self, ParseProblem> {
        let wrong = |why| ParseProblem::new(text, problem::Sought::Corners, why);
        let pair = |text: &str| {
            let (x, y) = text.split_once(',')?;
            let (x, y): (f64, f64) = (x.trim().parse().ok()?, y.trim().parse().ok()?);
            (x.is_finite() && y.is_finite()).then_some(Point { x, y })
        };
        let points: Option<Vec<Point>> = text.split_whitespace().map(pair).collect();
        let points = points.ok_or_else(|| wrong(Misread::NotPairs))?;
        <[Point; 4]>::try_from(points)
            .map(Self::Given)
            .map_err(|_| wrong(Misread::NotFour))
    }
}

/// What to measure in a photo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasureOrder {
    /// The panel that was photographed; without it nothing is told in millimetres.
    pub panel: Option<Panel>,
    /// Where it is.
    pub corners: Corners,
    /// The least diameter of a cell.
    pub least: Millimetres,
}

/// How the corners came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CornersHow {
    /// Found.
    Found,
    /// Said.
    Given,
    /// The whole photo.
    Whole,
}

impl CornersHow {
    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::Given => "given",
            Self::Whole => "whole",
        }
    }
}

/// What is odd about a measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhotoWarning {
    /// The panel's size is not known, so nothing is in millimetres.
    NoSize,
    /// Glare hides much.
    Glare(Share),
    /// So many places are as bright as glare, and were taken for white paint.
    White(usize),
    /// The cells hardly stand apart from the ground.
    Pale,
    /// Few pixels to the millimetre: small cells are missed.
    Coarse,
    /// Many cells are near the least that is counted.
    NearLeast(Millimetres),
}

/// A photo measured.
#[derive(Debug, Clone)]
pub struct PhotoMeasured {
    /// How the corners came about.
    pub how: CornersHow,
    /// The corners, clockwise from the top left.
    pub corners: [Point; 4],
    /// 0 sure, towards 1 the less so; none where they were not found but said.
    pub doubt: Option<f64>,
    /// The panel's sides as it lies in the photo.
    pub size: Option<(Millimetres, Millimetres)>,
    /// The figures.
    pub summary: Summary,
    /// Each cell and the outlines.
    pub measured: Measured,
    /// What is odd.
    pub warnings: Vec<PhotoWarning>,
}

/// Measures a photo. `name` is what it is called where it is refused.
///
/// # Errors
/// [`Refusal::Photo`]: the panel is not found, its corners make no sense, or nothing can be seen on it.
pub fn measure_photo(photo: &Pixels, order: &MeasureOrder, name: &str) -> Answer<PhotoMeasured> {
    let refuse = |why: PhotoFault| Refusal::Photo {
        name: name.to_owned(),
        why,
    };
    if !(CELL_RANGE.0..=CELL_RANGE.1).contains(&order.least) {
        return Err(refuse(PhotoFault::Least).into());
    }
    let (how, found) = located(photo, order).map_err(refuse)?;
    let size = order.panel.map(|panel| {
        as_it_lies(
            panel,
            &found.corners,
            (photo.width as f64, photo.height as f64),
        )
    });
    let wanted = Wanted {
        corners: found.corners,
        size: size.map(|(width, height)| (width.get(), height.get())),
        round: found.round,
        least: order.least.get(),
    };
    let measured = measure(photo, &wanted).map_err(|why| refuse(PhotoFault::Unmeasured(why)))?;
    if measured.cells.is_empty() {
        return Err(refuse(PhotoFault::Unmeasured(Unmeasured::NoCells)).into());
    }
    let summary = Summary::of(&measured, size.is_some());
    let warnings = warnings(order, &measured, &summary);
    let doubt = (how == CornersHow::Found).then_some(found.doubt);
    Ok(PhotoMeasured {
        how,
        corners: found.corners,
        doubt,
        size,
        summary,
        measured,
        warnings,
    })
}

/// Why a photo was not measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhotoFault {
    /// The panel is not found, or not surely.
    NotFound(NotFound),
    /// A corner that was said is outside of the photo, or they cross.
    Corners,
    /// The least cell is out of all reason.
    Least,
    /// The panel is there, and nothing can be measured on it.
    Unmeasured(Unmeasured),
}

fn located(photo: &Pixels, order: &MeasureOrder) -> Result<(CornersHow, Found), PhotoFault> {
    let (width, height) = (photo.width as f64, photo.height as f64);
    let round = order
        .panel
        .is_some_and(|panel| !matches!(panel.shape, Shape::Rectangle { .. }));
    let as_said = |how, corners| {
        Ok((
            how,
            Found {
                corners,
                round,
                doubt: 0.0,
            },
        ))
    };
    match order.corners {
        Corners::Whole => {
            let all = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
            as_said(CornersHow::Whole, all.map(|(x, y)| Point { x, y }))
        }
        Corners::Given(corners) => {
            let inside = |p: &Point| {
                (-1.0..=width + 1.0).contains(&p.x) && (-1.0..=height + 1.0).contains(&p.y)
            };
            let sound =
                corners.iter().all(inside) && crate::numbers::cells::quad::is_convex(&corners);
            if sound {
                as_said(CornersHow::Given, corners)
            } else {
                Err(PhotoFault::Corners)
            }
        }
        Corners::Sought => {
            let found = find(photo, sought(order.panel)).map_err(PhotoFault::NotFound)?;
            Ok((CornersHow::Found, found))
        }
    }
}

fn sought(panel: Option<Panel>) -> Sought {
    match panel.map(|panel| panel.shape) {
        None => Sought::Any,
        Some(Shape::Rectangle { width, height }) => Sought::Sides(Some(width / height)),
        Some(Shape::Round { .. } | Shape::Oval { .. }) => Sought::Round,
    }
}

/// The panel's sides, the first along the photo's width: as its corners run towards each other, where that tells them
/// apart; otherwise the longer one along the longer side.
fn as_it_lies(panel: Panel, corners: &[Point; 4], photo: (f64, f64)) -> (Millimetres, Millimetres) {
    let (width, height, is_round) = match panel.shape {
        Shape::Rectangle { width, height } => (width, height, false),
        Shape::Oval { width, height } => (width, height, true),
        Shape::Round { diameter } => (diameter, diameter, true),
    };
    let misfit = |ratio: f64| (!is_round).then(|| misfit(corners, ratio, photo)).flatten();
    let side = |a: usize, b: usize| corners[a].to(corners[b]);
    let lies_wide = side(0, 1) + side(2, 3) > side(1, 2) + side(3, 0);
    let as_said = match (misfit(width / height), misfit(height / width)) {
        (Some(a), Some(b)) if a.min(b) < EXPLAINED && (a - b).abs() > TOLD => a < b,
        _ => lies_wide == (width > height),
    };
    if as_said {
        (width, height)
    } else {
        (height, width)
    }
}

fn warnings(order: &MeasureOrder, measured: &Measured, summary: &Summary) -> Vec<PhotoWarning> {
    let mut out = Vec::new();
    if order.panel.is_none() {
        out.push(PhotoWarning::NoSize);
    }
    if summary.glare > 0.1 {
        out.push(PhotoWarning::Glare(Share(summary.glare)));
    }
    if measured.white > 0 {
        out.push(PhotoWarning::White(measured.white));
    }
    if measured.apart < PALE {
        out.push(PhotoWarning::Pale);
    }
    if order.panel.is_some() {
        if measured.scale * order.least.get() < 4.0 {
            out.push(PhotoWarning::Coarse);
        }
        let small = summary
            .diameters
            .is_some_and(|sizes| sizes.p10 < 1.3 * order.least.get());
        if small {
            out.push(PhotoWarning::NearLeast(order.least));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_are_four_pairs_or_refused() {
        let read = Corners::parse("1,2 30,2 30,40 1,40.5").unwrap();
        assert!(matches!(
            read,
            Corners::Given([_, _, _, Point { x: 1.0, y: 40.5 }])
        ));
        for bad in [
            "",
            "1,2 3,4 5,6",
            "1,2 3,4 5,6 7,x",
            "1 2 3 4",
            "1,2 3,4 5,6 nan,8",
            "1,2 3,4 5,6 7,8 9,9",
        ] {
            assert!(Corners::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn the_longer_side_lies_along_the_longer_side() {
        let panel = Panel::parse("30x40cm").unwrap();
        let wide =
            [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)].map(|(x, y)| Point { x, y });
        assert_eq!(
            as_it_lies(panel, &wide, (500.0, 400.0)),
            (Millimetres(400.0), Millimetres(300.0))
        );
    }

    /// Computed: a panel of 300 x 400 mm tilted by 48 degrees about the horizontal, 900 mm from a lens of .72 long sides;
    /// in the photo it is wider than high.
    #[test]
    fn an_upright_panel_seen_at_a_slant_stands_upright() {
        let panel = Panel::parse("30x40cm").unwrap();
        let far = |v: f64| 900.0 - v * 200.0 * 48.0_f64.to_radians().sin();
        let at = |u: f64, v: f64| Point {
            x: 1000.0 + 1440.0 * u * 150.0 / far(v),
            y: 750.0 + 1440.0 * v * 200.0 * 48.0_f64.to_radians().cos() / far(v),
        };
        let corners = [at(-1.0, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0)];
        let sides = as_it_lies(panel, &corners, (2000.0, 1500.0));
        assert_eq!(sides, (Millimetres(300.0), Millimetres(400.0)));
    }

    #[test]
    fn one_colour_has_no_cells_and_crossed_corners_are_refused() {
        let grey = Pixels {
            width: 200,
            height: 150,
            rgb: vec![120; 200 * 150 * 3],
        };
        let order = |corners| MeasureOrder {
            panel: None,
            corners,
            least: LEAST_CELL,
        };
        let why = |corners| match measure_photo(&grey, &order(corners), "it") {
            Err(crate::studio::StudioError::Refused(Refusal::Photo { why, .. })) => why,
            _ => panic!("not refused"),
        };
        assert_eq!(
            why(Corners::Whole),
            PhotoFault::Unmeasured(Unmeasured::NoCells)
        );
        assert_eq!(
            why(Corners::Sought),
            PhotoFault::NotFound(NotFound::Nothing)
        );
        let crossed = Corners::parse("10,10 100,100 100,10 10,100").unwrap();
        assert_eq!(why(crossed), PhotoFault::Corners);
    }
}
