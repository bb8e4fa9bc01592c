//! Filling a cup: where each part of it comes from, a cup that stands or the shelf, and what goes in of what.

use crate::logbook::Reader;
use crate::studio::cups::bottles::Bottles;
use crate::studio::cups::mix::MixPart;
use crate::studio::cups::mixture::{Mixture, add_put};
use crate::studio::orders::{FilledFrom, MixOrder};
use crate::studio::{Answer, Note, Refusal};
use crate::trade::cup::{Cup, Put, PutFrom};
use crate::trade::recipe::PartOf;
use crate::trade::units::Millilitres;

/// A cup that is being filled.
pub(crate) struct Filling<'a> {
    mixture: &'a Mixture,
    bottles: Bottles,
    named: Option<Cup>,
    asked_for_shelf: bool,
    /// What goes in, a line for each place that it comes from.
    pub(crate) lines: Vec<MixPart>,
    /// What goes in, of materials and cups.
    pub(crate) puts: Vec<Put>,
    /// What is taken out of which cup.
    pub(crate) drawn: Vec<(Cup, Millilitres)>,
    /// What is to be known of it.
    pub(crate) notes: Vec<Note>,
}

impl<'a> Filling<'a> {
    /// All the paint of a plan, beside the cups that its parts can be drawn from.
    pub(crate) fn planned(
        read: &Reader<'_>,
        mixture: &'a Mixture,
        parts: &[(PartOf, Millilitres)],
    ) -> Answer<Self> {
        let of = parts.iter().map(|(of, _)| *of);
        let bottles = Bottles::read(read, mixture, of, None)?;
        let mut all = Self::beside(mixture, bottles);
        for &(of, ml) in parts {
            all.fill(of, ml)?;
        }
        Ok(all)
    }

    fn beside(mixture: &'a Mixture, bottles: Bottles) -> Self {
        Self {
            mixture,
            bottles,
            named: None,
            asked_for_shelf: false,
            lines: Vec::new(),
            puts: Vec::new(),
            drawn: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// An empty cup, beside the cups that its parts can be drawn from.
    pub(crate) fn read(
        read: &Reader<'_>,
        mixture: &'a Mixture,
        parts: &[(PartOf, Millilitres)],
        named: Option<Cup>,
        order: &MixOrder,
    ) -> Answer<Self> {
        let parts = parts.iter().map(|(of, _)| *of);
        let asked_for_shelf = order.from == FilledFrom::Shelf;
        let bottles = match asked_for_shelf {
            true => Bottles::default(),
            false => Bottles::read(read, mixture, parts, order.at)?,
        };
        let named_id = named.as_ref().map_or(0, |cup| cup.id);
        Ok(Self {
            mixture,
            named,
            asked_for_shelf,
            ..Self::beside(mixture, bottles.without(named_id))
        })
    }

    /// Puts so much of a part in.
    pub(crate) fn fill(&mut self, of: PartOf, ml: Millilitres) -> Answer<()> {
        let PartOf::Recipe(recipe) = of else {
            self.lines.push(self.mixture.line(of, ml));
            return self.mixture.expand(of, ml, &mut self.puts);
        };
        if let Some(cup) = self.named.clone()
            && self.mixture.recipe_of(&cup) == Some(recipe)
        {
            self.draw_line(of, cup, ml);
            return Ok(());
        }
        let (taken, lacks) = self.bottles.take(recipe, ml);
        self.say_where(of, ml, &taken, lacks);
        for (cup, ml) in taken {
            self.draw_line(of, cup, ml);
        }
        if lacks.is_nothing() {
            return Ok(());
        }
        let apart = true;
        let line = self.mixture.line(of, lacks);
        self.lines.push(MixPart { apart, ..line });
        self.take_apart(recipe, lacks)
    }

    /// Takes a mixture's parts from the shelf; what they are made of themselves comes from the cups of it that stand.
    fn take_apart(&mut self, recipe: i64, ml: Millilitres) -> Answer<()> {
        let variant = self.mixture.newest(recipe).ok_or(Refusal::NoParts)?;
        for (of, ml) in self.mixture.volumes(variant, ml)? {
            let PartOf::Recipe(recipe) = of else {
                self.mixture.expand(of, ml, &mut self.puts)?;
                continue;
            };
            let (taken, lacks) = self.bottles.take(recipe, ml);
            for (cup, ml) in taken {
                self.notes.push(Note::BottleWithin {
                    part: self.mixture.name(of),
                    mark: cup.mark.clone(),
                    ml,
                });
                self.draw(cup, ml);
            }
            if !lacks.is_nothing() {
                self.take_apart(recipe, lacks)?;
            }
        }
        Ok(())
    }

    fn draw_line(&mut self, of: PartOf, cup: Cup, ml: Millilitres) {
        let from = Some(cup.mark.clone());
        let line = self.mixture.line(of, ml);
        self.lines.push(MixPart { from, ..line });
        self.draw(cup, ml);
    }

    fn draw(&mut self, cup: Cup, ml: Millilitres) {
        let from = PutFrom::Cup(cup.id);
        add_put(&mut self.puts, Put { from, ml });
        match self.drawn.iter_mut().find(|(one, _)| one.id == cup.id) {
            Some((_, all)) => *all += ml,
            None => self.drawn.push((cup, ml)),
        }
    }

    /// Says what a painter would not see from the lines alone.
    fn say_where(
        &mut self,
        of: PartOf,
        needed: Millilitres,
        taken: &[(Cup, Millilitres)],
        lacks: Millilitres,
    ) {
        let part = self.mixture.name(of);
        let older = taken.iter().filter_map(|(cup, _)| self.older(cup));
        let older: Vec<Note> = older.collect();
        self.notes.extend(older);
        match taken {
            _ if lacks.is_nothing() || self.asked_for_shelf => {}
            [] => self.notes.push(Note::FromShelf { part, ml: lacks }),
            some => {
                let had = some.iter().map(|(cup, ml)| (cup.mark.clone(), *ml));
                let had = had.collect();
                self.notes.push(Note::BottleShort { part, needed, had });
            }
        }
    }

    /// Whether a cup holds an older variant than the newest of its recipe.
    fn older(&self, cup: &Cup) -> Option<Note> {
        let cards = &self.mixture.cards;
        let holds = cards.variant_ref(cup.variant)?;
        let newest = self.mixture.newest(self.mixture.recipe_of(cup)?)?.number;
        (newest > holds.number).then(|| Note::OlderBottle {
            mark: cup.mark.clone(),
            holds,
            newest,
        })
    }
}
