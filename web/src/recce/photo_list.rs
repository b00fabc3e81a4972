//! The photos of a place: each with how it was taken, and a button for one more.

use film::{PhotoId, PlacePhoto};
use language::say;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Recce;
use super::photo_form::PhotoForm;
use super::pixels;
use super::sight::told;
use super::taking_photo::{Brought, bring};
use crate::taking_in::TakenIn;
use crate::widgets::{FileButton, live, when};

/// What the list is doing.
#[derive(Clone, Copy)]
struct List {
    recce: Recce,
    /// The photo that is looked at.
    open: RwSignal<Option<PhotoId>>,
    /// Its pixels, once they are there.
    picture: RwSignal<Option<TakenIn>, LocalStorage>,
    /// Whether the browser is at work on a file.
    is_busy: RwSignal<bool>,
    /// What is to be said of what was brought last.
    notes: RwSignal<Vec<&'static str>>,
}

/// The photos of a place.
#[component]
pub(crate) fn Photos(recce: Recce) -> impl IntoView {
    let list = List {
        recce,
        open: RwSignal::new(None),
        picture: RwSignal::new_local(None),
        is_busy: RwSignal::new(false),
        notes: RwSignal::new(Vec::new()),
    };
    let photos = Memo::new(move |_| recce.home().photos());
    let is_empty = move || photos.with(Vec::is_empty);
    let words = live(move || {
        let words = match (list.is_busy.get(), photos.with(Vec::is_empty)) {
            (true, _) => say!("Taking it in"),
            (false, true) => say!("Choose a photo"),
            (false, false) => say!("One more photo"),
        };
        words.to_owned()
    });
    let notes =
        move || list.notes.get().into_iter().map(|note| view! { <p role="status">{note}</p> }).collect_view();
    view! {
        <link rel="stylesheet" href="recce/recce.css" />
        <link rel="stylesheet" href="story/explained.css" />
        <section class="recce-photos" aria-label=say!("Photos of the place")>
            {when(is_empty, || view! {
                <p class="quiet">
                    {say!("Stand where the phone may stand and take one photo with the widest lens. People, focus and every lens and \
                     crop are then shown in it. It stays on this device.")}
                </p>
            }.into_any())}
            <ul class="recce-list">
                <For
                    each=move || photos.get()
                    key=|photo| photo.id
                    children=move |photo| photo_row(list, photo.id)
                />
            </ul>
            <FileButton
                words
                accept="image/*,.heic,.heif"
                bring=move |file: web_sys::File| list.bring(file)
            />
            {notes}
            {move || list.open.get().map(|id| view! { <PhotoForm recce id picture=list.picture /> })}
        </section>
    }
}

/// One photo: a button that opens it, and one that takes it away.
fn photo_row(list: List, id: PhotoId) -> impl IntoView {
    let recce = list.recce;
    let of = move |tell: &dyn Fn(&PlacePhoto) -> String| {
        recce.home().photo(id).map_or_else(String::new, |photo| tell(&photo))
    };
    let name = live(move || {
        of(&|photo| if photo.name.is_empty() { say!("A photo").to_owned() } else { photo.name.clone() })
    });
    let pose = live(move || of(&|photo| told(&photo.pose, recce.session().unit())));
    let is_open = move || list.open.get() == Some(id);
    view! {
        <li class="recce-row" class:open=is_open>
            <button type="button" class="recce-open" aria-expanded=move || is_open().to_string() on:click=move |_| list.toggle(id)>
                <strong>{name}</strong>
                <span class="quiet">{pose}</span>
            </button>
            <button type="button" class="plain" on:click=move |_| list.remove(id)>{say!("Remove")}</button>
        </li>
    }
}

impl List {
    /// Takes a file in, keeps it and opens it.
    fn bring(self, file: web_sys::File) {
        self.is_busy.set(true);
        self.notes.set(Vec::new());
        let (id, spot) = (self.recce.home().fresh(), self.recce.spot().get_untracked());
        spawn_local(async move {
            let brought = bring(&file, id, spot).await;
            // The sheet may have gone meanwhile.
            if self.is_busy.try_set(false).is_some() {
                return;
            }
            match brought {
                Ok(Brought { photo, picture, notes }) => {
                    self.recce.home().put(say!("Add a photo"), photo);
                    self.picture.set(Some(picture));
                    self.open.set(Some(id));
                    self.notes.set(notes);
                }
                Err(why) => self.notes.set(vec![why.words()]),
            }
        });
    }

    /// Opens a photo, or closes it.
    fn toggle(self, id: PhotoId) {
        if self.open.get_untracked() == Some(id) {
            self.open.set(None);
            return;
        }
        self.picture.set(None);
        self.notes.set(Vec::new());
        self.open.set(Some(id));
        spawn_local(async move {
            let picture = pixels::of_photo(id.number()).await;
            if self.open.try_get_untracked().flatten() != Some(id) {
                return;
            }
            if picture.is_none() {
                self.notes.set(vec![
                    say!("This device does not have the photo itself: it was taken in on another one, or storage was cleared. What is \
                     known of it is here; choose the photo again to see it."),
                ]);
            }
            // What is kept is scaled, and marks are on the photo as it was.
            let true_px = untrack(|| self.recce.home().photo(id)).map(|photo| photo.size_px);
            self.picture.set(picture.zip(true_px).map(|(picture, true_px)| TakenIn { true_px, ..picture }));
        });
    }

    fn remove(self, id: PhotoId) {
        if self.open.get_untracked() == Some(id) {
            self.open.set(None);
        }
        self.recce.home().remove(id);
    }
}
