//! The outline of a region as four corners: its convex hull, less the edges that cost least to drop.

use super::homography::Point;
use super::plane::Plane;

/// The convex hull of one label's pixels (Andrew's monotone chain, from memory), clockwise as seen, from the leftmost.
#[must_use]
pub fn hull(labels: &Plane<u32>, label: u32) -> Vec<Point> {
    let mut points = Vec::new();
    for y in 0..labels.height {
        let row = labels.row(y);
        let Some(from) = row.iter().position(|&one| one == label) else {
            continue;
        };
        let to = row.iter().rposition(|&one| one == label).unwrap_or(from) + 1;
        for x in [from, to] {
            points.push(Point {
                x: x as f64,
                y: y as f64,
            });
            points.push(Point {
                x: x as f64,
                y: y as f64 + 1.0,
            });
        }
    }
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let mut out = half(points.iter());
    let other = half(points.iter().rev());
    out.pop();
    out.extend(other);
    out.pop();
    out
}

fn half<'a>(points: impl Iterator<Item = &'a Point>) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::new();
    for &point in points {
        while out.len() >= 2 && cross(out[out.len() - 2], out[out.len() - 1], point) <= 0.0 {
            out.pop();
        }
        out.push(point);
    }
    out
}

/// Twice the area of a triangle, positive where it turns clockwise as seen (y grows downwards).
#[must_use]
pub fn cross(a: Point, b: Point, c: Point) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

/// The area that a polygon encloses.
#[must_use]
pub fn area(polygon: &[Point]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    let twice: f64 = polygon
        .iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum();
    twice.abs() / 2.0
}

/// Where two lines through two points each meet; none where they run alike.
#[must_use]
pub fn meeting(a: (Point, Point), b: (Point, Point)) -> Option<Point> {
    let (d, e) = (
        (a.1.x - a.0.x, a.1.y - a.0.y),
        (b.1.x - b.0.x, b.1.y - b.0.y),
    );
    let turn = d.0 * e.1 - d.1 * e.0;
    if turn.abs() < 1e-9 * (d.0.hypot(d.1) * e.0.hypot(e.1)).max(1e-12) {
        return None;
    }
    let along = ((b.0.x - a.0.x) * e.1 - (b.0.y - a.0.y) * e.0) / turn;
    Some(Point {
        x: a.0.x + along * d.0,
        y: a.0.y + along * d.1,
    })
}

/// The four corners around a convex polygon that add the least area to it, edge by edge dropped.
#[must_use]
pub fn four(hull: &[Point]) -> Option<[Point; 4]> {
    let mut points = hull.to_vec();
    while points.len() > 4 {
        let n = points.len();
        let dropped = (0..n).filter_map(|at| {
            let (before, a, b, after) = (
                points[(at + n - 1) % n],
                points[at],
                points[(at + 1) % n],
                points[(at + 2) % n],
            );
            let corner = meeting((before, a), (after, b))?;
            let outward = cross(a, b, corner) <= 0.0;
            outward.then(|| (area(&[a, corner, b]), at, corner))
        });
        let (_, at, corner) = dropped.min_by(|a, b| a.0.total_cmp(&b.0))?;
        points[at] = corner;
        points.remove((at + 1) % n);
    }
    <[Point; 4]>::try_from(points).ok().map(from_top_left)
}

/// Four corners clockwise as seen, from the top left: that of least x + y.
#[must_use]
pub fn from_top_left(corners: [Point; 4]) -> [Point; 4] {
    let mut corners = corners;
    let turn: f64 = (0..4)
        .map(|k| cross(corners[k], corners[(k + 1) % 4], corners[(k + 2) % 4]))
        .sum();
    if turn < 0.0 {
        corners.reverse();
    }
    let sum = |at: usize| corners[at].x + corners[at].y;
    let first = (0..4)
        .min_by(|&a, &b| sum(a).total_cmp(&sum(b)))
        .unwrap_or(0);
    corners.rotate_left(first);
    corners
}

/// Whether four corners go round one way and none is on the line of its neighbours.
#[must_use]
pub fn is_convex(corners: &[Point; 4]) -> bool {
    (0..4).all(|k| cross(corners[k], corners[(k + 1) % 4], corners[(k + 2) % 4]) > 1e-6)
}
