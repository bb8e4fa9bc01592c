//! A field: what it is called, what may be typed in it, and the texts of a deed's fields as they were typed.

use super::{
    AddField, CalendarField, CellsField, DryingField, FilmField, FlowCupField, IncomingField,
    LabelField, LidField, MergeField, OutgoingField, RecipeNameField,
};
use super::{
    AmendField, BoughtField, CorrectField, CountedField, FirstField, JudgeField, MaterialField,
    MixField, PhotoField, PlanField, PourField, ReadField, RecipeField, RepeatField, RoomField,
    SaleField, SkipField, StirField, TendField, ThinField, TitleField, TrialField, WindowField,
};
use crate::studio::{Refusal, Setting, WordOf};
use crate::trade::amount::Measures;

/// What is said of a field while it is filled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hint {
    /// An example of what may be typed.
    SuchAs(&'static str),
    /// What it means.
    Says(&'static str),
}

impl Hint {
    /// Its words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::SuchAs(words) | Self::Says(words) => words,
        }
    }
}

/// One field of a deed.
pub trait Field: Copy + PartialEq + Into<AnyField> + 'static {
    /// This kind of field, where the field is one.
    fn of(any: AnyField) -> Option<Self>;
    /// What it is called where its value is asked for.
    fn label(self) -> &'static str;
    /// What may be typed, in the studio's measures.
    fn hint(self, measures: Measures) -> Hint;
    /// The cup's mark in its text, so that a cup that is spent is known too.
    fn mark(self, text: &str) -> Option<&str> {
        let _ = text;
        None
    }
}

macro_rules! any_field {
    ($($(#[$doc:meta])* $kind:ident($field:ty)),+ $(,)?) => {
        /// A field of any deed.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum AnyField {
            $($(#[$doc])* $kind($field)),+,
        }

        $(impl From<$field> for AnyField {
            fn from(field: $field) -> Self {
                Self::$kind(field)
            }
        })+

        impl AnyField {
            /// Whether an instant that is over is typed in it.
            #[must_use]
            pub fn is_past(self) -> bool {
                matches!(
                    self,
                    Self::Mix(MixField::When)
                        | Self::Read(ReadField::When)
                        | Self::Thin(ThinField::When)
                        | Self::Stir(StirField::When)
                        | Self::Tend(TendField::When)
                        | Self::Add(AddField::When)
                        | Self::Amend(AmendField::When)
                        | Self::Pour(PourField::When)
                        | Self::Judge(JudgeField::When)
                        | Self::Sale(SaleField::When)
                )
            }

            /// A word that another run of the program knows it by again.
            #[must_use]
            pub fn key(self) -> String {
                format!("{self:?}")
            }

            /// What it is called where its value is asked for.
            #[must_use]
            pub fn label(self) -> &'static str {
                match self {
                    $(Self::$kind(field) => field.label()),+,
                }
            }
        }
    };
}

any_field! {
    /// One of a mixing.
    Mix(MixField),
    /// One of the guided first cup.
    First(FirstField),
    /// One of a reading.
    Read(ReadField),
    /// One of a thinning.
    Thin(ThinField),
    /// One of a stirring.
    Stir(StirField),
    /// One of a look, a lid or an end.
    Tend(TendField),
    /// One of a purchase.
    Bought(BoughtField),
    /// One of a count.
    Counted(CountedField),
    /// One of a material.
    Material(MaterialField),
    /// One of a recipe.
    Recipe(RecipeField),
    /// One of a judgement.
    Judge(JudgeField),
    /// One of putting a pour right.
    Correct(CorrectField),
    /// One of putting an entry right.
    Amend(AmendField),
    /// One of a trial.
    Trial(TrialField),
    /// One of a run that is given up.
    Skip(SkipField),
    /// One of an adding.
    Add(AddField),
    /// One of a recipe's name.
    RecipeName(RecipeNameField),
    /// One of a lid.
    Lid(LidField),
    /// The one of a merging.
    Merge(MergeField),
    /// One of a plan.
    Plan(PlanField),
    /// One of a pour.
    Pour(PourField),
    /// One of a photo.
    Photo(PhotoField),
    /// One of a picture's page.
    Title(TitleField),
    /// One of a sale.
    Sale(SaleField),
    /// The room's air.
    Room(RoomField),
    /// One of a window of time.
    Window(WindowField),
    /// One of a film that dries.
    Drying(DryingField),
    /// One of a flow cup.
    FlowCup(FlowCupField),
    /// A stack's films.
    Film(FilmField),
    /// One of a photo that is measured.
    Cells(CellsField),
    /// The one of a calendar.
    Calendar(CalendarField),
    /// One of a picture that is made once more.
    Repeat(RepeatField),
    /// One of a file that leaves.
    Outgoing(OutgoingField),
    /// One of a list that comes in.
    Incoming(IncomingField),
    /// One of labels.
    Label(LabelField),
    /// A setting.
    Setting(Setting),
}

/// What is wrong, in which field.
#[derive(Debug)]
pub struct Wrong {
    /// The field.
    pub field: AnyField,
    /// What is wrong, with what to type instead.
    pub why: Refusal,
}

/// The texts of a deed's fields as they were typed; what was left empty is not among them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typed<F> {
    texts: Vec<(F, String)>,
}

impl<F> Default for Typed<F> {
    fn default() -> Self {
        Self { texts: Vec::new() }
    }
}

impl<F: Field> Typed<F> {
    /// The same with a text in a field; an empty one is none. A field may be said several times.
    #[must_use]
    pub fn with(mut self, field: F, text: impl Into<String>) -> Self {
        let text = text.into();
        if !text.trim().is_empty() {
            self.texts.push((field, text));
        }
        self
    }

    /// The same with a text that was given to a command: there an empty one is a wrong one, and is refused.
    #[must_use]
    pub fn given(mut self, field: F, text: Option<String>) -> Self {
        self.texts.extend(text.map(|text| (field, text)));
        self
    }

    /// The same with the fields in `wanted` alone.
    #[must_use]
    pub fn only(mut self, wanted: &[F]) -> Self {
        self.texts.retain(|(field, _)| wanted.contains(field));
        self
    }

    /// The same with nothing in a field.
    #[must_use]
    pub fn without(mut self, field: F) -> Self {
        self.texts.retain(|(one, _)| *one != field);
        self
    }

    /// Takes out what was offered in a field and stands there still; answers whether the field was emptied.
    pub(super) fn leave_out(&mut self, field: F, offer: &str) -> bool {
        match self.text(field) {
            Some(text) if text == offer => self.texts.retain(|(one, _)| *one != field),
            Some(_) => {}
            None => return !offer.is_empty(),
        }
        false
    }

    /// A field's text, where something was typed.
    #[must_use]
    pub fn text(&self, field: F) -> Option<&str> {
        self.all(field).next()
    }

    /// Every field with its text, in the order in which they were typed.
    pub fn each(&self) -> impl Iterator<Item = (F, &str)> {
        let texts = self.texts.iter();
        texts.map(|(field, text)| (*field, text.as_str()))
    }

    /// Every text of a field, in the order in which they were typed.
    pub fn all(&self, field: F) -> impl Iterator<Item = &str> {
        let texts = self.texts.iter().filter(move |(one, _)| *one == field);
        texts.map(|(_, text)| text.as_str())
    }

    /// The texts that are marks of cups.
    pub fn marks(&self) -> impl Iterator<Item = &str> {
        self.each().filter_map(|(field, text)| field.mark(text))
    }

    /// A text as it is kept, without the blanks around it.
    #[must_use]
    pub fn note(&self, field: F) -> Option<String> {
        let text = self.text(field).map(str::trim);
        text.filter(|text| !text.is_empty()).map(str::to_owned)
    }

    /// A field read; `None` where nothing was typed.
    ///
    /// # Errors
    /// What the reader refuses, in this field.
    pub fn read<T, E: Into<Refusal>>(
        &self,
        field: F,
        reader: impl FnOnce(&str) -> Result<T, E>,
    ) -> Result<Option<T>, Wrong> {
        let read = self.text(field).map(reader).transpose();
        read.map_err(|why| wrong(field, why))
    }

    /// A field read that must not be empty.
    ///
    /// # Errors
    /// As [`Typed::read`], and `missing` where nothing was typed.
    pub fn need<T, E: Into<Refusal>>(
        &self,
        field: F,
        missing: Refusal,
        reader: impl FnOnce(&str) -> Result<T, E>,
    ) -> Result<T, Wrong> {
        self.read(field, reader)?
            .ok_or_else(|| wrong(field, missing))
    }
}

/// A refusal in a field.
#[must_use]
pub fn wrong(field: impl Into<AnyField>, why: impl Into<Refusal>) -> Wrong {
    Wrong {
        field: field.into(),
        why: why.into(),
    }
}

/// A text that must be one of some words.
pub(super) fn word<T>(
    of: WordOf,
    text: &str,
    parse: impl FnOnce(&str) -> Option<T>,
) -> Result<T, Refusal> {
    let said = || text.to_owned();
    parse(text).ok_or_else(|| Refusal::Word { of, said: said() })
}
