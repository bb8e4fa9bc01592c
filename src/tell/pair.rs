//! The wording of two factors at once.

use super::findings::side;
use crate::numbers::statistics::pair::{Cell, Pair, PairVerdict};
use crate::numbers::statistics::sides::Which;

/// A cell: `rest over 12 h, humidity not over 55 %`.
#[must_use]
pub fn title(pair: &Pair, cell: &Cell) -> String {
    let [first, second] = &pair.names;
    let [down, across] = sides(pair, cell);
    format!("{first} {down}, {second} {across}")
}

/// Which sides of both factors a cell is of.
#[must_use]
pub fn sides(pair: &Pair, cell: &Cell) -> [String; 2] {
    let of = |sides: &[Which], at: usize| sides.get(at).map(side).unwrap_or_default();
    [of(&pair.down, cell.down), of(&pair.across, cell.across)]
}

/// The best cell beside the worst, or why they are not to be compared.
#[must_use]
pub fn words(pair: &Pair) -> String {
    let lacking = match pair.lacking {
        0 => String::new(),
        1 => " On 1 pour one of the two was not written down.".into(),
        n => format!(" On {n} pours one of the two was not written down."),
    };
    told(pair) + &lacking
}

fn told(pair: &Pair) -> String {
    let [first, second] = &pair.names;
    match pair.verdict {
        PairVerdict::NeverBoth => format!("{first} and {second} are never both written down."),
        PairVerdict::AllAlike => format!(
            "{first} and {second} were the same on every pour that has both: nothing to compare."
        ),
        PairVerdict::NoneGood => "No pour with both was good. Too early to tell.".into(),
        PairVerdict::AllGood => "Every pour with both was good. Too early to tell.".into(),
        PairVerdict::TooFew(n) => format!("Too early to tell from {n} pours."),
        PairVerdict::AsOne => format!(
            "{first} and {second} always went together: which of them it is cannot be told."
        ),
        PairVerdict::Compared { apart } => compared(pair, apart),
    }
}

fn compared(pair: &Pair, apart: bool) -> String {
    let ranked = pair.ranked();
    let say = |cell: Option<&&Cell>| {
        let cell = cell.map(|cell| (title(pair, cell), cell.tally));
        cell.map(|(title, tally)| format!("{title}: {} of {} good", tally.good, tally.pours))
            .unwrap_or_default()
    };
    let apart = match apart {
        true => "Their ranges do not meet.",
        false => "Their ranges meet, so it may be chance.",
    };
    let (best, worst) = (say(ranked.first()), say(ranked.last()));
    format!("Surest: {best}. Least: {worst}. {apart} Found by looking, not by a trial.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::findings::Choice;
    use crate::numbers::statistics::pair::pair;
    use crate::numbers::statistics::proportion::Tally;
    use crate::numbers::statistics::sides::{Side, Sides};

    fn both(names: [&str; 2], rows: [Vec<usize>; 2], missing: Vec<usize>) -> Sides {
        let each = names.into_iter().zip(rows);
        let side = |(name, rows): (&str, _)| Side {
            which: Which::Chosen(Choice::Word(name.to_owned())),
            tally: Tally::default(),
            rows,
        };
        Sides {
            each: each.map(side).collect(),
            missing,
        }
    }

    #[test]
    fn the_surest_and_the_least_are_told_with_their_counts() {
        // Counted by hand: long and dry 8 of 8, long and wet 4 of 8, short and dry 2 of 4, short and wet 0 of 8.
        let rest = both(
            ["long", "short"],
            [(0..16).collect(), (16..28).collect()],
            vec![28, 29],
        );
        let (dry, wet) = ([(0..8), (16..20)], [(8..16), (20..28)]);
        let flat = |ranges: [std::ops::Range<usize>; 2]| ranges.into_iter().flatten().collect();
        let air = both(["dry", "wet"], [flat(dry), flat(wet)], vec![28, 29]);
        let good: Vec<bool> = (0..30).map(|i| i < 12 || (16..18).contains(&i)).collect();
        assert_eq!(
            words(&pair(["rest", "air"], [&rest, &air], &good)),
            "Surest: rest long, air dry: 8 of 8 good. Least: rest short, air wet: 0 of 8 good. Their ranges do not \
             meet. Found by looking, not by a trial. On 2 pours one of the two was not written down."
        );
    }
}
