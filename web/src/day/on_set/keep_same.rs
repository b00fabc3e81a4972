//! What has to stay the same from take to take: a note, which goes with the film, and a photo, which stays on this device.

use std::sync::Arc;

use film::{Command, Shot, ShotId};
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use web_sys::{Blob, Url};

use crate::continuity::{self, NoPhoto};
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
    let trouble = RwSignal::new(None::<NoPhoto>);
    let number = shot.number();
    let Some(film) = hand.desk.open_film() else { return ().into_any() };
    let show = move |photo: &Blob| {
        // The view may be gone by the time the photo comes.
        address.try_set(Address::of(photo).map(Arc::new));
    };
    spawn_local(async move {
        if let Some(photo) = continuity::photo(film, number).await {
            show(&photo);
        }
    });
    let bring = move |file: web_sys::File| {
        spawn_local(async move {
            match continuity::keep(film, number, &file).await {
                Ok(photo) => {
                    trouble.try_set(None);
                    show(&photo);
                }
                Err(why) => {
                    trouble.try_set(Some(why));
                }
            }
        });
    };
    let remove = move |_| {
        address.set(None);
        spawn_local(continuity::remove(film, number));
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
