//! The wording of photos.

use super::Face;
use crate::numbers::cells::{NotFound, Unmeasured};
use crate::studio::{PhotoFault, PhotoWarning};
use crate::trade::amount::Measures;
use crate::trade::length::show_length;
use crate::trade::photo::Measurement;
use crate::trade::units::{Millimetres, Share};

/// What is odd about what was measured in a photo, and what would mend it.
#[must_use]
pub fn warning(one: &PhotoWarning, measures: Measures, face: Face) -> String {
    match one {
        PhotoWarning::NoSize => {
            let say = face.pick_one(": say --panel 40x50cm", "");
            format!("the panel's size is not known, so nothing is told in lengths{say}")
        }
        PhotoWarning::Glare(share) => {
            format!("glare hides {:.0} % of the panel", 100.0 * share.get())
        }
        PhotoWarning::White(places) => format!(
            "{places} places are too bright to tell glare from white paint, and were taken for paint: expose less"
        ),
        PhotoWarning::Pale => {
            "the cells hardly stand apart from the ground: the palest are missed".to_owned()
        }
        PhotoWarning::Coarse => "few pixels to the millimetre: small cells are missed".to_owned(),
        PhotoWarning::NearLeast(least) => {
            let (least, say) = (
                show_length(*least, measures),
                face.pick_one(": say --least", ""),
            );
            format!("many cells are near {least}, the least that is counted{say}")
        }
    }
}

/// Less than so much of a panel under glare is not worth a line (ours).
const HARDLY: Share = Share(0.0005);

/// What was measured, a line each.
#[must_use]
pub fn figures(found: &Measurement, measures: Measures) -> Vec<String> {
    let length = |one: Millimetres| show_length(one, measures);
    let mut lines = vec![covered(found)];
    let per = found.per_dm2;
    lines.extend(per.map(|per| format!("{per:.0} to a square decimetre")));
    lines.extend(median(found, measures));
    let most = found.p10.zip(found.p90);
    lines.extend(most.map(|(low, high)| format!("8 in 10: {} to {}", length(low), length(high))));
    let evenness = found.evenness;
    lines.extend(evenness.map(|cv| format!("they vary by {:.0} %", 100.0 * cv)));
    let spacing = found.spacing_ratio;
    lines.extend(spacing.map(|ratio| format!("spacing {ratio:.2} of chance's")));
    let roundness = found.roundness;
    lines.extend(roundness.map(|one| format!("roundness {one:.2}")));
    let glare = (found.glare > HARDLY).then_some(found.glare.get());
    lines.extend(glare.map(|share| format!("glare hides {:.1} %", 100.0 * share)));
    lines
}

/// `212 cells over 31.4 %`.
fn covered(found: &Measurement) -> String {
    let share = 100.0 * found.share.get();
    format!("{} cells over {share:.1} %", found.cells)
}

/// `half under 8.4 mm (7.9 to 8.9 mm)`; a band narrower than the digits says nothing.
fn median(found: &Measurement, measures: Measures) -> Option<String> {
    let length = |one: Millimetres| show_length(one, measures);
    let band = found.band.map(|(low, high)| [length(low), length(high)]);
    let band = band.filter(|[low, high]| low != high);
    let band = band.map(|[low, high]| format!(" ({low} to {high})"));
    let median = length(found.median?);
    Some(format!("half under {median}{}", band.unwrap_or_default()))
}

/// The two or three figures that fit in one line: `212 cells over 31.4 %, half under 8.4 mm`.
#[must_use]
pub fn brief(found: &Measurement, measures: Measures) -> String {
    let median = found
        .median
        .map(|one| format!(", half under {}", show_length(one, measures)));
    covered(found) + &median.unwrap_or_default()
}

/// Why a photo was not measured, as words after its name.
#[must_use]
pub const fn fault(why: PhotoFault) -> &'static str {
    match why {
        PhotoFault::NotFound(NotFound::Nothing) => {
            "no panel is seen whole that differs from what it lies on"
        }
        PhotoFault::NotFound(NotFound::Unsure) => "where the panel ends is not sure",
        PhotoFault::NotFound(NotFound::CutOff) => "the panel is cut by the picture's edge",
        PhotoFault::NotFound(NotFound::Several) => "more than one panel is seen",
        PhotoFault::NotFound(NotFound::OtherShape) => "what is seen has not the panel's shape",
        PhotoFault::Corners => "the corners are outside of the photo, or their sides cross",
        PhotoFault::Least => "the least cell is 0.2 to 100 mm",
        PhotoFault::Unmeasured(Unmeasured::Corners) => "the corners make no four-sided figure",
        PhotoFault::Unmeasured(Unmeasured::TooSmall) => {
            "the panel has too few pixels to be measured"
        }
        PhotoFault::Unmeasured(Unmeasured::Glare) => "glare hides the most of it",
        PhotoFault::Unmeasured(Unmeasured::NoCells) => "no cells are seen: all has one colour",
    }
}

/// What to do about it.
#[must_use]
pub const fn hint(why: PhotoFault, face: Face) -> &'static str {
    match (why, face) {
        (PhotoFault::NotFound(NotFound::CutOff), _) => {
            "take the photo again with all four corners in it"
        }
        (
            PhotoFault::NotFound(_)
            | PhotoFault::Corners
            | PhotoFault::Unmeasured(Unmeasured::Corners),
            Face::Screen,
        ) => "c moves its corners",
        (why, _) => told_to(why),
    }
}

const fn told_to(why: PhotoFault) -> &'static str {
    match why {
        PhotoFault::NotFound(NotFound::CutOff) => {
            "take the photo again with all four corners in it"
        }
        PhotoFault::NotFound(NotFound::OtherShape) => {
            "check the panel's size, or say the corners: --corners \"x,y x,y x,y x,y\""
        }
        PhotoFault::NotFound(NotFound::Several) => {
            "take each panel alone, or say the corners of one: --corners \"x,y x,y x,y x,y\""
        }
        PhotoFault::NotFound(_) => {
            "say the corners, clockwise from the top left: --corners \"x,y x,y x,y x,y\"; or --whole where the photo is all panel"
        }
        PhotoFault::Corners => {
            "say four corners in the photo's pixels, clockwise from the top left"
        }
        PhotoFault::Least => "say it as 1mm",
        PhotoFault::Unmeasured(Unmeasured::Glare) => {
            "take it again from the side, or with the lamp elsewhere"
        }
        PhotoFault::Unmeasured(Unmeasured::NoCells) => {
            "there is nothing to measure; if there are cells, take it sharper and in more light"
        }
        PhotoFault::Unmeasured(_) => "take it nearer, or check the corners",
    }
}
