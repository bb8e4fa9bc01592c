//! To write a recipe down, or to change one: what goes in, and what it is meant to do.

use super::field::{word, wrong};
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{Refusal, WordOf};
use crate::trade::amount::Measures;
use crate::trade::duration::{Unit, parse_stirring, show_exactly, show_stirring};
use crate::trade::range::{Window, parse_parts, parse_share};
use crate::trade::recipe::{LayerKind, Part, Target, Targets, Variant};
use crate::trade::units::{Minutes, Share};
use chrono::TimeDelta;

/// What a variant is meant to do; what is left out is as usual, or as it was.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct TargetsOrder {
    /// The mound it should have.
    pub window: Option<Window>,
    /// How long it rests.
    pub rest: Option<TimeDelta>,
    /// After how long it is looked at again.
    pub recheck_after: Option<TimeDelta>,
    /// How long it is stirred.
    pub stir: Option<Minutes>,
    /// The most thinner, as a share of its volume.
    pub limit: Option<Share>,
    /// What is as usual for its layer again.
    pub usual: Vec<Target>,
}

/// A recipe or a change of one.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RecipeOrder {
    /// Its parts; a change that names none keeps them.
    pub parts: Vec<Part>,
    /// Whether the shares are by weight; as before, or by volume, otherwise.
    pub by_weight: Option<bool>,
    /// What it is meant to do.
    pub targets: TargetsOrder,
    /// Anything else.
    pub note: Option<String>,
}

/// The fields of a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecipeField {
    /// Its name.
    Name,
    /// Where in the stack it goes.
    Layer,
    /// What a row's part is, the first row 0; its share stands beside it.
    Part(u8),
    /// How many of a row's part.
    Share(u8),
    /// A part with its share in one text: `White 2`; may be said several times.
    Parts,
    /// Whether the shares count volume or weight.
    Counted,
    /// The mound it should have.
    Mound,
    /// How long it rests.
    Rest,
    /// After how long it is looked at again.
    Recheck,
    /// How long it is stirred.
    Stir,
    /// The most thinner.
    Limit,
    /// What is as usual for its layer again; may be said several times.
    Usual,
    /// Anything else.
    Note,
}

impl RecipeField {
    /// How many rows of a part and its share a form may have.
    pub const ROWS: u8 = 12;
    /// Shares that count volume.
    pub const BY_VOLUME: &str = "by volume";
    /// Shares that count weight.
    pub const BY_WEIGHT: &str = "by weight";
    /// What a mixture is meant to do.
    pub const TARGETS: [Self; 5] = [
        Self::Mound,
        Self::Rest,
        Self::Recheck,
        Self::Stir,
        Self::Limit,
    ];

    /// What a form has in the field of a variant that is to be changed; empty where nothing is said of it.
    #[must_use]
    pub fn offer(self, of: &Variant) -> String {
        let Targets {
            window,
            rest,
            recheck_after,
            stir,
            limit,
        } = &of.targets;
        match self {
            Self::Counted if of.by_weight => Self::BY_WEIGHT.to_owned(),
            Self::Counted => Self::BY_VOLUME.to_owned(),
            Self::Mound => window.map(|one| one.to_string()).unwrap_or_default(),
            Self::Rest => show_exactly(*rest),
            Self::Recheck => show_exactly(*recheck_after),
            Self::Stir => stir.map(exact_stirring).unwrap_or_default(),
            Self::Limit => exact_share(*limit),
            Self::Name | Self::Layer | Self::Part(_) | Self::Share(_) => String::new(),
            Self::Parts | Self::Usual | Self::Note => String::new(),
        }
    }

    /// What is as usual again where the field is emptied.
    const fn target(self) -> Option<Target> {
        match self {
            Self::Mound => Some(Target::Mound),
            Self::Rest => Some(Target::Rest),
            Self::Recheck => Some(Target::Recheck),
            Self::Stir => Some(Target::Stir),
            Self::Limit => Some(Target::Limit),
            Self::Name | Self::Layer | Self::Part(_) | Self::Share(_) | Self::Parts => None,
            Self::Counted | Self::Usual | Self::Note => None,
        }
    }
}

/// A share as it is read again: in per cent where that says it, else as it is.
fn exact_share(share: Share) -> String {
    let percent = format!("{}%", (share.get() * 1e4).round() / 1e2);
    match parse_share(&percent) {
        Ok(read) if read == share => percent,
        _ => share.get().to_string(),
    }
}

/// A time of stirring as it is read again.
fn exact_stirring(time: Minutes) -> String {
    let shown = show_stirring(time);
    match parse_stirring(&shown) {
        Ok(read) if read == time => shown,
        _ => show_exactly(TimeDelta::milliseconds(
            (time.get() * 60_000.0).round() as i64
        )),
    }
}

/// What the rows of a form are called.
const LABELS: [(&str, &str); RecipeField::ROWS as usize] = [
    ("part 1", "share 1"),
    ("part 2", "share 2"),
    ("part 3", "share 3"),
    ("part 4", "share 4"),
    ("part 5", "share 5"),
    ("part 6", "share 6"),
    ("part 7", "share 7"),
    ("part 8", "share 8"),
    ("part 9", "share 9"),
    ("part 10", "share 10"),
    ("part 11", "share 11"),
    ("part 12", "share 12"),
];

fn labels(row: u8) -> (&'static str, &'static str) {
    let labels = LABELS.get(usize::from(row)).copied();
    labels.unwrap_or(("part", "share"))
}

impl Field for RecipeField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Recipe(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Layer => "layer",
            Self::Part(row) => labels(row).0,
            Self::Share(row) => labels(row).1,
            Self::Parts => "part",
            Self::Counted => "shares",
            Self::Mound => "mound",
            Self::Rest => "rest",
            Self::Recheck => "look again",
            Self::Stir => "stir",
            Self::Limit => "thinner",
            Self::Usual => "usual",
            Self::Note => "note",
        }
    }

    fn hint(self, _: Measures) -> Hint {
        Hint::Says(match self {
            Self::Name => "what you call this mixture",
            Self::Layer => "where in the stack it goes",
            Self::Part(_) => "a material or a recipe; empty for none",
            Self::Share(_) => "how many parts of it: 2",
            Self::Parts => "a part and how many of it: White 2",
            Self::Counted => "what the shares count",
            Self::Mound => "2..3 seconds; empty as usual for its layer",
            Self::Rest => "12 h; empty as usual for its layer",
            Self::Recheck => "60 min to the next look; empty as usual",
            Self::Stir => "4 min, if you time it",
            Self::Limit => "25 %: the most a cup may get; empty as usual",
            Self::Usual => "what is as usual for its layer again",
            Self::Note => "what was changed, or anything",
        })
    }
}

impl RecipeOrder {
    /// Reads what was typed.
    ///
    /// # Errors
    /// The first field that cannot be read.
    pub fn read(typed: &Typed<RecipeField>, given: &Given<'_>) -> Result<Self, Wrong> {
        Ok(Self {
            parts: parts(typed, given)?,
            by_weight: typed.read(RecipeField::Counted, by_weight)?,
            targets: targets(typed, given)?,
            note: typed.note(RecipeField::Note),
        })
    }

    /// As [`RecipeOrder::read`], of a new recipe, beside its name and its layer.
    ///
    /// # Errors
    /// As there, and where there is no name, no layer or no part.
    pub fn new(
        typed: &Typed<RecipeField>,
        given: &Given<'_>,
    ) -> Result<(String, LayerKind, Self), Wrong> {
        let needed = |field: RecipeField| Refusal::Needed(field.label());
        let name = typed.text(RecipeField::Name).map(str::to_owned);
        let name = name.ok_or_else(|| wrong(RecipeField::Name, needed(RecipeField::Name)))?;
        let missing = needed(RecipeField::Layer);
        let layer = typed.need(RecipeField::Layer, missing, layer)?;
        Ok((name, layer, Self::read(typed, given)?.with_parts()?))
    }

    /// Reads a form in which what a variant is meant to do stood: what stands there still is not written again,
    /// rounded as it was shown; what was emptied is as usual again.
    ///
    /// # Errors
    /// As [`RecipeOrder::read`], and where no part is left.
    pub fn edited(
        mut typed: Typed<RecipeField>,
        given: &Given<'_>,
        before: &Variant,
    ) -> Result<Self, Wrong> {
        for field in RecipeField::TARGETS {
            let emptied = typed.leave_out(field, &field.offer(before));
            if let Some(target) = field.target().filter(|_| emptied) {
                typed = typed.with(RecipeField::Usual, target.to_string());
            }
        }
        Self::read(&typed, given)?.with_parts()
    }

    fn with_parts(self) -> Result<Self, Wrong> {
        match self.parts.is_empty() {
            true => Err(wrong(RecipeField::Part(0), Refusal::NoParts)),
            false => Ok(self),
        }
    }

    /// What can be read of the rows of parts so far, by the names that stand there.
    #[must_use]
    pub fn parts_so_far(typed: &Typed<RecipeField>) -> Vec<(String, f64)> {
        let row = |row| {
            let share = parse_parts(typed.text(RecipeField::Share(row))?).ok()?;
            Some((typed.note(RecipeField::Part(row))?, share))
        };
        (0..RecipeField::ROWS).filter_map(row).collect()
    }
}

fn targets(typed: &Typed<RecipeField>, given: &Given<'_>) -> Result<TargetsOrder, Wrong> {
    let usual = typed.all(RecipeField::Usual).map(target);
    let usual = usual.collect::<Result<_, _>>();
    Ok(TargetsOrder {
        window: typed.read(RecipeField::Mound, Window::parse)?,
        rest: typed.read(RecipeField::Rest, |text| given.time(text, Unit::Hour))?,
        recheck_after: typed.read(RecipeField::Recheck, |text| given.time(text, Unit::Minute))?,
        stir: typed.read(RecipeField::Stir, parse_stirring)?,
        limit: typed.read(RecipeField::Limit, parse_share)?,
        usual: usual.map_err(|why| wrong(RecipeField::Usual, why))?,
    })
}

fn parts(typed: &Typed<RecipeField>, given: &Given<'_>) -> Result<Vec<Part>, Wrong> {
    let said = given.known.parts(typed.all(RecipeField::Parts));
    let mut parts = said.map_err(|why| wrong(RecipeField::Parts, why))?;
    for row in 0..RecipeField::ROWS {
        parts.extend(row_part(typed, given, row)?);
    }
    Ok(parts)
}

/// The part of a row; `None` where the row is empty.
fn row_part(typed: &Typed<RecipeField>, given: &Given<'_>, row: u8) -> Result<Option<Part>, Wrong> {
    let (name, count) = (RecipeField::Part(row), RecipeField::Share(row));
    let of = typed.read(name, |text| given.known.part(text))?;
    let share = typed.read(count, parse_parts)?;
    match (of, share) {
        (Some(of), Some(share)) => Ok(Some(Part { of, share })),
        (None, None) => Ok(None),
        (None, Some(_)) => Err(wrong(name, Refusal::Needed(name.label()))),
        (Some(_), None) => {
            let said = typed.note(name).unwrap_or_default();
            Err(wrong(count, Refusal::BadPart(said)))
        }
    }
}

/// `White 2`: a name, and how many parts of it.
///
/// # Errors
/// No share at the end, or one that is no number above nothing.
pub(in crate::studio) fn split_part(text: &str) -> Result<(&str, f64), Refusal> {
    let bad = || Refusal::BadPart(text.to_owned());
    let (name, share) = text
        .trim()
        .rsplit_once(char::is_whitespace)
        .ok_or_else(bad)?;
    match parse_parts(share) {
        Ok(share) => Ok((name, share)),
        Err(problem) if share.contains(|c: char| c.is_ascii_digit()) => Err(problem.into()),
        Err(_) => Err(bad()),
    }
}

fn by_weight(text: &str) -> Result<bool, Refusal> {
    match text.trim() {
        RecipeField::BY_WEIGHT => Ok(true),
        RecipeField::BY_VOLUME => Ok(false),
        said => Err(Refusal::Word {
            of: WordOf::Counting,
            said: said.to_owned(),
        }),
    }
}

pub(super) fn layer(text: &str) -> Result<LayerKind, Refusal> {
    word(WordOf::Layer, text, LayerKind::parse)
}

fn target(text: &str) -> Result<Target, Refusal> {
    word(WordOf::Target, text, Target::parse)
}
