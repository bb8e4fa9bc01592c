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
    /// Begins with corners as they are known, else a tenth within the photo's edges.
    pub fn begin(photo: i64, size: (usize, usize), known: Corners) -> Self {
        let (width, height) = (size.0 as f64, size.1 as f64);
        let within = [(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9)].map(|(x, y)| Point {
            x: x * width,
            y: y * height,
        });
        let points = known.points().unwrap_or(within);
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
        let known = [(10.0, 20.0), (900.0, 30.0), (890.0, 480.0), (5.0, 470.0)];
        let known = known.map(|(x, y)| Point { x, y });
        let mut hand = InHand::begin(3, (1000, 500), Corners::Given(known));
        hand.go(-3.0, 1.0);
        assert_eq!(hand.points[0], Point { x: 0.0, y: 30.0 });
        hand.fine = true;
        hand.next();
        hand.go(1.0, 0.0);
        assert_eq!(hand.points[1], Point { x: 901.0, y: 30.0 });
        assert_eq!(hand.points[2..], known[2..]);
        let fresh = InHand::begin(3, (1000, 500), Corners::Sought);
        assert_eq!(fresh.share(2), (0.9, 0.9));
    }
}
