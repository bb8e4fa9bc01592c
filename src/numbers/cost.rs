//! What a cup, a pour and a picture cost: decimal money per millilitre bought, in the studio's one currency.
//!
//! Nothing is rounded here. A cost with an unknown price is known only in part, and says how many parts are missing.

use crate::trade::units::Millilitres;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use thiserror::Error;

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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum CostError {
    /// The bought volume is none.
    #[error("the volume bought is not above 0 ml; enter what the bottle held")]
    Volume,
    /// A used volume is no number, or below nothing.
    #[error("a volume used is below 0 ml or no number; correct the cup's parts")]
    Used,
    /// The sum is larger than can be written.
    #[error("the cost is too large to be written; check the price and the volume bought")]
    TooLarge,
}

impl Cost {
    /// A cost that is wholly known, such as a panel's.
    #[must_use]
    pub const fn of(known: Money) -> Self {
        Self { known, unknown: 0 }
    }

    /// Both together: a pour's layers and lost start-overs, a picture's pours, panel and varnish.
    ///
    /// # Errors
    /// A sum too large to be written.
    pub fn plus(self, other: Self) -> Result<Self, CostError> {
        let known = self.known.0.checked_add(other.known.0);
        Ok(Self {
            known: Money(known.ok_or(CostError::TooLarge)?),
            unknown: self.unknown + other.unknown,
        })
    }

    /// All together.
    ///
    /// # Errors
    /// A sum too large to be written.
    pub fn total(all: impl IntoIterator<Item = Self>) -> Result<Self, CostError> {
        all.into_iter().try_fold(Self::default(), Self::plus)
    }
}

/// The cost of a volume of something bought; `None` bought: unknown.
///
/// # Errors
/// A volume that is none, or a sum too large to be written.
pub fn of_part(used: Millilitres, bought: Option<Purchase>) -> Result<Cost, CostError> {
    let Some(bought) = bought else {
        return Ok(Cost {
            known: Money::ZERO,
            unknown: 1,
        });
    };
    let used = decimal(used)
        .filter(|v| !v.is_sign_negative())
        .ok_or(CostError::Used)?;
    let volume = decimal(bought.volume)
        .filter(|v| *v > Decimal::ZERO)
        .ok_or(CostError::Volume)?;
    let cost = bought
        .price
        .0
        .checked_mul(used)
        .and_then(|c| c.checked_div(volume));
    Ok(Cost::of(Money(cost.ok_or(CostError::TooLarge)?)))
}

/// The cost of a cup from its parts.
///
/// # Errors
/// A volume that is none, or a sum too large to be written.
pub fn of_cup(parts: &[(Millilitres, Option<Purchase>)]) -> Result<Cost, CostError> {
    parts
        .iter()
        .try_fold(Cost::default(), |sum, &(used, bought)| {
            sum.plus(of_part(used, bought)?)
        })
}

/// The volume to the microlitre, as it is stored.
fn decimal(volume: Millilitres) -> Option<Decimal> {
    Decimal::from_f64(volume.stored().0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn bottle(cents: i64, volume: f64) -> Option<Purchase> {
        Some(Purchase {
            price: Money(Decimal::new(cents, 2)),
            volume: Millilitres(volume),
        })
    }

    #[test]
    fn cup_costs_its_parts_and_counts_what_has_no_price() {
        let parts = [
            (Millilitres(50.0), bottle(1000, 500.0)),
            (Millilitres(0.1), bottle(300, 100.0)),
            (Millilitres(30.0), None),
        ];
        let cost = of_cup(&parts).unwrap();
        assert_eq!(cost.known, Money(Decimal::new(1003, 3)));
        assert_eq!(cost.unknown, 1);
        let pair = Cost::total([cost, Cost::of(Money(Decimal::new(450, 2)))]).unwrap();
        assert_eq!(pair.known, Money(Decimal::new(5503, 3)));
    }

    #[test]
    fn no_volume_is_an_error() {
        assert_eq!(
            of_part(Millilitres(1.0), bottle(100, 0.0)),
            Err(CostError::Volume)
        );
        assert_eq!(
            of_part(Millilitres(-1.0), bottle(100, 9.0)),
            Err(CostError::Used)
        );
        assert_eq!(
            of_part(Millilitres(f64::NAN), bottle(100, 9.0)),
            Err(CostError::Used)
        );
        let vast = Cost::of(Money(Decimal::MAX));
        assert_eq!(vast.plus(vast), Err(CostError::TooLarge));
    }

    proptest! {
        #[test]
        fn whole_bottle_costs_its_price(cents in 0_i64..1_000_000, micro in 1_000_u32..10_000_000) {
            let volume = Millilitres(f64::from(micro) / 1000.0);
            let bought = bottle(cents, volume.0);
            prop_assert_eq!(of_part(volume, bought).unwrap().known.0, Decimal::new(cents, 2));
        }
    }
}
