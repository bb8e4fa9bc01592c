//! Which pictures the Rack shows, and in which order: no picture is ever out of reach.

use super::words::Stage;
use crate::studio::{Answer, RackLine, Studio};
use crate::trade::instant::Now;
use crate::trade::judgement::Fate;
use crate::trade::moment::Moment;

/// Which pictures.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Shown {
    /// Those that are drying, or may be varnished.
    #[default]
    Rack,
    /// All that were ever poured.
    All,
    /// Those of which this became.
    Became(Fate),
}

/// In which order.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Order {
    /// The one that wants a hand first.
    #[default]
    Need,
    /// The newest first.
    Newest,
    /// The most cells first.
    Cells,
}

/// A picture, and what became of it.
pub type Picture = (RackLine, Option<Fate>);

impl Shown {
    /// The next kind, round and round.
    pub const fn next(self) -> Self {
        match self {
            Self::Rack => Self::All,
            Self::All => Self::Became(Fate::Kept),
            Self::Became(Fate::Kept) => Self::Became(Fate::Varnished),
            Self::Became(Fate::Varnished) => Self::Became(Fate::Sold),
            Self::Became(Fate::Sold) => Self::Became(Fate::Scraped),
            Self::Became(Fate::Scraped) => Self::Rack,
        }
    }

    /// What they are called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Rack => "on the rack",
            Self::All => "all pictures",
            Self::Became(fate) => fate.word(),
        }
    }

    /// Reads them, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn read(self, studio: &Studio, now: &Now) -> Answer<Vec<Picture>> {
        if self == Self::Rack {
            let lines = studio.rack(now)?.into_iter();
            return Ok(lines.map(|line| (line, None)).collect());
        }
        let all = studio.all_pictures()?.into_iter();
        let wanted = |(_, fate): &Picture| match self {
            Self::Became(one) => *fate == Some(one),
            Self::All | Self::Rack => true,
        };
        Ok(all.filter(wanted).collect())
    }
}

impl Shown {
    /// As [`Shown::read`], and one picture more, by its pour's number, that may be none of these.
    ///
    /// # Errors
    /// As there.
    pub fn read_with(self, one: Option<i64>, studio: &Studio, now: &Now) -> Answer<Vec<Picture>> {
        let mut shown = self.read(studio, now)?;
        let is = |picture: &Picture, number| picture.0.page.pour.id == number;
        if let Some(number) = one.filter(|one| !shown.iter().any(|picture| is(picture, *one))) {
            let all = studio.all_pictures()?.into_iter();
            shown.extend(all.filter(|picture| is(picture, number)));
        }
        Ok(shown)
    }
}

impl Order {
    /// The next order, round and round.
    pub const fn next(self) -> Self {
        match self {
            Self::Need => Self::Newest,
            Self::Newest => Self::Cells,
            Self::Cells => Self::Need,
        }
    }

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Need => "what wants a hand first",
            Self::Newest => "newest first",
            Self::Cells => "most cells first",
        }
    }

    /// Puts pictures, read newest first, into this order.
    pub fn apply(self, pictures: &mut [Picture], now: &Now) {
        match self {
            Self::Newest => {}
            Self::Cells => pictures.sort_by_key(|(line, _)| {
                let cells = line.page.counting().map(|judged| judged.cells);
                std::cmp::Reverse(cells)
            }),
            Self::Need => pictures.sort_by_key(|picture| need(picture, now)),
        }
    }
}

/// To be judged, to be varnished, what stays wet, then what is dry first; what is no more on the rack comes last.
fn need((line, fate): &Picture, now: &Now) -> (u8, Option<Moment>) {
    let touch = line.touch.as_ref().ok().map(|touch| touch.high);
    if fate.is_some() {
        return (5, None);
    }
    match Stage::of(line, now) {
        Stage::Dry if !line.judged_dry() => (0, touch),
        Stage::Varnish => (1, touch),
        Stage::Stuck => (2, None),
        Stage::Nearly | Stage::Wet => (3, touch),
        Stage::Dry => (4, touch),
    }
}
