//! The wording of what changed with time.

use crate::numbers::statistics::drift::Verdict;
use crate::numbers::statistics::proportion::Tally;

/// Whether pours came out better or worse as time went on.
#[must_use]
pub fn words(verdict: Verdict) -> String {
    match verdict {
        Verdict::TooFew(1) => early("1 pour judged"),
        Verdict::TooFew(n) => early(&format!("{n} pours judged")),
        Verdict::OneStretch(n) => early(&format!("all {n} pours lie in one stretch of days")),
        Verdict::AllAlike => "Every pour had the same cells, so nothing changed with time.".into(),
        Verdict::Changed { trend, first, last } => {
            let went = if trend.value > 0.0 { "up" } else { "down" };
            format!(
                "Cells went {went} with time (rank correlation {:.2}, {}): at first {} good, of late {}. Found by \
                 looking, not by a trial: whatever else changed meanwhile may be why.",
                trend.value,
                chance(trend.p),
                of(first),
                of(last)
            )
        }
        Verdict::NoSign(n) => format!("No sign that cells change with time, in {n} pours."),
    }
}

fn early(why: &str) -> String {
    format!("Too early to tell whether it changes with time: {why}.")
}

fn of(tally: Tally) -> String {
    format!("{} of {}", tally.good, tally.pours)
}

fn chance(p: f64) -> String {
    match p < 0.01 {
        true => "p under 0.01".to_owned(),
        false => format!("p {p:.2}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::ranks::Ranked;

    #[test]
    fn a_rise_is_told_with_its_ends_and_a_few_pours_with_their_number() {
        let changed = Verdict::Changed {
            trend: Ranked {
                value: 0.883,
                p: 1e-8,
                exact: false,
            },
            first: Tally::new(0, 6),
            last: Tally::new(5, 6),
        };
        let told = words(changed);
        assert!(told.starts_with("Cells went up with time (rank correlation 0.88, p under 0.01)"));
        assert!(told.contains("at first 0 of 6 good, of late 5 of 6. Found by looking, not"));
        assert!(words(Verdict::TooFew(1)).ends_with("time: 1 pour judged."));
    }
}
