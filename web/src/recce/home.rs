//! Whose photos are looked at: those of a place of the film, or the one of a set-up without a film.

use std::sync::Arc;

use film::{Command, PacedPlace, PhotoId, Place, PlaceId, PlacePhoto};
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::story::tell;

/// Whose photos are looked at.
#[derive(Clone, Copy)]
pub(crate) enum Home {
    /// Those of a place of the film.
    Place(Desk, PlaceId),
    /// The one of a set-up without a film.
    Setup(RwSignal<Option<PlacePhoto>>),
}

impl Home {
    /// The photos.
    pub(super) fn photos(self) -> Vec<PlacePhoto> {
        match self {
            Self::Place(desk, id) => desk.film.with(|film| {
                film.as_ref()
                    .and_then(|film| film.place(id))
                    .map_or_else(Vec::new, |place| place.photos.to_vec())
            }),
            Self::Setup(photo) => photo.get().into_iter().collect(),
        }
    }

    /// What was paced out of the place.
    pub(super) fn paced(self) -> Option<Arc<PacedPlace>> {
        let Self::Place(desk, id) = self else { return None };
        desk.film.with(|film| film.as_ref()?.place(id)?.paced.clone())
    }

    /// One of them.
    pub(super) fn photo(self, id: PhotoId) -> Option<PlacePhoto> {
        match self {
            Self::Place(desk, place) => desk.film.with(|film| {
                film.as_ref()?.place(place)?.photos.iter().find(|photo| photo.id == id).cloned()
            }),
            Self::Setup(photo) => photo.get().filter(|photo| photo.id == id),
        }
    }

    /// Keeps a photo, in the place of the one that it was; `what` is what undo calls it.
    pub(super) fn put(self, what: &str, photo: PlacePhoto) {
        match self {
            Self::Place(..) => {
                let number = photo.id.number();
                self.change(what, number, &|place| {
                    let mut photos = place.photos.to_vec();
                    match photos.iter_mut().find(|one| one.id == photo.id) {
                        Some(one) => *one = photo.clone(),
                        None => photos.push(photo.clone()),
                    }
                    place.photos = photos.into();
                });
            }
            Self::Setup(kept) => kept.set(Some(photo)),
        }
    }

    /// Changes a photo, while it is there.
    pub(super) fn alter(self, what: &str, id: PhotoId, change: impl FnOnce(&mut PlacePhoto)) {
        let Some(before) = untrack(|| self.photo(id)) else { return };
        let mut photo = before.clone();
        change(&mut photo);
        if photo != before {
            self.put(what, photo);
        }
    }

    /// Takes a photo away.
    pub(super) fn remove(self, id: PhotoId) {
        match self {
            Self::Place(..) => self.change(say!("Remove a photo"), id.number(), &|place| {
                place.photos = place.photos.iter().filter(|photo| photo.id != id).cloned().collect();
            }),
            Self::Setup(kept) => kept.set(None),
        }
    }

    /// A number for a new photo.
    pub(super) fn fresh(self) -> PhotoId {
        let desk = if let Self::Place(desk, _) = self { desk } else { Desk::here() };
        desk.fresh()
    }

    /// Changes the place.
    pub(super) fn change(self, what: &str, target: u64, change: &dyn Fn(&mut Place)) {
        let Self::Place(desk, id) = self else { return };
        let places = desk.film.with_untracked(|film| {
            let mut places = film.as_ref()?.places.to_vec();
            places.iter_mut().filter(|place| place.id == id).for_each(change);
            Some(Arc::from(places))
        });
        if let Some(places) = places {
            tell(desk, desk.change(what, Some(target), Command::SetPlaces(places)));
        }
    }
}
