//! What a plan rests on, and what the shelf lacks for it.

use crate::studio::{Basis, Lack};
use crate::tell::Told;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::text::inert;

impl Told for Basis {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        match self {
            Self::Practice(None) => "film and split from practice".to_owned(),
            Self::Practice(Some(word)) => format!("film and split from practice, {word}"),
            Self::Yours(pours) => format!("film and split yours, {pours} pours"),
            Self::Kept => "as it was kept".to_owned(),
        }
    }
}

impl Told for Lack {
    fn told(&self, measures: Measures, _now: &Now) -> String {
        let [needed, left] = [self.needed, self.left].map(|ml| show_volume(ml, measures));
        let name = inert(&self.name);
        if self.left.get() < 0.0 {
            let short = show_volume(-self.left, measures);
            return format!(
                "the shelf lacks {name}: {needed} needed; the shelf is {short} short already"
            );
        }
        format!("the shelf lacks {name}: {needed} needed, {left} left")
    }
}
