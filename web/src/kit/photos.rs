//! Files brought in: dropped or picked, read in the page, and confirmed one by one.

use film::{LensRecord, PhotoFacts};
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::kit::displaced::Displaced;
use crate::kit::lens_form::LensForm;
use crate::kit::part::{Key, Part as _, find, keys};
use crate::kit::photo_lens::{found, placed, worked_out};
use crate::kit::reader::read_facts;
use crate::session::Session;
use crate::story::words::sentence_of;

/// A file that was brought in.
#[derive(Debug, Clone)]
struct Brought {
    id: usize,
    name: String,
    /// What it says, once it is read.
    told: RwSignal<Option<Result<PhotoFacts, String>>>,
}

/// Where a lens goes in the kit.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Placement {
    /// In the place of the typical lens that it is most like, as long as there is one.
    Suggested,
    /// At the end.
    New,
    /// In the place of one that the person chose.
    InPlaceOf(Key),
}

/// The place to drop files on, which is also a button to pick them, and a card for each that came.
#[component]
pub(super) fn PhotoDrop(
    session: Session,
    /// Where the lens is kept that one of these takes the place of.
    displaced: RwSignal<Option<Displaced>>,
) -> impl IntoView {
    let brought = RwSignal::new(Vec::<Brought>::new());
    let count = StoredValue::new(0_usize);
    let over = RwSignal::new(false);
    let bring = move |files: Option<web_sys::FileList>| {
        let Some(files) = files else { return };
        for file in (0..files.length()).filter_map(|at| files.item(at)) {
            count.update_value(|count| *count += 1);
            let told = RwSignal::new(None);
            let one = Brought { id: count.get_value(), name: file.name(), told };
            brought.update(|brought| brought.push(one));
            spawn_local(async move {
                let facts = read_facts(&file).await;
                // The card may be closed by now, and its signal with it.
                let _closed = told.try_set(Some(facts));
            });
        }
    };
    let close = Callback::new(move |id: usize| brought.update(|brought| brought.retain(|one| one.id != id)));
    view! {
        <label
            class="kit-drop"
            data-over=move || over.get().then_some("yes")
            on:dragover=move |event| {
                event.prevent_default();
                over.set(true);
            }
            on:dragleave=move |_| over.set(false)
            on:drop=move |event| {
                event.prevent_default();
                over.set(false);
                bring(event.data_transfer().and_then(|transfer| transfer.files()));
            }
        >
            <span class="kit-drop-title">{say!("From photos or clips")}</span>
            <span class="quiet">
                {say!("Take one photo with each lens, without zoom, and pick them here, or drop them. JPEG, HEIC, MOV, \
                       MP4. They are read in this page and go nowhere.")}
            </span>
            <input
                type="file"
                multiple
                accept="image/jpeg,image/heic,image/heif,video/quicktime,video/mp4,.jpg,.jpeg,.heic,.heif,.mov,.mp4"
                on:change:target=move |event| {
                    let input = event.target();
                    bring(input.files());
                    // Emptied, so that picking the same file again is news.
                    input.set_value("");
                }
            />
        </label>
        <ul class="kit-list">
            <For
                each=move || brought.get()
                key=|one| one.id
                children=move |one| {
                    let id = one.id;
                    view! { <PhotoCard session displaced one done=Callback::new(move |()| close.run(id)) /> }
                }
            />
        </ul>
    }
}

/// One file: what it says, what it lacks, and the lens to confirm.
#[component]
fn PhotoCard(
    session: Session,
    displaced: RwSignal<Option<Displaced>>,
    one: Brought,
    done: Callback<()>,
) -> impl IntoView {
    let told = one.told;
    let content = move || {
        match told.get() {
        None => view! { <p class="quiet" role="status">{say!("Reading…")}</p> }.into_any(),
        Some(Err(message)) => view! {
            <p class="problem" role="alert">{sentence_of(&message)}</p>
            <div class="kit-buttons"><button type="button" on:click=move |_| done.run(())>{say!("Close")}</button></div>
        }
        .into_any(),
        Some(Ok(facts)) => view! { <Confirm session displaced facts done /> }.into_any(),
    }
    };
    view! {
        <li class="kit-card">
            <h4>{one.name}</h4>
            {content}
        </li>
    }
}

/// What was found in a file, and the form that it fills.
#[component]
fn Confirm(
    session: Session,
    displaced: RwSignal<Option<Displaced>>,
    facts: PhotoFacts,
    done: Callback<()>,
) -> impl IntoView {
    let (before, typical) = session.kit.with_untracked(|kit| placed(film::lens_record(&facts), kit));
    let chosen = RwSignal::new(Placement::Suggested);
    // Of two photos from one lens, the first to be confirmed takes the typical lens's place, and the other no longer may.
    let still_typical = move || {
        let key = typical.clone()?;
        let lens: LensRecord = session.kit.with(|kit| find(kit, &key))?;
        lens.stands_in().then_some(key)
    };
    let target = Memo::new(move |_| match chosen.get() {
        Placement::Suggested => still_typical(),
        Placement::New => None,
        Placement::InPlaceOf(key) => Some(key),
    });
    let is_complete = before.to_lens().is_ok() && facts.missing().is_empty();
    let lines = found(&facts);
    let says = if lines.is_empty() {
        say!("It says nothing about its lens.").to_owned()
    } else {
        lines.join("; ") + "."
    };
    view! {
        <p>{format!("{}: {says}", facts.kind.name())}</p>
        {worked_out(&facts).map(|words| view! { <p>{words}</p> })}
        {facts.missing_notice().map(|words| view! { <p class="kit-missing" role="alert">{words}</p> })}
        <TargetField session target chosen />
        <LensForm session target displaced before is_folded=is_complete save=say!("Use this lens") done />
    }
}

/// Whether a lens is new or takes the place of one.
#[component]
fn TargetField(
    session: Session,
    /// The lens whose place it takes.
    target: Memo<Option<Key>>,
    /// Where the person wants it.
    chosen: RwSignal<Placement>,
) -> impl IntoView {
    let lenses = Memo::new(move |_| session.kit.with(keys::<LensRecord>));
    let options = move || {
        let option = |(at, key): (usize, Key)| {
            let name = say!("in place of {}", key.name);
            let selected = move || target.with(|target| target.as_ref() == Some(&key));
            view! { <option value=at.to_string() prop:selected=selected>{name}</option> }
        };
        lenses.get().into_iter().enumerate().map(option).collect_view()
    };
    let choose = move |value: String| {
        let at = value.parse::<usize>().ok();
        let key = lenses.with_untracked(|lenses| lenses.get(at?).cloned());
        chosen.set(key.map_or(Placement::New, Placement::InPlaceOf));
    };
    view! {
        <label class="kit-field">
            <span>{say!("Put it in the kit")}</span>
            <select on:change:target=move |event| choose(event.target().value())>
                <option value="" prop:selected=move || target.with(Option::is_none)>{say!("as a new lens")}</option>
                {options}
            </select>
        </label>
    }
}
