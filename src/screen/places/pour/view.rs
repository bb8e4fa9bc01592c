//! How the Pour looks: the stack as it lies, the top layer on top, and what is wrong with it.

use super::{KEYS, Layer, PourDesk, Wish, drawn};
use crate::screen::kit::amounts::{show_move, start};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::RunInHand;
use crate::screen::kit::keys::key_of;
use crate::screen::kit::look::{chosen, sign, strong};
use crate::screen::kit::text::{Cut, fit, fold, plain, wrap};
use crate::studio::orders::PourField;
use crate::studio::{CupStatus, PourPage, local};
use crate::tell;
use crate::trade::amount::show_volume;
use crate::trade::ids::VariantId;
use crate::trade::pour::Move;
use crate::trade::text::inert;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

/// Cells for each second of mound in a layer's bar.
const CELLS_A_SECOND: f64 = 3.0;

/// What a step says stands under its upper layer, in from the edge.
const INDENT: &str = "        ";

/// From this width on its films stand beside it.
const WIDE: u16 = 120;
/// Its ladder is no wider, so that the films stand beside it and not far off.
const LADDER: u16 = 92;

/// What the hands must do next, in words.
pub fn headline(pour: &PourDesk, desk: &Desk) -> String {
    let key = |wish| key_of(KEYS, &wish);
    let panel_key = key(Wish::Setting(PourField::Panel));
    match (pour.panel, pour.layers.is_empty(), pour.faults.first()) {
        (None, true, _) => {
            let add = key(Wish::Add);
            format!("Say which panel ({panel_key}), and put the lowest layer on ({add}).")
        }
        (_, true, _) => {
            let (add, all) = (key(Wish::Add), key(Wish::AddReady));
            format!(
                "Put the lowest layer on: {add} asks which cup, {all} takes all that are ready."
            )
        }
        (_, _, Some(fault)) => format!("{fault}."),
        (None, ..) => format!("The stack is in order. Say which panel: {panel_key}."),
        (Some(panel), ..) => format!(
            "The stack is in order: {} pours {} on {}.",
            key(Wish::Go),
            show_volume(pour.total(desk.measures()), desk.measures()),
            panel.show(desk.measures())
        ),
    }
}

/// Draws the Pour; where there is room, with its films to scale beside it.
pub fn view(pour: &PourDesk, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    if area.width < WIDE {
        return ladder(pour, desk, frame, area);
    }
    let parts = Layout::horizontal([Constraint::Max(LADDER), Constraint::Min(50)]).spacing(2);
    let [left, right] = parts.areas(area);
    ladder(pour, desk, frame, left);
    let lines = drawn::lines(pour, desk, right.width.into(), right.height.into());
    frame.render_widget(Paragraph::new(lines), right);
}

fn ladder(pour: &PourDesk, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let run = pour.run.as_ref().map(|run| wrap(&run_words(run), width));
    let run = run.unwrap_or_default().into_iter();
    let mut lines: Vec<_> = run.map(|line| Line::styled(line, strong())).collect();
    lines.push(room(pour, desk));
    for (place, layer) in pour.layers.iter().enumerate().rev() {
        lines.push(rung(pour, desk, place, layer, width));
        let below = place.checked_sub(1).and_then(|step| pour.steps.get(step));
        for words in below.into_iter().flatten() {
            let wrapped = wrap(&inert(words), width.saturating_sub(INDENT.len()));
            let step = |line| Line::styled(format!("{INDENT}{line}"), desk.look.faint());
            lines.extend(wrapped.into_iter().map(step));
        }
    }
    lines.push(Line::styled(
        fit("  ▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔▔ panel", width, Cut::End),
        desk.look.faint(),
    ));
    if !pour.moves.is_empty() {
        let words = format!("then {}", told_moves(&pour.moves));
        lines.extend(fold(plain(words).into(), width));
    }
    for fault in &pour.faults {
        for line in wrap(&format!("✗ {}", inert(fault)), width) {
            lines.push(Line::styled(line, desk.look.wrong()));
        }
    }
    if let Some(page) = &pour.last {
        lines.extend(fold(last(pour, desk, page), width));
        lines.extend(
            start_over(pour, desk, page)
                .into_iter()
                .flat_map(|line| fold(line, width)),
        );
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// Which run the next pour is made for.
fn run_words(run: &RunInHand) -> String {
    let (trial, settings) = (run.trial, inert(&run.settings));
    format!("For run {} of trial {trial}: {settings}", run.run)
}

/// `spin clockwise, 1 turn; tilt left`.
fn told_moves(moves: &[Move]) -> String {
    let moves: Vec<_> = moves.iter().map(show_move).collect();
    moves.join("; ")
}

fn room(pour: &PourDesk, desk: &Desk) -> Line<'static> {
    let panel = pour.panel.map(|panel| panel.show(desk.measures()));
    let mut said = vec![panel.unwrap_or_else(|| "no panel yet".to_owned())];
    said.extend(pour.way.as_ref().map(|way| inert(way).into_owned()));
    said.extend(pour.air.map(|air| air.show(desk.measures())));
    said.extend(pour.note.as_ref().map(|note| inert(note).into_owned()));
    plain(said.join("; ")).into()
}

/// One layer: its place from the panel up, its cup, how much, and its mound as a bar that should shrink upward.
fn rung(pour: &PourDesk, desk: &Desk, place: usize, layer: &Layer, width: usize) -> Line<'static> {
    let cup = desk.known.cup_of(layer.cup);
    let in_hand = place == pour.at;
    let ml = show_volume(layer.ml, desk.measures());
    let mut spans = vec![
        plain(if in_hand { "› " } else { "  " }),
        plain(format!("{} ", place + 1)),
        Span::styled(
            fit(&layer.mark, 3, Cut::End),
            if in_hand { chosen() } else { strong() },
        ),
        plain(" "),
        desk.swatch(cup.and_then(|cup| desk.known.names.colour(VariantId(cup.variant.id)))),
        plain(format!("{ml:>8} ")),
    ];
    match cup {
        Some(cup) => spans.extend(told(
            desk,
            cup,
            width.saturating_sub(16 + desk.swatch_cells()),
        )),
        None => spans.push(plain("no living cup")),
    }
    Line::from(spans)
}

fn told(desk: &Desk, cup: &CupStatus, room: usize) -> Vec<Span<'static>> {
    let state = desk.look.state(cup.state);
    let name = room.saturating_sub(10 + 9 + 10).clamp(8, 24);
    let mid = cup.outlook.mound_mid().map(|mound| mound.get());
    let mound = tell::cups::mound_now(cup).unwrap_or_default();
    let bar = (mid.unwrap_or(0.0) * CELLS_A_SECOND).round() as usize;
    let bar = bar.min(room.saturating_sub(name + 20));
    vec![
        Span::styled(format!("{} {:<8}", sign(cup.state), cup.state), state),
        plain(fit(&inert(&cup.title()), name, Cut::End)),
        plain(format!(" {mound:>7} ")),
        Span::styled("■".repeat(bar), state),
    ]
}

/// What a start-over would take, once a stack is built.
fn start_over(pour: &PourDesk, desk: &Desk, page: &PourPage) -> Option<Line<'static>> {
    let key = key_of(KEYS, &Wish::StartOver);
    let words = format!("{key} starts pour {} over with this stack", page.pour.id);
    let is_built = !pour.layers.is_empty() && page.scraped_for.is_none();
    is_built.then(|| Line::styled(words, desk.look.faint()))
}

fn last(pour: &PourDesk, desk: &Desk, page: &PourPage) -> Line<'static> {
    let judged = page.counting().map_or_else(
        || "not judged yet".to_owned(),
        |judged| format!("cells {}", judged.cells),
    );
    let at = local(page.pour.at, &desk.beat.now);
    let go = start(page.pour.go);
    // What was done with a panel that lies there still can be put right here.
    let lies = pour.lying(&desk.beat.now).is_some() && !page.pour.moves.is_empty();
    let moves = lies.then(|| format!(": {}", told_moves(&page.pour.moves)));
    let moves = moves.unwrap_or_default();
    Line::styled(
        format!("Last: pour {}{go}, {at}{moves}; {judged}", page.pour.id),
        desk.look.faint(),
    )
}
