//! Two pictures side by side, and what was done with a panel.

use crate::studio::{Aspect, Had};
use crate::tell::{Told, plans};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::Now;
use crate::trade::length::show_length;
use crate::trade::pour::{Move, MoveKind, show_heat};
use crate::trade::text::inert;

impl Told for Aspect {
    fn told(&self, _measures: Measures, _now: &Now) -> String {
        aspect(*self)
    }
}

/// What an aspect of a picture is called.
#[must_use]
pub fn aspect(of: Aspect) -> String {
    let word = match of {
        Aspect::Layer(number) => return format!("layer {number}"),
        Aspect::Panel => "panel",
        Aspect::Way => "technique",
        Aspect::Film => "wet film",
        Aspect::Amount(_) => "amount",
        Aspect::Mound(_) => "mound",
        Aspect::Stood(_) => "stood",
        Aspect::Thinned(_) => "thinned",
        Aspect::State(_) => "cup",
        Aspect::Heat => "warmth",
        Aspect::Damp => "humidity",
        Aspect::Moves => "moves",
        Aspect::Cells => "cells",
        Aspect::Size => "size",
        Aspect::Evenness => "even",
        Aspect::Lacing => "lacing",
        Aspect::Muddy => "muddy",
        Aspect::Crazed => "crazed",
        Aspect::Pinholes => "pinholes",
    };
    word.to_owned()
}

impl Told for Had {
    fn told(&self, measures: Measures, _now: &Now) -> String {
        match self {
            Self::Panel(panel) => panel.show(measures),
            Self::Words(words) => inert(words).into_owned(),
            Self::Film(film) => show_length(*film, measures),
            Self::Variant(variant) => inert(&variant.to_string()).into_owned(),
            Self::Amount(ml, film) => {
                let film = show_length(*film, measures);
                format!("{}, {film}", show_volume(*ml, measures))
            }
            Self::Mound(mound) => format!("{:.1} s", mound.get()),
            Self::Time(hours) => plans::show_hours(*hours),
            Self::Share(share) => format!("{:.0} %", share.get() * 100.0),
            Self::State(state) => state.to_string(),
            Self::Heat(heat) => show_heat(*heat, measures),
            Self::Moves(moves) if moves.is_empty() => "none".to_owned(),
            Self::Moves(moves) => {
                let moves: Vec<_> = moves.iter().map(show_move).collect();
                moves.join("; ")
            }
            Self::Grade(grade) => grade.to_string(),
            Self::Size(size) => size.to_string(),
        }
    }
}

/// `spin clockwise, 2 turns`, `tilt left, 3 times`, `torch (12 s)`.
pub fn show_move(one: &Move) -> String {
    let way = match one.clockwise() {
        Some(true) => Some("clockwise".to_owned()),
        Some(false) => Some("anticlockwise".to_owned()),
        None => one.direction.as_ref().map(|way| inert(way).into_owned()),
    };
    let what = match way {
        Some(way) => format!("{} {way}", one.kind),
        None => one.kind.to_string(),
    };
    let unit = match (one.kind == MoveKind::Spin, one.times) {
        (true, Some(1.0)) => "turn",
        (true, _) => "turns",
        (false, Some(1.0)) => "time",
        (false, _) => "times",
    };
    let times = one.times.map(|times| format!(", {times} {unit}"));
    let took = one.took.map(|took| format!(" ({:.0} s)", took.get()));
    what + &times.unwrap_or_default() + &took.unwrap_or_default()
}
