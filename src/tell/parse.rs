//! What was typed and could not be read: what is wrong with it, and what to type instead.

use crate::trade::problem::{Misread, ParseProblem, Sought};

/// What was typed and what is wrong with it, as one sentence.
pub(super) fn sentence(problem: &ParseProblem) -> String {
    format!("\"{}\" {}", problem.said, why(problem))
}

/// What is wrong, as the rest of a sentence that begins with what was typed.
#[must_use]
pub fn why(problem: &ParseProblem) -> String {
    match (&problem.why, problem.of) {
        (Misread::UnknownUnit(unit), Sought::Mound | Sought::Window) => {
            format!("is not in seconds but \"{unit}\"")
        }
        (Misread::UnknownUnit(_), Sought::Share) => {
            "is neither a percentage nor a share".to_owned()
        }
        (Misread::UnknownUnit(unit), _) => format!("has an unknown unit, \"{unit}\""),
        (why, of) => of_itself(why, of).to_owned(),
    }
}

/// What to type instead.
#[must_use]
pub fn hint(problem: &ParseProblem) -> String {
    let hint = match (&problem.why, problem.of) {
        (_, Sought::Efflux) => example(Sought::Efflux),
        (Misread::MaybePerCent, _) => return format!("say {}% if that is meant", problem.said),
        (Misread::StillToCome { last, yesterday }, _) => {
            let last = match yesterday {
                true => last.format("yesterday %H:%M"),
                false => last.format("%Y-%m-%d %H:%M"),
            };
            return format!("say {last} if that is meant, or leave the time out for now");
        }
        (Misread::UnknownUnit(_), of) => units(of),
        (Misread::OutOfRange | Misread::Zero, of) => range(of),
        (Misread::TooSmall, Sought::Mound | Sought::Window) => {
            "one too short to time is 0.1 s; thin no further"
        }
        (Misread::TooLarge, Sought::Mound | Sought::Window) => {
            "stir it and read it again, or say of it: gelled"
        }
        (Misread::TooSmall | Misread::TooLarge, of) => end(of),
        (why, of) => remedy(why).unwrap_or_else(|| example(of)),
    };
    hint.to_owned()
}

/// What is wrong where that is the same whatever was sought.
const fn of_itself(why: &Misread, of: Sought) -> &'static str {
    match why {
        Misread::Empty => "is empty",
        Misread::TooLong => "is too long",
        Misread::NoNumber => "does not begin with a number",
        Misread::Negative => "is negative",
        Misread::Thousands => "can be read in two ways, as thousands or as decimals",
        Misread::Trailing => "has something after its number",
        Misread::NoUnit => "has no unit",
        Misread::UnknownUnit(_) => "has an unknown unit",
        Misread::Zero if matches!(of, Sought::Panel) => "has a side of nothing",
        Misread::Zero => "is nothing",
        Misread::TooManyDigits => "is too long a number",
        Misread::TooManyDecimals => "has more than four decimals",
        Misread::MaybePerCent => "is no part of a whole",
        Misread::NoClock => "is not hours and minutes",
        Misread::TooManyColons => "has too many colons",
        Misread::Over59 => "has more than 59 after a colon",
        Misread::UnitOrder => "has its units out of order",
        Misread::MonthsOrYears => "may be in months or years",
        Misread::NoTimeOfDay => "says no time of day",
        Misread::UnknownDay => "names no day that can be read",
        Misread::NoSuchDay => "names a day that does not exist",
        Misread::SkippedHour => "never was on the clock, which was put forward over it that day",
        Misread::StillToCome { .. } => "is still to come",
        Misread::BeyondCalendar => "is beyond the calendar",
        Misread::NotTwoSides => "does not have two sides",
        Misread::RoundTwoSides => "is round and has one size only",
        Misread::NotTwoEnds => "is not a low and a high",
        Misread::NotRising => "does not rise from low to high",
        Misread::NotPairs => "is not made of pairs x,y",
        Misread::NotFour => "does not have four corners",
        Misread::TooSmall => too_small(of),
        Misread::TooLarge => too_large(of),
        Misread::OutOfRange if matches!(of, Sought::Instant) => "is not within 1900 to 2199",
        Misread::NotOne | Misread::OutOfRange => is_none(of),
    }
}

/// That it is none of what was sought.
const fn is_none(of: Sought) -> &'static str {
    match of {
        Sought::Amount | Sought::Volume | Sought::Mass => "is no amount",
        Sought::Duration => "is no length of time",
        Sought::Stirring => "is no time to stir",
        Sought::Efflux => "is no time of a flow cup",
        Sought::Mound => "is no mound",
        Sought::Window => "is no low and high mound",
        Sought::Parts => "is no number of parts above nothing",
        Sought::Packs => "is no number of packs",
        Sought::Density => "is no density",
        Sought::Colour => "is no colour",
        Sought::Share => "is neither a percentage nor a share",
        Sought::Length => "is no depth or width of a cup: 1 mm to 2 m can be kept",
        Sought::Film => "is no wet film: 0.05 to 10 mm can be poured",
        Sought::Cell => "is no diameter of a cell",
        Sought::Price => "is no price",
        Sought::Currency => "is not a currency's sign",
        Sought::Panel => "is no panel",
        Sought::Instant => "is no time that can be read",
        Sought::Date => "is no day of the calendar",
        Sought::Month => "is no month of the calendar",
        Sought::Year => "is no year of the calendar",
        Sought::ClockInstant => "is no instant for the clock to stand at",
        Sought::Slope => "is no slope",
        Sought::Layer => "is no layer",
        Sought::Picture => "is no picture",
        Sought::Plan => "is no plan",
        Sought::File => "is a folder",
        Sought::WetOrDry => "is neither",
        Sought::FlowCup => "is no flow cup that is known",
        Sought::Corners => "is no corners of a panel",
        Sought::LabelCount => "is no number of labels across and down",
        Sought::LabelSize => "is no size",
    }
}

const fn too_small(of: Sought) -> &'static str {
    match of {
        Sought::Volume => "is under 0.001 ml, the least that is kept",
        Sought::Mass => "is under 0.001 g, the least that is kept",
        Sought::Mound | Sought::Window => "is no mound at all",
        Sought::Panel => "has a side under 1 mm",
        _ => "is too small",
    }
}

const fn too_large(of: Sought) -> &'static str {
    match of {
        Sought::Volume => "is over 100 l, more than a studio pours",
        Sought::Mass => "is over 200 kg, more than a studio pours",
        Sought::Mound | Sought::Window => "is over 600 s: a mound that never fades is a gelled cup",
        Sought::Duration => "is over ten years",
        Sought::Efflux => is_none(Sought::Efflux),
        Sought::Share => "is more than the whole",
        Sought::Price => "is over a million",
        Sought::Panel => "has a side over 10 m",
        Sought::LabelSize => "is no size of paper: 0 to 2000 mm",
        _ => "is too large",
    }
}

/// What to do about what is wrong, whatever was sought; `None` where an example says it best.
const fn remedy(why: &Misread) -> Option<&'static str> {
    Some(match why {
        Misread::Negative => "say a number above zero",
        Misread::Thousands => "write 1.5 or 1500, without a sign between thousands",
        Misread::NoClock | Misread::TooManyColons | Misread::Over59 => {
            "say hours:minutes, as in 1:30"
        }
        Misread::UnitOrder => "say the largest first, as in 1h 30m",
        Misread::MonthsOrYears => {
            "months differ in length: say days or weeks, as in 30 days, or m for minutes"
        }
        Misread::TooManyDecimals => "round it",
        Misread::NoTimeOfDay => "add it, as in friday 18:30",
        Misread::SkippedHour => "say a time before or after the skipped hour",
        Misread::BeyondCalendar => "check the number",
        Misread::RoundTwoSides => "say its diameter, as in round 30 cm, or call it oval",
        _ => return None,
    })
}

/// The units that are known.
const fn units(of: Sought) -> &'static str {
    match of {
        Sought::Amount => {
            "known are ml, cl, l, fl oz, imp fl oz, pt, qt, gal, tsp, tbsp, cup, mg, g, kg, oz and lb"
        }
        Sought::Duration => "known are s, min, h, days and weeks, as in 90 min or 1h 30m",
        Sought::Panel => "known are mm, cm, m, in and ft",
        of => example(of),
    }
}

/// What to do about what lies outside its range.
const fn range(of: Sought) -> &'static str {
    match of {
        Sought::Cell | Sought::Parts | Sought::Efflux => example(of),
        Sought::Stirring => "up to a day, such as 4m",
        Sought::Panel => "check the number and its unit",
        Sought::Instant => "check the year",
        _ => "check the number",
    }
}

/// What to do about what lies beyond one end of its range.
const fn end(of: Sought) -> &'static str {
    match of {
        Sought::Share => "say at most 100%",
        Sought::LabelSize => example(of),
        of => range(of),
    }
}

/// An example of what was sought.
const fn example(of: Sought) -> &'static str {
    match of {
        Sought::Amount | Sought::Volume | Sought::Mass => {
            "say a number and its unit, as in 41 ml, 1.4 fl oz or 50 g"
        }
        Sought::Duration | Sought::Stirring => {
            "say a number and its unit, as in 45s, 90m, 1h 30m, 1:30 or 2 days"
        }
        Sought::Efflux => "say how long it took to run out, up to an hour, as in 38 s",
        Sought::Mound => "say the seconds it stays visible, as in 2.8 or 2.8 s",
        Sought::Window => "say its low and high seconds, as in 2..3 or 2 to 3",
        Sought::Parts => "say how many parts, as in 2 or 1.5",
        Sought::Packs => "say how many, as in 2",
        Sought::Density => "say it in g/ml, as in 1.24",
        Sought::Colour => {
            "say a word such as blue, dark red, light green or ochre, or #rrggbb as in #1e5ab4"
        }
        Sought::Share => "say 5% or 0.05",
        Sought::Length => "such as 60 mm, 6 cm or 2.5 in",
        Sought::Film => "such as 1.8 mm",
        Sought::Cell => "such as 1 mm or 0.5 mm",
        Sought::Price => "say the number alone, as in 8.90 or 8,90",
        Sought::Currency => "say a sign or code of at most eight characters, as in EUR",
        Sought::Panel => "say 40x50 cm, 16x20 in, round 30 cm or oval 30x40 cm",
        Sought::Instant => {
            "say 18:30, yesterday 18:30, friday 6:30pm, 24 nov 18:30, 2h ago or 2026-11-24 18:30"
        }
        Sought::Date => "say year, month and day, as in 2026-11-24",
        Sought::Month => "say year and month, as in 2026-10",
        Sought::Year => "four digits, such as 2026",
        Sought::ClockInstant => "such as 2026-11-24T18:30:00+01:00",
        Sought::Slope => "degrees, or a fall over a run: 0.5, 1/500",
        Sought::Layer => "a mark and an amount, such as K7:120ml",
        Sought::Picture => "write its number, such as 12",
        Sought::Plan => "write its number, such as 3",
        Sought::File => "add the file's name after it",
        Sought::WetOrDry => "say wet or dry",
        Sought::FlowCup => "one of iso3 to iso6, din4, ford1 to ford5, zahn1 to zahn5",
        Sought::Corners => {
            "say four, clockwise from the top left, in pixels: \"10,20 1900,35 1880,1400 25,1390\""
        }
        Sought::LabelCount => "such as 3x8: three across, eight down",
        Sought::LabelSize => "such as 70x37mm or 2.6x1in",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::amount::Amount;
    use crate::trade::duration;
    use crate::trade::instant::{Lean, Now, Zone, parse_date, parse_instant};
    use crate::trade::length::{parse_film, parse_length};
    use crate::trade::money::parse_price;
    use crate::trade::panel::Panel;
    use crate::trade::range::{Window, parse_efflux, parse_mound, parse_share};
    use chrono::DateTime;

    fn said<T>(read: Result<T, ParseProblem>) -> String {
        match read {
            Ok(_) => "it was read".to_owned(),
            Err(problem) => format!("{} ({})", sentence(&problem), hint(&problem)),
        }
    }

    #[test]
    fn what_is_wrong_is_a_sentence_with_what_to_type_instead() {
        let at = DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
        let zone = Zone::Fixed(*at.offset());
        let now = Now { at, zone };
        let table = [
            (
                said(Amount::parse("5")),
                "\"5\" has no unit (say a number and its unit, as in 41 ml, 1.4 fl oz or 50 g)",
            ),
            (
                said(Amount::parse("100.1 l")),
                "\"100.1 l\" is over 100 l, more than a studio pours (check the number)",
            ),
            (
                said(Amount::parse("0.0001 g")),
                "\"0.0001 g\" is under 0.001 g, the least that is kept (check the number)",
            ),
            (
                said(duration::parse("1h 1h")),
                "\"1h 1h\" has its units out of order (say the largest first, as in 1h 30m)",
            ),
            (
                said(duration::parse_stirring("25h")),
                "\"25h\" is no time to stir (up to a day, such as 4m)",
            ),
            (
                said(parse_efflux("-5")),
                "\"-5\" is negative (say how long it took to run out, up to an hour, as in 38 s)",
            ),
            (
                said(parse_mound("2 min")),
                "\"2 min\" is not in seconds but \"min\" (say the seconds it stays visible, as in 2.8 or 2.8 s)",
            ),
            (
                said(Window::parse("0..2")),
                "\"0..2\" is no mound at all (one too short to time is 0.1 s; thin no further)",
            ),
            (
                said(parse_share("5")),
                "\"5\" is no part of a whole (say 5% if that is meant)",
            ),
            (
                said(parse_length("60 furlongs")),
                "\"60 furlongs\" has an unknown unit, \"furlongs\" (such as 60 mm, 6 cm or 2.5 in)",
            ),
            (
                said(parse_film("11 mm")),
                "\"11 mm\" is no wet film: 0.05 to 10 mm can be poured (check the number)",
            ),
            (
                said(parse_price("0.00001")),
                "\"0.00001\" has more than four decimals (round it)",
            ),
            (
                said(Panel::parse("round 30x40cm")),
                "\"round 30x40cm\" is round and has one size only (say its diameter, as in round 30 cm, or call it oval)",
            ),
            (
                said(parse_instant("10:01", &now, Lean::Past)),
                "\"10:01\" is still to come (say yesterday 10:01 if that is meant, or leave the time out for now)",
            ),
            (
                said(parse_instant("wed 11:00", &now, Lean::Past)),
                "\"wed 11:00\" is still to come (say 2026-11-18 11:00 if that is meant, or leave the time out for now)",
            ),
            (
                said(parse_date("2026-02-30")),
                "\"2026-02-30\" is no day of the calendar (say year, month and day, as in 2026-11-24)",
            ),
        ];
        for (said, wanted) in table {
            assert_eq!(said, wanted);
        }
    }
}
