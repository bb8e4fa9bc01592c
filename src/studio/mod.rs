//! What the painter does, told once. The screen and the command line both come through here.
//!
//! Every deed is one commit: its checks read the store inside the same transaction that writes, so that
//! two benches cannot give one mark twice or pour the same paint twice. `now` is always handed in.

mod bench;
mod cost;
mod evidence;
mod findings;
mod forecast;
mod history;
mod judge;
mod lookup;
mod materials;
mod mix;
mod mixture;
mod own_pours;
mod plan;
mod pour;
mod recipes;
mod refusal;
mod schedule;
mod settings;
mod shelf;
mod tend;
mod words;

pub use bench::{Cards, CupPage, Standing};
pub use cost::{Cost, CostLine};
pub use findings::{Findings, Since, VariantTally};
pub use forecast::{Advice, Outlook};
pub use judge::JudgeOrder;
pub use materials::MaterialOrder;
pub use mix::{MixDraft, MixOrder, MixPart, Mixed};
pub use plan::{Lack, PlanLayer, PlanLine, PlanOrder, PlanPage, PlanPart, PlanSheet};
pub use pour::{AgainOrder, LayerOrder, PourOrder, PourPage, Poured};
pub use recipes::{RecipeOrder, RecipePage, TargetsOrder};
pub use refusal::{Answer, Refusal, StudioError};
pub use schedule::{Deed, Step};
pub use settings::Settings;
pub use shelf::ShelfLine;
pub use tend::{Tended, ThinOrder};
pub use words::local;

use crate::logbook::Logbook;
use std::path::Path;

/// One studio: its logbook, and what may be done with it.
pub struct Studio {
    book: Logbook,
}

impl Studio {
    /// Opens a studio's file, making it where there is none.
    ///
    /// # Errors
    /// Where the file is no studio, is newer than this program, is damaged or cannot be written.
    pub fn open(path: &Path) -> Answer<Self> {
        Ok(Self {
            book: Logbook::open_studio(path)?,
        })
    }

    /// Whether another process has written since this was last asked.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn changed_elsewhere(&mut self) -> Answer<bool> {
        Ok(self.book.changed_since()?)
    }
}
