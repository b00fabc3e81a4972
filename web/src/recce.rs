//! A place as it really is: photos of it that stand behind pictures, with how the phone was held that took them, and its floor
//! paced out.

mod explanations;
mod home;
mod of_film;
mod of_setup;
mod overlay;
mod paced;
mod pacing;
mod photo_form;
mod photo_list;
mod pixels;
mod sight;
mod sun_from;
mod taking_photo;
mod where_taken;

#[cfg(test)]
pub(crate) use explanations::EXPLANATIONS;
pub(crate) use home::Home;
pub(crate) use of_setup::keep_only;
pub(crate) use paced::corners;
pub(crate) use pacing::PaceOut;
pub(crate) use photo_list::Photos;
pub use pixels::photo_pixels;
pub(crate) use taking_photo::Spot;

use film::Daylight;
use leptos::prelude::*;

use crate::part::Part;
use crate::session::Session;

/// A handle on what is looked at of a place.
#[derive(Clone, Copy)]
pub(crate) struct Recce(StoredValue<Looked, LocalStorage>);

/// What is looked at of a place.
#[derive(Clone, Copy)]
struct Looked {
    session: Session,
    home: Home,
    spot: Signal<Spot>,
    daylight: Signal<Option<Part<Daylight>>>,
    floor: Signal<where_taken::Floor>,
}

impl Recce {
    /// The page's state.
    fn session(self) -> Session {
        self.0.with_value(|looked| looked.session)
    }

    /// Whose photos.
    fn home(self) -> Home {
        self.0.with_value(|looked| looked.home)
    }

    /// Where somebody would stand who takes a new one.
    fn spot(self) -> Signal<Spot> {
        self.0.with_value(|looked| looked.spot)
    }

    /// The light of the day that is looked at, if it is known there.
    fn daylight(self) -> Signal<Option<Part<Daylight>>> {
        self.0.with_value(|looked| looked.daylight)
    }

    /// What else is on the place's floor.
    fn floor(self) -> Signal<where_taken::Floor> {
        self.0.with_value(|looked| looked.floor)
    }
}
