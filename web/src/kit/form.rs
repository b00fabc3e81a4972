//! A form over a part of the kit: what was typed, what it would make of the kit, and what stands in the way.

use film::{KitRecord, RecordError};
use language::say;
use leptos::prelude::*;
use leptos::{ev, html};
use units::LengthUnit;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, HtmlElement};

use crate::kit::entry::{Entry, leaf};
use crate::kit::part::{Key, Part, put};
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::widgets::new_id;

/// What fields need to know of the form that they are in.
#[derive(Clone, Copy)]
pub(super) struct Form {
    /// What was typed.
    pub(super) entry: RwSignal<Entry>,
    /// Whether it was asked for already, so that empty fields may complain.
    asked: RwSignal<bool>,
    /// What stands in the way.
    problem: Signal<Option<RecordError>>,
}

impl Form {
    /// A form of which `problem` is what stands in the way.
    pub(super) fn new(entry: RwSignal<Entry>, problem: Signal<Option<RecordError>>) -> Self {
        Self { entry, asked: RwSignal::new(false), problem }
    }

    /// Complains about empty fields from now on.
    pub(super) fn ask(self) {
        self.asked.set(true);
    }

    /// What is wrong with one field. An empty one waits until the form was asked for.
    pub(super) fn problem_of(self, field: &str) -> Option<String> {
        let wrong = self.problem.with(|problem| {
            problem.as_ref().filter(|error| leaf(error) == field).map(|error| sentence_of(&error.message))
        })?;
        (self.asked.get() || self.entry.with(|entry| entry.flag(field))).then_some(wrong)
    }

    /// What is wrong with no field of the form in particular.
    pub(super) fn other_problem(self) -> Option<String> {
        let wrong = self.problem.with(|problem| {
            let elsewhere = |error: &&RecordError| self.entry.with(|entry| !entry.has(leaf(error)));
            problem.as_ref().filter(elsewhere).map(|error| sentence_of(&error.to_string()))
        })?;
        self.asked.get().then_some(wrong)
    }

    fn text(self, field: &'static str) -> String {
        self.entry.with(|entry| entry.text(field).to_owned())
    }

    fn set(self, field: &'static str, text: String) {
        self.entry.update(|entry| entry.set(field, text));
    }
}

/// The form itself, and what is done when it is sent; what stands in the way is gone to.
#[component]
pub(super) fn FormBox(#[prop(into)] send: Callback<()>, children: Children) -> impl IntoView {
    let node = NodeRef::<html::Form>::new();
    let submit = move |event: ev::SubmitEvent| {
        event.prevent_default();
        let form = node.get_untracked();
        send.run(());
        if let Some(form) = form {
            request_animation_frame(move || go_to_wrong(&form));
        }
    };
    view! {
        <form class="kit-form" novalidate node_ref=node on:submit=submit>
            {children()}
        </form>
    }
}

/// Puts the focus on the first field that stands in the way: on a phone it is far above the button.
fn go_to_wrong(form: &Element) {
    let Ok(Some(field)) = form.query_selector("[aria-invalid]") else { return };
    if let Ok(Some(fold)) = field.closest("details") {
        // Refused only for an attribute whose name is none.
        drop(fold.set_attribute("open", ""));
    }
    if let Some(field) = field.dyn_ref::<HtmlElement>() {
        drop(field.focus());
    }
}

/// A field for a text, a number or a length.
#[component]
pub(super) fn TextField(
    form: Form,
    /// The field's name in the file.
    field: &'static str,
    /// What it is.
    label: &'static str,
    /// The unit of a bare number.
    #[prop(optional)]
    unit: &'static str,
    /// A word of help.
    #[prop(optional, into)]
    hint: Signal<String>,
) -> impl IntoView {
    let (id, note) = (new_id(), new_id());
    let problem = Memo::new(move |_| form.problem_of(field));
    // Not the trimmed text: it would eat the blank that one is typing.
    let typed = Memo::new(move |_| form.entry.with(|entry| entry.typed(field).to_owned()));
    // A phone's keys for numbers have no mark for feet.
    let input_mode = if field == "name" || unit == LengthUnit::Feet.sign() { "text" } else { "decimal" };
    view! {
        <div class="kit-field">
            <label for=id.clone()>{label}</label>
            <span class="entry">
                <input
                    id=id
                    type="text"
                    inputmode=input_mode
                    autocomplete="off"
                    prop:value=move || typed.get()
                    aria-describedby=note.clone()
                    aria-invalid=move || problem.with(Option::is_some).then_some("true")
                    on:input:target=move |event| form.set(field, event.target().value())
                />
                {(!unit.is_empty()).then(|| view! { <span class="unit">{unit}</span> })}
            </span>
            <span id=note>
                <span class="quiet">{move || hint.get()}</span>
                {move || problem.get().map(|words| view! { <span class="problem" role="alert">{words}</span> })}
            </span>
        </div>
    }
}

/// A field for one of a few things, each with its value and its name.
#[component]
pub(super) fn SelectField(
    form: Form,
    /// The field's name in the file.
    field: &'static str,
    /// What it is.
    label: &'static str,
    /// Values and names.
    options: Signal<Vec<(String, String)>>,
) -> impl IntoView {
    let id = new_id();
    let choices = move || {
        let option = |(value, name): (String, String)| {
            let selected = form.entry.with_untracked(|entry| entry.text(field) == value);
            view! { <option value=value prop:selected=selected>{name}</option> }
        };
        options.get().into_iter().map(option).collect_view()
    };
    view! {
        <div class="kit-field">
            <label for=id.clone()>{label}</label>
            <select id=id on:change:target=move |event| form.set(field, event.target().value())>{choices}</select>
        </div>
    }
}

/// A box to tick.
#[component]
pub(super) fn CheckField(
    form: Form,
    /// The field's name in the file.
    field: &'static str,
    /// What it says if ticked.
    label: &'static str,
) -> impl IntoView {
    view! {
        <label class="check">
            <input
                type="checkbox"
                prop:checked=move || !form.text(field).is_empty()
                on:change:target=move |event| {
                    form.set(field, if event.target().checked() { "yes".to_owned() } else { String::new() });
                }
            />
            <span>{label}</span>
        </label>
    }
}

/// Names to tick.
#[component]
pub(super) fn NamesField(
    form: Form,
    /// The field's name in the file.
    field: &'static str,
    /// What ticked names have in common.
    legend: &'static str,
    /// The names there are.
    names: Vec<String>,
) -> impl IntoView {
    let boxes = names.into_iter().map(move |name| {
        let (shown, ticked) = (name.clone(), name.clone());
        view! {
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=move || form.entry.with(|entry| entry.ticked(field).contains(&ticked))
                    on:change=move |_| form.entry.update(|entry| entry.toggle(field, &name))
                />
                <span>{shown}</span>
            </label>
        }
    });
    view! {
        <fieldset class="kit-names">
            <legend>{legend}</legend>
            {boxes.collect_view()}
        </fieldset>
    }
}

/// A form that puts a part into the kit: the kit is only ever exchanged for one that the core can compute with.
#[component]
pub(super) fn PartForm<T: Part>(
    session: Session,
    /// The part whose place it takes; a new one if none.
    #[prop(into)]
    key: Signal<Option<Key>>,
    /// What the fields begin with.
    entry: Entry,
    /// Reads the part from what was typed.
    read: impl Fn(&Entry) -> Result<T, RecordError> + Send + Sync + 'static,
    /// The fields.
    fields: impl FnOnce(Form) -> AnyView,
    /// What the part will do as it stands, in a line.
    tell: fn(&T) -> String,
    /// What the button that puts it there says.
    save: &'static str,
    /// Called when it is put there, or given up.
    done: Callback<()>,
    /// Called with the kit as it was, once another has its place.
    #[prop(optional)]
    saved: Option<Callback<KitRecord>>,
) -> impl IntoView {
    let entry = RwSignal::new(entry);
    let part = Memo::new(move |_| entry.with(|entry| read(entry)));
    let changed: Memo<Result<KitRecord, RecordError>> = Memo::new(move |_| {
        let part = part.get()?;
        session.kit.with(|kit| key.with(|key| put(kit, key.as_ref(), part)))
    });
    let form =
        Form::new(entry, Signal::derive(move || changed.with(|changed| changed.as_ref().err().cloned())));
    let submit = move || {
        form.ask();
        let Ok(kit) = changed.get_untracked() else { return };
        let renamed = key.get_untracked().zip(entry.with_untracked(|entry| entry.some_text("name")));
        let before = session.kit.get_untracked();
        session.kit.set(kit);
        if let Some((key, name)) = renamed {
            session.plan.update(|plan| T::follow(plan, &key.name, &name));
        }
        if let Some(saved) = saved {
            saved.run(before);
        }
        done.run(());
    };
    let line = move || part.with(|part| part.as_ref().map_or_else(|_| String::new(), tell));
    let fields = fields(form);
    view! {
        <FormBox send=move |()| submit()>
            {fields}
            <p class="kit-line" aria-live="polite">{line}</p>
            {move || form.other_problem().map(|words| view! { <p class="problem" role="alert">{words}</p> })}
            <div class="kit-buttons">
                <button type="submit" class="kit-do">{save}</button>
                <button type="button" class="plain" on:click=move |_| done.run(())>{say!("Cancel")}</button>
            </div>
        </FormBox>
    }
}
