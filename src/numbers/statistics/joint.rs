//! The few factors that matter, fitted together: what each still does when the others are held.

use super::findings::{Factor, FactorKind, FactorValue, Finding, Observation};
use super::logistic::{Fitted, Term, fit};
use super::ranks::pearson;
use std::collections::BTreeMap;

/// Fewer pours than this carry no joint fit.
const LEAST: usize = 40;
/// Never more columns than this, however many pours.
const MOST: usize = 6;
/// A factor missing on more than one pour in this many is left out.
const GAPS: usize = 5;

/// Factors fitted together, and what was left out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// The fit.
    pub fitted: Fitted,
    /// One sentence a term, then what was left out and why, then the usual caution.
    pub words: Vec<String>,
}

/// A correlation from this on is no second opinion: a factor and one that follows it halve each other's chance to be
/// seen (ours; in the simulated studios of `benches/power` a real factor is found twice as often).
const ALIKE: f64 = 0.9;
/// A correlation over this is the same thing said twice.
const SAME: f64 = 0.999;

/// A factor turned into columns: one for a number or two words, one less than its words for more.
struct Block {
    place: usize,
    names: Vec<String>,
    words: Vec<String>,
    unit: String,
}

/// Fits the factors of smallest p together: at most one column for ten pours, at least one. `findings` are
/// those of the same factors and rows, in the same order.
///
/// # Errors
/// One sentence of why there is no such fit.
pub fn joint(
    factors: &[Factor],
    rows: &[Observation],
    findings: &[Finding],
) -> Result<Joint, String> {
    if rows.len() < LEAST {
        return Err(format!(
            "Factors are weighed together from {LEAST} judged pours on; there are {}.",
            rows.len()
        ));
    }
    let mut notes = Vec::new();
    let usable = without_gaps(factors, rows, findings, &mut notes);
    let chosen = chosen(factors, rows, usable, &mut notes);
    if chosen.is_empty() {
        return Err("No factor is written down often enough to be weighed with others.".into());
    }
    let (table, good) = table(&chosen, rows);
    let gone = rows.len() - table.len();
    if gone > 0 {
        notes.push(format!(
            "{gone} of {} pours are left out: something was not written down.",
            rows.len()
        ));
    }
    let names: Vec<String> = chosen.iter().flat_map(|b| b.names.clone()).collect();
    let fitted = fit(&names, &table, &good)
        .ok_or("The pours that are whole do not tell good from other.")?;
    Ok(Joint {
        words: told(&fitted, &chosen, notes),
        fitted,
    })
}

/// The first factors that fit in the columns so many pours carry; one too wide is passed over, and so is one that says
/// what another has said already, for the two could not be told apart.
fn chosen(
    factors: &[Factor],
    rows: &[Observation],
    usable: Vec<usize>,
    notes: &mut Vec<String>,
) -> Vec<Block> {
    let mut room = (rows.len() / 10).clamp(1, MOST);
    let mut chosen: Vec<Block> = Vec::new();
    for place in usable {
        let block = block(&factors[place], place, rows);
        if block.names.is_empty() || block.names.len() > room {
            continue;
        }
        let mut likes = chosen.iter().map(|one| (one, likeness(one, &block, rows)));
        if let Some((twin, alike)) = likes.find(|(_, alike)| *alike >= ALIKE) {
            let (name, other) = (&factors[place].name, &factors[twin.place].name);
            let how = if alike > SAME { "always" } else { "mostly" };
            notes.push(format!("{name} is left out: it {how} went with {other}."));
            continue;
        }
        room -= block.names.len();
        chosen.push(block);
    }
    chosen
}

/// How far two factors say the same of the pours that have both: the least correlation, without its sign, of their columns.
fn likeness(first: &Block, second: &Block, rows: &[Observation]) -> f64 {
    let width = first.names.len();
    if width != second.names.len() {
        return 0.0;
    }
    let both: Vec<(Vec<f64>, Vec<f64>)> = rows
        .iter()
        .filter_map(|row| Some((cells(first, row)?, cells(second, row)?)))
        .collect();
    let alike = |column: usize| {
        let (x, y): (Vec<f64>, Vec<f64>) = both.iter().map(|(a, b)| (a[column], b[column])).unzip();
        pearson(&x, &y).map_or(0.0, f64::abs)
    };
    (0..width).map(alike).fold(1.0, f64::min)
}

/// Places of the factors that were tested, the smallest p first; those with gaps are named and left out.
fn without_gaps(
    factors: &[Factor],
    rows: &[Observation],
    findings: &[Finding],
    notes: &mut Vec<String>,
) -> Vec<usize> {
    let mut places: Vec<(f64, usize)> = Vec::new();
    for (place, (factor, finding)) in factors.iter().zip(findings).enumerate() {
        let Some(p) = finding.p else { continue };
        if (rows.len() - finding.n.min(rows.len())) * GAPS > rows.len() {
            notes.push(format!(
                "{} is left out: it is written down on {} of {} pours.",
                factor.name,
                finding.n,
                rows.len()
            ));
        } else {
            places.push((p, place));
        }
    }
    // Of equal p the first by name, so that the order of the factors says nothing.
    let name = |place: usize| &factors[place].name;
    places.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| name(a.1).cmp(name(b.1))));
    places.into_iter().map(|p| p.1).collect()
}

/// Words are counted against the commonest of them, the first by name where several are.
fn block(factor: &Factor, place: usize, rows: &[Observation]) -> Block {
    if factor.kind == FactorKind::Number {
        return Block {
            place,
            names: vec![factor.name.clone()],
            words: Vec::new(),
            unit: factor.unit.clone(),
        };
    }
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for row in rows {
        if let Some(FactorValue::Word(w)) = row.factors.get(place) {
            *counts.entry(w).or_default() += 1;
        }
    }
    let most = counts.values().max().copied().unwrap_or_default();
    let base = counts.iter().find(|c| *c.1 == most).map_or("", |c| c.0);
    let words: Vec<String> = counts
        .keys()
        .filter(|w| **w != base)
        .map(|w| (*w).to_owned())
        .collect();
    Block {
        place,
        names: words
            .iter()
            .map(|w| format!("{} {w} and not {base}", factor.name))
            .collect(),
        words,
        unit: String::new(),
    }
}

/// The rows on which every chosen factor is written down.
fn table(chosen: &[Block], rows: &[Observation]) -> (Vec<Vec<f64>>, Vec<bool>) {
    let whole = |row: &Observation| -> Option<Vec<f64>> {
        let parts: Option<Vec<Vec<f64>>> = chosen.iter().map(|b| cells(b, row)).collect();
        parts.map(|p| p.concat())
    };
    rows.iter()
        .filter_map(|row| Some((whole(row)?, row.good)))
        .unzip()
}

fn cells(block: &Block, row: &Observation) -> Option<Vec<f64>> {
    match row.factors.get(block.place)? {
        FactorValue::Number(v) if v.is_finite() && block.words.is_empty() => Some(vec![*v]),
        FactorValue::Word(w) if !block.words.is_empty() => Some(
            block
                .words
                .iter()
                .map(|other| f64::from(u8::from(other == w)))
                .collect(),
        ),
        _ => None,
    }
}

fn told(fitted: &Fitted, chosen: &[Block], notes: Vec<String>) -> Vec<String> {
    let held = if fitted.terms.len() > 1 {
        ", the others held"
    } else {
        ""
    };
    let blocks = chosen.iter().flat_map(|b| b.names.iter().map(move |_| b));
    let mut words: Vec<String> = fitted
        .terms
        .iter()
        .zip(blocks)
        .map(|(term, block)| format!("{}{held}.", odds(term, block)))
        .collect();
    words.extend(fitted.why_not.clone());
    words.extend(notes);
    words.push(format!(
        "From {} pours; the factors were chosen by looking at them, so the ranges are too narrow.",
        fitted.n
    ));
    words
}

fn odds(term: &Term, block: &Block) -> String {
    let step = if block.words.is_empty() {
        format!(
            "with {} more, ",
            format!("{} {}", short(term.step), block.unit).trim()
        )
    } else {
        String::new()
    };
    format!(
        "{}: {step}the odds of a good pour are {} times what they were ({} to {})",
        term.name,
        short(term.odds_ratio),
        short(term.interval.low),
        short(term.interval.high)
    )
}

/// Two digits, or the whole number where there are more; an open end is said in words.
fn short(value: f64) -> String {
    if value.is_infinite() {
        return "no limit".into();
    }
    if value == 0.0 || value.abs() >= 10.0 {
        return format!("{value:.0}");
    }
    let digits = (1.0 - value.abs().log10().floor()).clamp(0.0, 4.0) as usize;
    format!("{value:.digits$}")
}
