//! Small parts that screens share: a sheet, a row of choices, fields for lengths and numbers, words that are said alike.

mod choices;
mod copy_field;
mod explained;
mod fields;
mod file_button;
mod finding;
mod held;
mod sheet;
mod support_fields;
mod tick;
mod typed;
mod way;
mod wide;

pub(crate) use choices::{Choice, Choices, NamedChoices, own_option};
pub(crate) use copy_field::CopyField;
pub(crate) use explained::{
    COMMON_PRACTICE, Computed, DEFINITION, EXIF, Explanation, GEOMETRY, METERS, SUN_POSITION, UNCERTAINTY,
    WEIGHTS, explained, explained_heading, label_and_text,
};
pub(crate) use fields::{LengthField, StepField, parse_length};
pub(crate) use file_button::{FileButton, bytes_of};
pub(crate) use finding::{finding_card, finding_class};
pub(crate) use held::held;
pub(crate) use sheet::{Sheet, SheetLeft, close, open};
pub(crate) use support_fields::SupportFields;
pub(crate) use tick::Tick;
pub(crate) use typed::{NumberField, TypedField, new_id, parse_number, plain};
pub(crate) use way::Way;
pub(crate) use wide::{follow_width, is_wide};

use leptos::prelude::{AnyView, Get as _, IntoAny as _, Memo, Signal};

/// A text that follows what it is made from, its numbers held to their units.
///
/// Views take signals and closures alike, but make code of its own for each closure; this keeps the page small.
pub(crate) fn live(text: impl Fn() -> String + Send + Sync + 'static) -> Signal<String> {
    Signal::derive(move || held(&text()))
}

/// What is shown while something is so, made anew each time.
///
/// As [`leptos::prelude::Show`], but made by the same code everywhere; this keeps the page small.
pub(crate) fn when(
    is_so: impl Fn() -> bool + Send + Sync + 'static,
    view: impl Fn() -> AnyView + Send + Sync + 'static,
) -> AnyView {
    shown(Memo::new(move |_| is_so()), Box::new(view))
}

fn shown(is_so: Memo<bool>, view: Box<dyn Fn() -> AnyView + Send + Sync>) -> AnyView {
    (move || is_so.get().then(&view)).into_any()
}
