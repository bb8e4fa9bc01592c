//! A pour's page: its layers, moves, judgements, dates and what it cost.

use super::words::{dates, reckoned};
use crate::screen::pour::show_move;
use crate::screen::sheet::Sheet;
use crate::studio::{Cost, CostLine, RackLine, Settings, creep_in_ten_minutes, local};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::judgement::Judgement;
use crate::trade::length::show_length;
use crate::trade::pour::{Pour, PouredLayer};
use crate::trade::units::{Degrees, Seconds};
use rust_decimal::Decimal;

/// The page; without a cost it tells how to see one.
pub fn sheet(line: &RackLine, cost: Option<&Cost>, settings: &Settings, now: &Now) -> Sheet {
    let pour = &line.page.pour;
    let panel = pour.panel.show(settings.measures);
    let mut sheet = Sheet::titled(&format!("Pour {}: {panel}, go {}", pour.id, pour.go));
    sheet.words(&poured(pour, settings.measures, now));
    sheet.heading("drying");
    dates(line, now).iter().for_each(|date| sheet.words(date));
    sheet.words(&reckoned(line, settings.measures));
    creep(&mut sheet, line, settings.measures);
    sheet.heading("layers, the top one first");
    let cups = line.page.layers.iter().zip(&pour.layers).rev();
    for ((mark, title), layer) in cups {
        let ml = show_volume(layer.ml, settings.measures);
        sheet.beside(&ml, &format!("{mark} {title}; {}", was(layer)));
    }
    moves(&mut sheet, pour);
    sheet.heading("judgements");
    if line.page.judgements.is_empty() {
        sheet.words("none yet: d judges it dry");
    }
    for judged in &line.page.judgements {
        sheet.beside(&local(judged.at, now), &seen(judged));
    }
    match cost {
        Some(cost) => costs(&mut sheet, cost, settings),
        None => sheet.words("Enter shows what it cost"),
    }
    sheet
}

fn poured(pour: &Pour, measures: Measures, now: &Now) -> String {
    let mut said = vec![format!("poured {}", local(pour.at, now))];
    said.extend(pour.way.clone());
    said.extend(pour.air.map(|air| air.show(measures)));
    said.extend(
        pour.again_of
            .map(|number| format!("begun again after pour {number}")),
    );
    said.extend(pour.note.clone());
    said.join("; ")
}

/// What a layer's cup was when it was poured.
fn was(layer: &PouredLayer) -> String {
    let mound = layer
        .mound
        .map(|mound| format!(", mound {:.1} s", mound.get()));
    format!("{}{}", layer.state, mound.unwrap_or_default())
}

/// How far the film may creep on a table out of level, by its runniest layer.
fn creep(sheet: &mut Sheet, line: &RackLine, measures: Measures) {
    let mounds = line.page.pour.layers.iter().filter_map(|layer| layer.mound);
    let Some(runniest) = mounds.reduce(Seconds::min) else {
        return;
    };
    if let Ok(creep) = creep_in_ten_minutes(line.film, runniest, Degrees(1.0)) {
        let far = show_length(creep, measures);
        sheet.words(&format!(
            "on a table one degree out of level it creeps {far} at most in ten minutes"
        ));
    }
}

fn moves(sheet: &mut Sheet, pour: &Pour) {
    if pour.moves.is_empty() {
        return;
    }
    sheet.heading("moves, in order");
    let moves: Vec<_> = pour.moves.iter().map(show_move).collect();
    sheet.words(&moves.join(", "));
}

fn seen(judged: &Judgement) -> String {
    let dry = if judged.dry { "dry" } else { "wet" };
    let mut said = vec![format!("cells {}, {dry}", judged.cells)];
    said.extend(judged.size.map(|size| format!("{size} cells")));
    let grades = [
        ("even", judged.evenness),
        ("lacing", judged.lacing),
        ("muddy", judged.muddy),
        ("crazed", judged.crazed),
        ("pinholes", judged.pinholes),
    ];
    let graded = grades
        .iter()
        .filter_map(|(name, grade)| Some((name, (*grade)?)));
    said.extend(graded.map(|(name, grade)| format!("{name} {grade}")));
    said.extend(judged.fate.map(|fate| fate.to_string()));
    said.extend(judged.note.clone());
    said.join(", ")
}

fn costs(sheet: &mut Sheet, cost: &Cost, settings: &Settings) {
    sheet.heading("cost, with the goes scraped before it");
    for CostLine { what, ml, cost } in &cost.lines {
        let ml = show_volume(*ml, settings.measures);
        sheet.beside(&price(*cost, settings), &format!("{what}, {ml}"));
    }
    sheet.beside(&price(cost.total, settings), "in all");
    if cost.total.is_none() {
        sheet.words("a price or a pack of what went in is not known: the Shelf sets it");
    }
}

/// `8.90 EUR`; a price that is not known is said to be so.
fn price(cost: Option<Decimal>, settings: &Settings) -> String {
    cost.map_or_else(
        || "unknown".to_owned(),
        |cost| {
            let shown = format!("{:.2} {}", cost.round_dp(2), settings.currency);
            shown.trim_end().to_owned()
        },
    )
}
