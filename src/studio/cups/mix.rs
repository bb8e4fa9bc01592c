//! Mixing a cup: a variant scaled to the volume wanted, following what really went in.

use crate::logbook::{Reader, Writer};
use crate::numbers::surprise::surprise;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mixture::Mixture;
use crate::studio::file::settings;
use crate::studio::orders::MixOrder;
use crate::studio::refusal::{LEAST_CUP, MOST_CUP};
use crate::studio::{
    Answer, Doubt, Refusal, Remarks, Studio, Warning, cups::tend, lookup, shelf::stock,
};
use crate::trade::act::{Act, Called};
use crate::trade::cup::{Cup, DrawnInto, Happened, Put, PutFrom, Reading};
use crate::trade::ids::VariantId;
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::recipe::{PartOf, Recipe, Variant};
use crate::trade::units::{Grams, Millilitres};
use serde::Serialize;

/// One line of what goes into a cup.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MixPart {
    /// The material's or recipe's name.
    pub name: String,
    /// How much by volume.
    pub ml: Millilitres,
    /// How much by weight, where the density is known.
    pub g: Option<Grams>,
    /// The cup it comes from, if it is filled from one.
    pub from: Option<Mark>,
}

/// A mixture worked out but not yet written down.
#[derive(Debug, Clone)]
pub struct MixDraft {
    /// Its recipe.
    pub recipe: Recipe,
    /// Its variant.
    pub variant: Variant,
    /// What the cup will hold.
    pub volume: Millilitres,
    /// What goes in, part by part.
    pub parts: Vec<MixPart>,
    of: Vec<PartOf>,
    puts: Vec<Put>,
    drawn: Option<(Cup, Millilitres)>,
}

/// A cup that was mixed.
#[derive(Debug, Clone)]
pub struct Mixed {
    /// How it stands.
    pub standing: CupStatus,
    /// What went in, part by part.
    pub parts: Vec<MixPart>,
    /// What a careful painter would want to know: what the shelf lacks, a bottle that stood ready.
    pub remarks: Remarks,
}

impl Studio {
    /// Works a mixture out without writing anything.
    ///
    /// # Errors
    /// Where the recipe, a part, the volume or the cup it is filled from make no sense.
    pub fn draft_mix(&self, order: &MixOrder) -> Answer<MixDraft> {
        let read = self.book.read()?;
        draft(&read, &self.memory.recall(&read)?.mixture, order)
    }

    /// The mark the next cup would be given.
    ///
    /// # Errors
    /// Where every mark is in use, or the store cannot be read.
    pub fn next_mark(&self) -> Answer<Mark> {
        free_mark(&self.book.read()?)
    }

    /// Mixes a cup: gives it its mark, writes down what went in, starts its rest.
    ///
    /// # Errors
    /// As [`Studio::draft_mix`], and where the mark is in use or the instant has not come.
    pub fn mix(&mut self, order: &MixOrder, now: &Now) -> Answer<Mixed> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let mixed = mix_within(write, &learned, order, now)?;
            let act = act(&learned, &mixed.standing.cup, None);
            Ok((mixed, act))
        })
    }

    /// Mixes a cup without asking how it then stands, which costs more than the writing.
    pub(crate) fn jot_mix(&mut self, order: &MixOrder, now: &Now) -> Answer<(Cup, Vec<MixPart>)> {
        let memory = &self.memory;
        self.book.commit_as(now.at.into(), |write| {
            let learned = memory.recall(&write.read())?;
            let (cup, draft) = fill_within(write, &learned.mixture, order, now)?;
            let act = act(&learned, &cup, None);
            Ok(((cup, draft.parts), act))
        })
    }
}

/// What the history keeps of it.
pub(in crate::studio) fn act(learned: &Learned, cup: &Cup, plan: Option<i64>) -> Act {
    Act::Mixed {
        cup: tend::called(cup),
        variant: Called {
            id: cup.variant,
            name: learned.cards().title(cup.variant),
        },
        ml: cup.volume,
        plan,
    }
}

/// Mixes a cup inside a commit.
pub(crate) fn mix_within(
    write: &mut Writer<'_>,
    learned: &Learned,
    order: &MixOrder,
    now: &Now,
) -> Answer<Mixed> {
    let (cup, draft) = fill_within(write, &learned.mixture, order, now)?;
    let read = write.read();
    let mut warnings = stock::overdrawn(&read, &learned.mixture, &draft.puts)?;
    warnings.extend(draft.bottles(&read, learned, cup.id, now)?);
    Ok(Mixed {
        standing: learned.stand(&read, cup, now)?,
        parts: draft.parts,
        remarks: warnings.into(),
    })
}

/// A reading at its mixing can be doubted by the window alone: of the cup nothing is known yet.
fn refuse_doubted(order: &MixOrder, draft: &MixDraft) -> Answer<()> {
    let mound = order.reading.as_ref().and_then(Reading::mound);
    let Some(said) = mound.filter(|_| !order.even_so) else {
        return Ok(());
    };
    let odd = surprise(said, None, 0.0, draft.variant.targets.window);
    odd.map_or(Ok(()), |why| {
        let mark = None;
        Err(Refusal::Doubted(Doubt { mark, said, why }).into())
    })
}

/// Writes a cup and what went into it down inside a commit.
fn fill_within(
    write: &mut Writer<'_>,
    mixture: &Mixture,
    order: &MixOrder,
    now: &Now,
) -> Answer<(Cup, MixDraft)> {
    let read = write.read();
    let draft = draft(&read, mixture, order)?;
    let (at, backdated) = lookup::instant(order.at, now)?;
    let mark = chosen_mark(&read, order.mark.as_ref())?;
    settings::check_tape(&read, draft.recipe.layer, order.tape.as_deref())?;
    refuse_doubted(order, &draft)?;
    let cup = Cup {
        id: 0,
        mark,
        variant: draft.variant.id,
        mixed_at: at,
        volume: draft.volume,
        depth: order.depth,
        diameter: order.diameter,
        tape: order.tape.clone(),
        note: order.note.clone(),
        spent: false,
    };
    settings::keep_tape(write, draft.recipe.layer, cup.tape.as_deref())?;
    let id = write.add_cup(&cup)?;
    write.add_puts(id, &draft.puts)?;
    let mixed = Happened::Mixed {
        stirred: order.stirred,
        reading: order.reading.clone(),
    };
    write.add_entry(id, at, backdated, &mixed)?;
    if let Some((source, ml)) = &draft.drawn {
        lookup::instant_of(source, order.at, now)?;
        tend::draw(write, source, *ml, DrawnInto::Cup(id), (at, backdated))?;
    }
    Ok((Cup { id, ..cup }, draft))
}

fn draft(read: &Reader<'_>, mixture: &Mixture, order: &MixOrder) -> Answer<MixDraft> {
    let (recipe, variant) = mixed_by(mixture, order.variant)?;
    let wanted = checked(order.volume)?;
    let source = order.from.map(|cup| lookup::living(read, cup));
    let source = source.transpose()?;
    let mut parts = match &source {
        Some(cup) if mixture.recipe_of(cup) == Some(recipe.id) => {
            vec![(PartOf::Recipe(recipe.id), wanted)]
        }
        _ => mixture.volumes(&variant, wanted)?,
    };
    overrule(&mut parts, &order.puts);
    let of: Vec<PartOf> = parts.iter().map(|(of, _)| *of).collect();
    let mut draft = MixDraft {
        of,
        recipe,
        variant,
        volume: checked(parts.iter().map(|(_, ml)| *ml).sum())?,
        parts: parts.iter().map(|&(of, ml)| mixture.line(of, ml)).collect(),
        puts: Vec::new(),
        drawn: None,
    };
    draft.fill(read, mixture, &parts, source, order.even_so)?;
    Ok(draft)
}

fn mixed_by(mixture: &Mixture, variant: VariantId) -> Answer<(Recipe, Variant)> {
    let variant = mixture.cards.variants.get(&variant.0);
    let recipe = variant.and_then(|one| mixture.cards.recipes.get(&one.recipe));
    let both = recipe.cloned().zip(variant.cloned());
    Ok(both.ok_or(Refusal::NoRecipe)?)
}

impl MixDraft {
    /// Says where each part comes from: the cup it is filled from, or the shelf.
    fn fill(
        &mut self,
        read: &Reader<'_>,
        mixture: &Mixture,
        parts: &[(PartOf, Millilitres)],
        source: Option<Cup>,
        even_so: bool,
    ) -> Answer<()> {
        let held = source
            .as_ref()
            .and_then(|cup| mixture.recipe_of(cup))
            .map(PartOf::Recipe);
        for (line, &(of, ml)) in self.parts.iter_mut().zip(parts) {
            match &source {
                Some(cup) if held == Some(of) => {
                    line.from = Some(cup.mark.clone());
                    self.puts.push(Put {
                        from: PutFrom::Cup(cup.id),
                        ml,
                    });
                    self.drawn = Some((cup.clone(), ml));
                }
                _ => mixture.expand(of, ml, &mut self.puts)?,
            }
        }
        match (source, &self.drawn) {
            (Some(cup), None) => Err(self.not_a_part(mixture, cup)),
            (Some(cup), Some((_, ml))) => tend::refuse_too_much(read, &cup, *ml, even_so),
            (None, _) => Ok(()),
        }
    }

    /// Of each part that is a recipe but was taken from raw materials: the cup that stood ready with enough of it.
    fn bottles(
        &self,
        read: &Reader<'_>,
        learned: &Learned,
        mixed: i64,
        now: &Now,
    ) -> Answer<Vec<Warning>> {
        let raw = self
            .of
            .iter()
            .zip(&self.parts)
            .filter_map(|(of, line)| match of {
                PartOf::Recipe(id) if line.from.is_none() => Some((*id, line)),
                _ => None,
            });
        let raw: Vec<_> = raw.collect();
        if raw.is_empty() {
            return Ok(Vec::new());
        }
        let living = read.living_cups()?;
        let mut found = Vec::new();
        for (recipe, line) in raw {
            let holds =
                |cup: &&Cup| cup.id != mixed && learned.mixture.recipe_of(cup) == Some(recipe);
            for cup in living.iter().filter(holds) {
                let standing = learned.stand(read, cup.clone(), now)?;
                if standing.state == State::Ready && standing.life.left >= line.ml {
                    found.push(Warning::StoodReady {
                        part: line.name.clone(),
                        mark: cup.mark.clone(),
                    });
                    break;
                }
            }
        }
        Ok(found)
    }

    fn not_a_part(&self, mixture: &Mixture, cup: Cup) -> crate::studio::StudioError {
        let holds = mixture
            .recipe_of(&cup)
            .map(|id| mixture.name(PartOf::Recipe(id)))
            .unwrap_or_default();
        Refusal::NotAPart {
            mark: cup.mark,
            holds,
            recipe: self.recipe.name.clone(),
        }
        .into()
    }
}

/// Puts what really went in in place of what the recipe says.
fn overrule(parts: &mut Vec<(PartOf, Millilitres)>, puts: &[(PartOf, Millilitres)]) {
    for &(of, ml) in puts {
        match parts.iter_mut().find(|(one, _)| *one == of) {
            Some(part) => part.1 = ml,
            None => parts.push((of, ml)),
        }
    }
}

fn checked(volume: Millilitres) -> Answer<Millilitres> {
    let volume = volume.stored();
    if (LEAST_CUP..=MOST_CUP).contains(&volume) {
        return Ok(volume);
    }
    Err(Refusal::VolumeRange(volume).into())
}

fn chosen_mark(read: &Reader<'_>, wanted: Option<&Mark>) -> Answer<Mark> {
    let Some(mark) = wanted.cloned() else {
        return free_mark(read);
    };
    match read.cup_marked(&mark)? {
        Some(cup) if !cup.spent => Err(Refusal::MarkInUse(mark).into()),
        _ => Ok(mark),
    }
}

fn free_mark(read: &Reader<'_>) -> Answer<Mark> {
    let living = read.living_marks()?;
    let last = read.last_cup()?.map(|cup| cup.mark);
    let free = Mark::next_free(last.as_ref(), |mark| living.contains(mark));
    Ok(free.ok_or(Refusal::NoMarkLeft)?)
}
