//! Small parts that screens share: a sheet, a row of choices, fields for lengths and numbers.

mod choices;
mod fields;
mod sheet;

pub(crate) use choices::{Choice, Choices};
pub(crate) use fields::{LengthField, StepField};
pub(crate) use sheet::{Sheet, open};
