//! What a variant changed, in words.

use crate::studio::VariantChange;
use crate::tell::Told;
use crate::trade::amount::Measures;
use crate::trade::duration::show;
use crate::trade::instant::Now;

impl Told for VariantChange {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        match self {
            Self::Added(part, share) => format!("{part} {share} added"),
            Self::Share { part, was, is } => format!("{part} {was} to {is}"),
            Self::LeftOut(part) => format!("{part} left out"),
            Self::Mound(window) => format!("mound {window}"),
            Self::Rest { was, is } => format!("rest {} to {}", show(*was), show(*is)),
            Self::RecheckAfter { was, is } => {
                format!("look again after {} to {}", show(*was), show(*is))
            }
            Self::Stir(stir) => format!("stir {} min", stir.get()),
            Self::Limit(limit) => format!("thinner at most {:.0} %", limit.get() * 100.0),
        }
    }
}
