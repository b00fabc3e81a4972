//! Messages as plain numbers: what the page and its workers send each other.
//!
//! Every value is a list of doubles in the order of its fields, without their names: a struct or tuple is its fields, an
//! option 0 or 1 before its value, a variant its number before its fields, a list or text its length before its items or
//! letters. Both sides are built together, so they agree on the order; a reader of names and kinds would be a quarter of
//! what a worker has to load.

mod reading;
mod writing;

use serde::de::DeserializeOwned;
use serde::{Serialize, de, ser};

use reading::Reader;
use writing::Writer;

/// A value that has no form in numbers, or numbers that are no such value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotNumbers;

/// A value as numbers.
///
/// # Errors
/// If it holds a map, or a whole number of more than 32 bits.
pub fn to_numbers(value: &impl Serialize) -> Result<Vec<f64>, NotNumbers> {
    let mut numbers = Vec::new();
    value.serialize(Writer { numbers: &mut numbers })?;
    Ok(numbers)
}

/// The value that numbers stand for.
///
/// # Errors
/// If they are too few, too many, or not such a value.
pub fn from_numbers<Value: DeserializeOwned>(numbers: &[f64]) -> Result<Value, NotNumbers> {
    let mut reader = Reader { numbers };
    let value = Value::deserialize(&mut reader)?;
    if reader.numbers.is_empty() { Ok(value) } else { Err(NotNumbers) }
}

impl std::fmt::Display for NotNumbers {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("not a value in numbers")
    }
}

impl std::error::Error for NotNumbers {}

impl ser::Error for NotNumbers {
    fn custom<Message: std::fmt::Display>(_: Message) -> Self {
        Self
    }
}

impl de::Error for NotNumbers {
    fn custom<Message: std::fmt::Display>(_: Message) -> Self {
        Self
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde::Deserialize;

    use super::*;

    #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
    enum Kind {
        Plain,
        One(f64),
        Named { count: u32, list: Vec<[f64; 2]> },
    }

    #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Whole {
        is_so: bool,
        text: String,
        kinds: Vec<Kind>,
        maybe: Option<Box<Self>>,
        never: Option<u32>,
    }

    fn whole() -> Whole {
        let inner =
            Whole { is_so: false, text: String::new(), kinds: Vec::new(), maybe: None, never: Some(7) };
        Whole {
            is_so: true,
            text: "größer als 4 µm".to_owned(),
            kinds: vec![
                Kind::Plain,
                Kind::One(f64::INFINITY),
                Kind::Named { count: u32::MAX, list: vec![[0.1, -0.0], [1.0e-300, 2.0]] },
            ],
            maybe: Some(Box::new(inner)),
            never: None,
        }
    }

    #[test]
    fn a_value_comes_back_from_its_numbers() {
        assert_eq!(from_numbers(&to_numbers(&whole()).unwrap()), Ok(whole()));
    }

    #[test]
    fn the_form_is_the_one_that_is_told() {
        let kind = Kind::Named { count: 5, list: vec![[0.5, 0.25]] };
        assert_eq!(
            to_numbers(&(kind, Some("ab"))).unwrap(),
            [2.0, 5.0, 1.0, 0.5, 0.25, 1.0, 2.0, 97.0, 98.0]
        );
    }

    #[test]
    fn numbers_that_are_too_few_or_too_many_are_no_value() {
        let numbers = to_numbers(&whole()).unwrap();
        for length in 0..numbers.len() {
            assert_eq!(from_numbers::<Whole>(&numbers[..length]), Err(NotNumbers), "{length}");
        }
        let more = [numbers, vec![0.0]].concat();
        assert_eq!(from_numbers::<Whole>(&more), Err(NotNumbers));
    }

    proptest! {
        #[test]
        fn any_numbers_give_a_value_or_an_error(
            numbers in proptest::collection::vec(
                prop_oneof![Just(0.0), Just(1.0), Just(2.0), 0.0..9.0_f64, proptest::num::f64::ANY], 0..40,
            ),
        ) {
            if let Ok(value) = from_numbers::<Whole>(&numbers) {
                let again = to_numbers(&value).unwrap();
                prop_assert_eq!(again.len(), numbers.len());
            }
        }
    }
}
