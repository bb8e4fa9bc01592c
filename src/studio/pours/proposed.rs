//! How much of each cup a panel takes: the plan's film and split, for cups that stand already.

use crate::numbers::film;
use crate::studio::cups::bench::CupStatus;
use crate::studio::plans::{chosen, plan};
use crate::studio::pours::own_pours::OwnPours;
use crate::studio::{Answer, Studio};
use crate::trade::panel::Panel;
use crate::trade::plan::Panels;
use crate::trade::units::{Millilitres, Millimetres, Share};

impl Studio {
    /// How much of each cup to pour on a panel, no more than it holds; as much as the plan would mix for its layer.
    ///
    /// # Errors
    /// Where the store cannot be read, or the panel has no area.
    pub fn proposed(
        &self,
        panel: Panel,
        way: Option<&str>,
        cups: &[CupStatus],
    ) -> Answer<Vec<Millilitres>> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let own = OwnPours::read(&read, &learned.mixture, way)?;
        let (split, _) = plan::split(way, &own);
        let panels = Panels {
            panel,
            count: 1,
            edge: Millimetres::ZERO,
        };
        let film = own.film().unwrap_or_else(film::practice_film).band.mid;
        let area = film::painted_area(&panels)?;
        let total = film::volume(area, film, Share(0.0))?;
        let layers: Vec<_> = cups.iter().map(|cup| cup.recipe.layer).collect();
        let shares = chosen::shares(&layers, &split);
        Ok(std::iter::zip(cups, shares)
            .map(|(cup, share)| (total * share.get()).stored().min(cup.life.left))
            .collect())
    }
}
