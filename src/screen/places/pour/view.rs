//! How the Pour looks: the stack as it lies, the top layer on top, and what is wrong with it.

use super::{Layer, Wish};
use crate::screen::kit::look::{chosen, sign, strong};
use crate::screen::kit::text::{Cut, fit, fold, plain, wrap};
use crate::screen::places::trials;
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::key_of;
use crate::screen::shell::model::Model;
use crate::studio::{CupStatus, PourPage, local};
use crate::trade::amount::show_volume;
use crate::trade::pour::Move;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// Cells for each second of mound in a layer's bar.
const CELLS_A_SECOND: f64 = 3.0;

/// What a step says stands under its upper layer, in from the edge.
const INDENT: &str = "        ";

/// What the hands must do next, in words.
pub fn headline(model: &Model) -> String {
    let desk = &model.pour;
    match (desk.panel, desk.layers.is_empty(), desk.faults.first()) {
        (None, true, _) => "Say which panel (p), and put the lowest layer on (a).".to_owned(),
        (_, true, _) => {
            "Put the lowest layer on: a asks which cup, A takes all that are ready.".to_owned()
        }
        (_, _, Some(fault)) => format!("{fault}."),
        (None, ..) => "The stack is in order. Say which panel: p.".to_owned(),
        (Some(panel), ..) => format!(
            "The stack is in order: g pours {} on {}.",
            show_volume(desk.total(model.known.measures()), model.known.measures()),
            panel.show(model.known.measures())
        ),
    }
}

/// Draws the Pour.
pub fn view(model: &Model, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let run = trials::to_pour(model).map(|words| wrap(&words, width));
    let run = run.unwrap_or_default().into_iter();
    let mut lines: Vec<_> = run.map(|line| Line::styled(line, strong())).collect();
    lines.push(room(model));
    let desk = &model.pour;
    for (place, layer) in desk.layers.iter().enumerate().rev() {
        lines.push(rung(model, place, layer, width));
        let below = place.checked_sub(1).and_then(|step| desk.steps.get(step));
        for words in below.into_iter().flatten() {
            let wrapped = wrap(&inert(words), width.saturating_sub(INDENT.len()));
            let step = |line| Line::styled(format!("{INDENT}{line}"), model.look.faint());
            lines.extend(wrapped.into_iter().map(step));
        }
    }
    lines.push(Line::styled(
        fit("  ▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔ panel", width, Cut::End),
        model.look.faint(),
    ));
    if !desk.moves.is_empty() {
        let moves: Vec<_> = desk.moves.iter().map(show_move).collect();
        lines.push(plain(format!("then {}", moves.join(", "))).into());
    }
    for fault in &desk.faults {
        for line in wrap(&format!("✗ {}", inert(fault)), width) {
            lines.push(Line::styled(line, model.look.wrong()));
        }
    }
    if let Some(page) = &desk.last {
        lines.extend(fold(last(model, page), width));
        lines.extend(
            again(model, page)
                .into_iter()
                .flat_map(|line| fold(line, width)),
        );
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn room(model: &Model) -> Line<'static> {
    let desk = &model.pour;
    let panel = desk.panel.map(|panel| panel.show(model.known.measures()));
    let mut said = vec![panel.unwrap_or_else(|| "no panel yet".to_owned())];
    said.extend(desk.way.as_ref().map(|way| inert(way).into_owned()));
    said.extend(desk.air.map(|air| air.show(model.known.measures())));
    said.extend(desk.note.as_ref().map(|note| inert(note).into_owned()));
    plain(said.join("; ")).into()
}

/// One layer: its place from the panel up, its cup, how much, and its mound as a bar that should shrink upward.
fn rung(model: &Model, place: usize, layer: &Layer, width: usize) -> Line<'static> {
    let mut cups = model.bench.cups.iter();
    let cup = cups.find(|cup| cup.cup.mark.as_str() == layer.mark);
    let in_hand = place == model.pour.at;
    let ml = show_volume(layer.ml, model.known.measures());
    let mut spans = vec![
        plain(if in_hand { "› " } else { "  " }),
        plain(format!("{} ", place + 1)),
        Span::styled(
            fit(&layer.mark, 3, Cut::End),
            if in_hand { chosen() } else { strong() },
        ),
        plain(format!(" {ml:>8} ")),
    ];
    match cup {
        Some(cup) => spans.extend(told(model, cup, width.saturating_sub(16))),
        None => spans.push(plain("no living cup")),
    }
    Line::from(spans)
}

fn told(model: &Model, cup: &CupStatus, room: usize) -> Vec<Span<'static>> {
    let state = model.look.state(cup.state);
    let name = room.saturating_sub(10 + 8 + 10).clamp(8, 24);
    let mid = cup.outlook.mound_mid().map(|mound| mound.get());
    let mound = mid.map(|mid| format!("{mid:.1} s")).unwrap_or_default();
    let bar = (mid.unwrap_or(0.0) * CELLS_A_SECOND).round() as usize;
    let bar = bar.min(room.saturating_sub(name + 19));
    vec![
        Span::styled(format!("{} {:<8}", sign(cup.state), cup.state), state),
        plain(fit(&inert(&cup.title()), name, Cut::End)),
        plain(format!(" {mound:>6} ")),
        Span::styled("■".repeat(bar), state),
    ]
}

/// `spin cw 2`.
pub fn show_move(one: &Move) -> String {
    let mut words = vec![one.kind.to_string()];
    words.extend(one.direction.as_ref().map(|way| inert(way).into_owned()));
    words.extend(one.times.map(|times| times.to_string()));
    words.join(" ")
}

/// What a start-over would take, once a stack is built.
fn again(model: &Model, page: &PourPage) -> Option<Line<'static>> {
    let key = key_of(Action::Pour(Wish::Again));
    let words = format!("{key} starts pour {} over with this stack", page.pour.id);
    let is_built = !model.pour.layers.is_empty() && page.scraped_for.is_none();
    is_built.then(|| Line::styled(words, model.look.faint()))
}

fn last(model: &Model, page: &PourPage) -> Line<'static> {
    let judged = page.counting().map_or_else(
        || "not judged yet".to_owned(),
        |judged| format!("cells {}", judged.cells),
    );
    let at = local(page.pour.at, &model.beat.now);
    let go = page.pour.go;
    Line::styled(
        format!("Last: pour {}, go {go}, {at}; {judged}", page.pour.id),
        model.look.faint(),
    )
}
