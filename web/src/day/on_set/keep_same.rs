//! What has to stay the same from take to take: a note, which goes with the film, and a photo, which stays on this device.

use std::sync::Arc;

use film::{Command, Shot, ShotId};
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use web_sys::{Blob, Url};

use crate::continuity::{self, Trouble};
use crate::day::hand::Hand;
use crate::widgets::{FileButton, live, when};

/// The note and the photo.
#[component]
pub(super) fn KeepSame(hand: Hand, shot: ShotId) -> impl IntoView {
    let note = live(move || {
        hand.read(|film, _, _| film.shot(shot).map(|(_, shot)| shot.continuity.clone()))
            .flatten()
            .unwrap_or_default()
    });
    let set_note = move |words: String| {
        let command = hand.read_once(|film, _, _| {
            let (_, before) = film.shot(shot)?;
            Some(Command::SetShot(Arc::new(Shot { continuity: words, ..Shot::clone(before) })))
        });
        if let Some(command) = command.flatten() {
            hand.tell(hand.desk.change(say!("Note what stays the same"), Some(shot.number()), command));
        }
    };
    view! {
        <section class="set-same" aria-labelledby="set-same">
            <h3 id="set-same">{say!("Keep the same")}</h3>
            <label class="field">
                <span>{say!("Hair, sleeves, what is in which hand")}</span>
                <textarea rows="2" maxlength="2000" prop:value=note on:input:target=move |event| set_note(event.target().value())></textarea>
            </label>
            <Photo hand shot />
        </section>
    }
}

/// A photo's address for as long as it is shown.
#[derive(Debug, PartialEq)]
struct Address(String);

impl Address {
    fn of(photo: &Blob) -> Option<Self> {
        Url::create_object_url_with_blob(photo).ok().map(Self)
    }
}

impl Drop for Address {
    fn drop(&mut self) {
        // An address that is not known any more is as good as given back.
        drop(Url::revoke_object_url(&self.0));
    }
}

#[component]
fn Photo(hand: Hand, shot: ShotId) -> impl IntoView {
    let address = RwSignal::new(None::<Arc<Address>>);
    let trouble = RwSignal::new(None::<Trouble>);
    // Whether another was brought, or it was removed, while the one from before was still looked for.
    let is_another = StoredValue::new(false);
    let number = shot.number();
    let Some(film) = hand.desk.open_film() else { return ().into_any() };
    // The view may be gone by the time a photo comes or goes.
    let show = move |photo: Option<&Blob>| address.try_set(photo.and_then(Address::of).map(Arc::new));
    spawn_local(async move {
        let photo = continuity::photo(film, number).await;
        if is_another.try_get_value() == Some(false) {
            show(photo.as_ref());
        }
    });
    let end = move |outcome: Result<Option<Blob>, Trouble>| {
        if let Ok(photo) = &outcome {
            is_another.try_set_value(true);
            show(photo.as_ref());
        }
        trouble.try_set(outcome.err());
    };
    let bring = move |file: web_sys::File| {
        spawn_local(async move { end(continuity::keep(film, number, &file).await.map(Some)) });
    };
    let remove = move |_| {
        spawn_local(async move { end(continuity::remove(film, number).await.map(|()| None)) });
    };
    let picture = move || {
        address.get().map(|address| {
            view! { <img class="set-photo" src=address.0.clone() alt=say!("What has to stay the same") /> }
        })
    };
    let has_photo = move || address.with(Option::is_some);
    view! {
        {picture}
        {move || trouble.get().map(|why| view! { <p class="problem" role="alert">{why.words()}</p> })}
        <div class="day-buttons">
            <FileButton
                words=live(move || if has_photo() { say!("Another photo") } else { say!("Add a photo") }.to_owned())
                accept="image/*"
                capture="environment"
                bring
            />
            {when(has_photo, move || view! {
                <button type="button" on:click=remove>{say!("Remove the photo")}</button>
            }.into_any())}
        </div>
        <p class="set-stays">{say!("The photo stays on this device: it is in no file and no link.")}</p>
    }
    .into_any()
}
