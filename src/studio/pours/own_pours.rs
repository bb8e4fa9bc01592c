//! What the studio's own pours of a technique took: their film and how it was shared.

use crate::logbook::{Among, PoursAsked, Reader};
use crate::numbers::film::{self, Amounts, Split};
use crate::studio::Answer;
use crate::studio::cups::mixture::Mixture;
use crate::trade::pour::Pour;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Estimate, Millilitres, Millimetres, SquareMillimetres};
use std::collections::HashMap;

/// How many of the newest pours are learned from: months of a busy studio, and the same work however old it is (ours).
const NEWEST: u32 = 400;

/// The pours of one technique, or all of them.
pub(crate) struct OwnPours {
    amounts: Vec<Amounts>,
    films: Vec<(Millilitres, SquareMillimetres)>,
}

impl OwnPours {
    /// Reads the newest pours of a technique; of all where none is named.
    pub(crate) fn read(read: &Reader<'_>, mixture: &Mixture, way: Option<&str>) -> Answer<Self> {
        let newest = PoursAsked {
            way,
            limit: Some(NEWEST),
            ..PoursAsked::ALL
        };
        let pours = read.pours(newest)?;
        let poured = read.poured_cups_among(&Among::of(&pours))?;
        let mut own = Self {
            amounts: Vec::new(),
            films: Vec::new(),
        };
        for pour in &pours {
            own.take(pour, &poured, mixture);
        }
        Ok(own)
    }

    fn take(&mut self, pour: &Pour, poured: &HashMap<i64, (String, i64)>, mixture: &Mixture) {
        let kind_of = |cup: i64| mixture.layer_of(poured.get(&cup)?.1);
        let sum = |kind: LayerKind| -> Millilitres {
            let layers = pour
                .layers
                .iter()
                .filter(|layer| kind_of(layer.cup) == Some(kind));
            layers.map(|layer| layer.ml).sum()
        };
        let amounts = Amounts {
            base: sum(LayerKind::Base),
            colours: sum(LayerKind::Colour),
            activator: sum(LayerKind::Activator),
        };
        let whole: Millilitres = pour.layers.iter().map(|layer| layer.ml).sum();
        self.amounts.push(amounts);
        self.films.push((whole, pour.panel.area()));
    }

    /// The median film with its band; `None` below three pours.
    pub(crate) fn film(&self) -> Option<Estimate<Millimetres>> {
        film::usual_film(&self.films)
    }

    /// The median split; `None` below three pours.
    pub(crate) fn split(&self) -> Option<Split> {
        film::usual_split(&self.amounts)
    }
}
