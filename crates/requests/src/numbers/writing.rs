//! A value into numbers.

use serde::ser::{self, Serialize};

use super::NotNumbers;

/// Writes one value behind the numbers that are there.
pub(super) struct Writer<'numbers> {
    pub(super) numbers: &'numbers mut Vec<f64>,
}

impl Writer<'_> {
    fn item(&mut self, value: &(impl Serialize + ?Sized)) -> Result<(), NotNumbers> {
        value.serialize(Writer { numbers: self.numbers })
    }

    fn length(&mut self, length: usize) -> Result<(), NotNumbers> {
        let length = u32::try_from(length).or(Err(NotNumbers))?;
        self.numbers.push(length.into());
        Ok(())
    }
}

/// The kinds that are written as they are.
macro_rules! plain {
    ($($method:ident: $kind:ty),*) => {
        $(fn $method(self, value: $kind) -> Result<(), NotNumbers> {
            self.numbers.push(value.into());
            Ok(())
        })*
    };
}

/// The kinds that have no form in numbers.
macro_rules! refused {
    ($($method:ident: $kind:ty),*) => {
        $(fn $method(self, _: $kind) -> Result<(), NotNumbers> {
            Err(NotNumbers)
        })*
    };
}

impl ser::Serializer for Writer<'_> {
    type Ok = ();
    type Error = NotNumbers;
    type SerializeSeq = Self;
    type SerializeTuple = Self;
    type SerializeTupleStruct = Self;
    type SerializeTupleVariant = Self;
    type SerializeMap = ser::Impossible<(), NotNumbers>;
    type SerializeStruct = Self;
    type SerializeStructVariant = Self;

    plain!(
        serialize_bool: bool, serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_u8: u8,
        serialize_u16: u16, serialize_u32: u32, serialize_f32: f32, serialize_f64: f64
    );
    refused!(serialize_i64: i64, serialize_u64: u64, serialize_bytes: &[u8]);

    fn serialize_char(self, letter: char) -> Result<(), NotNumbers> {
        self.numbers.push(u32::from(letter).into());
        Ok(())
    }

    fn serialize_str(mut self, text: &str) -> Result<(), NotNumbers> {
        self.length(text.chars().count())?;
        self.numbers.extend(text.chars().map(|letter| f64::from(u32::from(letter))));
        Ok(())
    }

    fn serialize_none(self) -> Result<(), NotNumbers> {
        self.numbers.push(0.0);
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(mut self, value: &T) -> Result<(), NotNumbers> {
        self.numbers.push(1.0);
        self.item(value)
    }

    fn serialize_unit(self) -> Result<(), NotNumbers> {
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), NotNumbers> {
        Ok(())
    }

    fn serialize_unit_variant(self, _: &'static str, index: u32, _: &'static str) -> Result<(), NotNumbers> {
        self.numbers.push(index.into());
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        mut self,
        _: &'static str,
        value: &T,
    ) -> Result<(), NotNumbers> {
        self.item(value)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        mut self,
        _: &'static str,
        index: u32,
        _: &'static str,
        value: &T,
    ) -> Result<(), NotNumbers> {
        self.numbers.push(index.into());
        self.item(value)
    }

    fn serialize_seq(mut self, length: Option<usize>) -> Result<Self, NotNumbers> {
        self.length(length.ok_or(NotNumbers)?)?;
        Ok(self)
    }

    fn serialize_tuple(self, _: usize) -> Result<Self, NotNumbers> {
        Ok(self)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Self, NotNumbers> {
        Ok(self)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        index: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self, NotNumbers> {
        self.numbers.push(index.into());
        Ok(self)
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Self::SerializeMap, NotNumbers> {
        Err(NotNumbers)
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Self, NotNumbers> {
        Ok(self)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        index: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self, NotNumbers> {
        self.numbers.push(index.into());
        Ok(self)
    }
}

/// What has items without names.
macro_rules! items {
    ($($kind:ident: $method:ident),*) => {
        $(impl ser::$kind for Writer<'_> {
            type Ok = ();
            type Error = NotNumbers;

            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), NotNumbers> {
                self.item(value)
            }

            fn end(self) -> Result<(), NotNumbers> {
                Ok(())
            }
        })*
    };
}

items!(
    SerializeSeq: serialize_element, SerializeTuple: serialize_element, SerializeTupleStruct: serialize_field,
    SerializeTupleVariant: serialize_field
);

/// What has items with names, which are left out.
macro_rules! fields {
    ($($kind:ident),*) => {
        $(impl ser::$kind for Writer<'_> {
            type Ok = ();
            type Error = NotNumbers;

            fn serialize_field<T: Serialize + ?Sized>(&mut self, _: &'static str, value: &T) -> Result<(), NotNumbers> {
                self.item(value)
            }

            fn end(self) -> Result<(), NotNumbers> {
                Ok(())
            }
        })*
    };
}

fields!(SerializeStruct, SerializeStructVariant);
