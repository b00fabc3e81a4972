//! Numbers into a value.

use serde::de::value::U32Deserializer;
use serde::de::{self, DeserializeSeed, IntoDeserializer as _, Visitor};

use super::NotNumbers;

/// The numbers that have not been read yet.
pub(super) struct Reader<'numbers> {
    pub(super) numbers: &'numbers [f64],
}

/// The items of a list or of a struct: so many are left.
struct Items<'reader, 'numbers> {
    reader: &'reader mut Reader<'numbers>,
    left: usize,
}

impl Reader<'_> {
    fn next(&mut self) -> Result<f64, NotNumbers> {
        let (first, rest) = self.numbers.split_first().ok_or(NotNumbers)?;
        self.numbers = rest;
        Ok(*first)
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "compared to what it came from"
    )]
    fn whole(&mut self) -> Result<u32, NotNumbers> {
        let number = self.next()?;
        let whole = number as u32;
        if f64::from(whole).to_bits() == number.to_bits() { Ok(whole) } else { Err(NotNumbers) }
    }

    /// How many items follow: no more than there are numbers left for them.
    fn length(&mut self) -> Result<usize, NotNumbers> {
        let length = usize::try_from(self.whole()?).or(Err(NotNumbers))?;
        if length <= self.numbers.len() { Ok(length) } else { Err(NotNumbers) }
    }

    fn letter(&mut self) -> Result<char, NotNumbers> {
        char::from_u32(self.whole()?).ok_or(NotNumbers)
    }
}

/// Kinds that are never asked for, or have no form in numbers.
macro_rules! refused {
    ($($method:ident),*) => {
        $(fn $method<V: Visitor<'de>>(self, _: V) -> Result<V::Value, NotNumbers> {
            Err(NotNumbers)
        })*
    };
}

impl<'de> de::Deserializer<'de> for &mut Reader<'_> {
    type Error = NotNumbers;

    refused!(
        deserialize_any,
        deserialize_i8,
        deserialize_i16,
        deserialize_i32,
        deserialize_i64,
        deserialize_u8,
        deserialize_u16,
        deserialize_u64,
        deserialize_f32,
        deserialize_bytes,
        deserialize_byte_buf,
        deserialize_map,
        deserialize_identifier,
        deserialize_ignored_any
    );

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        match self.whole()? {
            0 => visitor.visit_bool(false),
            1 => visitor.visit_bool(true),
            _ => Err(NotNumbers),
        }
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        visitor.visit_u32(self.whole()?)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        visitor.visit_f64(self.next()?)
    }

    fn deserialize_char<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        visitor.visit_char(self.letter()?)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        let length = self.length()?;
        let text: Result<String, NotNumbers> = (0..length).map(|_| self.letter()).collect();
        visitor.visit_string(text?)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        match self.whole()? {
            0 => visitor.visit_none(),
            1 => visitor.visit_some(self),
            _ => Err(NotNumbers),
        }
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        visitor.visit_unit()
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, NotNumbers> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, NotNumbers> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, NotNumbers> {
        let left = self.length()?;
        visitor.visit_seq(Items { reader: self, left })
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, NotNumbers> {
        visitor.visit_seq(Items { reader: self, left: length })
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, NotNumbers> {
        self.deserialize_tuple(length, visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, NotNumbers> {
        self.deserialize_tuple(fields.len(), visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, NotNumbers> {
        visitor.visit_enum(self)
    }
}

impl<'de> de::SeqAccess<'de> for Items<'_, '_> {
    type Error = NotNumbers;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, NotNumbers> {
        let Some(left) = self.left.checked_sub(1) else { return Ok(None) };
        self.left = left;
        seed.deserialize(&mut *self.reader).map(Some)
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.left)
    }
}

impl<'de> de::EnumAccess<'de> for &mut Reader<'_> {
    type Error = NotNumbers;
    type Variant = Self;

    fn variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<(S::Value, Self), NotNumbers> {
        let index: U32Deserializer<NotNumbers> = self.whole()?.into_deserializer();
        Ok((seed.deserialize(index)?, self))
    }
}

impl<'de> de::VariantAccess<'de> for &mut Reader<'_> {
    type Error = NotNumbers;

    fn unit_variant(self) -> Result<(), NotNumbers> {
        Ok(())
    }

    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, NotNumbers> {
        seed.deserialize(self)
    }

    fn tuple_variant<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, NotNumbers> {
        visitor.visit_seq(Items { reader: self, left: length })
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, NotNumbers> {
        visitor.visit_seq(Items { reader: self, left: fields.len() })
    }
}
