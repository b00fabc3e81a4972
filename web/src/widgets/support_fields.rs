//! What a thing is on, asked alike in Set-up and in Story.

use language::say;
use leptos::prelude::*;
use units::LengthUnit;

use super::{Choice, Choices, LengthField, when};

/// How high a thing is that is newly held, metres: chosen, as hands show things about so high.
const HELD_M: f64 = 1.0;

/// What a thing is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum On {
    Table,
    Ground,
    Higher,
}

impl On {
    fn of(above_floor_m: Option<f64>) -> Self {
        match above_floor_m {
            None => Self::Table,
            Some(metres) if metres > 0.0 => Self::Higher,
            Some(_) => Self::Ground,
        }
    }

    /// How high that is at first; none is a table of its own.
    const fn above_floor_m(self) -> Option<f64> {
        match self {
            Self::Table => None,
            Self::Ground => Some(0.0),
            Self::Higher => Some(HELD_M),
        }
    }
}

/// What a thing is on, and how high that is where it is not plain.
#[component]
pub(crate) fn SupportFields(
    /// The unit that is shown.
    unit: Signal<LengthUnit>,
    /// How high the thing's lower edge is, metres; none on a table of its own.
    above_floor_m: Signal<Option<f64>>,
    /// Sets it.
    #[prop(into)]
    set: Callback<Option<f64>>,
) -> impl IntoView {
    let on = Signal::derive(move || On::of(above_floor_m.get()));
    view! {
        <Choices
            legend=say!("It is on")
            choices=[
                Choice::new(On::Table, say!("a table")),
                Choice::new(On::Ground, say!("the ground")),
                Choice::new(On::Higher, say!("a hand or a shelf")),
            ]
            chosen=on
            choose=move |chosen: On| {
                // What is held already stays as high as it is.
                if chosen != on.get_untracked() {
                    set.run(chosen.above_floor_m());
                }
            }
        />
        {when(move || on.get() == On::Higher, move || view! {
            <LengthField
                label=say!("How high it is")
                hint=say!("Its lower edge above the floor.")
                range=(0.0, 50.0)
                unit
                value=Signal::derive(move || above_floor_m.get().unwrap_or(HELD_M))
                set=move |metres: f64| set.run(Some(metres))
            />
        }.into_any())}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_chosen_is_what_its_height_says() {
        for on in [On::Table, On::Ground, On::Higher] {
            assert_eq!(On::of(on.above_floor_m()), on);
        }
        assert_eq!(On::of(Some(0.45)), On::Higher);
    }
}
