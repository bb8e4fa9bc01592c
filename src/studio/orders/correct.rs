//! To put a pour right afterwards: what it was poured on, how, how much of each cup, what was done with the panel.

use super::field::wrong;
use super::puts::fits;
use super::{Field, Given, Hint, Typed, Wrong};
use crate::studio::{PourPage, Refusal};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move};
use crate::trade::units::Millilitres;

/// What a pour really was; what is left out stays as it is.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CorrectOrder {
    /// On what.
    pub panel: Option<Panel>,
    /// How much of the layer at each of these places, from 0, the lowest.
    pub layers: Vec<(usize, Millilitres)>,
    /// The technique; an inner `None` takes it away, so of the two below.
    pub way: Option<Option<String>>,
    /// The air of the room.
    pub air: Option<Option<Air>>,
    /// Anything else.
    pub note: Option<Option<String>>,
    /// All that was done with the panel, in place of what is written down.
    pub moves: Option<Vec<Move>>,
    /// What was done with the panel beside what is written down.
    pub more_moves: Vec<Move>,
    /// Whether more really came out of a cup than was thought to be in it.
    pub even_so: bool,
}

/// The fields of putting a pour right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CorrectField {
    /// On what.
    Panel,
    /// The technique.
    Way,
    /// How much of which cup: `K7 120 ml, A3 10 ml`.
    Layers,
    /// What was done with the panel: `spin right 1, tilt left`.
    Moves,
    /// The air of the room.
    Air,
    /// Anything else.
    Note,
}

impl Field for CorrectField {
    fn of(any: super::AnyField) -> Option<Self> {
        match any {
            super::AnyField::Correct(field) => Some(field),
            _ => None,
        }
    }

    fn label(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Way => "technique",
            Self::Layers => "layers",
            Self::Moves => "moves",
            Self::Air => "air",
            Self::Note => "note",
        }
    }

    fn hint(self, measures: Measures) -> Hint {
        match (self, measures) {
            (Self::Panel, Measures::Metric) => Hint::SuchAs("40x50cm"),
            (Self::Panel, Measures::UsCustomary) => Hint::SuchAs("16x20in"),
            (Self::Way, _) => Hint::Says("the technique, in your words; empty takes it away"),
            (Self::Layers, Measures::Metric) => Hint::SuchAs("K7 120 ml, A3 10 ml"),
            (Self::Layers, Measures::UsCustomary) => Hint::SuchAs("K7 4 fl oz, A3 1/2 fl oz"),
            (Self::Moves, _) => {
                Hint::Says("all of them, as spin right 1, tilt left; empty takes them away")
            }
            (Self::Air, Measures::Metric) => Hint::SuchAs("21C,45%"),
            (Self::Air, Measures::UsCustomary) => Hint::SuchAs("70F,45%"),
            (Self::Note, _) => Hint::Says("anything; empty takes it away"),
        }
    }
}

impl CorrectField {
    /// Reads what was typed of a pour. In a form every field is said, an empty one too; a command leaves out what stays.
    ///
    /// # Errors
    /// The first field that cannot be read.
    pub fn order(
        typed: &Typed<Self>,
        whole: bool,
        page: &PourPage,
        given: &Given<'_>,
    ) -> Result<CorrectOrder, Wrong> {
        let said = |field| whole || typed.text(field).is_some();
        let layers = typed.all(Self::Layers);
        let layers = layers.map(|text| self::layers(text, page, given));
        let layers = layers.collect::<Result<Vec<_>, _>>();
        let layers = layers.map_err(|why| wrong(Self::Layers, why))?.concat();
        let left_out =
            (0..page.layers.len()).find(|nth| layers.iter().all(|(place, _)| place != nth));
        if let Some(left_out) = left_out.filter(|_| whole && !layers.is_empty()) {
            let mark = page.layers[left_out].mark.clone();
            return Err(wrong(Self::Layers, Refusal::LayerStays(page.pour.id, mark)));
        }
        let moves = typed.read(Self::Moves, Move::parse_all)?;
        let air = typed.read(Self::Air, |text| given.air(text))?;
        Ok(CorrectOrder {
            panel: typed.read(Self::Panel, |text| given.panel(text))?,
            layers,
            way: said(Self::Way).then(|| typed.note(Self::Way)),
            air: said(Self::Air).then_some(air),
            note: said(Self::Note).then(|| typed.note(Self::Note)),
            moves: said(Self::Moves).then(|| moves.unwrap_or_default()),
            ..CorrectOrder::default()
        })
    }
}

/// The only layer, of those not said yet, that an amount without a mark is about as much as.
fn alone(
    said: &str,
    ml: Millilitres,
    found: &[(usize, Millilitres)],
    page: &PourPage,
    given: &Given<'_>,
) -> Result<usize, Refusal> {
    let open = page.pour.layers.iter().enumerate();
    let open = open.filter(|(place, _)| found.iter().all(|(one, _)| one != place));
    let open: Vec<_> = open.map(|(place, layer)| (place, layer.ml)).collect();
    let fitting = open
        .iter()
        .filter(|(_, was)| open.len() == 1 || fits(ml, *was));
    if let [(place, _)] = fitting.collect::<Vec<_>>().as_slice() {
        return Ok(*place);
    }
    let measures = given.known.measures();
    let named = |(place, was): &(usize, Millilitres)| {
        let mark = page.layers.get(*place).map(|layer| layer.mark.as_str());
        format!(
            "{} {}",
            mark.unwrap_or_default(),
            show_volume(*was, measures)
        )
    };
    Err(Refusal::WhichPart(
        said.to_owned(),
        open.iter().map(named).collect(),
    ))
}

/// `K7 120 ml, A3 10 ml`, or `120 ml` of the one that it fits: a mark that lies in the pour twice is meant from the lowest on.
fn layers(
    text: &str,
    page: &PourPage,
    given: &Given<'_>,
) -> Result<Vec<(usize, Millilitres)>, Refusal> {
    let mut found: Vec<(usize, Millilitres)> = Vec::new();
    for part in text
        .split(',')
        .map(str::trim)
        .filter(|part| !part.is_empty())
    {
        if let Ok(ml) = given.volume(part, None) {
            found.push((alone(part, ml, &found, page, given)?, ml));
            continue;
        }
        let (mark, amount) = part
            .split_once([' ', ':'])
            .ok_or_else(|| Refusal::NotInPour(page.pour.id, part.to_owned()))?;
        let taken = |place: usize| found.iter().any(|(one, _)| *one == place);
        let place =
            page.layers.iter().enumerate().find(|(place, layer)| {
                layer.mark.eq_ignore_ascii_case(mark.trim()) && !taken(*place)
            });
        let (place, _) = place.ok_or_else(|| Refusal::NotInPour(page.pour.id, mark.to_owned()))?;
        found.push((place, given.volume(amount, None)?));
    }
    Ok(found)
}
