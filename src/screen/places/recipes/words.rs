//! What the Recipes say: shares, targets, what each variant changed, what the hands must do next.

use super::Recipes;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::sheet::Sheet;
use crate::studio::{RecipePage, local};
use crate::tell;
use crate::trade::recipe::{Variant, variant_title};
use crate::trade::text::inert;

/// The newest variant's parts: name, parts, share of the whole.
pub fn shares(parts: &[(String, f64)]) -> Vec<(&str, f64, f64)> {
    let whole: f64 = parts.iter().map(|(_, share)| share).sum();
    let each = parts.iter();
    each.map(|(name, share)| {
        (
            name.as_str(),
            *share,
            if whole > 0.0 { share / whole } else { 0.0 },
        )
    })
    .collect()
}

/// The parts of the newest variant.
pub fn newest_parts(page: &RecipePage) -> &[(String, f64)] {
    page.parts.last().map_or(&[], Vec::as_slice)
}

/// `River blue v2`.
pub fn title(page: &RecipePage) -> String {
    let number = page.newest().map_or(0, |variant| variant.number);
    let retired = if page.recipe.retired {
        " (retired)"
    } else {
        ""
    };
    inert(&(variant_title(&page.recipe.name, number) + retired)).into_owned()
}

/// What a variant is meant to do: `mound 2 to 3 s; rests 12 h; look again after 60 min`.
pub fn targets(variant: &Variant) -> String {
    tell::recipes::targets(&variant.targets)
}

/// What the newest variant changed, in a sentence; `None` for a first one.
pub fn newest_changed(page: &RecipePage, desk: &Desk) -> Option<String> {
    changed(page, page.variants.len().checked_sub(1)?, desk)
}

fn changed(page: &RecipePage, place: usize, desk: &Desk) -> Option<String> {
    tell::recipes::changed(page, place, desk.measures(), &desk.beat.now)
}

/// What the hands must do next.
pub fn headline(recipes: &Recipes) -> String {
    let Some(page) = recipes.chosen() else {
        return "There is no recipe yet: a writes one down.".to_owned();
    };
    if page.recipe.retired {
        return format!("{}: x brings it back.", title(page));
    }
    let parts = newest_parts(page).iter();
    let parts: Vec<_> = parts
        .map(|(name, share)| format!("{share} {}", inert(name)))
        .collect();
    format!("m mixes {}: {}.", title(page), parts.join(" to "))
}

/// All variants, the newest first, and what each changed.
pub fn sheet(page: &RecipePage, desk: &Desk) -> Sheet {
    let recipe = &page.recipe;
    let mut sheet = Sheet::titled(&format!("{}, {}", recipe.name, recipe.layer));
    for (place, variant) in page.variants.iter().enumerate().rev() {
        let at = local(variant.at, &desk.beat.now);
        sheet.heading(&format!("v{}, {at}", variant.number));
        if let Some(changed) = changed(page, place, desk) {
            sheet.words(&changed);
        }
        let parts = page.parts.get(place).map_or(&[][..], Vec::as_slice);
        for (name, share, of) in shares(parts) {
            sheet.beside(
                &format!("{:.0} %", of * 100.0),
                &format!("{name} ({share})"),
            );
        }
        if variant.by_weight {
            sheet.words("shares by weight");
        }
        sheet.words(&targets(variant));
        if let Some(note) = &variant.note {
            sheet.words(note);
        }
    }
    sheet
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_of_the_whole() {
        let parts = [("Blue".to_owned(), 1.0), ("Medium".to_owned(), 3.0)];
        let told: Vec<f64> = shares(&parts).iter().map(|(_, _, of)| *of).collect();
        assert_eq!(told, [0.25, 0.75]);
        assert!(shares(&[]).is_empty());
    }
}
