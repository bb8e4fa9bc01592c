//! To mix a cup: a variant, how much of it, and what really went in.

use super::field::wrong;
use super::puts::Planned;
use super::{Field, Given, Hint, Known, Typed, Wrong};
use crate::studio::Refusal;
use crate::studio::lookup::parse_mark;
use crate::trade::amount::Measures;
use crate::trade::cup::{Cup, Reading};
use crate::trade::duration::parse_stirring;
use crate::trade::ids::{CupId, RecipeId, VariantId};
use crate::trade::length::parse_length;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::range::parse_mound;
use crate::trade::recipe::PartOf;
use crate::trade::units::{Millilitres, Millimetres, Minutes};

/// Where a part that is a mixture itself comes from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum FilledFrom {
    /// The cups of it that stand, the oldest that is enough; the shelf where none does.
    #[default]
    Standing,
    /// This cup, whole or with the part that it holds; other parts as they stand.
    Cup(CupId),
    /// The shelf, whatever stands.
    Shelf,
}

impl FilledFrom {
    /// The cup that was named.
    #[must_use]
    pub const fn cup(self) -> Option<CupId> {
        match self {
            Self::Cup(cup) => Some(cup),
            Self::Standing | Self::Shelf => None,
        }
    }

    /// Reads a mark, or the word for the shelf.
    fn read(text: &str, known: &Known) -> Result<Self, Refusal> {
        match text.trim().eq_ignore_ascii_case(SHELF) {
            true => Ok(Self::Shelf),
            false => known.cup(text).map(Self::Cup),
        }
    }
}

/// The word for the shelf, where a mark is asked for too; no mark has so many letters.
pub const SHELF: &str = "shelf";

/// A cup to be mixed.
#[derive(Debug, Clone, PartialEq)]
pub struct MixOrder {
    /// By which variant.
    pub variant: VariantId,
    /// How much of it.
    pub volume: Millilitres,
    /// What really went in; other parts are as the recipe says.
    pub puts: Vec<(PartOf, Millilitres)>,
    /// The first reading.
    pub reading: Option<Reading>,
    /// How long it was stirred.
    pub stirred: Option<Minutes>,
    /// The mark on its lid; a free one otherwise.
    pub mark: Option<Mark>,
    /// The colour of its lid tape.
    pub tape: Option<String>,
    /// How deep the paint stands.
    pub depth: Option<Millimetres>,
    /// How wide the container is.
    pub diameter: Option<Millimetres>,
    /// Where a part that is a mixture itself comes from.
    pub from: FilledFrom,
    /// Whether the cup it is filled from really held more than was thought, and its reading is meant however far off.
    pub even_so: bool,
    /// When its stirring ended; now otherwise.
    pub at: Option<Moment>,
    /// Anything else.
    pub note: Option<String>,
}

/// The fields of a mixing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MixField {
    /// The recipe's name.
    Recipe,
    /// The variant's number; the newest otherwise.
    Variant,
    /// How much.
    Amount,
    /// The mark of a cup to repeat: what is said beside it overrules.
    Like,
    /// What really went in.
    Puts,
    /// The mound.
    Mound,
    /// A flow cup in place of a mound.
    FlowCup,
    /// The flow cup's time.
    Efflux,
    /// How long it was stirred.
    Stirred,
    /// The mark on its lid.
    Mark,
    /// The colour of its lid tape.
    Tape,
    /// How deep the paint stands.
    Depth,
    /// How wide the cup is.
    Diameter,
    /// The mark of a cup that it is filled from, or the shelf.
    From,
    /// When.
    When,
    /// Anything else.
    Note,
}

impl Field for MixField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Mix(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Recipe => "recipe",
            Self::Variant => "variant",
            Self::Amount => "amount",
            Self::Like => "like",
            Self::Puts => "really in",
            Self::Mound => "mound",
            Self::FlowCup => "flow cup",
            Self::Efflux => "efflux",
            Self::Stirred => "stirred",
            Self::Mark => "mark",
            Self::Tape => "tape",
            Self::Depth => "depth",
            Self::Diameter => "diameter",
            Self::From => "filled from",
            Self::When => "when",
            Self::Note => "note",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match self {
            Self::Recipe => Hint::Says("type some letters, Enter takes it"),
            Self::Variant => Hint::Says("its number; empty for the newest"),
            Self::Amount => amounts(measures),
            Self::Like => Hint::Says("a cup, by its mark"),
            Self::Puts => Hint::Says("what differs: White 41 ml, or 41 of the one it fits"),
            Self::Mound => Hint::Says("seconds, if you have read it"),
            Self::FlowCup => Hint::Says("in place of a mound, as iso4"),
            Self::Efflux => Hint::SuchAs("38 s"),
            Self::Stirred => Hint::Says("4 m, if you have timed it"),
            Self::Mark => Hint::Says("what you write on the lid"),
            Self::Tape => Hint::Says("colour of the lid tape"),
            Self::Depth | Self::Diameter => Hint::SuchAs("60 mm"),
            Self::From => Hint::Says("a cup, or shelf; empty: what stands"),
            Self::When => Hint::Says(super::tend::WHEN),
            Self::Note => Hint::Says("anything"),
        }
    }

    fn mark(self, text: &str) -> Option<&str> {
        matches!(self, Self::Like | Self::From).then_some(text)
    }
}

/// Amounts of paint, in the studio's measures.
pub(super) const fn amounts(measures: Measures) -> Hint {
    match measures {
        Measures::Metric => Hint::SuchAs("120 ml or 150 g"),
        Measures::UsCustomary => Hint::SuchAs("4 fl oz or 5 oz"),
    }
}

/// The fields that say what goes in.
const MIXTURE: [MixField; 6] = [
    MixField::Recipe,
    MixField::Variant,
    MixField::Amount,
    MixField::Like,
    MixField::Puts,
    MixField::From,
];

impl MixOrder {
    /// So much of a variant, and nothing else said.
    #[must_use]
    pub const fn of(variant: VariantId, volume: Millilitres) -> Self {
        Self {
            variant,
            volume,
            puts: Vec::new(),
            reading: None,
            stirred: None,
            mark: None,
            tape: None,
            depth: None,
            diameter: None,
            from: FilledFrom::Standing,
            even_so: false,
            at: None,
            note: None,
        }
    }

    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read, or that must not be empty and is.
    pub fn read(typed: &Typed<MixField>, given: &Given<'_>) -> Result<Self, Wrong> {
        let known = given.known;
        let like = typed.read(MixField::Like, |text| known.cup_ever(text))?;
        let (recipe, variant) = variant(typed, given, like)?;
        let density = known.density(PartOf::Recipe(recipe.0));
        let amount = typed.read(MixField::Amount, |text| given.volume(text, density))?;
        let volume = amount.or(like.map(|cup| cup.volume));
        let planned = Planned::of(given, variant, volume);
        let puts = typed.all(MixField::Puts).map(|text| planned.puts(text));
        let puts = puts.collect::<Result<Vec<_>, _>>();
        Ok(Self {
            volume: volume.ok_or_else(|| wrong(MixField::Amount, Refusal::NoVolume))?,
            puts: puts.map_err(|why| wrong(MixField::Puts, why))?.concat(),
            reading: reading(typed, given)?,
            stirred: typed.read(MixField::Stirred, parse_stirring)?,
            mark: typed.read(MixField::Mark, parse_mark)?,
            tape: typed
                .note(MixField::Tape)
                .or_else(|| like.and_then(|cup| cup.tape.clone())),
            depth: typed
                .read(MixField::Depth, parse_length)?
                .or(like.and_then(|cup| cup.depth)),
            diameter: typed
                .read(MixField::Diameter, parse_length)?
                .or(like.and_then(|cup| cup.diameter)),
            from: typed
                .read(MixField::From, |text| FilledFrom::read(text, known))?
                .unwrap_or_default(),
            at: typed.read(MixField::When, |text| given.past(text))?,
            note: typed.note(MixField::Note),
            ..Self::of(variant, Millilitres::ZERO)
        })
    }

    /// Reads what would go in, of what is typed so far.
    ///
    /// # Errors
    /// As [`MixOrder::read`].
    pub fn preview(typed: Typed<MixField>, given: &Given<'_>) -> Result<Self, Wrong> {
        Self::read(&typed.only(&MIXTURE), given)
    }
}

/// The recipe that was named, else that of the cup to repeat, which is then repeated by its own variant.
fn variant(
    typed: &Typed<MixField>,
    given: &Given<'_>,
    like: Option<&Cup>,
) -> Result<(RecipeId, VariantId), Wrong> {
    let known = given.known;
    let named = typed.read(MixField::Recipe, |text| known.recipe(text))?;
    let number = typed.read(MixField::Variant, |text| {
        let number = text.trim().parse().ok();
        number.ok_or_else(|| Refusal::NoVariant(text.trim().to_owned(), 0))
    })?;
    let repeated = like.and_then(|cup| known.mixed_by(cup));
    let (recipe, number) = match (named, repeated) {
        (Some(recipe), _) => (recipe, number),
        (None, Some((recipe, variant))) => (recipe, number.or(Some(variant.number))),
        (None, None) => return Err(wrong(MixField::Recipe, Refusal::NoRecipe)),
    };
    let variant = known.variant(recipe, number);
    let variant = variant.map_err(|why| wrong(MixField::Variant, why))?;
    Ok((recipe, variant))
}

fn reading(typed: &Typed<MixField>, given: &Given<'_>) -> Result<Option<Reading>, Wrong> {
    if let (Some(cup), Some(efflux)) = (typed.text(MixField::FlowCup), typed.text(MixField::Efflux))
    {
        let read = given.flow_cup(cup, efflux);
        return read.map(Some).map_err(|why| wrong(MixField::FlowCup, why));
    }
    let mound = typed.read(MixField::Mound, parse_mound)?;
    Ok(mound.map(Reading::Mound))
}
