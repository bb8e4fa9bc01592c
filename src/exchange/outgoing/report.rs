//! A report of a time: its facts gathered, then set.

use super::Progress;
use crate::exchange::photo::Thumb;
use crate::exchange::{ReportFacts, report};
use crate::studio::{Answer, Asked, LookedBack, PourPage, Studio, TimeWindow};
use crate::tell;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use chrono::TimeDelta;
use rust_decimal::Decimal;
use std::collections::HashMap;

/// A report as HTML, and how many pours it tells of.
pub(super) fn made(
    studio: &Studio,
    window: TimeWindow,
    now: &Now,
    told: Progress<'_>,
) -> Answer<(Vec<u8>, usize)> {
    let settings = studio.settings()?;
    let looked = looked(studio, window)?;
    let pours = priced(studio, pours(studio, window)?, told)?;
    let thumbs = thumbs(studio, &pours)?;
    let (from, to) = span(window, pours.iter().map(|(page, _)| page), now);
    let (ledger, holds) = (studio.ledger(window)?, pours.len());
    let (pictures, rack) = (studio.pictures()?, studio.rack(now)?);
    let facts = ReportFacts {
        studio: settings.name.as_deref(),
        span: tell::outgoing::span(from, to, now),
        looked: &looked,
        learned: learned(studio, &looked, now)?,
        pours,
        pictures: &pictures,
        thumbs: &thumbs,
        rack: &rack,
        takings: ledger.takings(),
        money: &|price| tell::money(price, &settings.currency),
        measures: settings.measures,
        now,
    };
    Ok((report(&facts)?.into_bytes(), holds))
}

fn looked(studio: &Studio, window: TimeWindow) -> Answer<LookedBack> {
    let asked = Asked::default();
    studio.look_back(&Asked { window, ..asked })
}

/// The pours of a time, newest first.
pub(super) fn pours(studio: &Studio, window: TimeWindow) -> Answer<Vec<PourPage>> {
    let mut pages = studio.pours(window.from)?;
    pages.retain(|page| window.holds(page.pour.at));
    Ok(pages)
}

fn priced(
    studio: &Studio,
    pages: Vec<PourPage>,
    told: Progress<'_>,
) -> Answer<Vec<(PourPage, Option<Decimal>)>> {
    let of = pages.len();
    let each = pages.into_iter().enumerate();
    each.map(|(at, page)| {
        let cost = studio.pour_cost(page.pour.id)?.total;
        told(at + 1, of);
        Ok((page, cost))
    })
    .collect()
}

/// Small pictures of the pours that have a photo, by their numbers.
fn thumbs(studio: &Studio, pours: &[(PourPage, Option<Decimal>)]) -> Answer<HashMap<i64, Thumb>> {
    let mut thumbs = HashMap::new();
    for (page, _) in pours {
        let kept = studio.thumbnail(page.pour.id)?;
        let thumb = kept.as_deref().and_then(Thumb::small);
        thumbs.extend(thumb.map(|thumb| (page.pour.id, thumb)));
    }
    Ok(thumbs)
}

/// The first day of a time, where there is one, and its last.
pub(super) fn span<'a>(
    window: TimeWindow,
    pours: impl Iterator<Item = &'a PourPage>,
    now: &Now,
) -> (Option<Moment>, Moment) {
    let first = window
        .from
        .or_else(|| pours.last().map(|page| page.pour.at));
    let last = window.to.map(|to| to - TimeDelta::minutes(1));
    (first, last.unwrap_or(now.at))
}

/// What stands out, in sentences.
fn learned(studio: &Studio, looked: &LookedBack, now: &Now) -> Answer<Vec<String>> {
    if looked.found.variants.is_empty() {
        return Ok(Vec::new());
    }
    Ok(tell::findings::reasons(&studio.reasons(looked, now)?))
}
