//! Effects drawn on one axis with nothing in the middle: `├──●──┤`.

use crate::numbers::statistics::effects::Effect;

/// An axis from so far below nothing to so far above it, and its cells on either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectAxis {
    reach: f64,
    half: usize,
}

impl EffectAxis {
    /// An axis on which all these effects and their intervals have room, with so many cells on either side.
    #[must_use]
    pub fn of(effects: &[&Effect], half: usize) -> Self {
        let far = |effect: &&Effect| {
            let sure = effect.interval;
            let ends = sure.map_or([0.0; 2], |sure| [sure.low.abs(), sure.high.abs()]);
            ends.into_iter().fold(effect.value.abs(), f64::max)
        };
        let reach = effects.iter().map(far).fold(0.0, f64::max);
        Self { reach, half }
    }

    /// Its ends and its middle in numbers.
    #[must_use]
    pub fn head(&self) -> String {
        let ends = (
            format!("{:+.1}", -self.reach),
            format!("{:+.1}", self.reach),
        );
        let side = |text: &str| " ".repeat(self.half.saturating_sub(text.len()));
        format!("{}{}0{}{}", ends.0, side(&ends.0), side(&ends.1), ends.1)
    }

    /// An effect: `●` for its value, `├─┤` for its interval, `│` for nothing, `┼` where the interval holds it.
    #[must_use]
    pub fn line(&self, effect: &Effect) -> String {
        let mut line = vec![' '; 2 * self.half + 1];
        line[self.half] = '│';
        if let Some(sure) = effect.interval {
            let (low, high) = (self.column(sure.low), self.column(sure.high));
            line[low..=high].fill('─');
            if (low..=high).contains(&self.half) {
                line[self.half] = '┼';
            }
            line[low] = '├';
            line[high] = '┤';
        }
        line[self.column(effect.value)] = '●';
        line.into_iter().collect()
    }

    /// The cell of a number, from the left.
    fn column(&self, value: f64) -> usize {
        let half = self.half as f64;
        let share = if self.reach > 0.0 {
            value / self.reach
        } else {
            0.0
        };
        (half + (share * half).round()).clamp(0.0, 2.0 * half) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::statistics::proportion::Interval;

    fn effect(value: f64, interval: Option<(f64, f64)>) -> Effect {
        Effect {
            factors: vec![0],
            aliases: Vec::new(),
            with_blocks: false,
            value,
            is_clear: false,
            interval: interval.map(|(low, high)| Interval { low, high }),
        }
    }

    fn drawn(all: &[Effect], half: usize) -> Vec<String> {
        let axis = EffectAxis::of(&all.iter().collect::<Vec<_>>(), half);
        all.iter().map(|one| axis.line(one)).collect()
    }

    #[test]
    fn all_stand_on_one_axis_with_nothing_in_its_middle() {
        let all = [
            effect(-1.0, Some((-2.0, 0.5))),
            effect(1.0, Some((0.5, 1.5))),
            effect(0.5, None),
        ];
        let lines = drawn(&all, 8);
        assert_eq!(
            lines,
            [
                "├───●───┼─┤      ",
                "        │ ├─●─┤  ",
                "        │ ●      "
            ]
        );
    }

    #[test]
    fn nothing_at_all_stands_at_nothing() {
        let all = [effect(0.0, None)];
        assert_eq!(drawn(&all, 3), ["   ●   "]);
        let axis = EffectAxis::of(&[&all[0]], 8);
        assert_eq!(axis.head().chars().count(), 17);
        // A half of no cells is still drawn.
        assert_eq!(drawn(&[effect(2.0, Some((1.0, 3.0)))], 0).len(), 1);
    }
}
