//! A row of choices of which one is taken.

use leptos::prelude::*;

/// One thing to choose.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Choice<Value> {
    value: Value,
    name: &'static str,
    class: &'static str,
}

impl<Value> Choice<Value> {
    /// A choice shown by its name.
    pub(crate) const fn new(value: Value, name: &'static str) -> Self {
        Self { value, name, class: "" }
    }

    /// A choice with a drawing beside its name, made by a style of that class.
    pub(crate) const fn drawn(value: Value, name: &'static str, class: &'static str) -> Self {
        Self { value, name, class }
    }
}

/// A row of choices of which one is taken; buttons that say whether they are pressed.
#[component]
pub(crate) fn Choices<Value>(
    /// What is chosen here.
    #[prop(into)]
    legend: String,
    /// The choices.
    choices: impl IntoIterator<Item = Choice<Value>>,
    /// The one that is taken.
    chosen: Signal<Value>,
    /// Takes another.
    choose: impl Fn(Value) + Copy + 'static,
) -> impl IntoView
where
    Value: PartialEq + Clone + Send + Sync + 'static,
{
    let buttons = choices.into_iter().map(move |Choice { value, name, class }| {
        let pressed = {
            let value = value.clone();
            move || if chosen.with(|chosen| *chosen == value) { "true" } else { "false" }
        };
        view! {
            <button type="button" class="choice" aria-pressed=pressed on:click=move |_| choose(value.clone())>
                {(!class.is_empty()).then(|| view! { <span class=format!("drawing {class}") aria-hidden="true"></span> })}
                {name}
            </button>
        }
    });
    view! {
        <fieldset class="choices">
            <legend>{legend}</legend>
            <div>{buttons.collect_view()}</div>
        </fieldset>
    }
}
