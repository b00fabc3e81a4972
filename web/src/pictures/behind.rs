//! Photos that stand behind pictures: fetched when a picture first names one, which is drawn without it until then.

use std::cell::RefCell;
use std::sync::Arc;

use leptos::task::spawn_local;
use requests::{PhotoNumber, StageRecord};

use crate::later::photo_pixels;
use crate::pictures::lab::{Place, Wanted};
use crate::pictures::pool::Pictures;

/// What is known of the photos that pictures have named.
#[derive(Debug, Default)]
pub(super) struct Behind(RefCell<Named>);

#[derive(Debug, Default)]
struct Named {
    photos: Vec<(PhotoNumber, Standing)>,
    /// What places wanted while their photo was on its way.
    waiting: Vec<(Place, Wanted)>,
}

/// How a photo stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Standing {
    /// It is on its way.
    Asked,
    Here,
    /// This device does not have it.
    Absent,
}

impl Behind {
    /// What a place wants as it can be drawn now, and the photo to be asked for, if it was never named before.
    pub(super) fn drawable(&self, place: Place, wanted: Wanted) -> (Wanted, Option<PhotoNumber>) {
        let mut named = self.0.borrow_mut();
        named.waiting.retain(|(one, _)| *one != place);
        let Some(number) = wanted.photo() else { return (wanted, None) };
        let known = named.photos.iter().find(|(one, _)| *one == number).map(|(_, standing)| *standing);
        if known == Some(Standing::Here) {
            return (wanted, None);
        }
        let without = without_photo(&wanted);
        if known != Some(Standing::Absent) {
            named.waiting.push((place, wanted));
        }
        if known.is_none() {
            named.photos.push((number, Standing::Asked));
        }
        (without, known.is_none().then_some(number))
    }

    /// Asks again for what was not on this device.
    pub(super) fn forget_absent(&self) {
        self.0.borrow_mut().photos.retain(|(_, standing)| *standing != Standing::Absent);
    }

    /// A photo has come, or is known not to come; says what waited for it.
    fn settle(&self, number: PhotoNumber, is_here: bool) -> Vec<(Place, Wanted)> {
        let mut named = self.0.borrow_mut();
        for (_, standing) in named.photos.iter_mut().filter(|(one, _)| *one == number) {
            *standing = if is_here { Standing::Here } else { Standing::Absent };
        }
        let (came, waits) = std::mem::take(&mut named.waiting)
            .into_iter()
            .partition(|(_, wanted)| wanted.photo() == Some(number));
        named.waiting = waits;
        came
    }
}

impl Pictures {
    /// Fetches a photo, and has drawn what waited for it.
    pub(super) fn fetch(self, number: PhotoNumber) {
        spawn_local(async move {
            let pixels = photo_pixels(number.into()).await;
            let is_here = pixels.is_some();
            if let Some((size_px, rgba)) = pixels {
                self.lend_photo(number.into(), size_px, rgba);
            }
            let waited = self.of_behind(|behind| behind.settle(number, is_here)).unwrap_or_default();
            for (place, wanted) in waited {
                self.want(place, wanted);
            }
        });
    }
}

/// The same picture before floor and sky.
fn without_photo(wanted: &Wanted) -> Wanted {
    let stage = StageRecord { backdrop: None, ..StageRecord::clone(&wanted.stage) };
    Wanted { stage: Arc::new(stage), size_px: wanted.size_px }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pictures::lab::tests::{wanted, wanted_before};

    const PHOTO: PhotoNumber = PhotoNumber(0, 7);

    #[test]
    fn a_picture_is_drawn_without_its_photo_until_that_has_come() {
        let behind = Behind::default();
        let (now, ask) = behind.drawable(3, wanted_before(7));
        assert_eq!((now.photo(), ask), (None, Some(PHOTO)));
        // Another place that names it does not ask again.
        assert_eq!(behind.drawable(4, wanted_before(7)).1, None);
        let places: Vec<Place> = behind.settle(PHOTO, true).into_iter().map(|(place, _)| place).collect();
        assert_eq!(places, [3, 4]);
        assert_eq!(behind.drawable(3, wanted_before(7)), (wanted_before(7), None));
    }

    #[test]
    fn a_place_that_wants_something_else_meanwhile_is_not_given_the_photo() {
        let behind = Behind::default();
        behind.drawable(3, wanted_before(7));
        behind.drawable(3, wanted(100, 64));
        assert_eq!(behind.settle(PHOTO, true), []);
    }

    #[test]
    fn a_photo_that_was_not_on_the_device_is_asked_for_when_a_screen_opens_again() {
        let behind = Behind::default();
        behind.drawable(3, wanted_before(7));
        behind.settle(PHOTO, false);
        assert_eq!(behind.drawable(3, wanted_before(7)).1, None);
        behind.forget_absent();
        assert_eq!(behind.drawable(3, wanted_before(7)).1, Some(PHOTO));
    }

    #[test]
    fn a_photo_that_is_not_on_the_device_is_asked_for_once() {
        let behind = Behind::default();
        behind.drawable(3, wanted_before(7));
        assert_eq!(behind.settle(PHOTO, false).len(), 1);
        let (now, ask) = behind.drawable(3, wanted_before(7));
        assert_eq!((now.photo(), ask), (None, None));
    }
}
