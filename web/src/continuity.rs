//! Continuity photos: one a setup, scaled down, kept on this device and nowhere else.

use idb::{Database, DatabaseEvent as _, Factory, KeyRange, ObjectStoreParams, Query, TransactionMode};
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Blob, File};

use crate::films::FilmId;
use crate::taking_in::{NotTaken, take_in};

const DATABASE: &str = "tapemark-continuity";
const VERSION: u32 = 1;
const PHOTOS: &str = "photos";
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
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::NotTaken(why) => why.words(),
            Self::NotKept => {
                "The photo could not be kept: storage is full or not allowed here. Make room, and choose it again; it is still \
                 where the phone keeps its photos."
            }
        }
    }
}

/// Scales a photo down and keeps it in the place of the setup's former one.
pub(crate) async fn keep(film: FilmId, shot: u64, file: &File) -> Result<Blob, NoPhoto> {
    let picture = take_in(file, LONGEST_PX).await.map_err(NoPhoto::NotTaken)?;
    let photo = picture.jpeg().await.ok_or(NoPhoto::NotTaken(NotTaken::Unreadable))?;
    put(film, shot, &photo).await.map_err(|_error| NoPhoto::NotKept)?;
    Ok(photo)
}

/// The photo of a setup, if there is one.
pub(crate) async fn photo(film: FilmId, shot: u64) -> Option<Blob> {
    let found = async {
        let transaction = open().await?.transaction(&[PHOTOS], TransactionMode::ReadOnly)?;
        transaction.object_store(PHOTOS)?.get(key(film, shot))?.await
    };
    found.await.ok().flatten()?.dyn_into().ok()
}

/// Throws the photo of a setup away.
pub(crate) async fn remove(film: FilmId, shot: u64) {
    // One that cannot be removed is put over by the next.
    drop(delete(Query::Key(key(film, shot))).await);
}

/// Throws all photos of a film away, which has gone from this device.
pub(crate) async fn forget(film: FilmId) {
    let all = KeyRange::bound(&key(film, 0), &key(film, film::LARGEST_ID), None, None);
    if let Ok(all) = all {
        // What cannot be removed takes room and is never shown.
        drop(delete(Query::KeyRange(all)).await);
    }
}

/// Films and shots are known by numbers that a float holds, so pairs of them are keys in order.
#[expect(clippy::cast_precision_loss, reason = "ids are below 2⁵³")]
fn key(film: FilmId, shot: u64) -> JsValue {
    js_sys::Array::of2(&(film as f64).into(), &(shot as f64).into()).into()
}

async fn open() -> Result<Database, idb::Error> {
    let mut request = Factory::new()?.open(DATABASE, Some(VERSION))?;
    request.on_upgrade_needed(|event| {
        // One that fails makes the opening fail.
        let made = event
            .database()
            .and_then(|database| database.create_object_store(PHOTOS, ObjectStoreParams::new()).map(drop));
        drop(made);
    });
    request.await
}

async fn put(film: FilmId, shot: u64, photo: &Blob) -> Result<(), idb::Error> {
    let transaction = open().await?.transaction(&[PHOTOS], TransactionMode::ReadWrite)?;
    transaction.object_store(PHOTOS)?.put(photo, Some(&key(film, shot)))?.await?;
    transaction.commit()?.await.map(drop)
}

async fn delete(what: Query) -> Result<(), idb::Error> {
    let transaction = open().await?.transaction(&[PHOTOS], TransactionMode::ReadWrite)?;
    transaction.object_store(PHOTOS)?.delete(what)?.await?;
    transaction.commit()?.await.map(drop)
}
