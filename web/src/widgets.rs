//! Small parts that screens share: a sheet, a row of choices, fields for lengths and numbers.

mod choices;
mod fields;
mod sheet;

pub(crate) use choices::{Choice, Choices};
pub(crate) use fields::{LengthField, StepField};
pub(crate) use sheet::{Sheet, open};

use leptos::prelude::Signal;

/// A text that follows what it is made from.
///
/// Views take signals and closures alike, but make code of its own for each closure; this keeps the page small.
pub(crate) fn live(text: impl Fn() -> String + Send + Sync + 'static) -> Signal<String> {
    Signal::derive(text)
}
