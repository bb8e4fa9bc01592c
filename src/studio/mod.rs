//! What the painter does, told once. The screen and the command line both come through here.
//!
//! Every deed is one commit: its checks read the store inside the same transaction that writes, so that
//! two benches cannot give one mark twice or pour the same paint twice. `now` is always handed in.

mod bench;
mod copies;
mod cost;
mod demo;
mod drift;
mod evidence;
mod factors;
mod findings;
mod forecast;
mod history;
mod judge;
mod kept_plan;
mod learned;
mod lessons;
mod lookup;
mod materials;
mod mix;
mod mixture;
mod names;
mod next;
mod own_pours;
mod plan;
mod pour;
mod rack;
mod reasons;
mod recipes;
mod refusal;
mod risen;
mod schedule;
mod settings;
mod shelf;
mod stack;
mod starters;
mod tend;
mod transfer;
mod trial;
mod trial_drawing;
mod trial_findings;
mod trial_run;
mod words;

pub use bench::{Cards, CupPage, Standing};
pub use copies::{bring_back, copies, copies_folder, newest_whole_copy, refuse_no_folder};
pub use cost::{Cost, CostLine};
pub use demo::DemoSeeded;
pub use drift::{Drift, DriftPeriod};
pub use findings::{Asked, Findings, LookedBack, Posterior, RANKED_FROM, Since, VariantTally};
pub use forecast::{Advice, Outlook};
pub use judge::JudgeOrder;
pub use kept_plan::{PlanLine, PlanPage};
pub use materials::MaterialOrder;
pub use mix::{MixDraft, MixOrder, MixPart, Mixed};
pub use names::Names;
pub use next::{Suggestion, SuggestionKind};
pub use plan::{Basis, Lack, PlanLayer, PlanOrder, PlanPart, PlanSheet};
pub use pour::{AgainOrder, LayerOrder, PourOrder, PourPage, Poured};
pub use rack::{Drying, RackLine, creep_in_ten_minutes, drying};
pub use reasons::{Level, Reasons, levels};
pub use recipes::{RecipeOrder, RecipePage, TargetsOrder};
pub use refusal::{Answer, Refusal, StudioError};
pub use risen::gel_words;
pub use schedule::{Deed, Step};
pub use settings::Settings;
pub use shelf::ShelfLine;
pub use stack::{StackLayer, StackSheet, StackStep};
pub use starters::Seeded;
pub use tend::{Tended, ThinOrder};
pub use trial::{TrialLine, TrialOrder, TrialPage, read_factor, sketch_trial};
pub use trial_drawing::EffectAxis;
pub use trial_findings::{TrialFindings, effect_words, stands_clear};
pub use trial_run::RunDone;
pub use words::{day, due, ends, local};

use crate::logbook::Logbook;
pub use crate::logbook::{
    Column, Holds, Intake, LogbookError as StoreError, Record, Renamed, Sheet, TABLES, Table,
    Taken, Value,
};
use crate::studio::learned::Memory;
use std::path::{Path, PathBuf};

/// One studio: its logbook, and what may be done with it.
pub struct Studio {
    book: Logbook,
    memory: Memory,
}

impl Studio {
    /// Opens a studio's file, making it where there is none.
    ///
    /// # Errors
    /// Where the file is no studio, is newer than this program, is damaged, was lost or cannot be written.
    pub fn open(path: &Path) -> Answer<Self> {
        if copies::is_lost(path) {
            return Err(StoreError::Lost(path.into()).into());
        }
        Ok(Self {
            book: Logbook::open_studio(path)?,
            memory: Memory::default(),
        })
    }

    /// Where the demo stands: a file of its own beside the studio's.
    #[must_use]
    pub fn demo_file(&self) -> PathBuf {
        self.book.path().with_file_name("demo.db")
    }

    /// Whether nothing was ever written down here.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn is_empty(&self) -> Answer<bool> {
        Ok(self.book.history(1, None)?.is_empty())
    }

    /// Whether another process has written since this was last asked.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn changed_elsewhere(&mut self) -> Answer<bool> {
        let changed = self.book.changed_since();
        if matches!(changed, Err(StoreError::Replaced(_))) {
            // Another studio counts its changes anew.
            self.memory.forget();
        }
        Ok(changed?)
    }
}
