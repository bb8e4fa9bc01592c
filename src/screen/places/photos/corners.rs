//! The panel's corners moved by hand.

use crate::numbers::cells::Point;
use crate::studio::Corners;

/// What the corners are called, clockwise.
pub const NAMES: [&str; 4] = ["top left", "top right", "bottom right", "bottom left"];
/// A step is this part of the photo's width, or a tenth of that where it is to be fine.
const STEP: f64 = 1.0 / 100.0;

/// Corners in hand.
#[derive(Debug, Clone, PartialEq)]
pub struct InHand {
    /// The photo's number.
    pub photo: i64,
    /// The corners, clockwise from the top left, in the photo's own pixels.
    pub points: [Point; 4],
    /// The one that is moved.
    pub at: usize,
    /// Whether it goes in small steps.
    pub fine: bool,
    size: (f64, f64),
}

impl InHand {
    /// Begins with corners as they were written down, else a tenth within the photo's edges.
    pub fn begin(photo: i64, size: (usize, usize), written: Option<&str>) -> Self {
        let (width, height) = (size.0 as f64, size.1 as f64);
        let read = written.and_then(|text| Corners::parse(text).ok());
        let points = match read {
            Some(Corners::Given(points)) => points,
            _ => [(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9)].map(|(x, y)| Point {
                x: x * width,
                y: y * height,
            }),
        };
        Self {
            photo,
            points,
            at: 0,
            fine: false,
            size: (width, height),
        }
    }

    /// The next corner.
    pub const fn next(&mut self) {
        self.at = (self.at + 1) % 4;
    }

    /// Moves the corner by steps, never out of the photo.
    pub fn go(&mut self, right: f64, down: f64) {
        let step = self.size.0 * STEP * if self.fine { 0.1 } else { 1.0 };
        if let Some(point) = self.points.get_mut(self.at) {
            point.x = (point.x + right * step).clamp(0.0, self.size.0);
            point.y = (point.y + down * step).clamp(0.0, self.size.1);
        }
    }

    /// As they are written down.
    pub fn written(&self) -> String {
        let each = self.points.iter();
        let each = each.map(|one| format!("{:.1},{:.1}", one.x, one.y));
        each.collect::<Vec<_>>().join(" ")
    }

    /// The corner in hand, as parts of the photo's sides.
    pub fn share(&self, at: usize) -> (f64, f64) {
        let point = self.points[at % 4];
        (
            point.x / self.size.0.max(1.0),
            point.y / self.size.1.max(1.0),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_are_taken_as_written_and_stay_in_the_photo() {
        let mut hand = InHand::begin(3, (1000, 500), Some("10,20 900,30 890,480 5,470"));
        hand.go(-3.0, 1.0);
        assert_eq!(hand.points[0], Point { x: 0.0, y: 30.0 });
        hand.fine = true;
        hand.next();
        hand.go(1.0, 0.0);
        assert_eq!(hand.written(), "0.0,30.0 901.0,30.0 890.0,480.0 5.0,470.0");
        let fresh = InHand::begin(3, (1000, 500), None);
        assert_eq!(fresh.share(2), (0.9, 0.9));
    }
}
