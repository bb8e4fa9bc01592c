//! The wording of how a cup stands: what is so, what the hands must do, and what its rest rests on.

use super::Told;
use crate::numbers;
use crate::numbers::rest::DEPTH;
use crate::studio::{Advice, CupStatus, due, local, next_minute};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::Reading;
use crate::trade::duration::show;
use crate::trade::instant::Now;
use crate::trade::length::{about_length, show_length};
use crate::trade::life::State;
use crate::trade::moment::Moment;
use crate::trade::number::trimmed;
use crate::trade::text::inert;
use crate::trade::units::{Backing, Estimate, Hours, Millilitres};
use chrono::TimeDelta;

/// Of a cup whose mound never fades. What keeps a mound in sight holds every bubble that a stirring leaves
/// (`numbers::bubbles::held_by_gel`).
const GELLED: &str =
    "its mound never fades, and resting will not clear a gelled cup: thin and stir it, or end it";

/// From so long ahead on minutes are not told.
const FAR: TimeDelta = TimeDelta::hours(3);

impl Told for CupStatus {
    /// What is so, and what to do.
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self.state {
            State::Spent => ending(self),
            State::Resting => resting(self, now),
            State::Look => wants_reading(self, now),
            State::Thick if self.life.gelled => gelled(self),
            State::Thick => thick(self, now, measures),
            State::Thin => thin(self, measures),
            State::Ready => ready(self, now),
        }
    }
}

fn gelled(cup: &CupStatus) -> String {
    let Some(mound) = cup.life.mound() else {
        return GELLED.to_owned();
    };
    format!(
        "a mound of {:.0} s as good as never fades, and resting will not clear it: thin and stir it, or end it",
        mound.get()
    )
}

fn wants_reading(cup: &CupStatus, now: &Now) -> String {
    let Some(thinned) = cup.life.thinned_since else {
        if let Some(added) = cup.life.added_since {
            return format!("paint went in {}: read its mound", local(added, now));
        }
        let clear = local(cup.life.clears_at, now);
        return match cup.life.seen_clear {
            true => format!("cleared {clear}: read its mound"),
            false => format!("should be clear since {clear}: read its mound"),
        };
    };
    let thinned = local(thinned, now);
    let expected = cup.outlook.mound.map(|mound| {
        let band = mound.band.map(|one| format!("{:.1}", one.get()));
        format!(
            ", about {} s ({} to {}) by now",
            band.mid, band.low, band.high
        )
    });
    format!(
        "thinned {thinned}: read its mound{}",
        expected.unwrap_or_default()
    )
}

fn ending(cup: &CupStatus) -> String {
    cup.life
        .ended
        .map_or_else(|| "empty".to_owned(), |(end, _)| end.word().to_owned())
}

fn resting(cup: &CupStatus, now: &Now) -> String {
    // From the minute that the clock shows to the one that is shown here.
    let over = now.at.timestamp_millis().rem_euclid(60_000);
    let wait = next_minute(cup.life.clears_at) - now.at + TimeDelta::milliseconds(over);
    let wait = whole_minutes(wait);
    // No rest is known to the minute: hours ahead the hours alone are told.
    let told = match wait < FAR {
        true => format!("in {}", show(wait)),
        false => format!("in about {:.0} h", wait.num_minutes() as f64 / 60.0),
    };
    format!("clears {}, {told}", due(cup.life.clears_at, now))
}

fn thick(cup: &CupStatus, now: &Now, measures: Measures) -> String {
    if let Some(advice) = cup.outlook.advice {
        if advice.beyond {
            return format!("{} {}", mound(cup), beyond(advice.limit, measures));
        }
        let add = to_add(&advice, measures);
        return format!("{} is above its window; {add}", mound(cup));
    }
    let since = cup.life.checked_at.unwrap_or(cup.life.clears_at);
    format!(
        "not read for {}; read it again, it may have thickened",
        show(whole_minutes(now.at - since))
    )
}

/// What brings a cup back that is above its window: `add 5 ml thinner and read again, about 10 ml in all`.
#[must_use]
pub fn to_add(advice: &Advice, measures: Measures) -> String {
    let [first, likely] =
        [advice.start_with, advice.likely.band.mid].map(|ml| show_volume(ml, measures));
    format!("add {first} thinner and read again, about {likely} in all")
}

fn thin(cup: &CupStatus, measures: Measures) -> String {
    let paint = cup.outlook.paint.map_or_else(
        || "or add paint".to_owned(),
        |paint| {
            let ml = show_volume(paint.band.mid, measures);
            format!("or add about {ml} of its paint without thinner and read again")
        },
    );
    format!(
        "{} is below its window; let it stand open, {paint}",
        mound(cup)
    )
}

fn ready(cup: &CupStatus, now: &Now) -> String {
    let ready = match cup.ready_until {
        None => "clear".to_owned(),
        Some(until) => format!("ready until {}", local(until, now)),
    };
    let flow = flow(cup).map(|words| format!("; {words}"));
    ready + &flow.unwrap_or_default()
}

/// That it was read by a flow cup alone, so that its mound is not known: a flow cup's seconds are never turned into
/// a mound.
fn flow(cup: &CupStatus) -> Option<String> {
    let Reading::FlowCup { cup: by, efflux } = &cup.life.known.as_ref()?.reading else {
        return None;
    };
    let viscosity = cup.flow_viscosity();
    let viscosity = viscosity.map(|nu| format!(" ({:.0} mm2/s)", nu.get()));
    Some(format!(
        "read by flow cup {} {} s{}, its mound is not known",
        inert(by),
        efflux.get(),
        viscosity.unwrap_or_default()
    ))
}

/// What a cup was last read as, before something is done about it: `read as 3.4 s 20:12`, and what was done since.
#[must_use]
pub fn last_reading(cup: &CupStatus, now: &Now) -> String {
    let life = &cup.life;
    let read = match &life.known {
        _ if life.gelled => "seen never to fade".to_owned(),
        None => "not read yet".to_owned(),
        Some(known) => {
            let reading = match &known.reading {
                Reading::Mound(mound) => format!("{} s", mound.get()),
                Reading::FlowCup { cup: by, efflux } => {
                    format!("{} s by {}", efflux.get(), inert(by))
                }
            };
            format!("read as {reading} {}", local(known.at, now))
        }
    };
    let since = life.thinned_since.map(|at| local(at, now));
    let since = since.map(|at| format!(", thinned {at}"));
    read + &since.unwrap_or_default()
}

fn mound(cup: &CupStatus) -> String {
    marked(cup, "about ").unwrap_or_else(|| "its mound".to_owned())
}

/// A cup's mound by now: `2.6 s` where it was read so, `~2.9 s` where that is worked out from an older reading.
#[must_use]
pub fn mound_now(cup: &CupStatus) -> Option<String> {
    marked(cup, "~")
}

/// A cup's mound by now, with a mark before it where it is no reading.
fn marked(cup: &CupStatus, mark: &str) -> Option<String> {
    let expected = format!("{:.1} s", cup.outlook.mound_mid()?.get());
    // A cup that was thinned since has no reading.
    let read = cup.life.mound().map(|read| format!("{:.1} s", read.get()));
    match read.as_ref() == Some(&expected) {
        true => Some(expected),
        false => Some(format!("{mark}{expected}")),
    }
}

/// That no amount its recipe allows brings a cup back: `needs more than the 33 ml that its recipe allows; mix it anew`.
#[must_use]
pub fn beyond(limit: Millilitres, measures: Measures) -> String {
    match limit.is_nothing() {
        true => "holds all the thinner that its recipe allows; mix it anew".to_owned(),
        false => format!(
            "needs more than the {} that its recipe allows; mix it anew",
            show_volume(limit, measures)
        ),
    }
}

/// How much brings a cup that is too thin back, of another cup or of its own paint.
#[must_use]
pub fn thicker(
    likely: Option<&Estimate<Millilitres>>,
    from: Option<&str>,
    measures: Measures,
) -> String {
    let of = match from {
        Some(mark) => format!("of {}", inert(mark)),
        None => "of its paint without thinner".to_owned(),
    };
    match likely {
        Some(likely) => {
            let ml = show_volume(likely.band.mid, measures);
            format!("about {ml} {of} bring it back: read again")
        }
        None => format!("how much {of} brings it back cannot be told"),
    }
}

/// What a resting cup's rest rests on, and which bubbles have risen by now; why none helps a gelled one. Nothing of any other.
#[must_use]
pub fn rest_line(cup: &CupStatus, now: Moment, measures: Measures) -> Option<String> {
    if cup.life.gelled {
        return Some(gelled_for_good(measures));
    }
    let mut words = vec![format!("rest, {}", rest(cup))];
    words.extend(depth(cup, measures));
    words.extend(bubbles(cup, now, measures));
    (cup.state == State::Resting).then(|| words.join("; "))
}

/// How long it rests and what stands behind that: `yours: clears after 9 h (6 to 13), 14 looks`; `practice: clears after
/// 12 h (5 to 29)`. The band is that of one cup, not only of its paint's middle.
#[must_use]
pub fn rest(cup: &CupStatus) -> String {
    let rest = &cup.outlook.rest;
    if rest.band.high <= Hours::ZERO {
        return "none".into();
    }
    // A band of hours has no tenths of an hour.
    let places = usize::from(rest.band.high - rest.band.low < Hours(2.0));
    let told = rest.band.map(|hours| trimmed(hours.get(), places));
    let band = format!(
        "clears after {} h ({} to {})",
        told.mid, told.low, told.high
    );
    let looks = match rest.readings {
        1 => "1 look".to_owned(),
        many => format!("{many} looks"),
    };
    match rest.from {
        Backing::Yours => format!("yours: {band}, {looks}"),
        Backing::Both => format!("practice and {looks}: {band}"),
        Backing::Practice => format!("practice: {band}"),
    }
}

/// That its rest goes by a depth nobody measured; `None` where one is known, or nothing hangs on it.
#[must_use]
pub fn depth(cup: &CupStatus, measures: Measures) -> Option<String> {
    let unknown = cup.state == State::Resting && cup.measured_depth().is_none();
    let taken = show_length(DEPTH, measures);
    unknown.then(|| format!("its depth is not known: {taken} is taken"))
}

/// What rises while it rests: `bubbles over about 0.2 mm have risen`; `None` where nothing can be said.
#[must_use]
pub fn bubbles(cup: &CupStatus, now: Moment, measures: Measures) -> Option<String> {
    let mid = cup.bubble_risen(now)?.mid;
    let size = about_length(mid, measures);
    Some(format!("bubbles over about {size} have risen"))
}

/// Why no rest clears a gelled cup.
#[must_use]
pub fn gelled_for_good(measures: Measures) -> String {
    let size = about_length(numbers::bubbles::held_by_gel(), measures);
    format!("paint so stiff holds bubbles of up to about {size}: they never rise")
}

/// Rounded up, so that a wait never reads as nothing before it is over.
fn whole_minutes(wait: TimeDelta) -> TimeDelta {
    let seconds = wait.num_seconds().max(0);
    TimeDelta::minutes((seconds + 59) / 60)
}
