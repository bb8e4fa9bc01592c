//! What a cup, a pour and a picture cost: decimal money per millilitre bought, in the studio's one currency.
//!
//! Nothing is rounded here. A cost with an unknown price is known only in part, and says how many parts are missing.

use crate::trade::units::Millilitres;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

/// Money in the studio's one currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Money(pub Decimal);

impl Money {
    /// No money.
    pub const ZERO: Self = Self(Decimal::ZERO);
}

/// What was paid for how much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Purchase {
    /// The price paid.
    pub price: Money,
    /// The volume bought.
    pub volume: Millilitres,
}

/// A sum that says what it lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Cost {
    /// What is known.
    pub known: Money,
    /// How many parts have no price.
    pub unknown: usize,
}

/// Why a cost cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CostError {
    /// The bought volume is none.
    Volume,
    /// A used volume is no number, or below nothing.
    Used,
    /// The sum is larger than can be written.
    TooLarge,
}

impl Cost {
    /// One part: known, or a part without a price.
    #[must_use]
    pub fn of(part: Option<Money>) -> Self {
        Self {
            known: part.unwrap_or(Money::ZERO),
            unknown: usize::from(part.is_none()),
        }
    }

    /// Both together.
    ///
    /// # Errors
    /// A sum too large to be written.
    fn plus(self, other: Self) -> Result<Self, CostError> {
        let known = self.known.0.checked_add(other.known.0);
        Ok(Self {
            known: Money(known.ok_or(CostError::TooLarge)?),
            unknown: self.unknown + other.unknown,
        })
    }

    /// All together: a cup's parts, a pour's layers and its lost start-overs.
    ///
    /// # Errors
    /// A sum too large to be written.
    pub fn total(all: impl IntoIterator<Item = Self>) -> Result<Self, CostError> {
        all.into_iter().try_fold(Self::default(), Self::plus)
    }
}

/// The cost of a volume of something bought.
///
/// # Errors
/// A volume that is none, or a sum too large to be written.
pub fn of_part(used: Millilitres, bought: Purchase) -> Result<Money, CostError> {
    let used = decimal(used)
        .filter(|v| !v.is_sign_negative())
        .ok_or(CostError::Used)?;
    let volume = decimal(bought.volume)
        .filter(|v| *v > Decimal::ZERO)
        .ok_or(CostError::Volume)?;
    let cost = bought.price.0.checked_mul(used);
    let cost = cost.and_then(|cost| cost.checked_div(volume));
    cost.map(Money).ok_or(CostError::TooLarge)
}

/// The volume to the microlitre, as it is stored.
fn decimal(volume: Millilitres) -> Option<Decimal> {
    Decimal::from_f64(volume.stored().0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bottle(cents: i64, volume: f64) -> Purchase {
        Purchase {
            price: Money(Decimal::new(cents, 2)),
            volume: Millilitres(volume),
        }
    }

    #[test]
    fn a_sum_counts_what_has_no_price() {
        let parts = [
            Cost::of(of_part(Millilitres(50.0), bottle(1000, 500.0)).ok()),
            Cost::of(of_part(Millilitres(0.1), bottle(300, 100.0)).ok()),
            Cost::of(None),
        ];
        let cost = Cost::total(parts).unwrap();
        assert_eq!(cost.known, Money(Decimal::new(1003, 3)));
        assert_eq!(cost.unknown, 1);
    }

    #[test]
    fn no_volume_is_an_error() {
        let refused = |used, holds| of_part(Millilitres(used), bottle(100, holds)).unwrap_err();
        assert_eq!(refused(1.0, 0.0), CostError::Volume);
        assert_eq!(refused(-1.0, 9.0), CostError::Used);
        assert_eq!(refused(f64::NAN, 9.0), CostError::Used);
        let vast = Cost::of(Some(Money(Decimal::MAX)));
        assert_eq!(Cost::total([vast, vast]), Err(CostError::TooLarge));
    }

    proptest! {
        #[test]
        fn whole_bottle_costs_its_price(cents in 0_i64..1_000_000, micro in 1_000_u32..10_000_000) {
            let volume = Millilitres(f64::from(micro) / 1000.0);
            let cost = of_part(volume, bottle(cents, volume.0)).unwrap();
            prop_assert_eq!(cost.0, Decimal::new(cents, 2));
        }
    }
}
