//! Pours looked back at: one, the newest, or a page of them.

use crate::logbook::{Among, PoursAsked, Reader};
use crate::studio::cups::bench::RecipeBook;
use crate::studio::{Answer, Refusal, Studio, VariantRef};
use crate::trade::instant::Now;
use crate::trade::judgement::{self, Judgement};
use crate::trade::moment::{Moment, earlier};
use crate::trade::photo::{self, Measurement, PourMeasured};
use crate::trade::pour::Pour;
use chrono::TimeDelta;
use std::collections::HashMap;

/// How far back a pour is still at hand.
const AT_HAND: TimeDelta = TimeDelta::days(30);

/// A cup that lies in a pour.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PouredCup {
    /// What its lid says.
    pub mark: String,
    /// What it was mixed by.
    pub variant: VariantRef,
}

/// A pour looked back at.
#[derive(Debug, Clone)]
pub struct PourPage {
    /// The pour.
    pub pour: Pour,
    /// For each layer, lowest first, what was poured.
    pub layers: Vec<PouredCup>,
    /// All judgements, in order of entry.
    pub judgements: Vec<Judgement>,
    /// What was measured in its photos, in the order they were taken.
    pub measured: Vec<PourMeasured>,
    /// The pour that began again after this one was scraped.
    pub scraped_for: Option<i64>,
}

impl PourPage {
    /// The judgement that counts.
    #[must_use]
    pub fn counting(&self) -> Option<&Judgement> {
        judgement::counting(&self.judgements)
    }

    /// The measurement that counts, as with judgements; of a dry film or of a wet one alone where that is said.
    #[must_use]
    pub fn seen(&self, dry: Option<bool>) -> Option<&Measurement> {
        photo::counting(&self.measured, dry)
    }
}

/// Which pours of all there are, counted from the newest.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct PoursPage {
    /// Only those that come after this one, which is told by its instant and its number.
    pub below: Option<(Moment, i64)>,
    /// Without so many of the newest.
    pub skip: u32,
    /// At most so many; none for all.
    pub limit: Option<u32>,
}

impl Studio {
    /// Every pour since an instant, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn pours(&self, since: Option<Moment>) -> Answer<Vec<PourPage>> {
        self.pours_paged(since, PoursPage::default())
    }

    /// The newest pour that is still at hand, to be judged, begun again or named as a run.
    pub fn pour_at_hand(&self, now: &Now) -> Answer<Option<PourPage>> {
        self.newest_since(Some(earlier(now.at, AT_HAND)))
    }

    /// A page of the pours since an instant, newest first: no more of the file is read than it shows.
    pub fn pours_paged(&self, since: Option<Moment>, page: PoursPage) -> Answer<Vec<PourPage>> {
        let read = self.book.read()?;
        let pours = read.pours(PoursAsked {
            from_ms: from_ms(since),
            way: None,
            below: page.below.map(|(at, id)| (at.timestamp_millis(), id)),
            skip: page.skip,
            limit: page.limit,
        })?;
        pages(&read, pours)
    }

    /// How many pours there are since an instant.
    pub fn count_pours(&self, since: Option<Moment>) -> Answer<u64> {
        Ok(self.book.read()?.count_pours(from_ms(since))?)
    }

    /// The newest pour; none where nothing was poured yet.
    pub fn newest_pour(&self) -> Answer<Option<PourPage>> {
        self.newest_since(None)
    }

    fn newest_since(&self, since: Option<Moment>) -> Answer<Option<PourPage>> {
        let newest = PoursPage {
            limit: Some(1),
            ..PoursPage::default()
        };
        Ok(self.pours_paged(since, newest)?.pop())
    }

    /// Whether a pour of the number stands in the logbook.
    pub fn has_pour(&self, id: i64) -> Answer<bool> {
        Ok(self.book.read()?.pour(id)?.is_some())
    }

    /// One pour looked back at; refused where there is none of the number.
    pub fn pour_page(&self, id: i64) -> Answer<PourPage> {
        let read = self.book.read()?;
        let pour = read.pour(id)?;
        let page = pages(&read, pour.into_iter().collect())?.pop();
        Ok(page.ok_or(Refusal::NoPour(id))?)
    }
}

/// Pours with all that is shown of them, in their order.
fn pages(read: &Reader<'_>, pours: Vec<Pour>) -> Answer<Vec<PourPage>> {
    let among = Among::of(&pours);
    let mut judgements = read.judgements_among(&among)?;
    let mut measured = read.measured_among(&among)?;
    let scraped = read.scraped_among(&among)?;
    let titles = PouredCups::among(read, &among)?;
    let page = |pour: Pour| PourPage {
        layers: titles.layers(&pour),
        judgements: judgements.remove(&pour.id).unwrap_or_default(),
        measured: measured.remove(&pour.id).unwrap_or_default(),
        scraped_for: scraped.get(&pour.id).copied(),
        pour,
    };
    Ok(pours.into_iter().map(page).collect())
}

fn from_ms(since: Option<Moment>) -> i64 {
    since.map_or(i64::MIN, |at| at.timestamp_millis())
}

/// Poured cups by number.
struct PouredCups(HashMap<i64, PouredCup>);

impl PouredCups {
    /// Of every cup that lies in one of the pours.
    fn among(read: &Reader<'_>, pours: &Among) -> Answer<Self> {
        let cups = read.poured_cups_among(pours)?;
        let cards = RecipeBook::read(read)?;
        let known = |(cup, (mark, variant))| {
            let variant = cards.variant_ref(variant).unwrap_or_default();
            (cup, PouredCup { mark, variant })
        };
        Ok(Self(cups.into_iter().map(known).collect()))
    }

    fn layers(&self, pour: &Pour) -> Vec<PouredCup> {
        pour.layers
            .iter()
            .map(|layer| self.0.get(&layer.cup).cloned().unwrap_or_default())
            .collect()
    }
}
