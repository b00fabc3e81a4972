//! A row of choices of which one is taken, and what a list shows that is none of its own.

use leptos::prelude::*;

use super::live;

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
    legend: &'static str,
    /// The choices.
    choices: impl IntoIterator<Item = Choice<Value>>,
    /// The one that is taken.
    chosen: Signal<Value>,
    /// Takes another.
    #[prop(into)]
    choose: Callback<Value>,
) -> impl IntoView
where
    Value: PartialEq + Copy + Send + Sync + 'static,
{
    let buttons = choices.into_iter().map(|Choice { value, name, class }| Button {
        name,
        class,
        pressed: Signal::derive(move || chosen.get() == value),
        press: Callback::new(move |()| choose.run(value)),
    });
    row(legend, buttons.collect())
}

/// A row of choices that are called as somebody named them: as [`Choices`], for names that are made while it is shown.
#[component]
pub(crate) fn NamedChoices<Value>(
    /// What is chosen here.
    #[prop(into)]
    legend: Signal<String>,
    /// The choices and their names.
    choices: Memo<Vec<(Value, String)>>,
    /// The one that is taken, if it is one of them.
    chosen: Signal<Option<Value>>,
    /// Takes another.
    #[prop(into)]
    choose: Callback<Value>,
) -> impl IntoView
where
    Value: PartialEq + Copy + Send + Sync + 'static,
{
    let buttons = move || {
        let button = |(value, name): (Value, String)| {
            let pressed = live(move || (chosen.get() == Some(value)).to_string());
            view! {
                <button type="button" class="choice" aria-pressed=pressed on:click=move |_| choose.run(value)>
                    {name}
                </button>
            }
        };
        choices.get().into_iter().map(button).collect_view()
    };
    view! {
        <fieldset class="choices">
            <legend>{legend}</legend>
            <div>{buttons}</div>
        </fieldset>
    }
}

/// The last option of a list: what is taken without being offered, in words, as long as there is such. It is not to be picked,
/// as it is taken already.
pub(crate) fn own_option(own: impl Fn() -> Option<String> + Send + Sync + 'static) -> AnyView {
    let option = move || own().map(|words| view! { <option disabled prop:selected=true>{words}</option> });
    option.into_any()
}

/// A choice without its value: every row is made by the same code, whatever it chooses among.
struct Button {
    name: &'static str,
    class: &'static str,
    pressed: Signal<bool>,
    press: Callback<()>,
}

fn row(legend: &'static str, buttons: Vec<Button>) -> AnyView {
    let buttons = buttons.into_iter().map(|Button { name, class, pressed, press }| {
        view! {
            <button type="button" class="choice" aria-pressed=live(move || pressed.get().to_string()) on:click=move |_| press.run(())>
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
    .into_any()
}
