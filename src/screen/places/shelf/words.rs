//! What the Shelf says: how long a material lasts, what to beware of, what the hands must do next.

use super::Shelf;
use crate::screen::kit::sheet::Sheet;
use crate::studio::ShelfLine;
use crate::tell::{care, lasts};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::caution::CAUTIONS;
use crate::trade::text::inert;
use crate::trade::units::Days;

/// What is left, in words; below zero more was used than was ever said to be there.
pub fn left_words(line: &ShelfLine, measures: Measures) -> String {
    line.left
        .map_or_else(|| "-".to_owned(), |left| show_volume(left, measures))
}

/// For how many days it lasts at the rate of the last 30; `None` where that cannot be told.
pub fn days(line: &ShelfLine) -> Option<f64> {
    line.days_of_supply().map(Days::get)
}

/// `12 d`, `-`.
pub fn days_words(line: &ShelfLine) -> String {
    lasts(line).unwrap_or_else(|| "-".to_owned())
}

/// What the hands must do next.
pub fn headline(shelf: &Shelf) -> String {
    let offered = shelf.lines.iter().filter(|line| !line.material.retired);
    let lines: &[ShelfLine] = &offered.cloned().collect::<Vec<_>>();
    if lines.is_empty() {
        return "Nothing is on the shelf yet: a writes a material down.".to_owned();
    }
    let lasting = lasting(lines);
    let mut said = Vec::new();
    said.extend(below(lines));
    let soon = lasting
        .iter()
        .filter(|(_, line)| line.runs_out_soon())
        .take(2);
    said.extend(soon.map(|(days, line)| runs_out(*days, &name(line))));
    said.extend(
        lines
            .iter()
            .find(|line| is_unknown(line))
            .map(|line| format!("What is left of {} is not known: count it (c).", name(line))),
    );
    if said.is_empty() {
        return at_rest(lasting.first());
    }
    said.join(" ")
}

/// Everything of which more was used than was there.
fn below(lines: &[ShelfLine]) -> Option<String> {
    let below = lines.iter().filter(|line| is_below(line));
    let names: Vec<_> = below.map(name).collect();
    let (last, before) = names.split_last()?;
    let (names, them) = match before {
        [] => (last.clone(), "it"),
        _ => (format!("{} and {last}", before.join(", ")), "them"),
    };
    Some(format!(
        "More {names} was used than was there: count {them} (c)."
    ))
}

fn name(line: &ShelfLine) -> String {
    inert(&line.material.name).into_owned()
}

fn is_below(line: &ShelfLine) -> bool {
    line.left.is_some_and(|left| left.get() < 0.0)
}

fn is_unknown(line: &ShelfLine) -> bool {
    line.left.is_none() && line.used_30d.get() > 0.0
}

/// What is used, with the days it lasts, the shortest first.
fn lasting(lines: &[ShelfLine]) -> Vec<(f64, &ShelfLine)> {
    let sound = lines.iter().filter(|line| !is_below(line));
    let mut lasting: Vec<_> = sound.filter_map(|line| Some((days(line)?, line))).collect();
    lasting.sort_by(|a, b| a.0.total_cmp(&b.0));
    lasting
}

fn at_rest(first: Option<&(f64, &ShelfLine)>) -> String {
    first.map_or_else(
        || "Nothing was used in the last 30 days.".to_owned(),
        |(days, line)| {
            let (name, days) = (name(line), days.floor());
            format!("Nothing to buy: {name} runs out first, in {days} days.")
        },
    )
}

fn runs_out(days: f64, name: &str) -> String {
    match days.floor() as i64 {
        0 => format!("Buy {name}: it does not last the day."),
        1 => format!("Buy {name}: it lasts 1 day."),
        days => format!("Buy {name}: it lasts {days} days."),
    }
}

/// The cautions in full, and what on this shelf they are about.
pub fn cautions(shelf: &Shelf) -> Sheet {
    let mut sheet = Sheet::titled("Cautions: local codes and the maker's sheet come first");
    let named: Vec<_> = shelf
        .lines
        .iter()
        .map(|line| (&line.material.name, care(line)))
        .filter(|(_, dangers)| !dangers.is_empty())
        .collect();
    if !named.is_empty() {
        sheet.heading("on this shelf, by Colour Index name and label");
        for (name, dangers) in &named {
            sheet.beside(name, dangers);
        }
    }
    for caution in CAUTIONS {
        sheet.heading(&format!("{}: {}", caution.place, caution.short));
        sheet.words(caution.full);
    }
    sheet
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::material::{Material, MaterialKind};
    use crate::trade::units::Millilitres;
    use rust_decimal::Decimal;

    fn line(left: Option<f64>, used: f64) -> ShelfLine {
        ShelfLine {
            material: Material {
                id: 1,
                name: "Sun red".to_owned(),
                kind: MaterialKind::Paint,
                pack_ml: Some(Millilitres(250.0)),
                price: Some(Decimal::new(890, 2)),
                density: None,
                colour_index: Some("PR108:1".to_owned()),
                hazard: Some("harmful dust".to_owned()),
                colour: None,
                priced_ml: None,
                retired: false,
            },
            left: left.map(Millilitres),
            used_30d: Millilitres(used),
            counted_at: None,
        }
    }

    #[test]
    fn supply_is_told_in_days_or_not_at_all() {
        // 60 ml in 30 days are 2 ml a day.
        assert_eq!(days_words(&line(Some(91.0), 60.0)), "45 d");
        assert_eq!(days_words(&line(Some(0.0), 60.0)), "0 d");
        assert_eq!(days_words(&line(Some(-4.0), 60.0)), "-");
        assert_eq!(days_words(&line(None, 60.0)), "-");
        assert_eq!(days_words(&line(Some(91.0), 0.0)), "-");
    }
}
