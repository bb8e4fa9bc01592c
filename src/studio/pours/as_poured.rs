//! What the cups of a pour had been through when they were poured.

use crate::logbook::Reader;
use crate::studio::Answer;
use crate::trade::cup::{Cup, Entry};
use crate::trade::life::{Life, Waits};
use crate::trade::moment::Moment;
use crate::trade::pour::{Pour, PouredLayer};
use crate::trade::units::{Hours, Millilitres, Share};
use chrono::TimeDelta;

/// A layer's cup as it was at its pour.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct AsPoured {
    /// The cup.
    pub(crate) cup: Cup,
    /// How long it had stood since its last stirring.
    pub(crate) stood: Hours,
    /// The thinner that went in after it was mixed, as a share of all that was in it.
    pub(crate) thinned: Share,
    /// Which thinners those were, each once, where it was said.
    pub(crate) thinners: Vec<i64>,
}

/// The cups of a pour's layers, lowest first; `None` where one is gone.
pub(crate) fn layers(read: &Reader<'_>, pour: &Pour) -> Answer<Vec<Option<AsPoured>>> {
    let layers = pour.layers.iter();
    layers.map(|layer| of_layer(read, layer, pour.at)).collect()
}

fn of_layer(read: &Reader<'_>, layer: &PouredLayer, at: Moment) -> Answer<Option<AsPoured>> {
    let Some(cup) = read.cup(layer.cup)? else {
        return Ok(None);
    };
    let mut entries = read.entries(cup.id)?;
    entries.retain(|entry| entry.at <= at);
    Ok(Some(as_it_was(cup, &entries, at)))
}

fn as_it_was(cup: Cup, entries: &[Entry], at: Moment) -> AsPoured {
    let no_wait = Waits {
        rest: TimeDelta::zero(),
        recheck_after: TimeDelta::zero(),
    };
    let life = Life::of(&cup, entries, no_wait);
    let stood = (at - life.stirred_at).num_milliseconds() as f64 / 3_600_000.0;
    AsPoured {
        stood: Hours(stood.max(0.0)),
        thinned: share(life.thinner, cup.volume),
        thinners: thinners(entries),
        cup,
    }
}

fn share(thinner: Millilitres, mixed: Millilitres) -> Share {
    let all = thinner + mixed;
    match all.is_nothing() {
        true => Share(0.0),
        false => Share(thinner / all),
    }
}

fn thinners(entries: &[Entry]) -> Vec<i64> {
    let mut found = Vec::new();
    for entry in entries {
        if let Some((_, Some(id))) = entry.what.thinned()
            && !found.contains(&id)
        {
            found.push(id);
        }
    }
    found
}
