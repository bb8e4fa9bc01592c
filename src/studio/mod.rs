//! What the painter does, told once. The screen and the command line both come through here.
//!
//! Every deed is one commit: its checks read the store inside the same transaction that writes, so that
//! two benches cannot give one mark twice or pour the same paint twice. `now` is always handed in.

mod checkup;
mod cups;
mod demo;
mod facts;
mod faults;
mod file;
mod findings;
mod lookup;
mod naming;
pub mod orders;
mod photos;
mod plans;
mod pours;
mod preview;
mod recipes;
mod refusal;
mod reminders;
mod shelf;
mod time_window;
mod trials;
mod wall_clock;

pub use crate::logbook::{Candidate, Change, WholeState, Whose};
pub use cups::add::to_thicken;
pub use cups::amend::Amended;
pub use cups::bench::{CupPage, CupStatus, Foreseen, RecipeBook};
pub use cups::forecast::{Advice, Outlook};
pub use cups::lid::{Lid, Lids};
pub use cups::mix::{MixDraft, MixPart, Mixed};
pub use cups::tend::Tended;
pub use cups::turns::{Turn, turns};
pub use demo::{DEMO_SESSIONS, DemoSeeded};
pub use facts::{
    Doubt, Far, FarOf, Note, Remarks, StackAdvice, StackFault, StackVerdict, VariantRef, Warning,
};
pub use faults::{
    AirFault, AirSource, ByCells, CellFault, ColumnFault, DocumentFault, FileFault, LabelFault,
    Lacking, Limit, LinePlace, ListFault, Made, NameOf, Numbered, OtherFile, OutOfModel,
    PhotoProblem, RunFault, SensorFault, TextPlace, ThingIs, Unchanged, Unread, WordOf,
};
pub use file::copies::{
    HowFar, WayBack, bring_back, copies, copies_folder, refuse_no_folder, way_back,
};
pub use file::history::{ClockOddity, LastTouched};
pub use file::intake::{
    CupRow, GradesRow, JudgedRow, MaterialRow, PourRow, RowsTaken, SaleRow, SheetRow, StockRow,
};
pub use file::list_notes::{Aside, DateOrder, DateReason, ListNote, Separator};
pub use file::settings::{Setting, Settings};
pub use findings::best::{
    Advised, BestSettings, Curve, CurvePoint, NoSurface, SettingsAdvice, Tried,
};
pub use findings::drift::{Drift, DriftPeriod};
pub use findings::logged::Logged;
pub use findings::measured::{MeasuredFindings, MeasuredVariant};
pub use findings::next::{Suggestion, SuggestionKind};
pub use findings::ranking::{
    Asked, Findings, LookedBack, OutcomeKind, Posterior, RANKED_FROM, VariantTally,
};
pub use findings::reasons::{Level, Reasons, levels};
pub(crate) use lookup::{meant, near_names};
pub use naming::{Merged, Retired};
pub use orders::{MaterialOrder, PlanOrder, RecipeOrder, RepeatOrder, TargetsOrder, TrialOrder};
pub use photos::carried::PhotosCarried;
pub use photos::keeping::{
    NewPhoto, PhotoKept, PhotoOrder, PhotoPage, PhotosChecked, Proposal, figures, is_original,
    measure_panel,
};
pub use photos::measuring::{
    Corners, CornersHow, LEAST_CELL, MeasureOrder, PhotoFault, PhotoMeasured, PhotoWarning,
    measure_photo,
};
pub use plans::kept_plan::{NextOfPlan, PlanLine, PlanPage};
pub use plans::plan::{Basis, Lack, PlanKept, PlanLayer, PlanPart, PlanSheet};
pub use plans::repeat::{Differs, Repeat, RepeatLayer};
pub use plans::schedule::{Deed, Step};
pub use plans::standing::{Standing, Usable};
pub use pours::compare::{Aspect, Compared, Comparison, Had};
pub use pours::judge::JudgeOrder;
pub use pours::pages::{PourPage, PouredCup, PoursPage};
pub use pours::pour::{LayerOrder, PourOrder, Poured, StackCheck, StartOverOrder};
pub use pours::provenance::PictureFacts;
pub use pours::rack::{Dates, Drying, RackLine, creep_in_ten_minutes, drying};
pub use pours::sales::{Ledger, LedgerLine, SaleOrder, TitleOrder};
pub use pours::stack::{StackLayer, StackSheet, StackStep, is_film, overdrawn};
pub use preview::{LabelsOnto, Preview};
pub use recipes::changed::VariantChange;
pub use recipes::names::Names;
pub use recipes::starters::Seeded;
pub use recipes::variants::RecipePage;
pub use refusal::{Answer, LEAST_CUP, MOST_CUP, Refusal, StudioError};
pub use reminders::{CupTurn, Dry, Due, DueCup, Reminder, Reminders};
pub use shelf::cost::{Cost, CostFor, CostLine};
pub use shelf::course::StockCourse;
pub use shelf::stock::ShelfLine;
pub use time_window::TimeWindow;
pub use trials::trial::{TrialLine, TrialPage, read_factor, sketch_trial};
pub use trials::trial_curve::{Spot, TrialCurve};
pub use trials::trial_drawing::EffectAxis;
pub use trials::trial_findings::{TrialFindings, stands_clear};
pub use trials::trial_run::RunDone;
pub use wall_clock::{day, due, ends, local, next_minute, said_day};

pub use crate::logbook::on_wait;
pub use crate::logbook::{
    Alteration, BackupFault, Column, Contradiction, Contradictions, Damage, Differing, DiskFault,
    FileWriter, Holds, HowMoved, Impossible, Intake, LogbookError as StoreError, Misfit, Moved,
    NewerWord, Occupied, ProgramFault, Record, Renamed, RowAt, RowFault, RowName, Rule, Sheet,
    SystemFault, TABLES, Table, Taken, Value,
};
pub use crate::logbook::{AtHand, at_hand};
use crate::logbook::{Logbook, STEPS};
use crate::studio::cups::learned::Memory;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::pour::Air;
pub use checkup::{
    Checkup, Colours, CopiesFacts, FileHealth, Ground, TerminalFacts, health, is_behind,
};
use chrono::TimeDelta;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What a sensor told is of now for so long: it is asked every ten minutes (ours).
const SENSED: TimeDelta = TimeDelta::minutes(15);
/// What it told is held for so long, for pours that are written down later (ours).
const HELD: TimeDelta = TimeDelta::hours(48);

/// One studio: its logbook, and what may be done with it.
pub struct Studio {
    book: Logbook,
    memory: Memory,
    /// The room's air as a sensor told it last, while this program runs, and when.
    sensed: Vec<(Moment, Option<Air>)>,
    /// What this program's drafts are kept under, once there were any.
    session: Option<String>,
}

impl Studio {
    /// Opens a studio's file, making it where there is none.
    ///
    /// # Errors
    /// Where the file is no studio, is newer than this program, is damaged, was lost or cannot be written.
    pub fn open(path: &Path) -> Answer<Self> {
        if file::copies::is_lost(path) {
            return Err(StoreError::Lost(path.into()).into());
        }
        // What cannot be written may still be read.
        let book = match Logbook::open_studio(path) {
            Err(why) if why.leaves_reading() => Logbook::open_to_read(path, STEPS, why),
            opened => opened,
        }?;
        Ok(Self::of(book))
    }

    fn of(book: Logbook) -> Self {
        Self {
            book,
            memory: Memory::default(),
            sensed: Vec::new(),
            session: None,
        }
    }

    /// Why nothing may be written here, though it can be read: it is said once a session.
    #[must_use]
    pub const fn barred(&self) -> Option<&StoreError> {
        self.book.barred()
    }

    /// Begins to read the whole file beside the work, where it was too large to be read when it was opened.
    pub fn check_beside(&mut self) {
        self.book.check_beside();
    }

    /// Whether that has just found damage: nothing more is written then, and [`Studio::barred`] tells why.
    pub fn found_damaged(&mut self) -> bool {
        self.book.found_damaged()
    }

    /// Takes an error that was met for what it tells of the file: into one that is damaged nothing more is written.
    pub fn met(&mut self, error: &StudioError) {
        if let StudioError::Store(damage @ StoreError::Damaged(_)) = error
            && self.book.barred().is_none()
        {
            self.book.bar(damage.clone());
        }
    }

    /// Whether anything was kept since it was opened.
    #[must_use]
    pub const fn wrote(&self) -> bool {
        self.book.wrote()
    }

    /// Sets how long a deed waits for another program that is writing.
    ///
    /// # Errors
    /// Whatever the store answers.
    pub fn wait_at_most(&mut self, patience: Duration) -> Answer<()> {
        Ok(self.book.wait_at_most(patience)?)
    }

    /// Its file.
    #[must_use]
    pub fn file(&self) -> &Path {
        self.book.path()
    }

    /// Takes what a sensor told of the room's air just now; nothing of one that failed. It is held for two days.
    pub fn sense(&mut self, air: Option<Air>, now: &Now) {
        self.sensed.retain(|(at, _)| (now.at - at).abs() < HELD);
        self.sensed.push((now.at, air));
    }

    /// What a sensor told of the room's air about an instant.
    #[must_use]
    pub fn sensed_at(&self, at: Moment) -> Option<Air> {
        let away = |(told, _): &&(Moment, Option<Air>)| (at - *told).abs();
        let near = self.sensed.iter().min_by_key(away)?;
        near.1.filter(|_| away(&near) <= SENSED)
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
