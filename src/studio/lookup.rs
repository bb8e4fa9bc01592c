//! Finding what was meant: cups by mark, materials and recipes by name, instants that make sense.

use crate::logbook::Reader;
use crate::studio::cups::bench::RecipeBook;
use crate::studio::{Answer, NameOf, Refusal};
use crate::trade::cup::Cup;
use crate::trade::ids::{CupId, MaterialId, RecipeId};
use crate::trade::instant::Now;
use crate::trade::mark::Mark;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::moment::Moment;
use crate::trade::recipe::{Recipe, Variant};

/// How many near names or marks a refusal offers.
const NEAR: usize = 4;

/// The cup of a mark: the living one, else the last that bore it.
pub(crate) fn cup_marked(read: &Reader<'_>, text: &str) -> Answer<Cup> {
    let mark = parse_mark(text)?;
    match read.cup_marked(&mark)? {
        Some(cup) => Ok(cup),
        None => Err(Refusal::UnknownMark(mark.to_string(), near_marks(read, text)?).into()),
    }
}

/// The living cup of a mark.
pub(crate) fn living_cup(read: &Reader<'_>, text: &str) -> Answer<Cup> {
    let cup = cup_marked(read, text)?;
    if cup.spent {
        return Err(Refusal::Spent(cup.mark, near_marks(read, text)?).into());
    }
    Ok(cup)
}

/// A cup that must live still.
pub(crate) fn living(read: &Reader<'_>, cup: CupId) -> Answer<Cup> {
    let cup = read.cup(cup.0)?.ok_or(Refusal::CupGone)?;
    if cup.spent {
        let near = near_marks(read, cup.mark.as_str())?;
        return Err(Refusal::Spent(cup.mark, near).into());
    }
    Ok(cup)
}

/// Reads a mark.
pub(crate) fn parse_mark(text: &str) -> Result<Mark, Refusal> {
    Mark::parse(text).map_err(|problem| Refusal::NoMark {
        said: text.to_owned(),
        problem,
    })
}

fn near_marks(read: &Reader<'_>, text: &str) -> Answer<Vec<Mark>> {
    let living = read.living_cups()?.into_iter();
    Ok(near_of(text, living.map(|cup| cup.mark).collect()))
}

/// Of some marks those that come nearest to a text.
pub(crate) fn near_of(text: &str, mut marks: Vec<Mark>) -> Vec<Mark> {
    marks.sort_by_cached_key(|mark| (mark.distance(text.trim()), mark.clone()));
    marks.truncate(NEAR);
    marks
}

/// The material of a name, or of the only name that begins so.
pub(crate) fn material_called(read: &Reader<'_>, name: &str) -> Answer<Material> {
    let all = read.materials()?;
    let found = called(NameOf::Material, name, all.iter())?;
    Ok(found.clone())
}

/// A material that must still be there.
pub(crate) fn material(read: &Reader<'_>, material: MaterialId) -> Answer<Material> {
    let mut all = read.materials()?.into_iter();
    let found = all.find(|one| one.id == material.0);
    Ok(found.ok_or(Refusal::MaterialGone)?)
}

/// The recipe of a name, or of the only name that begins so.
pub(crate) fn recipe_called(read: &Reader<'_>, name: &str) -> Answer<Recipe> {
    let all = read.recipes()?;
    let found = called(NameOf::Recipe, name, all.iter())?;
    Ok(found.clone())
}

/// A recipe that must still be there.
pub(crate) fn recipe(read: &Reader<'_>, recipe: RecipeId) -> Answer<Recipe> {
    let mut all = read.recipes()?.into_iter();
    let found = all.find(|one| one.id == recipe.0);
    Ok(found.ok_or(Refusal::RecipeGone)?)
}

impl RecipeBook {
    /// A recipe's variant: of a number, or the newest.
    pub(crate) fn variant_of(
        &self,
        recipe: &Recipe,
        number: Option<i64>,
    ) -> Result<&Variant, Refusal> {
        let mut variants = self.variants.values().filter(|one| one.recipe == recipe.id);
        let found = match number {
            None => variants.max_by_key(|one| one.number),
            Some(number) => variants.find(|one| one.number == number),
        };
        found.ok_or_else(|| Refusal::NoVariant(recipe.name.clone(), number.unwrap_or(1)))
    }
}

/// A recipe's variant: of a number, or the newest.
pub(crate) fn variant_of(
    read: &Reader<'_>,
    recipe: &Recipe,
    number: Option<i64>,
) -> Answer<Variant> {
    Ok(RecipeBook::read(read)?.variant_of(recipe, number)?.clone())
}

/// What a name leads to, and whether it is offered where a name is not written out.
pub(crate) trait Offered {
    /// What it is called.
    fn name(&self) -> &String;
    /// Whether it is no longer offered.
    fn is_retired(&self) -> bool;
}

impl Offered for Material {
    fn name(&self) -> &String {
        &self.name
    }

    fn is_retired(&self) -> bool {
        self.retired
    }
}

impl Offered for Recipe {
    fn name(&self) -> &String {
        &self.name
    }

    fn is_retired(&self) -> bool {
        self.retired
    }
}

/// The one of `all` called `name`, as [`meant`] tells it. What is retired is found by its whole name alone.
pub(crate) fn called<'a, T: Offered + ?Sized + 'a>(
    of: NameOf,
    name: &str,
    all: impl Iterator<Item = &'a T> + Clone,
) -> Result<&'a T, Refusal> {
    let wanted = single_blanks(name).to_lowercase();
    let named = |one: &&T| single_blanks(one.name()).to_lowercase() == wanted;
    if let Some(found) = all.clone().find(named) {
        return Ok(found);
    }
    let offered = all.filter(|one| !one.is_retired());
    let found = meant(name, offered.clone().map(T::name));
    if let Some(found) = found.and_then(|place| offered.clone().nth(place)) {
        return Ok(found);
    }
    let near = near_names(&wanted, offered.map(T::name));
    let name = name.to_owned();
    Err(Refusal::UnknownName { of, name, near })
}

/// The place of the name that is meant by what was typed: it to the letter, whatever its case; else the only one that is
/// it but for accents; else the only one that begins so.
///
/// Every name is resolved here, typed after a command or in a list of the screen, and nowhere else: a name that only holds
/// what was typed is near it, and is taken by nobody who has not turned to it.
pub(crate) fn meant<'a>(
    typed: &str,
    names: impl Iterator<Item = &'a String> + Clone,
) -> Option<usize> {
    let wanted = single_blanks(typed).to_lowercase();
    let plain = folded(&wanted);
    if plain.is_empty() {
        return None;
    }
    let alone = |fits: &dyn Fn(&str) -> bool| {
        let names = names.clone().enumerate();
        let mut fitting = names.filter(|(_, name)| fits(&folded(name)));
        let found = fitting.next();
        found.filter(|_| fitting.next().is_none())
    };
    let mut all = names.clone();
    let named = all.position(|name| single_blanks(name).to_lowercase() == wanted);
    named.or_else(|| {
        let found = alone(&|name| name == plain);
        let found = found.or_else(|| alone(&|name| name.starts_with(&plain)));
        found.map(|(place, _)| place)
    })
}

/// A name without case and accents, as fingers type it.
fn folded(name: &str) -> String {
    let plain = single_blanks(name).to_lowercase();
    plain
        .chars()
        .map(nucleo_matcher::chars::normalize)
        .collect()
}

/// Names that a slip of the finger may have missed, the nearest first; those that hold what was typed before all.
pub(crate) fn near_names<'a>(wanted: &str, names: impl Iterator<Item = &'a String>) -> Vec<String> {
    let wanted = folded(wanted);
    let mut scored: Vec<_> = names
        .map(|name| (nearness(&wanted, &folded(name)), name))
        .filter(|(score, _)| *score > 0.6)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    scored
        .into_iter()
        .take(NEAR)
        .map(|(_, name)| name.clone())
        .collect()
}

/// From 0 to 1; over 1 for a name that holds what was typed.
fn nearness(wanted: &str, name: &str) -> f64 {
    let like = strsim::jaro_winkler(wanted, name);
    let held = wanted.chars().count() > 2 && name.contains(wanted);
    like + f64::from(u8::from(held))
}

/// An instant a person gave, which must have come, or now; and whether it was given.
pub(crate) fn instant(at: Option<Moment>, now: &Now) -> Answer<(Moment, bool)> {
    match at {
        None => Ok((now.at, false)),
        Some(at) if at > now.at => Err(Refusal::Future(at).into()),
        Some(at) => Ok((at, true)),
    }
}

/// An instant in a cup's life: it must have come, and not lie before the cup was mixed.
pub(crate) fn instant_of(cup: &Cup, at: Option<Moment>, now: &Now) -> Answer<(Moment, bool)> {
    let (at, backdated) = instant(at, now)?;
    if backdated && at < cup.mixed_at {
        return Err(Refusal::BeforeTheCup {
            at,
            mark: cup.mark.clone(),
            mixed: cup.mixed_at,
        }
        .into());
    }
    Ok((at, backdated))
}

/// A name without blanks at its ends, and with one blank between its words.
fn single_blanks(name: &str) -> String {
    let words = name.trim().split(' ').filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(" ")
}

/// A name as it is kept: trimmed, one blank between its words, 1 to 80 characters.
pub(crate) fn proper_name(name: &str) -> Result<String, Refusal> {
    let name = single_blanks(name);
    if name.is_empty() || name.chars().count() > 80 {
        return Err(Refusal::BadName);
    }
    Ok(name)
}

/// The only thinner among materials that are offered; none where there are several.
pub(in crate::studio) fn only_thinner<'a>(
    materials: impl IntoIterator<Item = &'a Material>,
) -> Option<&'a Material> {
    let thinner = |one: &&Material| one.kind == MaterialKind::Thinner && !one.retired;
    let mut thinners = materials.into_iter().filter(thinner);
    let only = thinners.next()?;
    thinners.next().is_none().then_some(only)
}

/// The name of a material or recipe: proper, and no number without a letter, for it is typed beside amounts.
pub(crate) fn lettered_name(name: &str) -> Result<String, Refusal> {
    let name = proper_name(name)?;
    let is_number = name.contains(char::is_numeric) && !name.contains(char::is_alphabetic);
    match is_number {
        true => Err(Refusal::NoLetter(name)),
        false => Ok(name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Result<String, Vec<String>> {
        let names = ["Ümbra glaze", "Sea blue", "Fluid black", "Fluid white"].map(String::from);
        let recipes = names.map(|name| Recipe { name, ..recipe() });
        match called(NameOf::Recipe, text, recipes.iter()) {
            Ok(one) => Ok(one.name.clone()),
            Err(Refusal::UnknownName { near, .. }) => Err(near),
            Err(other) => panic!("{other:?}"),
        }
    }

    fn recipe() -> Recipe {
        Recipe {
            id: 1,
            name: String::new(),
            layer: crate::trade::recipe::LayerKind::Colour,
            retired: false,
        }
    }

    #[test]
    fn accents_do_not_count_and_what_several_begin_with_is_none_of_them() {
        assert_eq!(found("umbra"), Ok("Ümbra glaze".to_owned()));
        assert_eq!(found("fluid b"), Ok("Fluid black".to_owned()));
        assert!(found("fluid").is_err() && found("").is_err() && found("zzz").is_err());
    }

    // The list of the screen and the command line take the same for one blank.
    #[test]
    fn blanks_between_words_count_once() {
        assert_eq!(found(" fluid   b"), Ok("Fluid black".to_owned()));
        let kept = ["Fluid  black", "Fluid white"].map(String::from);
        assert_eq!(meant("Fluid black", kept.iter()), Some(0));
        assert_eq!(meant("fluid   white", kept.iter()), Some(1));
    }

    #[test]
    fn a_name_that_holds_what_was_typed_is_near() {
        assert_eq!(found("blue").unwrap_err()[0], "Sea blue");
    }
}
