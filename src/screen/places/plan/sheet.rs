//! A plan's sheet in lines: how much, from what, what it lacks, what it costs, and its day.

use super::next::is_done;
use super::timeline;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::strong;
use crate::screen::kit::message::Tone;
use crate::screen::kit::text::{Cut, fit, plain, wrap};
use crate::studio::{PlanLayer, PlanPage, PlanPart, PlanSheet, Repeat, Settings, Step, local};
use crate::tell;
use crate::trade::amount::{Measures, show_mass, show_volume};
use crate::trade::ids::VariantId;
use crate::trade::instant::Now;
use crate::trade::text::inert;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use rust_decimal::Decimal;

/// No sheet has more lines; the view shows no more than there are.
pub fn most_lines(sheet: &PlanSheet) -> usize {
    let parts: usize = sheet.layers.iter().map(|layer| layer.parts.len() + 2).sum();
    let told = sheet.repeat.iter();
    // Each is a sentence, which a narrow place folds.
    let told = told.map(|one| 2 * (one.differs.len() + one.layers.len()) + one.moves.len() + 1);
    let told: usize = told.sum();
    parts
        + told
        + sheet.schedule.len()
        + sheet.lacks.len()
        + 2 * sheet.notes.len()
        + sheet.warnings.len()
        + 12
}

/// Money with the studio's currency.
fn money(price: Decimal, settings: &Settings) -> String {
    tell::money(price, &settings.currency)
}

/// What it costs, or what is not known of it.
pub fn costs(sheet: &PlanSheet, settings: &Settings) -> String {
    inert(&tell::cost::of_plan(sheet, &settings.currency)).into_owned()
}

/// What the shelf lacks, one sentence a material.
pub fn lacks(sheet: &PlanSheet, measures: Measures, now: &Now) -> Vec<String> {
    let lacks = sheet.lacks.iter();
    lacks.map(|one| tell::words(one, measures, now)).collect()
}

/// How much, what is odd, and every layer with its parts.
pub fn paint(desk: &Desk, sheet: &PlanSheet, width: usize) -> Vec<Line<'static>> {
    let mut lines = folded(&summary(desk, sheet), width);
    lines.extend(troubles(desk, sheet, width));
    lines.extend(notes(desk, sheet, width));
    let note = sheet.note.as_ref();
    lines.extend(
        note.iter()
            .flat_map(|note| folded(&format!("To try: {}", inert(note)), width)),
    );
    lines.extend(differs(desk, sheet, width));
    for layer in &sheet.layers {
        lines.extend(layer_lines(desk, layer, width));
    }
    if let Some(settings) = &desk.known.settings {
        lines.extend(folded(&format!("{}.", costs(sheet, settings)), width));
    }
    lines.extend(
        sheet
            .repeat
            .iter()
            .flat_map(|one| to_follow(desk, one, width)),
    );
    lines
}

/// What would differ from the picture that is made once more.
fn differs(desk: &Desk, sheet: &PlanSheet, width: usize) -> Vec<Line<'static>> {
    let (measures, now) = (desk.measures(), &desk.beat.now);
    let differs = sheet.repeat.iter().flat_map(|one| &one.differs);
    let words = differs.map(|one| format!("! {}", tell::words(one, measures, now)));
    let lines = words.flat_map(|words| wrap(&words, width));
    lines
        .map(|line| Line::styled(line, desk.look.tone(Tone::Odd)))
        .collect()
}

/// What is poured and done with the panel, one step after another.
fn to_follow(desk: &Desk, repeat: &Repeat, width: usize) -> Vec<Line<'static>> {
    let head = format!("to pour, lowest first, as in picture {}", repeat.pour);
    let layers = repeat.layers.iter();
    let layers = layers.map(|one| tell::plans::layer(one, desk.measures()));
    let moves = repeat.moves.iter().map(tell::show_move);
    let steps = (1..).zip(layers.chain(moves));
    let steps = steps.flat_map(|(step, words)| folded(&format!("{step}. {words}"), width));
    let head = fit(&head, width, Cut::End).trim_end().to_owned();
    let mut lines = vec![Line::styled(head, desk.look.faint())];
    lines.extend(steps);
    lines
}

/// What it makes, safe to show.
fn summary(desk: &Desk, sheet: &PlanSheet) -> String {
    let words = tell::plans::summary(sheet, desk.measures(), &desk.beat.now);
    inert(&words).into_owned() + "."
}

fn folded(words: &str, width: usize) -> Vec<Line<'static>> {
    wrap(words, width).into_iter().map(Line::from).collect()
}

/// What the shelf lacks, and what a careful painter would want to know.
pub fn troubles(desk: &Desk, sheet: &PlanSheet, width: usize) -> Vec<Line<'static>> {
    let (measures, now) = (desk.measures(), &desk.beat.now);
    let lacks = lacks(sheet, measures, now).into_iter();
    let warnings = sheet.warnings.iter();
    let warnings = warnings.map(|one| inert(&tell::words(one, measures, now)).into_owned());
    let wrong = desk.look.wrong();
    lacks
        .chain(warnings)
        .flat_map(|words| wrap(&format!("✗ {words}"), width))
        .map(|line| Line::styled(line, wrong))
        .collect()
}

/// What stands ready, and what is taken from the shelf.
fn notes(desk: &Desk, sheet: &PlanSheet, width: usize) -> Vec<Line<'static>> {
    let (measures, now) = (desk.measures(), &desk.beat.now);
    let words = sheet.notes.iter();
    let words = words.map(|one| inert(&tell::words(one, measures, now)).into_owned());
    words
        .flat_map(|words| wrap(&format!("· {words}"), width))
        .map(Line::from)
        .collect()
}

fn layer_lines(desk: &Desk, layer: &PlanLayer, width: usize) -> Vec<Line<'static>> {
    let title = layer.variant_ref().to_string();
    let title = inert(&title);
    let ml = show_volume(layer.ml, desk.measures());
    let cups = tell::plans::in_cups(layer, desk.measures());
    let colour = desk.known.names.colour(VariantId(layer.variant.id));
    let before = format!("{ml:>9}  {:<10} ", layer.recipe.layer);
    let swatch = desk.swatch(colour);
    let room = width.saturating_sub(before.chars().count() + swatch.width());
    let named = fit(&format!("{title}{cups}"), room, Cut::End);
    let (before, named) = (
        Span::styled(before, strong()),
        Span::styled(named, strong()),
    );
    let mut lines = vec![Line::from(vec![before, swatch, named])];
    lines.extend(layer.parts.iter().map(|part| part_line(desk, part, width)));
    lines
}

/// `    40 ml     50 g    1.20  White paint`.
fn part_line(desk: &Desk, part: &PlanPart, width: usize) -> Line<'static> {
    let measures = desk.measures();
    let mass = part.g.map(|g| show_mass(g, measures));
    let settings = desk.known.settings.as_ref();
    let cost = part.cost.zip(settings);
    let cost = cost.map(|(cost, settings)| money(cost, settings));
    let unknown = || "-".to_owned();
    let words = format!(
        "{:>9} {:>8} {:>9}  {}",
        show_volume(part.ml, measures),
        mass.unwrap_or_else(unknown),
        cost.unwrap_or_else(unknown),
        inert(&part.name)
    );
    plain(fit(&words, width, Cut::End).trim_end().to_owned()).into()
}

/// The day drawn to scale.
pub fn drawn(desk: &Desk, sheet: &PlanSheet, width: usize) -> Vec<Line<'static>> {
    let name = (width / 4).clamp(8, 24);
    let drawn = timeline::lines(&sheet.schedule, &desk.beat.now, name, width);
    let mut lines: Vec<Line<'static>> = drawn.into_iter().map(Line::from).collect();
    if !lines.is_empty() {
        let told = wrap(timeline::LEGEND, width).into_iter();
        lines.extend(told.map(|line| Line::styled(line, desk.look.faint())));
    }
    lines
}

/// What to do when, one step a line; of a kept plan, what is done bears a tick.
pub fn steps(
    desk: &Desk,
    sheet: &PlanSheet,
    page: Option<&PlanPage>,
    width: usize,
) -> Vec<Line<'static>> {
    let line = |step: &Step| {
        let done = page.is_some_and(|page| is_done(step, page));
        step_line(desk, step, done, width)
    };
    sheet.schedule.iter().map(line).collect()
}

fn step_line(desk: &Desk, step: &Step, done: bool, width: usize) -> Line<'static> {
    let now = &desk.beat.now;
    let cup = step.cup.as_ref().map(ToString::to_string);
    let cup = cup.as_deref().map(inert).unwrap_or_default();
    let sign = if done { "✓" } else { " " };
    let words = format!("{sign} {:<6} {cup}", step.deed);
    let style = if done || step.at < now.at {
        desk.look.faint()
    } else {
        Style::new()
    };
    let words = fit(&words, width.saturating_sub(17), Cut::End);
    let at = local(step.at, now);
    Line::styled(format!("{at:>16} {}", words.trim_end()), style)
}
