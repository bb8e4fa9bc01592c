//! One stored value, a whole row of them, and both as JSON that gives back the very same value.

use super::LogbookError;
use super::damage::Damage;
use super::faults::ProgramFault;
use rusqlite::ToSql;
use rusqlite::types::{ToSqlOutput, ValueRef};
use serde_json::{Map, Value as Json, json};

/// A value as a STRICT table holds it.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing.
    Null,
    /// A whole number.
    Integer(i64),
    /// A finite real number.
    Real(f64),
    /// Text.
    Text(String),
}

macro_rules! value_from {
    ($($from:ty => $make:expr),* $(,)?) => {
        $(impl From<$from> for Value {
            fn from(value: $from) -> Self {
                let make: fn($from) -> Self = $make;
                make(value)
            }
        })*
    };
}
value_from! {
    i64 => Self::Integer,
    i32 => |n| Self::Integer(i64::from(n)),
    u32 => |n| Self::Integer(i64::from(n)),
    bool => |yes| Self::Integer(i64::from(yes)),
    f64 => Self::Real,
    String => Self::Text,
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl<T: Into<Self>> From<Option<T>> for Value {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Null, Into::into)
    }
}

impl ToSql for Value {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(ToSqlOutput::Borrowed(match self {
            Self::Null => ValueRef::Null,
            Self::Integer(n) => ValueRef::Integer(*n),
            Self::Real(x) => ValueRef::Real(*x),
            Self::Text(text) => ValueRef::Text(text.as_bytes()),
        }))
    }
}

impl Value {
    /// Whether it may be stored: a real number must be finite.
    pub(super) const fn is_storable(&self) -> bool {
        !matches!(self, Self::Real(x) if !x.is_finite())
    }

    pub(super) fn from_sql(read: ValueRef<'_>) -> Result<Self, LogbookError> {
        Ok(match read {
            ValueRef::Null => Self::Null,
            ValueRef::Integer(n) => Self::Integer(n),
            ValueRef::Real(x) => Self::Real(x),
            ValueRef::Text(text) => Self::Text(
                String::from_utf8(text.to_vec())
                    .map_err(|_| LogbookError::Damaged(Damage::Value))?,
            ),
            ValueRef::Blob(_) => return Err(LogbookError::Program(ProgramFault::Blob)),
        })
    }

    // A real number is written as text: the JSON reader's own reals may be one unit in the last place off.
    fn to_json(&self) -> Json {
        match self {
            Self::Null => Json::Null,
            Self::Integer(n) => json!(n),
            Self::Real(x) => json!({ "real": format!("{x:?}") }),
            Self::Text(text) => json!(text),
        }
    }

    fn from_json(read: &Json) -> Option<Self> {
        match read {
            Json::Null => Some(Self::Null),
            Json::Number(n) => n.as_i64().map(Self::Integer),
            Json::String(text) => Some(Self::Text(text.clone())),
            Json::Object(tagged) => tagged.get("real")?.as_str()?.parse().ok().map(Self::Real),
            Json::Bool(_) | Json::Array(_) => None,
        }
    }
}

/// A row in full: each column beside its value, in the table's order.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row(pub(super) Vec<(String, Value)>);

impl Row {
    pub(super) fn get(&self, column: &str) -> Option<&Value> {
        self.0
            .iter()
            .find(|(name, _)| name == column)
            .map(|(_, value)| value)
    }

    /// The columns of `self` whose value in `now` is another one.
    pub(super) fn differing(&self, now: &Self) -> Vec<&str> {
        let other = |(name, value): &&(String, Value)| now.get(name) != Some(value);
        self.0
            .iter()
            .filter(other)
            .map(|(name, _)| name.as_str())
            .collect()
    }

    pub(super) fn to_json(&self) -> Json {
        let pairs = self
            .0
            .iter()
            .map(|(name, value)| (name.clone(), value.to_json()));
        Json::Object(pairs.collect::<Map<_, _>>())
    }

    pub(super) fn from_json(read: &Json) -> Option<Self> {
        let pair = |(name, value): (&String, &Json)| Some((name.clone(), Value::from_json(value)?));
        read.as_object()?
            .iter()
            .map(pair)
            .collect::<Option<Vec<_>>>()
            .map(Self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn through_json(value: Value) -> Value {
        let text = Row(vec![("x".into(), value)]).to_json().to_string();
        let read = serde_json::from_str(&text).unwrap();
        Row::from_json(&read).unwrap().0.remove(0).1
    }

    #[test]
    fn hard_reals_come_back_bit_for_bit() {
        // 2^-1074, the largest double, 2^53 + 2 and the classic that one-ulp readers miss: IEEE 754.
        for x in [
            5e-324,
            f64::MAX,
            9_007_199_254_740_994.0,
            0.1 + 0.2,
            2.225_073_858_507_201e-308,
        ] {
            let Value::Real(back) = through_json(Value::Real(x)) else {
                panic!("not a real")
            };
            assert_eq!(back.to_bits(), x.to_bits(), "{x:?}");
        }
    }

    proptest! {
        #[test]
        fn every_finite_real_comes_back(bits in any::<u64>()) {
            let x = f64::from_bits(bits);
            prop_assume!(x.is_finite());
            let Value::Real(back) = through_json(Value::Real(x)) else { panic!("not a real") };
            prop_assert_eq!(back.to_bits(), bits);
        }

        #[test]
        fn every_integer_and_text_comes_back(n in any::<i64>(), text in ".*") {
            prop_assert_eq!(through_json(Value::Integer(n)), Value::Integer(n));
            prop_assert_eq!(through_json(Value::Text(text.clone())), Value::Text(text));
        }
    }

    #[test]
    fn a_real_that_is_whole_stays_a_real() {
        assert_eq!(through_json(Value::Real(3.0)), Value::Real(3.0));
        assert_eq!(through_json(Value::Integer(3)), Value::Integer(3));
    }

    #[test]
    fn nothing_and_options_turn_into_values() {
        assert_eq!(through_json(None::<i64>.into()), Value::Null);
        assert_eq!(Value::from(Some("a")), Value::Text("a".into()));
        assert_eq!(Value::from(true), Value::Integer(1));
        assert!(!Value::from(f64::NAN).is_storable() && !Value::from(f64::INFINITY).is_storable());
    }
}
