//! Continuity photos: one a setup, scaled down, kept on this device and nowhere else.

use idb::{KeyRange, Query};
use language::say;
use wasm_bindgen::JsValue;
use web_sys::{Blob, File};

use crate::blobs::Blobs;
use crate::films::FilmId;
use crate::taking_in::{NotTaken, take_in};

const PHOTOS: Blobs = Blobs { database: "tapemark-continuity" };
/// The longer side of a kept photo, pixels: chosen, as it fills a phone's screen.
const LONGEST_PX: f64 = 1280.0;

/// Why there is no photo, in words for whoever took it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoPhoto {
    /// The file is no picture to the browser.
    NotTaken(NotTaken),
    /// The browser keeps nothing, or has no room left.
    NotKept,
}

impl NoPhoto {
    /// What happened, and what to do.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::NotTaken(why) => why.words(),
            Self::NotKept => {
                say!(
                    "The photo could not be kept: storage is full or not allowed here. Make room, and choose it again; it is still \
                 where the phone keeps its photos."
                )
            }
        }
    }
}

/// Scales a photo down and keeps it in the place of the setup's former one.
pub(crate) async fn keep(film: FilmId, shot: u64, file: &File) -> Result<Blob, NoPhoto> {
    let picture = take_in(file, LONGEST_PX).await.map_err(NoPhoto::NotTaken)?;
    let photo = picture.jpeg().await.ok_or(NoPhoto::NotTaken(NotTaken::Unreadable))?;
    PHOTOS.put(&key(film, shot), &photo).await.map_err(|_error| NoPhoto::NotKept)?;
    Ok(photo)
}

/// The photo of a setup, if there is one.
pub(crate) async fn photo(film: FilmId, shot: u64) -> Option<Blob> {
    PHOTOS.get(key(film, shot)).await
}

/// Throws the photo of a setup away.
pub(crate) async fn remove(film: FilmId, shot: u64) {
    // One that cannot be removed is put over by the next.
    drop(PHOTOS.delete(Query::Key(key(film, shot))).await);
}

/// Throws all photos of a film away, which has gone from this device.
pub(crate) async fn forget(film: FilmId) {
    let all = KeyRange::bound(&key(film, 0), &key(film, film::LARGEST_ID), None, None);
    if let Ok(all) = all {
        // What cannot be removed takes room and is never shown.
        drop(PHOTOS.delete(Query::KeyRange(all)).await);
    }
}

/// Films and shots are known by numbers that a float holds, so pairs of them are keys in order.
#[expect(clippy::cast_precision_loss, reason = "ids are below 2⁵³")]
fn key(film: FilmId, shot: u64) -> JsValue {
    js_sys::Array::of2(&(film as f64).into(), &(shot as f64).into()).into()
}
