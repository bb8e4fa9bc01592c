//! Two pictures side by side: what was the same, and what was not.

use crate::logbook::Reader;
use crate::studio::pours::as_poured::{self, AsPoured};
use crate::studio::{Answer, PourPage, Refusal, Studio, VariantRef};
use crate::trade::judgement::{CellSize, Judgement};
use crate::trade::life::State;
use crate::trade::panel::Panel;
use crate::trade::pour::{Move, PouredLayer};
use crate::trade::units::{Celsius, Hours, Millilitres, Millimetres, Seconds, Share};
use std::collections::HashMap;

/// Two pictures side by side.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// The one that was asked for.
    pub left: PourPage,
    /// What it is held against.
    pub right: PourPage,
    /// Whether the one makes the other once more.
    pub repeats: bool,
    /// What they had, one aspect a line.
    pub lines: Vec<Compared>,
}

/// One aspect of two pictures.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// Which.
    pub aspect: Aspect,
    /// What the left one had; `None` where it is not known.
    pub left: Option<Had>,
    /// What the right one had.
    pub right: Option<Had>,
}

/// What of a picture is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aspect {
    /// What it was poured on.
    Panel,
    /// The technique.
    Way,
    /// The whole wet film on the top.
    Film,
    /// The variant of the layer of a number, the lowest 1; so of the next five.
    Layer(usize),
    /// How much of it.
    Amount(usize),
    /// Its cup's mound.
    Mound(usize),
    /// How long its cup had stood.
    Stood(usize),
    /// Its cup's thinner after mixing.
    Thinned(usize),
    /// What its cup was.
    State(usize),
    /// The room's temperature.
    Heat,
    /// The room's humidity.
    Damp,
    /// What was done with the panel.
    Moves,
    /// The cells, 0 to 5.
    Cells,
    /// Their size.
    Size,
    /// How even they are, 0 to 5.
    Evenness,
    /// Lacing, 0 to 5.
    Lacing,
    /// Muddiness, 0 to 5.
    Muddy,
    /// Crazing, 0 to 5.
    Crazed,
    /// Pinholes, 0 to 5.
    Pinholes,
}

impl Aspect {
    /// The number of the layer that it is of, the lowest 1.
    #[must_use]
    pub const fn layer(self) -> Option<usize> {
        match self {
            Self::Layer(number)
            | Self::Amount(number)
            | Self::Mound(number)
            | Self::Stood(number)
            | Self::Thinned(number)
            | Self::State(number) => Some(number),
            _ => None,
        }
    }
}

/// What a picture had of an aspect.
#[derive(Debug, Clone, PartialEq)]
pub enum Had {
    /// A panel.
    Panel(Panel),
    /// The painter's words.
    Words(String),
    /// A film.
    Film(Millimetres),
    /// A variant.
    Variant(VariantRef),
    /// An amount, and the film that it makes.
    Amount(Millilitres, Millimetres),
    /// A mound.
    Mound(Seconds),
    /// A time.
    Time(Hours),
    /// A share.
    Share(Share),
    /// What a cup was.
    State(State),
    /// A temperature.
    Heat(Celsius),
    /// Moves in order.
    Moves(Vec<Move>),
    /// A grade from 0 to 5.
    Grade(u8),
    /// The size of cells.
    Size(CellSize),
}

impl Compared {
    /// Whether both had the same, as well as it can be measured at a bench: a tenth of a film or an amount, a fifth of a
    /// second, half an hour, a degree, five per cent of damp (ours); `None` where one of them is not known.
    #[must_use]
    pub fn same(&self) -> Option<bool> {
        let (left, right) = self.left.as_ref().zip(self.right.as_ref())?;
        Some(same(left, right))
    }
}

fn same(left: &Had, right: &Had) -> bool {
    let near = |left: f64, right: f64, by: f64| (left - right).abs() <= by + 1e-9;
    let tenth = |left: f64, right: f64| near(left, right, left.abs().max(right.abs()) / 10.0);
    match (left, right) {
        (Had::Film(left), Had::Film(right)) | (Had::Amount(_, left), Had::Amount(_, right)) => {
            tenth(left.get(), right.get())
        }
        (Had::Mound(left), Had::Mound(right)) => near(left.get(), right.get(), 0.2),
        (Had::Time(left), Had::Time(right)) => near(left.get(), right.get(), 0.5),
        (Had::Share(left), Had::Share(right)) => near(left.get(), right.get(), 0.05),
        (Had::Heat(left), Had::Heat(right)) => near(left.get(), right.get(), 1.0),
        (Had::Variant(left), Had::Variant(right)) => left.id == right.id,
        (Had::Words(left), Had::Words(right)) => left.trim().eq_ignore_ascii_case(right.trim()),
        _ => left == right,
    }
}

impl Studio {
    /// Two pictures side by side; the second is the one that the first makes once more, where none is named.
    ///
    /// # Errors
    /// Where there is no such pour, none is named and the first repeats none, or the store cannot be read.
    pub fn compare(&self, left: i64, right: Option<i64>) -> Answer<Comparison> {
        let page = self.pour_page(left)?;
        let repeated = self.repeats(left)?;
        let other = right.or(repeated).ok_or(Refusal::RepeatsNone(left))?;
        let other = self.pour_page(other)?;
        let lines = lines(&self.book.read()?, &page, &other)?;
        Ok(Comparison {
            repeats: repeated == Some(other.pour.id),
            left: page,
            right: other,
            lines,
        })
    }

    /// Which pours make which once more.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn all_repeats(&self) -> Answer<HashMap<i64, i64>> {
        Ok(self.book.read()?.repeats()?)
    }

    /// Which pour a pour makes once more, by the plan that its cups were mixed for.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn repeats(&self, pour: i64) -> Answer<Option<i64>> {
        Ok(self.book.read()?.repeated_by(pour)?)
    }
}

fn lines(read: &Reader<'_>, left: &PourPage, right: &PourPage) -> Answer<Vec<Compared>> {
    let mut lines = vec![
        both(Aspect::Panel, [left, right], |page| {
            Some(Had::Panel(page.pour.panel))
        }),
        both(Aspect::Way, [left, right], |page| {
            page.pour.way.clone().map(Had::Words)
        }),
        both(Aspect::Film, [left, right], |page| {
            Some(Had::Film(film(page)))
        }),
    ];
    lines.extend(layers(read, left, right)?);
    let air = |page: &PourPage| page.pour.air;
    lines.extend([
        both(Aspect::Heat, [left, right], |page| {
            air(page)?.celsius.map(Had::Heat)
        }),
        both(Aspect::Damp, [left, right], |page| {
            air(page)?.humidity.map(Had::Share)
        }),
        both(Aspect::Moves, [left, right], |page| {
            let moves = page.pour.moves.iter();
            Some(Had::Moves(moves.map(Move::untimed).collect()))
        }),
    ]);
    lines.extend(grades([left, right]));
    lines.retain(|line| line.left.is_some() || line.right.is_some());
    Ok(lines)
}

fn both(aspect: Aspect, pages: [&PourPage; 2], had: impl Fn(&PourPage) -> Option<Had>) -> Compared {
    let [left, right] = pages.map(had);
    Compared {
        aspect,
        left,
        right,
    }
}

fn film(page: &PourPage) -> Millimetres {
    let all = page.pour.layers.iter().map(|layer| layer.ml).sum();
    page.pour.panel.film(all)
}

/// What one picture had of a layer.
struct Layer<'a> {
    panel: Panel,
    variant: &'a VariantRef,
    poured: &'a PouredLayer,
    was: Option<&'a AsPoured>,
}

fn layers(read: &Reader<'_>, left: &PourPage, right: &PourPage) -> Answer<Vec<Compared>> {
    let was = [left, right].map(|page| as_poured::layers(read, &page.pour));
    let [left_was, right_was] = was;
    let was = [left_was?, right_was?];
    let count = left.layers.len().max(right.layers.len());
    let of = |page: usize, place: usize| {
        let (page, was) = ([left, right][page], &was[page]);
        Some(Layer {
            panel: page.pour.panel,
            variant: &page.layers.get(place)?.variant,
            poured: page.pour.layers.get(place)?,
            was: was.get(place).and_then(Option::as_ref),
        })
    };
    let lines = (0..count).flat_map(|place| layer(place + 1, [of(0, place), of(1, place)]));
    Ok(lines.collect())
}

fn layer(number: usize, layers: [Option<Layer<'_>>; 2]) -> Vec<Compared> {
    let line = |aspect: fn(usize) -> Aspect, had: &dyn Fn(&Layer<'_>) -> Option<Had>| {
        let [left, right] = &layers;
        Compared {
            aspect: aspect(number),
            left: left.as_ref().and_then(had),
            right: right.as_ref().and_then(had),
        }
    };
    vec![
        line(Aspect::Layer, &|one| {
            Some(Had::Variant(one.variant.clone()))
        }),
        line(Aspect::Amount, &|one| {
            Some(Had::Amount(one.poured.ml, one.panel.film(one.poured.ml)))
        }),
        line(Aspect::Mound, &|one| one.poured.mound.map(Had::Mound)),
        line(Aspect::Stood, &|one| Some(Had::Time(one.was?.stood))),
        line(Aspect::Thinned, &|one| Some(Had::Share(one.was?.thinned))),
        line(Aspect::State, &|one| Some(Had::State(one.poured.state))),
    ]
}

type Grade = fn(&Judgement) -> Option<Had>;

const GRADES: [(Aspect, Grade); 7] = [
    (Aspect::Cells, |one| Some(Had::Grade(one.cells))),
    (Aspect::Size, |one| one.size.map(Had::Size)),
    (Aspect::Evenness, |one| one.evenness.map(Had::Grade)),
    (Aspect::Lacing, |one| one.lacing.map(Had::Grade)),
    (Aspect::Muddy, |one| one.muddy.map(Had::Grade)),
    (Aspect::Crazed, |one| one.crazed.map(Had::Grade)),
    (Aspect::Pinholes, |one| one.pinholes.map(Had::Grade)),
];

/// By the judgements that count.
fn grades(pages: [&PourPage; 2]) -> impl Iterator<Item = Compared> {
    GRADES
        .into_iter()
        .map(move |(aspect, grade)| both(aspect, pages, |page| page.counting().and_then(grade)))
}
