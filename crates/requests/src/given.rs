//! A request as it was given, before anybody knows what each part of it should be.
//!
//! Formats differ in what they do with the unexpected: one skips unknown fields of an object that it reads into a struct,
//! another calls a number in a word's place broken text. Read into this first, every format is refused alike.

use std::cell::Cell;
use std::fmt;

use serde::de::value::{MapDeserializer, SeqDeserializer};
use serde::de::{
    self, Deserialize, DeserializeSeed, Deserializer, IntoDeserializer, MapAccess, SeqAccess, Unexpected,
    Visitor,
};
use serde::forward_to_deserialize_any;

/// A value of any kind.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Given {
    Null,
    Flag(bool),
    Number(f64),
    Text(String),
    List(Vec<Self>),
    /// In the order given, a name given twice standing twice: whoever reads it refuses that.
    Fields(Vec<(String, Self)>),
}

/// The most values of a request, each field and each item of a list being one: chosen far above the fullest kit with the
/// fullest blocking, and because each may take a hundred times its bytes.
const MOST_VALUES: usize = 100_000;
/// The deepest that lists and objects may stand in each other: no request goes deeper than seven, and an object of a page may
/// hold itself.
const DEEPEST: usize = 32;

/// Reads a value while there is room for more.
#[derive(Clone, Copy)]
struct GivenVisitor<'room> {
    read: &'room Cell<usize>,
    depth: usize,
}

impl GivenVisitor<'_> {
    /// What reads the values inside of this one.
    fn inside<E: de::Error>(self) -> Result<Self, E> {
        if self.depth == DEEPEST {
            return Err(E::custom(format_args!(
                "lists and objects more than {DEEPEST} deep in each other are not allowed"
            )));
        }
        Ok(Self { depth: self.depth + 1, ..self })
    }
}

impl<'de> DeserializeSeed<'de> for GivenVisitor<'_> {
    type Value = Given;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Given, D::Error> {
        let read = self.read.get() + 1;
        self.read.set(read);
        if read > MOST_VALUES {
            let told = format_args!("more than {MOST_VALUES} values are not allowed: no request has as many");
            return Err(de::Error::custom(told));
        }
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for GivenVisitor<'_> {
    type Value = Given;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a number, text, true, false, null, a list or an object")
    }

    fn visit_unit<E: de::Error>(self) -> Result<Given, E> {
        Ok(Given::Null)
    }

    fn visit_none<E: de::Error>(self) -> Result<Given, E> {
        Ok(Given::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<Given, D::Error> {
        deserializer.deserialize_any(self)
    }

    fn visit_bool<E: de::Error>(self, flag: bool) -> Result<Given, E> {
        Ok(Given::Flag(flag))
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Given, E> {
        Ok(Given::Number(number))
    }

    #[expect(clippy::cast_precision_loss, reason = "no field takes whole numbers beyond what 53 bits hold")]
    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Given, E> {
        Ok(Given::Number(number as f64))
    }

    #[expect(clippy::cast_precision_loss, reason = "no field takes whole numbers beyond what 53 bits hold")]
    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Given, E> {
        Ok(Given::Number(number as f64))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Given, E> {
        Ok(Given::Text(text.to_owned()))
    }

    fn visit_string<E: de::Error>(self, text: String) -> Result<Given, E> {
        Ok(Given::Text(text))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<Given, A::Error> {
        let mut list = Vec::new();
        let inside = self.inside()?;
        while let Some(item) = access.next_element_seed(inside)? {
            list.push(item);
        }
        Ok(Given::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Given, A::Error> {
        let mut fields = Vec::new();
        let inside = self.inside()?;
        while let Some(name) = access.next_key()? {
            fields.push((name, access.next_value_seed(inside)?));
        }
        Ok(Given::Fields(fields))
    }
}

impl<'de> Deserialize<'de> for Given {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = Cell::new(0);
        GivenVisitor { read: &read, depth: 0 }.deserialize(deserializer)
    }
}

/// What the reading of a given value says when it fails; words alone, as serde makes them.
type Failure = de::value::Error;

impl Given {
    fn as_unexpected(&self) -> Unexpected<'_> {
        match self {
            Self::Null => Unexpected::Unit,
            Self::Flag(flag) => Unexpected::Bool(*flag),
            Self::Number(number) => Unexpected::Float(*number),
            Self::Text(text) => Unexpected::Str(text),
            Self::List(_) => Unexpected::Seq,
            Self::Fields(_) => Unexpected::Map,
        }
    }
}

impl IntoDeserializer<'_, Failure> for Given {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Given {
    type Error = Failure;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Failure> {
        match self {
            Self::Null => visitor.visit_unit(),
            Self::Flag(flag) => visitor.visit_bool(flag),
            Self::Number(number) => visitor.visit_f64(number),
            Self::Text(text) => visitor.visit_string(text),
            Self::List(list) => visitor.visit_seq(SeqDeserializer::new(list.into_iter())),
            Self::Fields(fields) => visitor.visit_map(MapDeserializer::new(fields.into_iter())),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Failure> {
        match self {
            Self::Null => visitor.visit_none(),
            Self::Flag(_) | Self::Number(_) | Self::Text(_) | Self::List(_) | Self::Fields(_) => {
                visitor.visit_some(self)
            }
        }
    }

    /// Every number is kept as one with a fraction; one without is passed on as whole where a whole one is asked for.
    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Failure> {
        match self {
            Self::Number(number)
                if (0.0..=f64::from(u32::MAX)).contains(&number) && number.fract() == 0.0 =>
            {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "within u32 and whole"
                )]
                let whole = number as u32;
                visitor.visit_u32(whole)
            }
            Self::Null
            | Self::Flag(_)
            | Self::Number(_)
            | Self::Text(_)
            | Self::List(_)
            | Self::Fields(_) => self.deserialize_any(visitor),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Failure> {
        match self {
            Self::Text(text) => visitor.visit_enum(text.into_deserializer()),
            Self::Null | Self::Flag(_) | Self::Number(_) | Self::List(_) | Self::Fields(_) => {
                Err(de::Error::invalid_type(self.as_unexpected(), &visitor))
            }
        }
    }

    /// A request's objects stand where they are named; a list would fit a struct by order, which nobody means.
    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Failure> {
        match self {
            Self::List(_) => Err(de::Error::invalid_type(Unexpected::Seq, &visitor)),
            Self::Null | Self::Flag(_) | Self::Number(_) | Self::Text(_) | Self::Fields(_) => {
                self.deserialize_any(visitor)
            }
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct
        newtype_struct seq tuple tuple_struct map identifier ignored_any
    }
}
