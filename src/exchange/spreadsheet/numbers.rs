//! Numbers, temperatures and grades as a whole column writes them: what one cell leaves open another decides.

use crate::studio::CellFault;

/// How a column's numbers are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Decimal {
    Point,
    Comma,
    /// No cell tells: a number that may be read in two ways is refused.
    Open,
}

/// Finds out how a column writes its numbers.
pub(super) fn decimal<'a>(cells: impl Iterator<Item = &'a str>) -> Decimal {
    let (mut point, mut comma) = (false, false);
    for cell in cells {
        let digits: String = cell
            .chars()
            .filter(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
            .collect();
        let (dots, commas) = (digits.matches('.').count(), digits.matches(',').count());
        let after = |sign: char| digits.rsplit(sign).next().map_or(0, str::len);
        match (dots, commas) {
            (1, 1) => {
                let last = digits.rfind(',') > digits.rfind('.');
                (point, comma) = (point || !last, comma || last);
            }
            (1, 0) if after('.') != 3 => point = true,
            (0, 1) if after(',') != 3 => comma = true,
            (0, 2..) => point = true,
            (2.., 0) => comma = true,
            _ => {}
        }
    }
    match (point, comma) {
        (true, false) => Decimal::Point,
        (false, true) => Decimal::Comma,
        _ => Decimal::Open,
    }
}

/// In what a temperature is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Scale {
    Celsius,
    Fahrenheit,
}

impl Scale {
    /// Of its letter or name, in small.
    pub(super) fn named(unit: &str) -> Option<Self> {
        match unit.trim_start_matches(['°', ' ', 'º', '˚']) {
            "c" | "celsius" => Some(Self::Celsius),
            "f" | "fahrenheit" => Some(Self::Fahrenheit),
            _ => None,
        }
    }

    /// Of numbers that do not say it, by the middle one: no room is at 45 °C, and few are below 45 °F.
    pub(super) fn of(mut degrees: Vec<f64>) -> Option<Self> {
        degrees.sort_by(f64::total_cmp);
        let middle = degrees.get(degrees.len() / 2)?;
        Some(match *middle > 45.0 {
            true => Self::Fahrenheit,
            false => Self::Celsius,
        })
    }

    /// As it is told.
    pub(super) const fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
        }
    }

    /// Degrees Celsius.
    pub(super) fn celsius(self, degrees: f64) -> f64 {
        match self {
            Self::Celsius => degrees,
            Self::Fahrenheit => (degrees - 32.0) / 1.8,
        }
    }
}

/// A temperature, which may be below nothing, and in what its cell says that it is.
pub(super) fn temperature(cell: &str, decimal: Decimal) -> Result<(f64, Option<Scale>), CellFault> {
    let minus = |c: char| matches!(c, '-' | '\u{2212}');
    let inner = cell.strip_prefix(minus).unwrap_or(cell);
    let (number, around) = number(inner, decimal)?;
    let degrees: f64 = number
        .parse()
        .map_err(|_| CellFault::NoNumber(cell.into()))?;
    let sign = if inner == cell { 1.0 } else { -1.0 };
    Ok((sign * degrees, Scale::named(&around.to_lowercase())))
}

/// A cell's number as text with a decimal point, and what stands around it.
pub(super) fn number(cell: &str, decimal: Decimal) -> Result<(String, String), CellFault> {
    let cell = unformula(cell)?;
    let whole = ungrouped(cell);
    let first = whole.find(|c: char| c.is_ascii_digit());
    let first = first.ok_or_else(|| CellFault::NoNumber(cell.into()))?;
    let before = before_decimal(&whole[..first]);
    if before.ends_with(['-', '\u{2212}']) {
        return Err(CellFault::Negative(cell.into()));
    }
    let rest = &whole[before.len()..];
    let end = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
    let (digits, after) = rest.split_at(end.unwrap_or(rest.len()));
    if after.contains(|c: char| c.is_ascii_digit()) {
        return Err(CellFault::Several(cell.into()));
    }
    let around = format!("{} {}", before.trim(), after.trim());
    let number = pointed(digits.trim_end_matches(['.', ',']), decimal);
    let number = number.ok_or_else(|| CellFault::TwoWays(cell.into()))?;
    Ok((number, around.trim().to_owned()))
}

/// A cell without what parts its thousands where it is no point and no comma: a blank of any kind, or an apostrophe.
fn ungrouped(cell: &str) -> String {
    let signs: Vec<char> = cell.chars().collect();
    let digit = |place: usize| signs.get(place).is_some_and(char::is_ascii_digit);
    let groups = |place: usize| {
        let three = (1..=3).all(|next| digit(place + next)) && !digit(place + 4);
        three && place.checked_sub(1).is_some_and(digit)
    };
    let parts = |sign: char| sign.is_whitespace() || matches!(sign, '\'' | '\u{2019}');
    let kept = signs.iter().enumerate();
    let kept = kept.filter(|(place, sign)| !(parts(**sign) && groups(*place)));
    kept.map(|(_, sign)| sign).collect()
}

/// What stands before a number, without the decimal sign that it begins with: the point of `ca.` is a word's.
fn before_decimal(before: &str) -> &str {
    let inner = before.strip_suffix(['.', ',']);
    let inner = inner.filter(|inner| !inner.ends_with(char::is_alphanumeric));
    inner.unwrap_or(before)
}

/// Digits with a decimal point, from as they are written; none where they may be read in two ways.
fn pointed(digits: &str, decimal: Decimal) -> Option<String> {
    let (whole, part) = at_decimal(digits, decimal)?;
    let mut groups = match whole.contains('.') {
        true => whole.split('.'),
        false => whole.split(','),
    };
    let first = groups.next().unwrap_or_default();
    let thousands: Vec<&str> = groups.collect();
    let are_three = |group: &&str| group.len() == 3 && group.bytes().all(|b| b.is_ascii_digit());
    if !thousands.iter().all(are_three) {
        return None;
    }
    let plain = format!("{first}{}.{part}", thousands.concat());
    let plain = plain.trim_end_matches('.');
    plain.parse::<f64>().is_ok().then(|| plain.to_owned())
}

/// What stands before the decimal sign and after it; none where a sign may be that or part thousands.
fn at_decimal(digits: &str, decimal: Decimal) -> Option<(&str, &str)> {
    let Some(last) = digits.rfind(['.', ',']) else {
        return Some((digits, ""));
    };
    let parted = (&digits[..last], &digits[last + 1..]);
    let whole = (digits, "");
    let (before, after) = parted;
    let sign = &digits[last..=last];
    let own = match decimal {
        Decimal::Point => Some("."),
        Decimal::Comma => Some(","),
        Decimal::Open => None,
    };
    match before.contains(['.', ',']) {
        // Signs of one kind part thousands alone.
        true if before.contains(sign) => Some(whole),
        true => Some(parted),
        false if own == Some(sign) => Some(parted),
        false if own.is_some() => (after.len() == 3).then_some(whole),
        false => (after.len() != 3 || before == "0").then_some(parted),
    }
}

/// A grade of 0 to 5, in digits or in stars: `4`, `4★`, `4/5`, `3 of 5`, `★★★☆☆`.
pub(super) fn grade(cell: &str) -> Option<u8> {
    let is_star = |c: char| matches!(c, '*' | '★' | '⭐');
    let is_around = |c: char| is_star(c) || matches!(c, '☆' | '\u{fe0f}') || c.is_whitespace();
    if cell.chars().all(is_around) {
        let stars = cell.chars().filter(|c| is_star(*c)).count();
        return u8::try_from(stars).ok().filter(|stars| *stars <= 5);
    }
    let plain = cell.to_lowercase().replace(is_star, " ");
    let most = ["/", " of ", " von "]
        .into_iter()
        .find_map(|sign| plain.split_once(sign));
    let (said, most) = most.unwrap_or((&plain, "5"));
    let first = |text: &str| text.split_whitespace().next()?.parse::<f64>().ok();
    let whole = first(said).filter(|grade| grade.fract() == 0.0 && (0.0..=5.0).contains(grade));
    whole
        .filter(|_| first(most) == Some(5.0))
        .map(|grade| grade as u8)
}

/// A text as it was before a spreadsheet's own apostrophe; a formula is no value.
pub(super) fn unformula(cell: &str) -> Result<&str, CellFault> {
    if let Some(inner) = cell
        .strip_prefix('\'')
        .filter(|inner| inner.starts_with(['=', '+', '-', '@']))
    {
        return Ok(inner);
    }
    match cell.starts_with('=')
        || matches!(
            cell,
            "#REF!" | "#N/A" | "#VALUE!" | "#DIV/0!" | "#NAME?" | "####"
        ) {
        true => Err(CellFault::Formula(cell.into())),
        false => Ok(cell),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_their_column_writes_them() {
        let column = |cells: &[&str]| decimal(cells.iter().copied());
        assert_eq!(column(&["1,5", "2"]), Decimal::Comma);
        assert_eq!(column(&["1,234.5", "2"]), Decimal::Point);
        assert_eq!(column(&["1,234", "2"]), Decimal::Open);
        let read = |cell: &str, decimal| number(cell, decimal).map(|(number, _)| number);
        assert_eq!(read("1,234", Decimal::Comma).unwrap(), "1.234");
        assert_eq!(read("1,234", Decimal::Point).unwrap(), "1234");
        assert!(read("1,234", Decimal::Open).is_err());
        assert_eq!(read("€ 1.234,50", Decimal::Open).unwrap(), "1234.50");
        assert_eq!(
            number("approx 12.5 fl oz", Decimal::Open).unwrap(),
            ("12.5".to_owned(), "approx fl oz".to_owned())
        );
        for bad in ["", "none", "-3", "\u{2212}3", "=A1*2", "#REF!"] {
            assert!(read(bad, Decimal::Point).is_err(), "{bad}");
        }
    }

    // Thousands as SI brochure 9, 5.4.4 (thin blanks), and as Switzerland writes them; nothing of a cell is cut off.
    #[test]
    fn a_number_is_the_whole_of_its_cell_or_none() {
        let read = |cell: &str| number(cell, Decimal::Comma).map(|(number, _)| number);
        for cell in [
            "1 234,50 €",
            "1\u{202f}234,50 €",
            "1\u{2009}234,50",
            "1'234,50",
            "1\u{2019}234,50",
        ] {
            assert_eq!(read(cell).unwrap(), "1234.50", "{cell}");
        }
        assert_eq!(read("ca. 12.-").unwrap(), "12");
        for unclear in ["1.234.50", "12,34,567", "1.23,4", "1.234.567,890,123"] {
            let told = Err(CellFault::TwoWays(unclear.into()));
            assert_eq!(read(unclear), told, "{unclear}");
        }
        assert_eq!(read("1.234.567,89").unwrap(), "1234567.89");
        assert_eq!(read(",5").unwrap(), ".5");
        for several in ["1:30", "1/2", "1 23", "12 0000", "12 or 13", "12-13"] {
            assert_eq!(
                read(several),
                Err(CellFault::Several(several.into())),
                "{several}"
            );
        }
    }

    #[test]
    fn a_column_of_temperatures_is_of_one_scale() {
        assert_eq!(Scale::of(vec![44.0, 68.0, 71.5]), Some(Scale::Fahrenheit));
        assert_eq!(Scale::of(vec![19.5, 21.0, 46.0]), Some(Scale::Celsius));
        assert_eq!(Scale::of(Vec::new()), None);
        let read = |cell| temperature(cell, Decimal::Open).unwrap();
        assert_eq!(read("-2"), (-2.0, None));
        assert_eq!(read("\u{2212}2,5 °C"), (-2.5, Some(Scale::Celsius)));
        assert_eq!(read("70 F"), (70.0, Some(Scale::Fahrenheit)));
        // 50 °F are 10 °C, by definition.
        assert_eq!(Scale::Fahrenheit.celsius(50.0), 10.0);
    }

    #[test]
    fn a_grade_is_of_five() {
        for (cell, wanted) in [
            ("4", Some(4)),
            ("4.0", Some(4)),
            ("4 - nice", Some(4)),
            ("4★", Some(4)),
            ("3*", Some(3)),
            ("2/5", Some(2)),
            ("3 of 5", Some(3)),
            ("★★★☆☆", Some(3)),
            ("⭐\u{fe0f}⭐\u{fe0f}", Some(2)),
            ("☆☆☆☆☆", Some(0)),
            ("3/10", None),
            ("3 of 10", None),
            ("8/10", None),
            ("★½", None),
            ("******", None),
            ("2.5", None),
            ("-1", None),
            ("6", None),
            ("NaN", None),
            ("good", None),
        ] {
            assert_eq!(grade(cell), wanted, "{cell}");
        }
    }

    proptest::proptest! {
        #[test]
        fn no_cell_panics(cell in proptest::prelude::any::<String>()) {
            let _ = number(&cell, Decimal::Open);
            let _ = temperature(&cell, Decimal::Open);
            let _ = grade(&cell);
        }
    }
}
