//! The Recipes' forms, and how what was typed becomes a deed.

use super::words::shares;
use super::{Ask, Deed, Recipes};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::list;
use crate::screen::kit::naming;
use crate::studio::orders::{RecipeField, RecipeNameField, RecipeNameOrder, RecipeOrder, wrong};
use crate::studio::{RecipePage, Refusal};
use crate::trade::amount::Measures;
use crate::trade::recipe::{LayerKind, PartOf};
use crate::trade::text::inert;

/// What stands beneath the parts.
const BENEATH: [RecipeField; 7] = [
    RecipeField::Counted,
    RecipeField::Mound,
    RecipeField::Rest,
    RecipeField::Recheck,
    RecipeField::Stir,
    RecipeField::Limit,
    RecipeField::Note,
];

/// A new recipe.
pub fn new(desk: &Desk) -> Form {
    let measures = desk.measures();
    let layers = LayerKind::ALL.iter().map(ToString::to_string).collect();
    let names = part_names(desk, "");
    let layer = Field::of(RecipeField::Layer, measures).one_of(layers);
    let mut fields = vec![
        Field::of(RecipeField::Name, measures),
        layer.offering(&LayerKind::Colour.to_string()),
    ];
    fields.extend((0..2).flat_map(|row| pair(row, &names, ("", ""), measures)));
    let offer = |field| match field {
        RecipeField::Counted => RecipeField::BY_VOLUME.to_owned(),
        _ => String::new(),
    };
    fields.extend(beneath(offer, measures));
    Form::new("A new recipe", fields)
}

/// A recipe as it is, to be changed; `None` where it has more parts than a form holds.
pub fn change(desk: &Desk, page: &RecipePage) -> Option<Form> {
    let (variant, parts) = (page.newest()?, page.parts.last()?);
    let rows = u8::try_from(parts.len()).ok();
    let rows = rows.filter(|rows| *rows <= RecipeField::ROWS)?;
    let (names, measures) = (part_names(desk, &page.recipe.name), desk.measures());
    let filled = (0..rows).zip(parts);
    let filled = filled
        .flat_map(|(row, (name, share))| pair(row, &names, (name, &share.to_string()), measures));
    let mut fields: Vec<_> = filled.collect();
    if rows < RecipeField::ROWS {
        fields.extend(pair(rows, &names, ("", ""), measures));
    }
    fields.extend(beneath(|field| field.offer(variant), measures));
    let name = &page.recipe.name;
    let title = format!("Change {name}: makes v{}", variant.number + 1);
    let mut form = Form::new(title, fields);
    form.aside = shown(&form);
    Some(form)
}

/// Another name or layer.
pub fn rename(desk: &Desk, page: &RecipePage) -> Form {
    let (recipe, measures) = (&page.recipe, desk.measures());
    let layers = LayerKind::ALL.iter().map(ToString::to_string).collect();
    let name = Field::of(RecipeNameField::Name, measures).offering(&recipe.name);
    let layer = Field::of(RecipeNameField::Layer, measures).one_of(layers);
    let layer = layer.offering(&recipe.layer.to_string());
    Form::new(format!("Rename {}", recipe.name), vec![name, layer])
}

/// What may go in: materials and other recipes.
fn part_names(desk: &Desk, itself: &str) -> Vec<String> {
    let materials = desk.known.materials.iter().map(|(name, _)| name.clone());
    let recipes = desk.known.recipe_names().into_iter();
    materials
        .chain(recipes.filter(|name| name != itself))
        .collect()
}

/// A row: a part and its share.
fn pair(row: u8, names: &[String], offer: (&str, &str), measures: Measures) -> [Field; 2] {
    let part = Field::of(RecipeField::Part(row), measures).among(names.to_vec());
    let share = Field::of(RecipeField::Share(row), measures);
    [part.offering(offer.0), share.offering(offer.1)]
}

fn beneath(offer: impl Fn(RecipeField) -> String, measures: Measures) -> Vec<Field> {
    let ways = [RecipeField::BY_VOLUME, RecipeField::BY_WEIGHT].map(str::to_owned);
    let field = |of: RecipeField| {
        let field = Field::of(of, measures);
        let field = match of {
            RecipeField::Counted => field.one_of(ways.to_vec()),
            _ => field,
        };
        field.offering(&offer(of))
    };
    BENEATH.into_iter().map(field).collect()
}

/// What follows from an edit: the shares as bars beside it, and room for one more part.
pub fn changed(form: &mut Form, measures: Measures) {
    if let Some((last, at)) = last_row(form)
        && last + 1 < RecipeField::ROWS
        && !form.value(RecipeField::Part(last)).is_empty()
    {
        let pick = form.field(RecipeField::Part(last));
        let pick = pick.and_then(|field| field.pick.as_ref());
        let names = pick.map(|pick| pick.names().to_vec()).unwrap_or_default();
        let more = pair(last + 1, &names, ("", ""), measures);
        form.fields.splice(at + 1..at + 1, more);
    }
    form.aside = shown(form);
}

/// The last row of parts, and where its share stands.
fn last_row(form: &Form) -> Option<(u8, usize)> {
    let at = |row| {
        let share = RecipeField::Share(row).into();
        form.fields.iter().position(|field| field.id == share)
    };
    (0..RecipeField::ROWS)
        .rev()
        .find_map(|row| Some((row, at(row)?)))
}

/// The parts that can be read so far, as bars.
fn shown(form: &Form) -> Vec<String> {
    let parts = RecipeOrder::parts_so_far(&form.typed());
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
pub fn keep(recipes: &Recipes, desk: &Desk, ask: Ask, form: &Form) -> Result<Deed, Fault> {
    let given = desk.given();
    let deed = match ask {
        Ask::Merge(recipe) => {
            return naming::merged(form, PartOf::Recipe(recipe.0), desk).map(Deed::Name);
        }
        Ask::Rename(recipe) => RecipeNameOrder::read(&form.typed(), recipe).map(Deed::Rename),
        Ask::New => {
            let new = RecipeOrder::new(&form.typed(), &given);
            new.map(|(name, layer, order)| Deed::Add(name, layer, Box::new(order)))
        }
        Ask::Change(recipe) => {
            let gone = || wrong(RecipeField::Name, Refusal::RecipeGone);
            let before = recipes.numbered(recipe).and_then(RecipePage::newest);
            let order = before
                .ok_or_else(gone)
                .and_then(|before| RecipeOrder::edited(form.typed(), &given, before));
            order.map(|order| Deed::Change(recipe, Box::new(order)))
        }
    };
    deed.map_err(|wrong| desk.fault(wrong))
}
