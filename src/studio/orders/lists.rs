//! A list of one's own that comes in: what its lines are, and what its columns become.

use crate::studio::{ColumnFault, ListFault, Refusal};
use crate::trade::words::word_enum;

word_enum! {
    /// What the lines of a list are.
    ListKind {
        /// Mixed cups.
        Cups = "cups",
        /// Pours, with what was seen on them and what they were sold for.
        Pours = "pours",
        /// Judgements of pours that are here.
        Judgements = "judgements",
        /// Materials.
        Materials = "materials",
        /// Bottles bought and shelves counted.
        Stock = "stock",
    }
}

word_enum! {
    /// What a column may become.
    ListField {
        /// When.
        At = "at",
        /// A cup's mark.
        Mark = "mark",
        /// A recipe's name.
        Recipe = "recipe",
        /// How much, by volume.
        Volume = "volume",
        /// A mound in seconds.
        Mound = "mound",
        /// The colour of the tape.
        Tape = "tape",
        /// A panel's size.
        Panel = "panel",
        /// A panel's width.
        Width = "width",
        /// A panel's height.
        Height = "height",
        /// The technique.
        Way = "way",
        /// The room's temperature.
        Temperature = "temperature",
        /// The room's humidity.
        Humidity = "humidity",
        /// A pour's number.
        Pour = "pour",
        /// The cells, 0 to 5.
        Cells = "cells",
        /// Whether it was dry.
        Dry = "dry",
        /// How even, 0 to 5.
        Evenness = "evenness",
        /// Lacing, 0 to 5.
        Lacing = "lacing",
        /// Mud, 0 to 5.
        Muddy = "muddy",
        /// Crazing, 0 to 5.
        Crazed = "crazed",
        /// Pinholes, 0 to 5.
        Pinholes = "pinholes",
        /// What became of it.
        Fate = "fate",
        /// A picture's title.
        Title = "title",
        /// What is asked for it.
        Asking = "asking",
        /// What it was sold for.
        Sold = "sold",
        /// When it was sold.
        SoldOn = "sold-on",
        /// To whom.
        Buyer = "buyer",
        /// Where it was sold.
        Where = "where",
        /// A material's name.
        Name = "name",
        /// What a material is for.
        What = "kind",
        /// What a pack holds.
        Pack = "pack",
        /// What it costs.
        Price = "price",
        /// A density in g/ml.
        Density = "density",
        /// A Colour Index name.
        ColourIndex = "colour-index",
        /// What a label warns of.
        Hazard = "hazard",
        /// A paint's colour.
        Colour = "colour",
        /// How many packs.
        Packs = "packs",
        /// Anything else.
        Note = "note",
    }
}

impl ListKind {
    /// What its columns may become, and which of these it cannot do without.
    #[must_use]
    pub const fn fields(self) -> (&'static [ListField], &'static [ListField]) {
        use ListField::*;
        match self {
            Self::Cups => (
                &[At, Mark, Recipe, Volume, Mound, Tape, Note],
                &[At, Recipe, Volume],
            ),
            Self::Pours => (
                &[
                    At,
                    Panel,
                    Width,
                    Height,
                    Way,
                    Temperature,
                    Humidity,
                    Cells,
                    Dry,
                    Evenness,
                    Lacing,
                    Muddy,
                    Crazed,
                    Pinholes,
                    Fate,
                    Title,
                    Asking,
                    Sold,
                    SoldOn,
                    Buyer,
                    Where,
                    Note,
                ],
                &[At],
            ),
            Self::Judgements => (
                &[
                    At, Pour, Cells, Dry, Evenness, Lacing, Muddy, Crazed, Pinholes, Fate, Note,
                ],
                &[Pour, Cells],
            ),
            Self::Materials => (
                &[
                    Name,
                    What,
                    Pack,
                    Price,
                    Density,
                    ColourIndex,
                    Hazard,
                    Colour,
                ],
                &[Name],
            ),
            Self::Stock => (&[At, Name, What, Volume, Packs, Price], &[At, Name]),
        }
    }
}

/// What a column becomes because it was said so, and not because of its heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnOrder {
    /// The column's heading, as it was typed.
    pub heading: String,
    /// What it becomes; nothing where it is left out.
    pub field: Option<ListField>,
}

impl ColumnOrder {
    /// Reads `Heading=field`, or `Heading=-`.
    ///
    /// # Errors
    /// A text without a sign of equality; a field that there is not, or that such a list does not have.
    pub fn read(said: &str, kind: ListKind) -> Result<Self, Refusal> {
        let refuse = |fault| Refusal::List(ListFault::Order(fault));
        let parts = said.rsplit_once('=');
        let (heading, field) = parts.ok_or_else(|| refuse(ColumnFault::NoPair(said.into())))?;
        let (heading, field) = (heading.to_owned(), field.trim());
        if field == "-" {
            return Ok(Self {
                heading,
                field: None,
            });
        }
        let meant = ListField::parse(field);
        let meant = meant.ok_or_else(|| refuse(ColumnFault::NoField(field.into())))?;
        match kind.fields().0.contains(&meant) {
            true => Ok(Self {
                heading,
                field: Some(meant),
            }),
            false => Err(refuse(ColumnFault::OfAnother(kind, meant))),
        }
    }
}
