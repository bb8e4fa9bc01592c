//! What is to be done, read once: each deed's typed order, and the fields that it is typed into.
//!
//! The command line's arguments and the screen's forms fill the same [`Typed`] fields; a deed's own file reads them
//! into its order, which holds ids and quantities and nothing left to be read. Neither face reads an amount, a name
//! or an instant itself.

mod add;
mod air;
mod amend;
mod calendar;
mod cells;
mod correct;
mod cost;
mod drying;
mod field;
mod first;
mod flow_cup;
mod given;
mod incoming;
mod judge;
mod known;
mod labels;
mod lists;
mod material;
mod mix;
mod naming;
mod outgoing;
mod photo;
mod picture;
mod plan;
mod pour;
mod puts;
mod read;
mod recipe;
mod repeat;
mod setting;
mod shelf;
mod stir;
mod tend;
mod thin;
mod trial;
mod window;

pub use add::{AddField, AddOrder};
pub use air::RoomField;
pub use amend::{AmendField, AmendOrder, WhichEntry};
pub use calendar::CalendarField;
pub use cells::CellsField;
pub use correct::{CorrectField, CorrectOrder};
pub use cost::CostOf;
pub use drying::{DryingField, DryingOrder};
pub use field::{AnyField, Field, Hint, Typed, Wrong, wrong};
pub use first::{FirstField, FirstOrder};
pub use flow_cup::{FilmField, FlowCupField};
pub use given::{Bare, Given};
pub use incoming::IncomingField;
pub use judge::JudgeField;
pub use known::Known;
pub use labels::{LabelField, LabelOrder, Sides};
pub use lists::{ColumnOrder, ListField, ListKind};
pub use material::{MaterialField, MaterialOrder};
pub use mix::{FilledFrom, MixField, MixOrder, SHELF};
pub use naming::{LidField, LidOrder, MergeField, MergeOrder, RecipeNameField, RecipeNameOrder};
pub use outgoing::{OutgoingField, OutgoingKind};
pub use photo::PhotoField;
pub use picture::{SaleField, TitleField};
pub use plan::{PlanField, PlanOrder};
pub use pour::PourField;
pub use read::ReadField;
pub(in crate::studio) use recipe::split_part;
pub use recipe::{RecipeField, RecipeOrder, TargetsOrder};
pub use repeat::{RepeatField, RepeatOrder};
pub use setting::SettingsOrder;
pub use shelf::{Bought, BoughtField, BoughtOrder, CountedField, CountedOrder};
pub use stir::StirField;
pub use tend::{SimpleDeed, TendField, TendOrder};
pub use thin::ThinField;
pub use trial::{SkipField, TrialField, TrialOrder};
pub use window::WindowField;
