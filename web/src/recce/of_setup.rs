//! The photo behind a set-up without a film: taken from wherever the phone is, because there is no floor plan that it could
//! be on.

use film::{PlacePhoto, open_place_photo, write_place_photo};
use glam::DVec2;
use language::say;
use leptos::prelude::*;
use units::Angle;

use super::taking_photo::Spot;
use super::where_taken::Floor;
use super::{Home, Looked, Recce, pixels};
use crate::behind::Behind;
use crate::session::{Plan, Session};
use crate::storage::{self, BrowserStorage};

/// Where the browser keeps how it was taken.
const KEY: &str = "tapemark.photo";

impl Recce {
    /// What is behind a set-up without a film.
    pub(crate) fn of_setup(session: Session) -> Self {
        let photo = RwSignal::new(kept());
        Effect::new(move |before: Option<()>| {
            let behind = photo.with(|photo| photo.as_ref().map(behind));
            if before.is_some() {
                photo.with(|photo| keep(photo.as_ref()));
            }
            let is_of_film = session.plan.with_untracked(|plan| plan.of.is_some());
            if !is_of_film && session.plan.with_untracked(|plan| plan.behind != behind) {
                session.plan.update(|plan: &mut Plan| plan.behind = behind);
            }
        });
        let spot = Signal::stored(Spot::USUAL);
        let (daylight, floor) = (Signal::stored(None), Signal::stored(Floor::default()));
        Self(StoredValue::new_local(Looked { session, home: Home::Setup(photo), spot, daylight, floor }))
    }
}

/// The photo as it was left.
fn kept() -> Option<PlacePhoto> {
    let text: Option<String> = storage::load(&BrowserStorage, KEY);
    text.as_deref().and_then(open_place_photo)
}

/// Throws away the pixels of all photos that neither these nor the set-up name.
pub(crate) async fn keep_only(mut named: Vec<u64>) -> Result<(), idb::Error> {
    named.extend(kept().map(|photo| photo.id.number()));
    pixels::keep_only(&named).await
}

fn keep(photo: Option<&PlacePhoto>) {
    // Where the browser keeps nothing the photo lasts as long as the page.
    storage::save(&BrowserStorage, KEY, &photo.map_or_else(String::new, write_place_photo));
}

/// As it stands behind the picture: from where the phone is, turned from its look by the photo's own direction.
fn behind(photo: &PlacePhoto) -> Behind {
    let taken = PlacePhoto { at: DVec2::ZERO, ..photo.clone() };
    let name = if photo.name.is_empty() { say!("a photo") } else { &photo.name };
    let words = say!("Behind: {name}, as taken from where the phone is.");
    Behind::of(&taken.behind(Angle::ZERO, DVec2::ZERO), true, words)
}
