//! Steps among lines: one, ten, to either end.

/// To which other line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// One up.
    Up,
    /// One down.
    Down,
    /// Ten up.
    PageUp,
    /// Ten down.
    PageDown,
    /// The first.
    First,
    /// The last.
    Last,
}

impl Step {
    /// The place after the step, among `count` lines.
    pub fn from(self, place: usize, count: usize) -> usize {
        let last = count.saturating_sub(1);
        let place = match self {
            Self::Up => place.saturating_sub(1),
            Self::Down => place.saturating_add(1),
            Self::PageUp => place.saturating_sub(10),
            Self::PageDown => place.saturating_add(10),
            Self::First => 0,
            Self::Last => last,
        };
        place.min(last)
    }
}
