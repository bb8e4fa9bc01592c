//! What is said of the factors: one sentence each, in a painter's words; statistics apart.

use crate::numbers::statistics::averaging::{Effect, Lack, Step, TooEarly};
use crate::numbers::statistics::findings::{Basis, Choice, Finding, Standing};
use crate::numbers::statistics::proportion::Tally;
use crate::numbers::statistics::sides::{Cut, Which};
use crate::studio::{DriftPeriod, OutcomeKind, Reasons};
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;

/// From one in four on something may matter (ours); said as found it is over one half.
const MAY_MATTER: f64 = 0.25;

/// How many factors are shown where none is to be spoken of.
const SHOWN_ELSE: usize = 3;

/// What is said of factors, or the few nearest to it; what stands in the way, time, and what to try next.
#[must_use]
pub fn reasons(reasons: &Reasons) -> Vec<String> {
    let words = |one: &Finding| factor(one, reasons.outcome);
    let said = reasons.factors.iter().filter(|one| one.is_said());
    let mut lines: Vec<String> = said.map(words).collect();
    match reasons.basis {
        Ok(_) if lines.is_empty() => {
            lines.push("no factor is likelier to matter than not".to_owned());
            lines.extend(reasons.factors.iter().take(SHOWN_ELSE).map(words));
        }
        Ok(_) => {}
        Err(early) => lines.push(too_early(early)),
    }
    lines.extend(in_the_way(reasons));
    lines.push(super::drift::words(reasons.drift.verdict));
    let period = |one: &DriftPeriod| {
        let (good, pours) = (one.tally.good, one.tally.pours);
        format!("  {}: {good} of {pours} good", one.name)
    };
    lines.extend(reasons.drift.periods.iter().map(period));
    lines.push("to try next:".into());
    let next = reasons.next.iter();
    lines.extend(next.map(|one| {
        format!(
            "  {}: {}",
            variant_title(&one.recipe, one.variant),
            super::next::why(one)
        )
    }));
    lines
}

/// A factor in one sentence: its counts, its strength, how sure, or what stands in the way of knowing.
#[must_use]
pub fn factor(one: &Finding, outcome: OutcomeKind) -> String {
    match &one.standing {
        Standing::Weighed {
            inclusion,
            effect,
            twins,
        } => weighed(one, *inclusion, effect, twins, outcome),
        Standing::Twin(lead) => format!(
            "{}: it goes with {} so closely that they are one; see there.",
            inert(&one.name),
            inert(lead)
        ),
        Standing::LeftOut(lack) => format!("{}: {}.", inert(&one.name), left_out(*lack, one)),
        Standing::TooEarly(early) => {
            let counts =
                counts(one, outcome).map_or_else(String::new, |counts| format!("{counts}; "));
            format!("{}: {counts}{}.", inert(&one.name), too_early(*early))
        }
    }
}

fn weighed(
    one: &Finding,
    inclusion: f64,
    effect: &Effect,
    twins: &[String],
    outcome: OutcomeKind,
) -> String {
    let name = named(&one.name, twins);
    let counts = counts(one, outcome).map_or_else(String::new, |counts| format!("{counts}; "));
    let sure = in_100(inclusion);
    if !one.is_said() {
        let doubt = match inclusion >= MAY_MATTER {
            true => "it may matter",
            false => "no sign that it matters",
        };
        return format!("{name}: {counts}{doubt}, {sure}.");
    }
    format!(
        "{name}: {counts}{} {}, {sure} that it matters.",
        step(&effect.step, &one.unit),
        strength(effect.strength, outcome)
    )
}

/// `rest, or the age of the oldest cup`.
#[must_use]
pub fn named(name: &str, twins: &[String]) -> String {
    let twins = twins.iter().map(|twin| format!(", or {}", inert(twin)));
    inert(name).into_owned() + &twins.collect::<String>()
}

/// `over 12.1 h 11 of 15 good, not over 12.1 h 4 of 13`; none where nothing was written down.
fn counts(one: &Finding, outcome: OutcomeKind) -> Option<String> {
    let word = match (outcome.is_measured(), outcome.less_is_better()) {
        (false, _) => "good",
        (true, false) => "above the middle",
        (true, true) => "evener than the middle",
    };
    let told = |(place, (side, tally)): (usize, (String, Tally))| {
        let good = if place == 0 {
            format!(" {word}")
        } else {
            String::new()
        };
        format!("{side} {} of {}{good}", tally.good, tally.pours)
    };
    let sides = one.sides.each.iter();
    // Where a cut leaves nothing on one side, that side is not spoken of.
    let sides = sides.filter(|side| side.tally.pours > 0);
    let sides = sides.map(|one| (side(&one.which), one.tally));
    let each: Vec<String> = sides.enumerate().map(told).collect();
    (!each.is_empty()).then(|| each.join(", "))
}

/// Which side of a factor: `over 12.1 h`, `not over 12.1 h`, or what it may be.
#[must_use]
pub fn side(which: &Which) -> String {
    let cut = |cut: &Cut| gauged(cut.at, cut.step, &cut.unit);
    match which {
        Which::Over(at) => format!("over {}", cut(at)),
        Which::NotOver(at) => format!("not over {}", cut(at)),
        Which::At(at) => format!("at {}", cut(at)),
        Which::Under(at) => format!("under {}", cut(at)),
        Which::Some => "some".to_owned(),
        Which::None => "none".to_owned(),
        Which::Others => "others".to_owned(),
        Which::Chosen(one) => choice(one),
    }
}

/// One of the few things that a factor may be.
#[must_use]
pub fn choice(one: &Choice) -> String {
    match one {
        Choice::Answer(true) => "yes".to_owned(),
        Choice::Answer(false) => "no".to_owned(),
        Choice::Word(word) => inert(word).into_owned(),
    }
}

/// A number with the digits that its instrument shows, and its unit.
#[must_use]
pub fn gauged(value: f64, step: f64, unit: &str) -> String {
    let tens = -step.log10();
    let digits = tens.ceil().clamp(0.0, 6.0) as usize;
    // What rounds to nothing has no sign.
    let value = if value == 0.0 { 0.0 } else { value };
    let number = match tens.fract() == 0.0 {
        true => format!("{value:.digits$}"),
        false => value.to_string(),
    };
    format!("{number} {unit}").trim_end().to_owned()
}

/// `8.2 h more: `, `yes instead of no: `.
fn step(step: &Step, unit: &str) -> String {
    match step {
        Step::More(more) => format!(
            "{}more:",
            format!("{} {unit}", short(*more)).trim_end().to_owned() + " "
        ),
        Step::Instead(this, that) => format!("{} instead of {}:", choice(this), choice(that)),
    }
}

/// `about 2 in 10 more good pours`, `about 0.8 cells fewer`.
#[must_use]
pub fn strength(strength: f64, outcome: OutcomeKind) -> String {
    let way = if strength < 0.0 { "fewer" } else { "more" };
    let size = strength.abs();
    match outcome {
        OutcomeKind::Cells => format!("about {} cells {way}", short(size)),
        OutcomeKind::Number => format!("about {} cells to a dm2 {way}", short(size)),
        OutcomeKind::Share => format!(
            "cells on about {} % of the panel {}",
            short(size),
            less_or_more(strength)
        ),
        OutcomeKind::Diameter => format!(
            "cells about {} mm {}",
            short(size),
            if strength < 0.0 { "smaller" } else { "larger" }
        ),
        OutcomeKind::Evenness => format!(
            "diameters that vary by about {} % {}",
            short(size),
            less_or_more(strength)
        ),
        OutcomeKind::Good if size >= 0.1 => {
            format!("about {:.0} in 10 {way} good pours", size * 10.0)
        }
        OutcomeKind::Good => format!("about {:.0} in 100 {way} good pours", size * 100.0),
    }
}

const fn less_or_more(strength: f64) -> &'static str {
    if strength < 0.0 { "less" } else { "more" }
}

/// `97 in 100`; never none and never all, for no pours say so.
#[must_use]
pub fn in_100(chance: f64) -> String {
    match chance * 100.0 {
        over if over > 99.0 => "over 99 in 100".to_owned(),
        under if under < 1.0 => "under 1 in 100".to_owned(),
        some => format!("{some:.0} in 100"),
    }
}

/// What stands in the way of knowing more of a factor.
fn left_out(lack: Lack, one: &Finding) -> String {
    let all = one.n + one.sides.missing.len();
    match lack {
        Lack::Written(0) => "it is written down on no pour".to_owned(),
        Lack::Written(on) => format!(
            "it is missing on {} of {all} pours, too many to weigh it",
            all.saturating_sub(on)
        ),
        Lack::WrittenByOutcome(on) => format!(
            "it is missing on {} of {all} pours, and more on the good or on the poor ones: that says more than it does",
            all.saturating_sub(on)
        ),
        Lack::Same => "the same on every pour, so it cannot be told".to_owned(),
        Lack::Words => "too many different words for so few pours".to_owned(),
        Lack::Crowd => {
            "others say more by themselves; only so many can be weighed at once".to_owned()
        }
    }
}

/// Why nothing can be weighed yet.
#[must_use]
pub fn too_early(early: TooEarly) -> String {
    match early {
        TooEarly::Pours(1, needed) => format!("too early to tell from 1 pour; {needed} are needed"),
        TooEarly::Pours(n, needed) => {
            format!("too early to tell from {n} pours; {needed} are needed")
        }
        TooEarly::OneSided(_, 0) => "too early to tell: every pour was good".to_owned(),
        TooEarly::OneSided(0, _) => "too early to tell: no pour was good".to_owned(),
        TooEarly::OneSided(..) => {
            "too early to tell: at least three good and three other pours are needed".to_owned()
        }
        TooEarly::Alike => "every pour came out the same, so nothing sets them apart".to_owned(),
        TooEarly::NoFactor => "no factor is written down often enough to be weighed".to_owned(),
    }
}

/// What stands in the way of knowing more, over all factors: those with gaps.
#[must_use]
pub fn in_the_way(reasons: &Reasons) -> Vec<String> {
    let gap = |one: &&Finding| {
        let lack = match &one.standing {
            Standing::LeftOut(lack) => *lack,
            _ => return false,
        };
        matches!(lack, Lack::Written(1..) | Lack::WrittenByOutcome(_))
    };
    let gaps = reasons.factors.iter().filter(gap);
    gaps.map(|one| factor(one, reasons.outcome))
        .chain(weighed_of(reasons))
        .collect()
}

/// Of how many pours those are that are weighed, where older ones are left out.
#[must_use]
pub fn weighed_of(reasons: &Reasons) -> Option<String> {
    let (weighed, judged) = (reasons.older()?, reasons.judged);
    Some(format!(
        "Weighed are the newest {weighed} of {judged} judged pours."
    ))
}

/// The statistics of the list: method, models, odds ratios with their intervals, sources.
#[must_use]
pub fn statistics(reasons: &Reasons) -> Vec<String> {
    statistics_of(&reasons.factors, reasons.basis, reasons.outcome)
}

/// The same of a list of factors, and of what it rests on.
#[must_use]
pub fn statistics_of(
    factors: &[Finding],
    basis: Result<Basis, TooEarly>,
    outcome: OutcomeKind,
) -> Vec<String> {
    let basis = match basis {
        Ok(basis) => basis,
        Err(early) => return vec![too_early(early) + "."],
    };
    let each = factors.iter().filter_map(|one| odds(one, outcome));
    [method(basis, outcome)]
        .into_iter()
        .chain(each)
        .chain([SOURCES.to_owned()])
        .collect()
}

fn odds(one: &Finding, outcome: OutcomeKind) -> Option<String> {
    let Standing::Weighed {
        inclusion,
        effect,
        twins,
    } = &one.standing
    else {
        return None;
    };
    let what = match outcome {
        OutcomeKind::Good => "odds ratio",
        OutcomeKind::Cells => "cells",
        OutcomeKind::Share => "% of the panel",
        OutcomeKind::Diameter => "mm of diameter",
        OutcomeKind::Evenness => "% of variation",
        OutcomeKind::Number => "cells to a dm2",
    };
    Some(format!(
        "{}: {} {what} {} ({} to {}), inclusion {inclusion:.2}.",
        named(&one.name, twins),
        step(&effect.step, &one.unit),
        short(effect.value),
        short(effect.interval.low),
        short(effect.interval.high)
    ))
}

fn method(basis: Basis, outcome: OutcomeKind) -> String {
    let kind = match outcome {
        OutcomeKind::Good => "logistic",
        _ => "linear",
    };
    format!(
        "{} pours in {} sessions; {} {kind} models of up to three factors, each with time and a random effect of the session, \
         averaged by their evidence. Intervals hold 95 in 100, \"none\" in them as far as a factor may not matter; of one that hardly \
         does, what holds if it does after all. \
         Found by looking, not by a trial.",
        basis.pours, basis.sessions, basis.models
    )
}

const SOURCES: &str = "Inputs on two standard deviations (Gelman 2008); slopes normal with sd 1.2, or .66 of the noise; \
     Laplace evidence; number of factors beta-binomial (Scott and Berger 2010); said from one half on (Barbieri and Berger 2004).";

/// Two digits, or the whole number where there are more.
fn short(value: f64) -> String {
    if value == 0.0 || value.abs() >= 10.0 {
        return format!("{value:.0}");
    }
    let digits = (1.0 - value.abs().log10().floor()).clamp(0.0, 4.0) as usize;
    format!("{value:.digits$}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::findings::FactorKind;
    use crate::numbers::statistics::proportion::Interval;
    use crate::numbers::statistics::sides::{Side, Sides};

    #[test]
    fn a_number_has_the_digits_of_its_instrument() {
        assert_eq!(gauged(2.0 * 0.5, 0.5, ""), "1");
        assert_eq!(gauged(3.0 * 0.5, 0.5, ""), "1.5");
        assert_eq!(gauged(55.0, 1.0, "%"), "55 %");
        assert_eq!(gauged(-0.0, 0.1, "s"), "0.0 s");
    }

    fn finding(standing: Standing) -> Finding {
        let cut = || Cut {
            at: 12.1,
            step: 0.1,
            unit: "h".into(),
        };
        let side = |which, good, pours| Side {
            which,
            tally: Tally::new(good, pours),
            rows: Vec::new(),
        };
        Finding {
            name: "rest".into(),
            kind: FactorKind::Number,
            unit: "h".into(),
            n: 28,
            sides: Sides {
                each: vec![
                    side(Which::Over(cut()), 11, 15),
                    side(Which::NotOver(cut()), 4, 13),
                ],
                missing: vec![0, 1],
            },
            standing,
        }
    }

    fn weighed(inclusion: f64) -> Finding {
        finding(Standing::Weighed {
            inclusion,
            effect: Effect {
                step: Step::More(8.23),
                value: 2.4,
                interval: Interval {
                    low: 1.1,
                    high: 5.25,
                },
                strength: 0.213,
            },
            twins: vec!["age of the oldest cup".into()],
        })
    }

    #[test]
    fn a_factor_is_one_sentence_with_counts_strength_and_how_sure() {
        assert_eq!(
            factor(&weighed(0.97), OutcomeKind::Good),
            "rest, or age of the oldest cup: over 12.1 h 11 of 15 good, not over 12.1 h 4 of 13; 8.2 h more: about 2 in 10 \
             more good pours, 97 in 100 that it matters."
        );
        assert!(
            factor(&weighed(0.2), OutcomeKind::Good)
                .ends_with("no sign that it matters, 20 in 100.")
        );
        // A painter read "no sign that it matters, 48 in 100" and did not know which of the two was meant.
        assert!(factor(&weighed(0.48), OutcomeKind::Good).ends_with("it may matter, 48 in 100."));
        assert_eq!(
            strength(-0.043, OutcomeKind::Good),
            "about 4 in 100 fewer good pours"
        );
        assert_eq!(strength(0.83, OutcomeKind::Cells), "about 0.83 cells more");
        assert_eq!(
            [in_100(0.999), in_100(0.001)],
            ["over 99 in 100", "under 1 in 100"]
        );
    }

    #[test]
    fn what_stands_in_the_way_is_said() {
        let told = |standing| factor(&finding(standing), OutcomeKind::Good);
        assert_eq!(
            told(Standing::LeftOut(Lack::Written(28))),
            "rest: it is missing on 2 of 30 pours, too many to weigh it."
        );
        assert!(told(Standing::Twin("age".into())).contains("see there"));
        assert!(
            told(Standing::TooEarly(TooEarly::Pours(12, 20)))
                .ends_with("too early to tell from 12 pours; 20 are needed.")
        );
    }

    #[test]
    fn statistics_name_the_odds_and_the_inclusion() {
        assert_eq!(
            odds(&weighed(0.97), OutcomeKind::Good).unwrap(),
            "rest, or age of the oldest cup: 8.2 h more: odds ratio 2.4 (1.1 to 5.2), inclusion 0.97."
        );
    }
}
