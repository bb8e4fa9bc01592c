//! Shares drawn in cells: an interval from its lower to its upper edge, or the sides of a factor on one scale.

use crate::numbers::statistics::proportion::Tally;

/// `····├────●──┤·····`: shares from 0 at the left edge to 1 at the right. What is no number is not drawn.
pub fn interval(low: f64, rate: f64, high: f64, width: usize) -> String {
    let last = width.saturating_sub(1) as f64;
    // A float that is not a number becomes 0 here.
    let cell = |share: f64| (share.clamp(0.0, 1.0) * last).round() as usize;
    let (low, rate, high) = (cell(low), cell(rate), cell(high));
    let sign = |at: usize| match at {
        _ if at == rate => '●',
        _ if at == low => '├',
        _ if at == high => '┤',
        _ if (low..high).contains(&at) => '─',
        _ => '·',
    };
    (0..width).map(sign).collect()
}

/// `···○───●···`: a factor's sides, the upper one full; of many words all are full. What holds no pour is not drawn.
pub fn sides(tallies: &[Tally], width: usize) -> String {
    let last = width.saturating_sub(1) as f64;
    let cell = |share: f64| (share * last).round() as usize;
    let at: Vec<Option<usize>> = tallies.iter().map(|one| one.share().map(cell)).collect();
    let full = if tallies.len() == 2 { 1 } else { at.len() };
    let (least, most) = (at.iter().flatten().min(), at.iter().flatten().max());
    let within = |cell: &usize| least.is_some_and(|l| l < cell) && most.is_some_and(|m| m > cell);
    let sign = |cell: usize| match at.iter().position(|one| *one == Some(cell)) {
        Some(place) if place < full => '●',
        Some(_) => '○',
        None if within(&cell) => '─',
        None => '·',
    };
    (0..width).map(sign).collect()
}

/// The scale over the intervals.
pub fn scale(width: usize) -> String {
    if width < 13 {
        return format!("0{:>1$}", "100 %", width.saturating_sub(1));
    }
    let half = width / 2;
    let left = format!("0{:>1$}", "50", half);
    format!("{left}{:>1$}", "100 %", width - half - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_and_rate_stand_where_their_shares_are() {
        assert_eq!(interval(0.2, 0.5, 0.8, 11), "··├──●──┤··");
        assert_eq!(interval(0.0, 0.0, 1.0, 5), "●───┤");
        assert_eq!(interval(0.5, 0.5, 0.5, 5), "··●··");
    }

    #[test]
    fn sides_stand_on_one_scale_and_two_are_told_apart() {
        let of = |good, pours| Tally::new(good, pours);
        assert_eq!(sides(&[of(3, 4), of(1, 4)], 9), "··○───●··");
        assert_eq!(sides(&[of(0, 4), of(4, 4), of(2, 4)], 5), "●─●─●");
        assert_eq!(sides(&[of(2, 4), of(0, 0)], 5), "··●··");
        // Where both are the same the upper one is seen.
        assert_eq!(sides(&[of(1, 2), of(2, 4)], 5), "··●··");
        assert_eq!(
            (sides(&[], 3), sides(&[of(1, 1)], 0)),
            ("···".to_owned(), String::new())
        );
    }

    #[test]
    fn nothing_wide_or_mad_is_drawn_without_a_fault() {
        assert_eq!(interval(0.1, 0.2, 0.3, 0), "");
        assert_eq!(interval(f64::NAN, f64::NAN, f64::NAN, 3).chars().count(), 3);
    }

    #[test]
    fn the_scale_is_as_wide_as_the_plot() {
        for width in [10, 13, 20, 21, 48] {
            assert_eq!(scale(width).chars().count(), width, "{width}");
        }
    }
}
