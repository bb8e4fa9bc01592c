//! Prices: decimal, never a float, in the one currency a studio has set.

use super::number::split;
use super::problem::{Misread, ParseProblem, Sought, one_field, said_back};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The highest price read: one million of any currency.
const MOST: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);
/// The most decimals a price has.
const DECIMALS: u32 = 4;
/// The most characters a currency's sign has.
const LONGEST_SIGN: usize = 8;

/// What stands after a price: a text the studio sets, which changes no number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Currency(String);

impl Currency {
    /// Reads a currency's sign or code, of at most eight characters.
    ///
    /// # Errors
    /// Nothing, too long, with a digit, or with a character that cannot be shown as it is.
    pub fn parse(text: &str) -> Result<Self, ParseProblem> {
        let of = Sought::Currency;
        let said = one_field(text, of)?;
        let shown = said_back(said) == said && !said.contains(char::is_numeric);
        if !shown || said.chars().count() > LONGEST_SIGN {
            return Err(ParseProblem::new(said, of, Misread::NotOne));
        }
        Ok(Self(said.to_owned()))
    }

    /// A price with this currency, to two decimals: `8.90 EUR`.
    #[must_use]
    pub fn show(&self, price: Decimal) -> String {
        format!("{:.2} {}", price.round_dp(2), self.0)
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

/// Reads a price, in the studio's currency.
///
/// ```
/// use stillcup::trade::money::parse_price;
/// assert_eq!(parse_price("8,90").unwrap(), parse_price("8.90").unwrap());
/// ```
///
/// # Errors
/// No number, something after it, a negative price, one over a million or with more than four
/// decimals, or a number that may hold a thousands separator.
pub fn parse_price(text: &str) -> Result<Decimal, ParseProblem> {
    let said = one_field(text, Sought::Price)?;
    let (number, rest) = split(said).map_err(|trouble| trouble.with(said, Sought::Price))?;
    let refused = |why| ParseProblem::new(said, Sought::Price, why);
    if !rest.is_empty() {
        return Err(refused(Misread::Trailing));
    }
    let price = Decimal::from_str_exact(&number).map_err(|_| refused(Misread::TooManyDigits))?;
    if price > MOST {
        return Err(refused(Misread::TooLarge));
    }
    if price.normalize().scale() > DECIMALS {
        return Err(refused(Misread::TooManyDecimals));
    }
    Ok(price)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn prices_are_decimal() {
        let table = [
            ("8.90", 890, 2),
            ("8,90", 890, 2),
            ("0", 0, 0),
            (" 12 ", 12, 0),
            (".5", 5, 1),
        ];
        for (said, number, scale) in table {
            assert_eq!(
                parse_price(said).unwrap(),
                Decimal::new(number, scale),
                "{said}"
            );
        }
        assert_eq!(parse_price("1000000").unwrap(), Decimal::new(1_000_000, 0));
    }

    #[test]
    fn what_is_no_price_is_refused_with_its_reason() {
        let table = [
            ("", Misread::Empty),
            ("-1", Misread::Negative),
            ("NaN", Misread::NoNumber),
            ("EUR 8", Misread::NoNumber),
            ("8 EUR", Misread::Trailing),
            ("1,000", Misread::Thousands),
            ("1.234,50", Misread::Thousands),
            ("1000000.01", Misread::TooLarge),
            ("0.00001", Misread::TooManyDecimals),
            (
                "99999999999999999999999999999999999",
                Misread::TooManyDigits,
            ),
        ];
        for (said, why) in table {
            assert_eq!(parse_price(said).unwrap_err().why, why, "{said}");
        }
    }

    #[test]
    fn a_currency_is_a_short_text() {
        let currency = Currency::parse(" EUR ").unwrap();
        assert_eq!(currency.show(Decimal::new(89, 1)), "8.90 EUR");
        assert_eq!(currency.show(Decimal::new(12, 0)), "12.00 EUR");
        for said in ["", "far too long", "E\u{1b}R", "8"] {
            assert!(Currency::parse(said).is_err(), "{said:?}");
        }
    }

    proptest! {
        #[test]
        fn no_text_panics(text in any::<String>(), like in "[0-9]{0,40}[.,]?[0-9]{0,40}") {
            let long = text.repeat(1 + 200_000 / (1 + text.len()));
            for said in [&text, &like, &long] {
                let _ = parse_price(said);
                let _ = Currency::parse(said);
            }
        }

        #[test]
        fn written_prices_read_back_the_same(number in 0..100_000_000_i64, scale in 2..=4_u32) {
            let price = Decimal::new(number, scale);
            prop_assert_eq!(parse_price(&price.to_string()).unwrap(), price);
        }
    }
}
