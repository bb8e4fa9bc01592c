//! The Recipes' forms, and how what was typed becomes a deed.

use super::words::{shares, stirring};
use super::{Ask, Deed, Recipes};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::list;
use crate::studio::{RecipeOrder, RecipePage, TargetsOrder};
use crate::trade::duration::{self, Unit, parse_stirring, show};
use crate::trade::range::{Window, parse_parts, parse_share};
use crate::trade::recipe::{LayerKind, Target, Variant};
use crate::trade::text::inert;

/// The names of the fields for parts and their shares; a form shows no more than there are.
const PARTS: [(&str, &str); 12] = [
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
const BY_VOLUME: &str = "by volume";
const BY_WEIGHT: &str = "by weight";

/// A new recipe.
pub fn new(desk: &Desk) -> Form {
    let layers = LayerKind::ALL.iter().map(ToString::to_string).collect();
    let names = part_names(desk, "");
    let mut fields = vec![
        Field::text("name", "what you call this mixture", ""),
        Field::choice("layer", "where in the stack it goes", layers, "colour"),
    ];
    fields.extend((0..2).flat_map(|place| pair(place, &names, "", "")));
    fields.extend(rest(&Offer::default()));
    Form::new("A new recipe", fields)
}

/// A recipe as it is, to be changed; `None` where it has more parts than a form holds.
pub fn change(desk: &Desk, page: &RecipePage) -> Option<Form> {
    let (variant, parts) = (page.newest()?, page.parts.last()?);
    if parts.len() > PARTS.len() {
        return None;
    }
    let names = part_names(desk, &page.recipe.name);
    let filled = parts.iter().enumerate();
    let filled =
        filled.flat_map(|(place, (name, share))| pair(place, &names, name, &share.to_string()));
    let mut fields: Vec<_> = filled.collect();
    if parts.len() < PARTS.len() {
        fields.extend(pair(parts.len(), &names, "", ""));
    }
    fields.extend(rest(&Offer::of(variant)));
    let name = &page.recipe.name;
    let title = format!("Change {name}: makes v{}", variant.number + 1);
    let mut form = Form::new(title, fields);
    form.aside = shown(&form);
    Some(form)
}

/// What may go in: materials and other recipes.
fn part_names(desk: &Desk, itself: &str) -> Vec<String> {
    let materials = desk.known.materials.iter().map(|(name, _)| name.clone());
    let recipes = desk.known.recipe_names().into_iter();
    materials
        .chain(recipes.filter(|name| name != itself))
        .collect()
}

fn pair(place: usize, names: &[String], name: &str, share: &str) -> [Field; 2] {
    let (part_field, share_field) = PARTS[place.min(PARTS.len() - 1)];
    let hint = "a material or a recipe; empty for none";
    [
        Field::maybe_offering(part_field, hint, names.to_vec(), name),
        Field::text(share_field, "how many parts of it: 2", share),
    ]
}

/// What is offered for the targets, as it is typed.
#[derive(Default)]
struct Offer {
    by_weight: bool,
    mound: String,
    rest: String,
    again: String,
    stir: String,
    limit: String,
}

impl Offer {
    fn of(variant: &Variant) -> Self {
        let targets = &variant.targets;
        let window = targets.window.map(|window| window.to_string());
        let stir = targets.stir.map(stirring);
        Self {
            by_weight: variant.by_weight,
            mound: window.unwrap_or_default(),
            rest: show(targets.rest),
            again: show(targets.recheck_after),
            stir: stir.unwrap_or_default(),
            limit: format!("{}%", (targets.limit.get() * 1e4).round() / 1e2),
        }
    }
}

fn rest(offer: &Offer) -> Vec<Field> {
    let by = if offer.by_weight {
        BY_WEIGHT
    } else {
        BY_VOLUME
    };
    let ways = vec![BY_VOLUME.to_owned(), BY_WEIGHT.to_owned()];
    vec![
        Field::choice("shares", "what the shares count", ways, by),
        Field::text(
            "mound",
            "2..3 seconds; empty as usual for its layer",
            &offer.mound,
        ),
        Field::text("rest", "12 h; empty as usual for its layer", &offer.rest),
        Field::text(
            "again",
            "60 min to the next look; empty as usual",
            &offer.again,
        ),
        Field::text("stir", "4 min, if you time it", &offer.stir),
        Field::text(
            "thinner",
            "25 %: the most a cup may get; empty as usual",
            &offer.limit,
        ),
        Field::text("note", "what was changed, or anything", ""),
    ]
}

/// What follows from an edit: the shares as bars beside it, and room for one more part.
pub fn changed(form: &mut Form) {
    let last = PARTS.iter().rposition(|(part, _)| has(form, part));
    if let Some(last) = last.filter(|last| last + 1 < PARTS.len())
        && !form.value(PARTS[last].0).is_empty()
        && let Some(at) = form
            .fields
            .iter()
            .position(|field| field.id == PARTS[last].1.into())
    {
        let names = names_of(form, PARTS[last].0);
        let more = pair(last + 1, &names, "", "");
        form.fields.splice(at + 1..at + 1, more);
    }
    form.aside = shown(form);
}

fn has(form: &Form, name: &'static str) -> bool {
    form.field(name).is_some()
}

fn names_of(form: &Form, name: &'static str) -> Vec<String> {
    let field = form.field(name);
    let pick = field.and_then(|field| field.pick.as_ref());
    pick.map(|pick| pick.names().to_vec()).unwrap_or_default()
}

/// The parts that can be read so far, as bars.
fn shown(form: &Form) -> Vec<String> {
    let read = PARTS.iter().filter_map(|(part, share)| {
        let of = parse_parts(form.value(*share)).ok()?;
        form.given(*part).map(|name| (name, of))
    });
    let parts: Vec<_> = read.collect();
    let line = |(name, _, of): (&str, f64, f64)| {
        format!(
            "{} {:>3.0} % {}",
            list::bar(of, 10),
            of * 100.0,
            inert(name)
        )
    };
    shares(&parts).into_iter().map(line).collect()
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(recipes: &mut Recipes, ask: &Ask, form: &Form) -> Result<Deed, Fault> {
    let deed = match ask {
        Ask::New => {
            let needed = || Fault::of("name", "is needed");
            let name = form.given("name").ok_or_else(needed)?;
            let layer = LayerKind::parse(form.value("layer"));
            let layer = layer.ok_or_else(|| Fault::of("layer", "is needed"))?;
            let order = order(form, &Offer::default())?;
            recipes.want(&name);
            Deed::Add(name, layer, Box::new(order))
        }
        Ask::Change(name) => {
            let gone = || Fault {
                field: None,
                words: "the recipe is gone".to_owned(),
            };
            let page = recipes.called(name).ok_or_else(gone)?;
            let offer = page.newest().map(Offer::of).unwrap_or_default();
            Deed::Change(name.clone(), Box::new(order(form, &offer)?))
        }
    };
    Ok(deed)
}

/// Parts and shares as typed; of the targets only what differs from what was offered.
fn order(form: &Form, offer: &Offer) -> Result<RecipeOrder, Fault> {
    let window = form.read("mound", Window::parse)?;
    let rest = form.read("rest", |text| duration::parse_or(text, Unit::Hour))?;
    let again = form.read("again", |text| duration::parse_or(text, Unit::Minute))?;
    let stir = form.read("stir", parse_stirring)?;
    let limit = form.read("thinner", parse_share)?;
    let differs = |field: &'static str, offered: &str| form.value(field) != offered;
    Ok(RecipeOrder {
        parts: parts(form)?,
        by_weight: Some(form.value("shares") == BY_WEIGHT),
        targets: TargetsOrder {
            window: window.filter(|_| differs("mound", &offer.mound)),
            rest: rest.filter(|_| differs("rest", &offer.rest)),
            recheck_after: again.filter(|_| differs("again", &offer.again)),
            stir: stir.filter(|_| differs("stir", &offer.stir)),
            limit: limit.filter(|_| differs("thinner", &offer.limit)),
            usual: emptied(form, offer),
        },
        note: form.given("note"),
    })
}

/// What was aimed at and stands empty now: it is as usual for its layer again.
fn emptied(form: &Form, offer: &Offer) -> Vec<Target> {
    let fields = [
        ("mound", &offer.mound, Target::Mound),
        ("rest", &offer.rest, Target::Rest),
        ("again", &offer.again, Target::Again),
        ("stir", &offer.stir, Target::Stir),
        ("thinner", &offer.limit, Target::Limit),
    ];
    let emptied = fields
        .into_iter()
        .filter(|(field, offered, _)| !offered.is_empty() && form.value(*field).is_empty());
    emptied.map(|(_, _, target)| target).collect()
}

/// Each part as `NAME SHARE`.
fn parts(form: &Form) -> Result<Vec<String>, Fault> {
    let mut parts = Vec::new();
    for (part, share) in PARTS {
        let named = form.given(part);
        let counted = form.read(share, parse_parts)?;
        match (named, counted) {
            (Some(name), Some(share)) => parts.push(format!("{name} {share}")),
            (Some(_), None) => return Err(Fault::of(share, "is needed")),
            (None, Some(_)) => return Err(Fault::of(part, "is needed: a share of what?")),
            (None, None) => {}
        }
    }
    if parts.is_empty() {
        return Err(Fault::of(PARTS[0].0, "is needed"));
    }
    Ok(parts)
}
