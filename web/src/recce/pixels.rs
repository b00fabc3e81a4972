//! The pixels of photos of places: scaled down, kept on this device and nowhere else, each by the number of its photo.

use std::cell::RefCell;

use wasm_bindgen::JsValue;

use crate::blobs::Blobs;
use crate::taking_in::{TakenIn, take_in};

const PHOTOS: Blobs = Blobs { database: "tapemark-places" };
/// The longer side of a kept photo, pixels: chosen so that a third of it still fills a picture's 1280 px twice over a phone's
/// screen, and that its 12 MiB of pixels fit beside others.
pub(crate) const LONGEST_PX: f64 = 2048.0;

thread_local! {
    /// Those for which there is no room: they last as long as the page.
    static UNKEPT: RefCell<Vec<(u64, TakenIn)>> = const { RefCell::new(Vec::new()) };
}

/// Keeps the pixels of a photo; false if the browser keeps nothing or has no room left, and they go with the page.
pub(super) async fn keep(photo: u64, picture: &TakenIn) -> bool {
    let is_kept = match picture.jpeg().await {
        Some(jpeg) => PHOTOS.put(&key(photo), &jpeg).await.is_ok(),
        None => false,
    };
    if !is_kept {
        UNKEPT.with_borrow_mut(|unkept| unkept.push((photo, picture.clone())));
    }
    is_kept
}

/// The pixels of a photo, if this device has them.
pub(crate) async fn of_photo(photo: u64) -> Option<TakenIn> {
    let unkept = UNKEPT.with_borrow(|unkept| {
        unkept.iter().find(|(one, _)| *one == photo).map(|(_, picture)| picture.clone())
    });
    match unkept {
        Some(picture) => Some(picture),
        None => take_in(&PHOTOS.get(key(photo)).await?, LONGEST_PX).await.ok(),
    }
}

/// The pixels of a photo as an array of four bytes each and its width; nothing if this device does not have it.
pub async fn photo_pixels(number: f64) -> JsValue {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it was a whole number")]
    let picture = of_photo(number as u64).await;
    let found = picture.and_then(|picture| Some((picture.pixels()?, picture.bitmap.width())));
    found.map_or(JsValue::NULL, |(rgba, width)| js_sys::Array::of2(&rgba, &width.into()).into())
}

/// Throws away the pixels of all photos but these.
pub(crate) async fn keep_only(photos: &[u64]) -> Result<(), idb::Error> {
    PHOTOS.keep_only(|found| photos.iter().any(|photo| key(*photo) == *found)).await
}

/// Photos are known by numbers that a float holds.
#[expect(clippy::cast_precision_loss, reason = "ids are below 2⁵³")]
fn key(photo: u64) -> JsValue {
    (photo as f64).into()
}
