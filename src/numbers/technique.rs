//! How much paint a panel takes: area, edges and wet film; and what dries of it.
//!
//! The wet film of a pour is common practice, no source: 1 US fl oz for each 25 square inches of everything that gets
//! painted, which is 1.83 mm. Volume is area times film; spreading and dry film follow from the volume solids
//! (ISO 3233 and ASTM D2697 measure those; named from memory). Valid for films of 0.05 to 10 mm.

use crate::trade::plan::Panels;
use crate::trade::recipe::LayerKind;
use crate::trade::units::{
    INCH, Millilitres, Millimetres, Share, SquareMillimetres, US_FLUID_OUNCE,
};

/// Why no volume can be told.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FilmProblem {
    /// A film that no pour has.
    #[error("a film of {0} mm is no pour: 0.05 to 10 mm holds")]
    Film(f64),
    /// More panels, or deeper edges, than a plan is for.
    #[error("1 to 1000 panels with edges of 0 to 200 mm can be planned")]
    Panels,
}

/// The wet film of a pour (common practice, no source): 1 US fl oz for each 25 square inches.
#[must_use]
pub fn usual_film() -> Millimetres {
    let square_inch = INCH.get() * INCH.get();
    Millimetres(US_FLUID_OUNCE.get() * 1000.0 / (25.0 * square_inch))
}

/// Everything that gets painted: the tops, and the edges as deep as they are painted.
#[must_use]
pub fn painted_area(panels: &Panels) -> SquareMillimetres {
    let one = panels.panel.area().get() + panels.panel.perimeter().get() * panels.edge.get();
    SquareMillimetres(one * f64::from(panels.count))
}

/// The volume of a wet film over everything that gets painted.
///
/// # Errors
/// [`FilmProblem`] outside 0.05 to 10 mm of film, 1 to 1000 panels, 0 to 200 mm of edge.
pub fn volume(panels: &Panels, film: Millimetres) -> Result<Millilitres, FilmProblem> {
    if !(0.05..=10.0).contains(&film.get()) {
        return Err(FilmProblem::Film(film.get()));
    }
    if !(1..=1000).contains(&panels.count) || !(0.0..=200.0).contains(&panels.edge.get()) {
        return Err(FilmProblem::Panels);
    }
    Ok(Millilitres(
        painted_area(panels).get() * film.get() / 1000.0,
    ))
}

/// The film a volume makes over everything that gets painted.
#[must_use]
pub fn film_of(panels: &Panels, volume: Millilitres) -> Millimetres {
    Millimetres(volume.get() * 1000.0 / painted_area(panels).get())
}

/// The dry film of a wet one: thinned by a fraction of the paint's volume, its solids are spread the thinner.
#[must_use]
pub fn dry_film(wet: Millimetres, solids: Share, thinned: Share) -> Millimetres {
    wet * (solids.get() / (1.0 + thinned.get()))
}

/// How a pour's volume is shared between base, colours and activator, from 0 to 1 each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// The lowest coat.
    pub base: Share,
    /// All colours together.
    pub colours: Share,
    /// The top coat that opens the cells.
    pub activator: Share,
}

impl Split {
    /// The usual split (our own choice, no source): half of it base, two fifths colours, a tenth activator.
    #[must_use]
    pub const fn usual() -> Self {
        Self {
            base: Share(0.5),
            colours: Share(0.4),
            activator: Share(0.1),
        }
    }

    /// The share of one kind of layer; a medium has none of its own.
    #[must_use]
    pub const fn of(&self, layer: LayerKind) -> Share {
        match layer {
            LayerKind::Base => self.base,
            LayerKind::Colour => self.colours,
            LayerKind::Activator => self.activator,
            LayerKind::Medium => Share(0.0),
        }
    }
}

/// What one pour of a technique took: its film and how it was shared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taken {
    /// Its whole wet film.
    pub film: Millimetres,
    /// Its split.
    pub split: Split,
}

/// From how many pours of a technique on its own medians are taken.
pub const POURS_NEEDED: usize = 3;

/// The medians of a technique's own pours; `None` below [`POURS_NEEDED`] of them.
#[must_use]
pub fn own_medians(pours: &[Taken]) -> Option<Taken> {
    if pours.len() < POURS_NEEDED {
        return None;
    }
    let median = |of: fn(&Taken) -> f64| {
        let mut all: Vec<f64> = pours.iter().map(of).collect();
        all.sort_by(f64::total_cmp);
        (all[(all.len() - 1) / 2] + all[all.len() / 2]) / 2.0
    };
    let (base, colours) = (
        median(|one| one.split.base.get()),
        median(|one| one.split.colours.get()),
    );
    let activator = median(|one| one.split.activator.get());
    let whole = base + colours + activator;
    let share = |part: f64| {
        if whole > 0.0 {
            Share(part / whole)
        } else {
            Share(0.0)
        }
    };
    let split = Split {
        base: share(base),
        colours: share(colours),
        activator: share(activator),
    };
    Some(Taken {
        film: Millimetres(median(|one| one.film.get())),
        split,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::panel::Panel;

    fn panels(text: &str, count: u32, edge: f64) -> Panels {
        Panels {
            panel: Panel::parse(text).unwrap(),
            count,
            edge: Millimetres(edge),
        }
    }

    #[test]
    fn one_ounce_for_25_square_inches_is_1_83_mm() {
        assert!((usual_film().get() - 1.833).abs() < 1e-3);
        let ml = volume(&panels("5x5in", 1, 0.0), usual_film()).unwrap();
        assert!((ml.get() - US_FLUID_OUNCE.get()).abs() < 1e-9);
    }

    // Computed from V[ml] = L[cm] W[cm] film[mm] / 10.
    #[test]
    fn thirty_by_forty_at_one_millimetre_is_120_ml() {
        let ml = volume(&panels("30x40cm", 1, 0.0), Millimetres(1.0)).unwrap();
        assert!((ml.get() - 120.0).abs() < 1e-9);
    }

    // Handbook example, read at second hand: 8 mil wet of 35 % solids dries to 2.8 mil; thinned by a tenth, 31.8 %.
    #[test]
    fn dry_film_is_wet_film_times_solids() {
        let dry = dry_film(Millimetres(8.0), Share(0.35), Share(0.0));
        assert!((dry.get() - 2.8).abs() < 1e-12);
        let thinned = dry_film(Millimetres(1.0), Share(0.35), Share(0.10));
        assert!((thinned.get() - 35.0 / 110.0).abs() < 1e-12);
    }

    #[test]
    fn edges_and_count_add_up() {
        let area = painted_area(&panels("40x50cm", 2, 20.0));
        assert!((area.get() - 2.0 * (400.0 * 500.0 + 1800.0 * 20.0)).abs() < 1e-6);
    }

    #[test]
    fn outside_its_range_there_is_no_number() {
        assert_eq!(
            volume(&panels("40x50cm", 1, 0.0), Millimetres(11.0)),
            Err(FilmProblem::Film(11.0))
        );
        assert_eq!(
            volume(&panels("40x50cm", 0, 0.0), Millimetres(1.0)),
            Err(FilmProblem::Panels)
        );
        assert!(volume(&panels("40x50cm", 1, 0.0), Millimetres(f64::NAN)).is_err());
    }

    #[test]
    fn two_pours_are_practice_and_three_are_ones_own() {
        let one = Taken {
            film: Millimetres(1.0),
            split: Split::usual(),
        };
        let thick = Taken {
            film: Millimetres(3.0),
            ..one
        };
        assert_eq!(own_medians(&[one, thick]), None);
        assert_eq!(
            own_medians(&[one, thick, one]).unwrap().film,
            Millimetres(1.0)
        );
    }
}
