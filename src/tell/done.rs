//! What was done, said once for both faces.

use crate::studio::orders::CorrectOrder;
use crate::studio::{Amended, Names, PhotoPage, SaleOrder, Seeded, local};
use crate::tell::{Face, happened, show_move};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::Happened;
use crate::trade::instant::Now;
use crate::trade::judgement::Judgement;
use crate::trade::picture::Picture;
use crate::trade::text::inert;
use crate::trade::units::Millilitres;
use rust_decimal::Decimal;

/// What was put right of a cup's life: `mound 3.4 s is mound 3.9 s now, of K7 at 10:40`.
#[must_use]
pub fn amended(amended: &Amended, names: &Names, measures: Measures, now: &Now) -> String {
    let was = happened(&amended.was.what, names, measures);
    match &amended.entry {
        Some(entry) if entry.what == amended.was.what && amended.volume.is_none() => format!(
            "{was} is of {} at {} now",
            amended.standing.cup.mark,
            local(entry.at, now)
        ),
        Some(entry) if amended.was.what.is_mixing() => format!(
            "{} is {} now",
            mixing(
                &amended.was.what,
                amended.volume.map(|[was, _]| was),
                names,
                measures
            ),
            mixing(
                &entry.what,
                amended.volume.map(|[_, is]| is),
                names,
                measures
            ),
        ),
        Some(entry) => format!(
            "{was} is {} now, of {} at {}",
            happened(&entry.what, names, measures),
            amended.standing.cup.mark,
            local(entry.at, now)
        ),
        None => format!("Struck: {was}"),
    }
}

/// The starters that were written down, and what was left alone, a line each.
#[must_use]
pub fn starters(seeded: &Seeded, face: Face) -> Vec<String> {
    let change = match face {
        Face::CommandLine => "change them to yours: stillcup material set, stillcup recipe change",
        Face::Screen => "change them to yours",
    };
    let listed = |what: &str, names: &[String]| {
        (!names.is_empty()).then(|| format!("{what}: {}", names.join(", ")))
    };
    let left = match seeded.skipped.as_slice() {
        [] => None,
        [one] => Some(format!("{one} is there already, and was left alone")),
        more => Some(format!(
            "{} are there already, and were left alone",
            more.join(", ")
        )),
    };
    let new = [
        listed("materials", &seeded.materials),
        listed("recipes", &seeded.recipes),
    ];
    let change = (!seeded.is_empty()).then(|| change.to_owned());
    let new = new.into_iter().flatten();
    new.chain(left).chain(change).collect()
}

/// What happened, and where it is the mixing, of how much: `mixed, stirred 4 min, 60 ml`.
pub(super) fn mixing(
    what: &Happened,
    volume: Option<Millilitres>,
    names: &Names,
    measures: Measures,
) -> String {
    let volume = volume.map(|ml| format!(", {}", show_volume(ml, measures)));
    let what = happened(what, names, measures);
    format!("{what}{}", volume.unwrap_or_default())
}

/// What was put right of a pour.
#[must_use]
pub fn corrected(pour: i64, order: &CorrectOrder) -> String {
    let only_moves = CorrectOrder {
        moves: order.moves.clone(),
        ..CorrectOrder::default()
    };
    match order.more_moves.as_slice() {
        [] if *order == only_moves && order.moves.is_some() => moves_now(pour, order),
        [] => format!("Picture {pour} is put right"),
        [one, ..] => format!("{} is written down with picture {pour}", one.kind),
    }
}

/// `Picture 3: spin clockwise, 1 turn, and nothing else was done with the panel`.
fn moves_now(pour: i64, order: &CorrectOrder) -> String {
    let moves = order.moves.iter().flatten().map(show_move);
    let moves: Vec<_> = moves.collect();
    match moves.is_empty() {
        true => format!(
            "Nothing is written down any more of what was done with the panel of picture {pour}"
        ),
        false => format!(
            "What was done with the panel of picture {pour}: {}",
            moves.join("; ")
        ),
    }
}

/// How a picture was judged: `Picture 3 is judged dry: cells 4 of 5, good`.
#[must_use]
pub fn judged(judged: &Judgement, good_from: u8) -> String {
    let seen = if judged.dry { "dry" } else { "wet" };
    let good = if judged.cells >= good_from {
        ", good"
    } else {
        ""
    };
    let (pour, cells) = (judged.pour, judged.cells);
    format!("Picture {pour} is judged {seen}: cells {cells} of 5{good}")
}

/// `Struck: picture 3 judged dry, cells 4`.
#[must_use]
pub fn judgement_struck(judged: &Judgement) -> String {
    let seen = if judged.dry { "dry" } else { "wet" };
    let (pour, cells) = (judged.pour, judged.cells);
    format!("Struck: picture {pour} judged {seen}, cells {cells}")
}

/// What counts of a photo once what was measured in it last is refused.
#[must_use]
pub fn photo_refused(left: &PhotoPage) -> String {
    let photo = left.photo.id;
    match left.measured.is_empty() {
        true => format!("Nothing measured in photo {photo} counts now"),
        false => format!("What was measured before in photo {photo} counts again"),
    }
}

/// That a photo is dropped.
#[must_use]
pub fn photo_dropped(photo: i64, face: Face) -> String {
    match face {
        Face::CommandLine => format!("Photo {photo} is dropped; stillcup undo brings it back"),
        Face::Screen => format!("Photo {photo} is dropped; u brings it back"),
    }
}

/// That a picture is varnished.
#[must_use]
pub fn varnished(pour: i64) -> String {
    format!("Picture {pour} is varnished and off the rack")
}

/// What a picture is called now.
#[must_use]
pub fn titled(picture: &Picture) -> String {
    let pour = picture.pour;
    match &picture.title {
        Some(title) => format!("Picture {pour} is \"{}\"", inert(title)),
        None => format!("Picture {pour} has no title"),
    }
}

/// For how much a picture was sold; or, where that was told before, that it is put right.
#[must_use]
pub fn sold(pour: i64, order: &SaleOrder, currency: &str) -> String {
    let price = money(order.price, currency);
    match order.anew {
        true => format!("The sale of picture {pour} is put right: {price}"),
        false => format!("Picture {pour} is sold for {price} and off the rack"),
    }
}

/// A sum in the studio's currency, to the hundredth: `240.00 EUR`.
#[must_use]
pub fn money(price: Decimal, currency: &str) -> String {
    let (price, currency) = (price.round_dp(2), inert(currency));
    format!("{price:.2} {currency}").trim_end().to_owned()
}
