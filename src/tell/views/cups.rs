//! Cups as they stand, and what was done to them.

use super::entries::EntryView;
use super::remarks::Remarked;
use super::{Telling, band, ml, number};
use crate::studio::{Advice, Amended, CupPage, CupStatus, MixPart, Mixed, Names, Tended};
use crate::trade::life::State;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Backing, Estimate, Hours, Millilitres, Millimetres, Seconds};
use schemars::JsonSchema;
use serde::Serialize;

/// A cup as it stands.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CupView {
    mark: String,
    recipe: String,
    variant: i64,
    layer: LayerKind,
    state: State,
    volume_ml: f64,
    mixed_at: String,
    /// Null where it has gelled and never will.
    clears_at: Option<String>,
    /// As it was read last.
    mound_s: Option<f64>,
    /// What it is expected to be now: low, likely, high.
    mound_now_s: Option<[f64; 3]>,
    flow_mm2_s: Option<f64>,
    ready_until: Option<String>,
    rest_from: Backing,
    rest_h: [f64; 3],
    rest_looks: u64,
    bubble_risen_mm: Option<[f64; 3]>,
    gelled: bool,
    /// What would bring it back, where it is above its window.
    thinner: Option<ThinnerView>,
    /// How much of its paint without thinner would bring it back, where it is below its window and was thinned.
    paint: Option<ThickerView>,
    capped: bool,
    tape: Option<String>,
    note: Option<String>,
    /// What is so, and what to do.
    why: String,
}

impl CupView {
    /// A cup as it stands.
    #[must_use]
    pub fn of(cup: &CupStatus, telling: &Telling<'_>) -> Self {
        let outlook = &cup.outlook;
        let risen = cup.bubble_risen(telling.now.at);
        Self {
            mark: cup.cup.mark.to_string(),
            recipe: cup.recipe.name.clone(),
            variant: cup.variant.number,
            layer: cup.recipe.layer,
            state: cup.state,
            volume_ml: ml(cup.life.left),
            mixed_at: telling.stamp(cup.cup.mixed_at),
            clears_at: (!cup.life.gelled).then(|| telling.stamp(cup.life.clears_at)),
            mound_s: cup.life.mound().map(|mound| number(mound.get())),
            mound_now_s: outlook.mound.map(|one| band(one.band.map(Seconds::get))),
            flow_mm2_s: cup.flow_viscosity().map(|nu| number(nu.get())),
            ready_until: cup.ready_until.map(|at| telling.stamp(at)),
            rest_from: outlook.rest.from,
            rest_h: band(outlook.rest.band.map(Hours::get)),
            rest_looks: outlook.rest.readings as u64,
            bubble_risen_mm: risen.map(|size| band(size.map(Millimetres::get))),
            gelled: cup.life.gelled,
            thinner: outlook.advice.as_ref().map(ThinnerView::of),
            paint: outlook.paint.as_ref().map(|one| ThickerView::of(Some(one))),
            capped: cup.life.capped,
            tape: cup.cup.tape.clone(),
            note: cup.cup.note.clone(),
            why: telling.words(cup),
        }
    }
}

/// The living cups, the next to act on first.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CupsView {
    at: String,
    cups: Vec<CupView>,
}

impl CupsView {
    /// The living cups.
    #[must_use]
    pub fn of(cups: &[CupStatus], telling: &Telling<'_>) -> Self {
        Self {
            at: telling.stamp(telling.now.at),
            cups: cups.iter().map(|cup| CupView::of(cup, telling)).collect(),
        }
    }
}

/// How much thinner to add.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ThinnerView {
    start_with_ml: Option<f64>,
    likely_ml: Option<f64>,
    band_ml: Option<[f64; 2]>,
    limit_ml: f64,
    /// More than the limit is needed: it is to be mixed anew, and how much is null.
    beyond_limit: bool,
    from: Backing,
    readings: u64,
}

impl ThinnerView {
    /// An advice.
    #[must_use]
    pub fn of(advice: &Advice) -> Self {
        let told = (!advice.beyond).then_some(advice.likely.band);
        Self {
            start_with_ml: told.map(|_| ml(advice.start_with)),
            likely_ml: told.map(|band| ml(band.mid)),
            band_ml: told.map(|band| [ml(band.low), ml(band.high)]),
            limit_ml: ml(advice.limit),
            beyond_limit: advice.beyond,
            from: advice.likely.from,
            readings: advice.likely.readings as u64,
        }
    }
}

/// How much paint brings a cup that is too thin back; null where that cannot be told.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ThickerView {
    likely_ml: Option<f64>,
    band_ml: Option<[f64; 2]>,
}

impl ThickerView {
    /// What is likely.
    #[must_use]
    pub fn of(likely: Option<&Estimate<Millilitres>>) -> Self {
        let band = likely.map(|one| one.band);
        Self {
            likely_ml: band.map(|band| ml(band.mid)),
            band_ml: band.map(|band| [ml(band.low), ml(band.high)]),
        }
    }
}

/// What goes into a cup of one part.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PartView {
    name: String,
    ml: f64,
    g: Option<f64>,
    /// The mark of the cup that it comes from.
    from: Option<String>,
}

impl PartView {
    fn of(part: &MixPart) -> Self {
        Self {
            name: part.name.clone(),
            ml: ml(part.ml),
            g: part.g.map(|grams| number(grams.get())),
            from: part.from.as_ref().map(ToString::to_string),
        }
    }
}

/// A cup that was mixed.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MixedView {
    #[serde(flatten)]
    cup: CupView,
    parts: Vec<PartView>,
    #[serde(flatten)]
    remarks: Remarked,
}

impl MixedView {
    /// A cup that was mixed.
    #[must_use]
    pub fn of(mixed: &Mixed, telling: &Telling<'_>) -> Self {
        Self {
            cup: CupView::of(&mixed.standing, telling),
            parts: mixed.parts.iter().map(PartView::of).collect(),
            remarks: Remarked::of(&mixed.remarks, telling.measures, telling.now),
        }
    }
}

/// A cup that was tended.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TendedView {
    #[serde(flatten)]
    cup: CupView,
    entry: EntryView,
    #[serde(flatten)]
    remarks: Remarked,
}

impl TendedView {
    /// A cup that was tended.
    #[must_use]
    pub fn of(tended: &Tended, names: &Names, telling: &Telling<'_>) -> Self {
        Self {
            cup: CupView::of(&tended.standing, telling),
            entry: EntryView::of(&tended.entry, names, telling),
            remarks: Remarked::of(&tended.remarks, telling.measures, telling.now),
        }
    }
}

/// A cup's life that was put right.
#[derive(Debug, Serialize, JsonSchema)]
pub struct AmendedView {
    #[serde(flatten)]
    cup: CupView,
    /// What the entry said.
    was: EntryView,
    /// What it says; null where it was struck.
    entry: Option<EntryView>,
    #[serde(flatten)]
    remarks: Remarked,
}

impl AmendedView {
    /// A cup's life that was put right.
    #[must_use]
    pub fn of(amended: &Amended, names: &Names, telling: &Telling<'_>) -> Self {
        let view = |entry| EntryView::of(entry, names, telling);
        Self {
            cup: CupView::of(&amended.standing, telling),
            was: view(&amended.was),
            entry: amended.entry.as_ref().map(view),
            remarks: Remarked::of(&amended.remarks, telling.measures, telling.now),
        }
    }
}

/// What was put into a cup.
#[derive(Debug, Serialize, JsonSchema)]
struct PutView {
    name: String,
    ml: f64,
}

/// One cup's whole life.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CupPageView {
    #[serde(flatten)]
    cup: CupView,
    mixed_ml: f64,
    depth_mm: Option<f64>,
    diameter_mm: Option<f64>,
    puts: Vec<PutView>,
    entries: Vec<EntryView>,
}

impl CupPageView {
    /// One cup's whole life.
    #[must_use]
    pub fn of(page: &CupPage, names: &Names, telling: &Telling<'_>) -> Self {
        let cup = &page.standing.cup;
        let put = |(name, volume): &(String, _)| PutView {
            name: name.clone(),
            ml: ml(*volume),
        };
        let entries = page.entries.iter();
        Self {
            cup: CupView::of(&page.standing, telling),
            mixed_ml: ml(cup.volume),
            depth_mm: cup.depth.map(Millimetres::get),
            diameter_mm: cup.diameter.map(Millimetres::get),
            puts: page.puts.iter().map(put).collect(),
            entries: entries
                .map(|entry| EntryView::of(entry, names, telling))
                .collect(),
        }
    }
}
