//! Continuity photos: one a setup, scaled down, kept on this device and nowhere else.

use idb::{Database, DatabaseEvent as _, Factory, KeyRange, ObjectStoreParams, Query, TransactionMode};
use js_sys::Promise;
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, CanvasRenderingContext2d, File, HtmlCanvasElement, ImageBitmap};

use crate::films::FilmId;

const DATABASE: &str = "tapemark-continuity";
const VERSION: u32 = 1;
const PHOTOS: &str = "photos";
/// The longer side of a kept photo, pixels: chosen, as it fills a phone's screen.
const LONGEST_PX: f64 = 1280.0;
/// How much of a photo JPEG keeps: chosen, as hair and sleeves are still told apart.
const QUALITY: f64 = 0.8;

/// Why there is no photo, in words for whoever took it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoPhoto {
    /// The browser cannot read the file as a picture.
    Unreadable,
    /// The browser keeps nothing, or has no room left.
    NotKept,
}

impl NoPhoto {
    /// What happened, and what to do.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Unreadable => {
                "This browser cannot read that file as a picture: take it as JPEG, or save the photo as one and choose it again."
            }
            Self::NotKept => {
                "The photo could not be kept: storage is full or not allowed here. Make room, and choose it again; it is still \
                 where the phone keeps its photos."
            }
        }
    }
}

/// Scales a photo down and keeps it in the place of the setup's former one.
pub(crate) async fn keep(film: FilmId, shot: u64, file: &File) -> Result<Blob, NoPhoto> {
    let photo = scaled(file).await.map_err(|_error| NoPhoto::Unreadable)?;
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

/// A photo no larger than it has to be.
async fn scaled(file: &File) -> Result<Blob, JsValue> {
    let image: ImageBitmap =
        JsFuture::from(window().create_image_bitmap_with_blob(file)?).await?.dyn_into()?;
    let (width, height) = (f64::from(image.width()), f64::from(image.height()));
    let scale = (LONGEST_PX / width.max(height)).min(1.0);
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.dyn_into()?;
    let px = |length: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most LONGEST_PX")]
        let px = (length * scale).round().max(1.0) as u32;
        px
    };
    canvas.set_width(px(width));
    canvas.set_height(px(height));
    let context: CanvasRenderingContext2d =
        canvas.get_context("2d")?.ok_or(JsValue::UNDEFINED)?.dyn_into().map_err(JsValue::from)?;
    let (wide, high) = (f64::from(canvas.width()), f64::from(canvas.height()));
    context.draw_image_with_image_bitmap_and_dw_and_dh(&image, 0.0, 0.0, wide, high)?;
    image.close();
    let made = Promise::new(&mut |resolve, _reject| {
        let asked = canvas.to_blob_with_type_and_encoder_options(&resolve, "image/jpeg", &QUALITY.into());
        if asked.is_err() {
            // Then there is no photo, as if the browser had made none.
            drop(resolve.call1(&JsValue::NULL, &JsValue::NULL));
        }
    });
    JsFuture::from(made).await?.dyn_into()
}
