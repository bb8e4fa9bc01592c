//! A pour's page: its layers, moves, judgements, dates and what it cost.

use super::days;
use super::words::{dates, reckoned};
use crate::numbers::film::dries_to;
use crate::numbers::levelling::{RIPPLE, levels_in};
use crate::screen::kit::amounts::{show_move, start};
use crate::screen::kit::sheet::Sheet;
use crate::studio::{Cost, CostLine, PouredCup, RackLine, Settings, creep_in_ten_minutes, local};
use crate::tell;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::caution::{self, Place};
use crate::trade::duration::show_brief;
use crate::trade::instant::Now;
use crate::trade::judgement::Judgement;
use crate::trade::length::{show_band, show_length};
use crate::trade::pour::{Pour, PouredLayer};
use crate::trade::units::{Degrees, Seconds};

/// The page; without a cost it tells how to see one.
pub fn sheet(
    (line, title): (&RackLine, Option<&str>),
    cost: Option<&Cost>,
    settings: &Settings,
    now: &Now,
) -> Sheet {
    let pour = &line.page.pour;
    let panel = pour.panel.show(settings.measures);
    let called = title.map(|title| format!("\"{title}\", "));
    let head = format!("{}{panel}{}", called.unwrap_or_default(), start(pour.go));
    let mut sheet = Sheet::titled(&format!("Picture {}: {head}", pour.id));
    sheet.words(&poured(pour, settings.measures, now));
    sheet.heading("drying");
    days::lines(line, now)
        .iter()
        .for_each(|drawn| sheet.drawn(drawn));
    dates(line, now).iter().for_each(|date| sheet.words(date));
    sheet.words(&reckoned(line, settings.measures));
    film(&mut sheet, line, settings.measures);
    sheet.heading("layers, the top one first");
    let cups = line.page.layers.iter().zip(&pour.layers).rev();
    for (PouredCup { mark, variant }, layer) in cups {
        let ml = show_volume(layer.ml, settings.measures);
        sheet.beside(&ml, &format!("{mark} {variant}; {}", was(layer)));
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
    cautions(&mut sheet);
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

/// What the film dries to, how long its ripples take to sink, and how far it may creep on a table out of level: by
/// its runniest layer; it levels as slowly as its thickest.
fn film(sheet: &mut Sheet, line: &RackLine, measures: Measures) {
    let show = |length| show_length(length, measures);
    let dry = show_band(dries_to(line.film), measures);
    sheet.words(&format!("dries to about {dry}, an estimate"));
    let mounds = || line.page.pour.layers.iter().filter_map(|layer| layer.mound);
    let (Some(runniest), Some(thickest)) =
        (mounds().reduce(Seconds::min), mounds().reduce(Seconds::max))
    else {
        return;
    };
    if let Ok(sinks) = levels_in(line.film, thickest, RIPPLE) {
        sheet.words(&format!(
            "ripples {} apart sank within {} to {}, an estimate from its mounds",
            show(RIPPLE),
            show_brief(sinks.low),
            show_brief(sinks.high)
        ));
    }
    if let Ok(creep) = creep_in_ten_minutes(line.film, runniest, Degrees(1.0)) {
        let far = show(creep);
        sheet.words(&format!(
            "on a table one degree out of level it creeps {far} at most in ten minutes"
        ));
    }
}

/// What bites where a picture dries and is finished.
fn cautions(sheet: &mut Sheet) {
    sheet.heading("before it is sanded, varnished, or its tools are washed");
    let places = [Place::Sanding, Place::Varnish, Place::Drains].into_iter();
    places
        .flat_map(caution::at)
        .for_each(|caution| sheet.words(caution.short));
    sheet.words("the label, the maker's sheet and local codes come first; in full on the Shelf");
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
        sheet.beside(
            &tell::cost::price(*cost, &settings.currency),
            &format!("{}, {ml}", tell::cost::what(what)),
        );
    }
    sheet.beside(&tell::cost::price(cost.total, &settings.currency), "in all");
    if let Some(missing) = tell::cost::missing(cost, &settings.currency) {
        sheet.words(&format!("{missing}: the Shelf sets it"));
    }
}
