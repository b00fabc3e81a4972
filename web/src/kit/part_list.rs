//! A list of the kit's parts of one kind: a card each, to edit and to remove, and a fold to add another.

use film::RecordError;
use language::say;
use leptos::prelude::*;

use crate::kit::part::{Key, Part, Removed, find, keys, put_back, remove};
use crate::kit::put_back::PutBack;
use crate::session::Session;
use crate::story::words::sentence_of;

/// Shows what a part is.
type CardBody<T> = fn(Session, &Key, &T) -> AnyView;

/// A form for a part, or for a new one; calls back when it is done.
type CardForm = fn(Session, Option<Key>, Callback<()>) -> AnyView;

/// The cards of one kind of parts; where the one stood that was removed last, the line that puts it back.
#[component]
pub(super) fn PartList<T: Part>(
    session: Session,
    /// What a card shows.
    body: CardBody<T>,
    /// The form that edits one; parts without one can only be removed.
    #[prop(optional)]
    form: Option<CardForm>,
) -> impl IntoView {
    let removed = RwSignal::new(None::<Removed<T>>);
    let problem = RwSignal::new(None::<RecordError>);
    let take_out =
        Callback::new(move |key: Key| match session.kit.with_untracked(|kit| remove::<T>(kit, &key)) {
            Ok((kit, part)) => {
                session.kit.set(kit);
                removed.set(Some(part));
                problem.set(None);
            }
            Err(error) => problem.set(Some(error)),
        });
    let bring_back = Callback::new(move |()| {
        let Some(part) = removed.get_untracked() else { return };
        match session.kit.with_untracked(|kit| put_back(kit, &part)) {
            Ok(kit) => {
                session.kit.set(kit);
                removed.set(None);
                problem.set(None);
            }
            Err(error) => problem.set(Some(error)),
        }
    });
    // As long as it is of this kit, and not of one that was exchanged since.
    let gone = Memo::new(move |_| {
        removed.with(|removed| {
            let part = removed.as_ref().filter(|part| session.kit.with(|kit| part.is_of(kit)))?;
            Some((part.place(), part.name.clone()))
        })
    });
    let undo = move || {
        let (_, name) = gone.get()?;
        Some(
            view! { <PutBack words=say!("Removed {name}.") label=say!("Put back {name}") back=bring_back /> },
        )
    };
    // A card each, and nothing where one is gone.
    let rows = move || {
        let mut rows: Vec<Option<Key>> = session.kit.with(keys::<T>).into_iter().map(Some).collect();
        if let Some((place, _)) = gone.get() {
            rows.insert(place.min(rows.len()), None);
        }
        rows
    };
    let row = move |key: Option<Key>| match key {
        Some(key) => view! { <PartCard session part_key=key body form take_out /> }.into_any(),
        None => view! { <li><div role="status">{undo}</div></li> }.into_any(),
    };
    view! {
        <ul class=format!("kit-list kit-{}-list", T::KIND.replace(' ', "-"))>
            <For each=rows key=Option::clone children=row />
        </ul>
        {move || problem.get().map(|error| view! { <p class="problem" role="alert">{sentence_of(&error.message)}</p> })}
    }
}

/// One part: what it is, or the form that changes it.
#[component]
fn PartCard<T: Part>(
    session: Session,
    part_key: Key,
    body: CardBody<T>,
    form: Option<CardForm>,
    take_out: Callback<Key>,
) -> impl IntoView {
    let editing = RwSignal::new(false);
    let key = StoredValue::new(part_key);
    let name = key.with_value(|key| key.name.clone());
    let (edit_label, remove_label) = (say!("Edit {name}"), say!("Remove {name}"));
    let part = Memo::new(move |_| session.kit.with(|kit| key.with_value(|key| find::<T>(kit, key))));
    let closed = Callback::new(move |()| editing.set(false));
    let shown = move || match form.filter(|_| editing.get()) {
        Some(form) => form(session, Some(key.get_value()), closed),
        None => part.get().map(|part| key.with_value(|key| body(session, key, &part))).into_any(),
    };
    let edit = form.map(|_| {
        view! {
            <button type="button" aria-label=edit_label on:click=move |_| editing.set(true)>{say!("Edit")}</button>
        }
    });
    view! {
        <li class="kit-card">
            <h3><span class="kit-tape">{name}</span></h3>
            {shown}
            <div class="kit-buttons" hidden=move || editing.get()>
                {edit}
                <button type="button" aria-label=remove_label on:click=move |_| take_out.run(key.get_value())>
                    {say!("Remove")}
                </button>
            </div>
        </li>
    }
}

/// A fold that adds a part. What is in it is made when it is opened, and made anew for the next.
#[component]
pub(super) fn AddFold(
    /// What it adds.
    label: &'static str,
    /// What is in it, given what closes it.
    content: impl Fn(Callback<()>) -> AnyView + Send + 'static,
) -> impl IntoView {
    let open = RwSignal::new(false);
    let close = Callback::new(move |()| open.set(false));
    view! {
        <div class="kit-add">
            <button
                type="button"
                aria-expanded=move || open.get().to_string()
                on:click=move |_| open.update(|open| *open = !*open)
            >
                {label}
            </button>
            {move || open.get().then(|| content(close))}
        </div>
    }
}
