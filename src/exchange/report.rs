//! A look back as one page: self-contained HTML without script or net, for a screen of any width, in light and dark, for paper,
//! and for who listens to it.

use crate::exchange::page::{Page, fill};
use crate::exchange::photo::Thumb;
use crate::studio::Answer;
use crate::studio::{LookedBack, PourPage, RackLine, VariantTally, day};
use crate::tell;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::picture::Picture;
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;
use rust_decimal::Decimal;
use serde::Serialize;
use std::collections::HashMap;

/// What a report tells.
pub struct ReportFacts<'a> {
    /// The studio's name.
    pub studio: Option<&'a str>,
    /// The time it tells of, in words.
    pub span: String,
    /// What worked.
    pub looked: &'a LookedBack,
    /// What stands out, in sentences.
    pub learned: Vec<String>,
    /// Its pours, newest first, each with what its paint cost.
    pub pours: Vec<(PourPage, Option<Decimal>)>,
    /// What is known of their pictures.
    pub pictures: &'a HashMap<i64, Picture>,
    /// Small pictures of them, by the pour's number.
    pub thumbs: &'a HashMap<i64, Thumb>,
    /// What is drying.
    pub rack: &'a [RackLine],
    /// What was sold in that time.
    pub takings: Decimal,
    /// How money is written.
    pub money: &'a dyn Fn(Decimal) -> String,
    /// In which measures sizes stand.
    pub measures: Measures,
    /// The present instant.
    pub now: &'a Now,
}

/// The page as its template reads it.
#[derive(Debug, Serialize)]
struct View {
    heading: String,
    span: String,
    figures: Vec<Figure>,
    bar: u8,
    variants: Vec<VariantView>,
    learned: Vec<String>,
    pours: Vec<PourView>,
    drying: Vec<DryingView>,
    made: String,
}

#[derive(Debug, Serialize)]
struct Figure {
    value: String,
    what: &'static str,
}

/// Places on a rail from 6 to 206.
#[derive(Debug, Serialize)]
struct VariantView {
    title: String,
    layer: &'static str,
    good: usize,
    pours: usize,
    low: String,
    rate: String,
    high: String,
    told: String,
}

#[derive(Debug, Serialize)]
struct PourView {
    number: i64,
    at: String,
    title: Option<String>,
    panel: String,
    way: Option<String>,
    layers: String,
    judged: String,
    cost: String,
    photo: Option<String>,
}

#[derive(Debug, Serialize)]
struct DryingView {
    number: i64,
    panel: String,
    touch: String,
    varnish: String,
}

/// A report as HTML.
///
/// # Errors
/// Where the page cannot be put together.
pub fn report(facts: &ReportFacts<'_>) -> Answer<String> {
    let heading = match facts.studio {
        Some(studio) => format!("{}: a look back", inert(studio)),
        None => "A look back".to_owned(),
    };
    let found = &facts.looked.found;
    fill(
        Page::Report,
        &View {
            heading,
            span: facts.span.clone(),
            figures: figures(facts),
            bar: found.bar,
            variants: found.variants.iter().map(variant).collect(),
            learned: facts
                .learned
                .iter()
                .map(|line| inert(line).into_owned())
                .collect(),
            pours: facts
                .pours
                .iter()
                .map(|(page, cost)| pour(facts, page, *cost))
                .collect(),
            drying: facts.rack.iter().map(|line| drying(facts, line)).collect(),
            made: format!("Made {}", day(facts.now.at, facts.now)),
        },
    )
}

fn figures(facts: &ReportFacts<'_>) -> Vec<Figure> {
    let figure = |value: String, what| Figure { value, what };
    let known: Decimal = facts.pours.iter().filter_map(|(_, cost)| *cost).sum();
    let unknown = facts.pours.iter().any(|(_, cost)| cost.is_none());
    let cost = match unknown && known.is_zero() {
        true => "unknown".to_owned(),
        false => (facts.money)(known),
    };
    let mut all = vec![
        figure(facts.pours.len().to_string(), "pours"),
        figure(facts.looked.found.pours.to_string(), "judged"),
        figure(facts.looked.found.good.to_string(), "good"),
        figure(
            cost,
            match (unknown, known.is_zero()) {
                (true, true) => "cost of paint",
                (true, false) => "of paint, as far as prices are known",
                (false, _) => "of paint",
            },
        ),
    ];
    if !facts.takings.is_zero() {
        all.push(figure((facts.money)(facts.takings), "taken in sales"));
    }
    all
}

fn variant(one: &VariantTally) -> VariantView {
    let place = |share: f64| format!("{:.1}", 6.0 + 200.0 * share.clamp(0.0, 1.0));
    let (low, high) = one.wilson;
    VariantView {
        title: inert(&variant_title(&one.recipe, one.variant)).into_owned(),
        layer: one.layer.word(),
        good: one.good,
        pours: one.pours,
        low: place(low),
        rate: place(one.rate),
        high: place(high),
        told: format!(
            "{} of {} good, {:.0} %; 95 % interval {:.0} to {:.0} %",
            one.good,
            one.pours,
            one.rate * 100.0,
            low * 100.0,
            high * 100.0
        ),
    }
}

fn pour(facts: &ReportFacts<'_>, page: &PourPage, cost: Option<Decimal>) -> PourView {
    let picture = facts.pictures.get(&page.pour.id);
    let layers = page
        .layers
        .iter()
        .map(|cup| format!("{} ({})", cup.variant, cup.mark));
    let judged = page.counting().map(|one| {
        let seen = if one.dry { "dry" } else { "wet" };
        let fate = page.judgements.iter().rev().find_map(|one| one.fate);
        let fate = fate.map(|fate| format!(", {fate}")).unwrap_or_default();
        format!("{} of 5, {seen}{fate}", one.cells)
    });
    let text = |text: &str| inert(text).into_owned();
    PourView {
        number: page.pour.id,
        at: facts
            .now
            .zone
            .tell(page.pour.at)
            .format("%-d %b %Y %H:%M")
            .to_string(),
        title: picture
            .and_then(|picture| picture.title.as_deref())
            .map(text),
        panel: page.pour.panel.show(facts.measures),
        way: page.pour.way.as_deref().map(text),
        layers: text(&layers.collect::<Vec<_>>().join(", ")),
        judged: judged.unwrap_or_else(|| "not judged".to_owned()),
        cost: cost.map_or_else(|| "unknown".to_owned(), |cost| (facts.money)(cost)),
        photo: facts.thumbs.get(&page.pour.id).map(Thumb::address),
    }
}

fn drying(facts: &ReportFacts<'_>, line: &RackLine) -> DryingView {
    let told = |dates| tell::drying::dates(dates, facts.now);
    let panel = line.page.pour.panel.show(facts.measures);
    let picture = facts.pictures.get(&line.page.pour.id);
    let title = picture.and_then(|picture| picture.title.as_deref());
    let title = title.map(|title| format!("{}, ", inert(title)));
    DryingView {
        number: line.page.pour.id,
        panel: title.unwrap_or_default() + &panel,
        touch: told(&line.touch),
        varnish: told(&line.varnish),
    }
}
