//! Times and mounds that no studio has, out of a file: what is asked of them is answered or refused, and nothing ends.

use super::{empty, now, small, take, text};
use stillcup::studio::{PlanOrder, Studio, TimeWindow};
use stillcup::trade::panel::Panel;
use stillcup::trade::plan::Panels;
use stillcup::trade::units::Millimetres;

/// The small studio's file with a field set wherever it stands in the rows of a table.
fn with(table: &str, field: &str, value: &str) -> Vec<u8> {
    let whole = text(&small());
    let from = whole.find(&format!("\"{table}\":[")).unwrap();
    let to = from + whole[from..].find("\n]").unwrap();
    let key = format!("\"{field}\":");
    let mut pieces = whole[from..to].split(&key);
    let mut rows = pieces.next().unwrap().to_owned();
    for piece in pieces {
        let end = piece.find([',', '}']).unwrap();
        rows += &format!("{key}{value}{}", &piece[end..]);
    }
    assert!(rows.contains(&key), "{table} {field}");
    [&whole[..from], &rows, &whole[to..]].concat().into_bytes()
}

/// Asks all that adds to instants.
fn asked(studio: &Studio) {
    let names = studio.recipes().unwrap().into_iter();
    let names: Vec<String> = names.map(|page| page.recipe.name).collect();
    let order = PlanOrder {
        panels: Panels {
            panel: Panel::parse("40x50cm").unwrap(),
            count: 1,
            edge: Millimetres::ZERO,
        },
        way: None,
        pour_at: None,
        film: Some(Millimetres(1.8)),
        recipes: names,
        holds: None,
    };
    let _ = studio.plan(&order, &now(20_000));
    let bench = studio.bench(&now(20_000)).unwrap();
    let marks = bench.iter().map(|cup| cup.cup.mark.to_string());
    let _ = studio.stack(&marks.collect::<Vec<_>>(), &[], &now(20_000));
    let _ = studio.findings(TimeWindow::default());
    let _ = studio.rack(&now(20_000));
    for page in studio.plans().unwrap() {
        let _ = studio.kept_sheet(page.plan.id, &now(20_000));
    }
}

#[test]
fn a_mound_or_a_wait_of_years_overflows_no_instant() {
    let huge = [
        ("variant", "mound_high", "\"1000000000.0\""),
        ("variant", "rest_ms", "9223372036854775807"),
        ("variant", "again_ms", "9223372036854775807"),
        ("variant", "stir_min", "\"1000000000.0\""),
        ("cup", "at_ms", "8000000000000000"),
        ("entry", "at_ms", "-8000000000000000"),
    ];
    let (mut taken, mut refused) = (Vec::new(), Vec::new());
    for (table, field, value) in huge {
        let mut place = empty();
        // What is refused at the door needs no more.
        match take(&mut place, &with(table, field, value)) {
            Ok(_) => {
                taken.push(field);
                asked(&place.studio);
            }
            Err(why) => refused.push(format!("{field}: {why}")),
        }
    }
    assert!(taken.contains(&"mound_high"), "{refused:#?}");
}
