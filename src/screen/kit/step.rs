//! Steps among lines: one, a page, to either end.

/// The lines of a page where its height is not known.
const PAGE: usize = 10;

/// To which other line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// One up.
    Up,
    /// One down.
    Down,
    /// A page up.
    PageUp,
    /// A page down.
    PageDown,
    /// So many lines down, up where that is less than nothing: a page, once it is known how high one is.
    By(isize),
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
            Self::PageUp => place.saturating_sub(PAGE),
            Self::PageDown => place.saturating_add(PAGE),
            Self::By(lines) => place.saturating_add_signed(lines),
            Self::First => 0,
            Self::Last => last,
        };
        place.min(last)
    }

    /// The same, a page being so many lines.
    #[must_use]
    pub fn by_page(self, lines: usize) -> Self {
        let lines = isize::try_from(lines).unwrap_or(isize::MAX);
        match self {
            Self::PageUp => Self::By(-lines),
            Self::PageDown => Self::By(lines),
            other => other,
        }
    }
}
