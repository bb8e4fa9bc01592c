//! Mixing a cup: a variant scaled to the volume wanted, following what really went in.

use crate::logbook::{Reader, Writer};
use crate::numbers::surprise::surprise;
use crate::studio::cups::bench::CupStatus;
use crate::studio::cups::filling::Filling;
use crate::studio::cups::learned::Learned;
use crate::studio::cups::mixture::Mixture;
use crate::studio::file::settings;
use crate::studio::orders::MixOrder;
use crate::studio::refusal::{LEAST_CUP, MOST_CUP};
use crate::studio::{
    Answer, Doubt, Far, FarOf, Note, Refusal, Remarks, Studio, StudioError, Warning, cups::tend,
    lookup, shelf::stock,
};
use crate::trade::act::{Act, Called};
use crate::trade::cup::{Cup, DrawnInto, Happened, Put, Reading};
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
    /// The cup it is drawn from; the shelf otherwise.
    pub from: Option<Mark>,
    /// Whether it is a mixture whose own parts are taken from the shelf.
    pub apart: bool,
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
    /// What goes in, part by part; one that is drawn from several cups has a line for each.
    pub parts: Vec<MixPart>,
    /// What is to be known of where the parts come from.
    pub notes: Vec<Note>,
    puts: Vec<Put>,
    drawn: Vec<(Cup, Millilitres)>,
}

/// A cup that was mixed.
#[derive(Debug, Clone)]
pub struct Mixed {
    /// How it stands.
    pub standing: CupStatus,
    /// What went in, part by part.
    pub parts: Vec<MixPart>,
    /// What a careful painter would want to know: what the shelf lacks, which bottle was drawn from.
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
            if !order.even_so {
                refuse_far(&write.read(), &learned.mixture, order)?;
            }
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
    warnings.extend(resting(&read, learned, &draft.drawn, now)?);
    let (notes, mixed_at) = (draft.notes, cup.mixed_at);
    let remarks = Remarks { warnings, notes }.dated(mixed_at, now);
    Ok(Mixed {
        standing: learned.stand(&read, cup, now)?,
        parts: draft.parts,
        remarks,
    })
}

/// So many of the newest cups of each variant are what is usual of its recipe.
const USUAL_CUPS: u32 = 20;

/// Refuses more than any of the newest cups of the recipe hold and many times their median, and a small part of the least;
/// of a recipe that was never mixed, of any cups.
fn refuse_far(read: &Reader<'_>, mixture: &Mixture, order: &MixOrder) -> Answer<()> {
    let (recipe, _) = mixed_by(mixture, order.variant)?;
    let mut usual = usual_volumes(read, mixture, recipe.id)?;
    let of = match usual.is_empty() {
        true => FarOf::FirstMixed,
        false => FarOf::Mixed(recipe.name),
    };
    if usual.is_empty() {
        usual = read.newest_volumes(USUAL_CUPS)?;
    }
    usual.sort_by(|one, other| one.get().total_cmp(&other.get()));
    let [Some(least), Some(median), Some(most)] =
        [usual.first(), usual.get(usual.len() / 2), usual.last()]
    else {
        return Ok(());
    };
    let wanted = order.volume;
    let like = match wanted > *most {
        true => *median,
        false => wanted.max(*least),
    };
    Ok(Far::refuse(of, wanted.get(), like.get())?)
}

/// What the newest cups of each variant of a recipe were mixed to hold.
fn usual_volumes(read: &Reader<'_>, mixture: &Mixture, recipe: i64) -> Answer<Vec<Millilitres>> {
    let variants = mixture.cards.variants.values();
    let of_it = variants.filter(|one| one.recipe == recipe);
    let volumes: Result<Vec<_>, _> = of_it
        .map(|one| read.volumes_of(one.id, USUAL_CUPS))
        .collect();
    Ok(volumes?.concat())
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
    for (source, ml) in &draft.drawn {
        lookup::instant_of(source, order.at, now)?;
        tend::draw(write, source, *ml, DrawnInto::Cup(id), (at, backdated))?;
    }
    Ok((Cup { id, ..cup }, draft))
}

pub(in crate::studio) fn draft(
    read: &Reader<'_>,
    mixture: &Mixture,
    order: &MixOrder,
) -> Answer<MixDraft> {
    let (recipe, variant) = mixed_by(mixture, order.variant)?;
    let wanted = checked(order.volume)?;
    let source = order.from.cup().map(|cup| lookup::living(read, cup));
    let source = source.transpose()?;
    let mut parts = match &source {
        Some(cup) if mixture.recipe_of(cup) == Some(recipe.id) => {
            vec![(PartOf::Recipe(recipe.id), wanted)]
        }
        _ => mixture.volumes(&variant, wanted)?,
    };
    overrule(&mut parts, &order.puts);
    let mut filling = Filling::read(read, mixture, &parts, source.clone(), order)?;
    for &(of, ml) in &parts {
        filling.fill(of, ml)?;
    }
    if let Some(cup) = source {
        match filling.drawn.iter().find(|(one, _)| one.id == cup.id) {
            None => return Err(not_a_part(mixture, cup, &recipe)),
            Some((_, ml)) => tend::refuse_too_much(read, &cup, *ml, order.even_so)?,
        }
    }
    Ok(MixDraft {
        recipe,
        variant,
        volume: checked(parts.iter().map(|(_, ml)| *ml).sum())?,
        parts: filling.lines,
        notes: filling.notes,
        puts: filling.puts,
        drawn: filling.drawn,
    })
}

fn mixed_by(mixture: &Mixture, variant: VariantId) -> Answer<(Recipe, Variant)> {
    let variant = mixture.cards.variants.get(&variant.0);
    let recipe = variant.and_then(|one| mixture.cards.recipes.get(&one.recipe));
    let both = recipe.cloned().zip(variant.cloned());
    Ok(both.ok_or(Refusal::NoRecipe)?)
}

fn not_a_part(mixture: &Mixture, cup: Cup, recipe: &Recipe) -> StudioError {
    let holds = mixture
        .recipe_of(&cup)
        .map(|id| mixture.name(PartOf::Recipe(id)))
        .unwrap_or_default();
    Refusal::NotAPart {
        mark: cup.mark,
        holds,
        recipe: recipe.name.clone(),
    }
    .into()
}

/// The cups that were drawn from while bubbles still stood in them.
fn resting(
    read: &Reader<'_>,
    learned: &Learned,
    drawn: &[(Cup, Millilitres)],
    now: &Now,
) -> Answer<Vec<Warning>> {
    let mut found = Vec::new();
    for (cup, _) in drawn {
        let standing = learned.stand(read, cup.clone(), now)?;
        if standing.state == State::Resting {
            found.push(Warning::DrawnResting {
                mark: cup.mark.clone(),
                clears_at: standing.life.clears_at,
            });
        }
    }
    Ok(found)
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

pub(super) fn checked(volume: Millilitres) -> Answer<Millilitres> {
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
