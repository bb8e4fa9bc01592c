//! How the rows of why look: a factor's sides as two signs on one scale, opened to an interval each.

use super::Findings;
use super::bars::{Bar, MIDDLING, head};
use super::plot::{scale, sides};
use super::view::{Section, indented};
use super::why::{Row, Why};
use super::words::{beneath_factor, beneath_next, kind_word, of_tally, opens, verdict};
use crate::numbers::statistics::findings::Finding;
use crate::numbers::statistics::proportion::Tally;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::look::{chosen, strong};
use crate::screen::kit::text::{Cut, fit, plain};
use crate::studio::{DriftPeriod, OutcomeKind, Suggestion};
use crate::tell;
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;
use ratatui::text::{Line, Span};

/// All rows, under their headings.
pub fn sections(findings: &Findings, desk: &Desk, why: &Why, width: usize) -> Vec<Section> {
    let mut place = 0;
    let older = why.reasons.as_ref().and_then(tell::findings::weighed_of);
    let older = older.map(|words| Section::of_words(&words, width));
    let mut sections = Vec::from_iter(older);
    for part in why.parts() {
        let mut section = Section::default();
        section
            .lines
            .push(heading(desk, part.title, &part.rows, width));
        for row in part.rows {
            let first = section.lines.len();
            let is_chosen = place == why.at;
            section
                .lines
                .push(line(findings, desk, why, row, is_chosen, width));
            if is_chosen {
                section.lines.extend(opened(findings, desk, row, width));
                section.in_hand = Some(first..section.lines.len());
            }
            place += 1;
        }
        sections.push(section);
    }
    sections
}

/// The heading, with the scale over what has plots.
fn heading(desk: &Desk, title: &str, rows: &[Row<'_>], width: usize) -> Line<'static> {
    match rows.first() {
        Some(Row::Factor(_)) => {
            let columns = Columns::of(width);
            let words = fit(title, columns.name + 3, Cut::End);
            let line = format!("{words}{}", scale(columns.plot));
            Line::styled(line, desk.look.faint())
        }
        Some(Row::Period(_)) => head(desk, title, width, false),
        _ => Line::styled(title.to_owned(), desk.look.faint()),
    }
}

fn line(
    findings: &Findings,
    desk: &Desk,
    why: &Why,
    row: Row<'_>,
    is_chosen: bool,
    width: usize,
) -> Line<'static> {
    match row {
        Row::Next(one) => next_line(findings, one, is_chosen, width),
        Row::Factor(one) => {
            let is_first = why.first.as_deref() == Some(one.name.as_str());
            factor_line(desk, one, is_chosen, is_first, width)
        }
        Row::Period(one) => bar(one.name.clone(), one.tally, is_chosen).line(desk, width),
    }
}

fn bar(name: String, tally: Tally, is_chosen: bool) -> Bar {
    Bar {
        name,
        tally,
        is_chosen,
        is_long: false,
    }
}

fn sign(is_chosen: bool, is_first: bool) -> Span<'static> {
    plain(match (is_chosen, is_first) {
        (true, _) => "› ",
        (false, true) => "+ ",
        (false, false) => "  ",
    })
}

fn named(name: &str, width: usize, is_chosen: bool) -> Span<'static> {
    let style = if is_chosen { chosen() } else { strong() };
    Span::styled(fit(&inert(name), width, Cut::End), style)
}

/// `› River blue v2   likely best   12 of 16 good`.
fn next_line(
    findings: &Findings,
    one: &Suggestion,
    is_chosen: bool,
    width: usize,
) -> Line<'static> {
    let name = variant_title(&one.recipe, one.variant);
    let rows = findings.rows().iter();
    let own = rows.filter(|row| row.recipe == one.recipe && row.variant == one.variant);
    let tally = own.map(super::words::of).next().unwrap_or_default();
    let room = width.saturating_sub(2 + 15 + 16).clamp(8, 32);
    Line::from(vec![
        sign(is_chosen, false),
        named(&name, room, is_chosen),
        plain(format!("  {:<13}{tally:>14}", kind_word(one))),
    ])
}

/// How many cells a factor's name, its plot and the words beside it take.
struct Columns {
    name: usize,
    plot: usize,
    shares: usize,
    verdict: usize,
}

impl Columns {
    fn of(width: usize) -> Self {
        let shares = if width < MIDDLING { 0 } else { 17 };
        let verdict = 15;
        let room = width.saturating_sub(2 + 1 + shares + verdict + 1);
        let name = (room * 5 / 7).clamp(8, 40).min(room);
        Self {
            name,
            plot: (room - name).min(41),
            shares,
            verdict,
        }
    }
}

/// `› rest over 12.1 h   ···○──●····  57 %, else 30 %  a sign`.
fn factor_line(
    desk: &Desk,
    one: &Finding,
    is_chosen: bool,
    is_first: bool,
    width: usize,
) -> Line<'static> {
    let columns = Columns::of(width);
    let tallies: Vec<Tally> = one.sides.each.iter().map(|side| side.tally).collect();
    let upper = match one.sides.each.as_slice() {
        [upper, _] => format!(" {}", tell::findings::side(&upper.which)),
        _ => String::new(),
    };
    let style = match one.is_said() {
        true => strong(),
        false => desk.look.faint(),
    };
    let shares = fit(&shares(&tallies), columns.shares, Cut::End);
    Line::from(vec![
        sign(is_chosen, is_first),
        named(&format!("{}{upper}", one.name), columns.name, is_chosen),
        plain(" "),
        Span::styled(sides(&tallies, columns.plot), style),
        plain(format!(" {shares}")),
        Span::styled(fit(&verdict(one), columns.verdict, Cut::End), style),
    ])
}

/// `57 %, else 30 %`, or from the least to the most of many.
fn shares(tallies: &[Tally]) -> String {
    let percent = |share: f64| format!("{:.0}", share * 100.0);
    let all: Vec<f64> = tallies.iter().filter_map(|one| one.share()).collect();
    match all.as_slice() {
        [] => String::new(),
        [one] => format!("{} % ", percent(*one)),
        [upper, lower] => format!("{} %, else {} %", percent(*upper), percent(*lower)),
        many => {
            let least = many.iter().copied().fold(f64::INFINITY, f64::min);
            let most = many.iter().copied().fold(0.0, f64::max);
            format!("{} to {} %", percent(least), percent(most))
        }
    }
}

/// What stands beneath the chosen row.
fn opened(findings: &Findings, desk: &Desk, row: Row<'_>, width: usize) -> Vec<Line<'static>> {
    match row {
        Row::Next(one) => indented(&beneath_next(one), width).collect(),
        Row::Factor(one) => opened_factor(findings, desk, one, width),
        Row::Period(one) => opened_period(findings, one, width),
    }
}

/// Its sides as bars, then the sentence.
fn opened_factor(
    findings: &Findings,
    desk: &Desk,
    one: &Finding,
    width: usize,
) -> Vec<Line<'static>> {
    let sides = one.sides.each.iter();
    let bars = sides.map(|side| {
        bar(
            format!("  {}", tell::findings::side(&side.which)),
            side.tally,
            false,
        )
    });
    let mut lines: Vec<Line<'static>> = bars.map(|bar| bar.line(desk, width)).collect();
    let reasons = findings.why.as_ref().and_then(|why| why.reasons.as_ref());
    let outcome = reasons.map_or(OutcomeKind::Good, |reasons| reasons.outcome);
    lines.extend(indented(&beneath_factor(one, outcome), width));
    lines
}

fn opened_period(findings: &Findings, one: &DriftPeriod, width: usize) -> Vec<Line<'static>> {
    let reasons = findings.why.as_ref();
    let drift = reasons.and_then(|why| Some(&why.reasons.as_ref()?.drift));
    let drift = drift
        .map(|drift| tell::drift::words(drift.verdict))
        .unwrap_or_default();
    let own = format!("{}: {}", one.name, of_tally(one.tally));
    let words = format!("{drift} {own}{}", opens(one.behind.len()));
    indented(&words, width).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::kit::beat::Beat;
    use crate::screen::kit::look::Look;
    use crate::screen::tests::Stage;
    use crate::studio::Asked;
    use std::time::Duration;

    #[test]
    fn what_is_left_out_of_the_weighing_is_said_above_it() {
        let stage = Stage::with_recipes();
        let studio = stage.studio();
        let back = studio.look_back(&Asked::default()).unwrap();
        let mut reasons = studio.reasons(&back, &stage.now).unwrap();
        reasons.judged = 3;
        let why = Why {
            reasons: Some(reasons),
            ..Why::default()
        };
        let beat = Beat {
            now: stage.now,
            elapsed: Duration::ZERO,
        };
        let desk = Desk::new(beat, Look::Plain);
        let shown = sections(&Findings::default(), &desk, &why, 50);
        assert_eq!(
            shown[0].lines,
            [Line::from("Weighed are the newest 0 of 3 judged pours.")]
        );
    }
}
