//! Pictures that a person brings in: decoded and scaled by the browser beside the page, so that a large one stops nothing,
//! and kept on the device.

use js_sys::{Promise, Uint8ClampedArray};
use language::say;
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, CanvasRenderingContext2d, HtmlCanvasElement, HtmlImageElement, ImageBitmap, ImageBitmapOptions,
    ResizeQuality, Url,
};

use crate::canvas::context_of;

/// A picture as the page has it: upright, and maybe scaled down.
#[derive(Debug, Clone)]
pub(crate) struct TakenIn {
    /// Its pixels.
    pub(crate) bitmap: ImageBitmap,
    /// Its width and height before it was scaled, upright.
    pub(crate) true_px: (u32, u32),
}

/// Why a picture cannot be taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NotTaken {
    /// The browser cannot read the file as a picture.
    Unreadable,
}

impl NotTaken {
    /// What happened, and what to do.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Unreadable => {
                say!(
                    "This browser cannot read that file as a picture. Photos in HEIC are read by some browsers only: share or export \
                 the photo as JPEG, or have the camera app save JPEG, and choose it again."
                )
            }
        }
    }
}

/// How much of a kept photo JPEG keeps: chosen, as hair and sleeves are still told apart.
const QUALITY: f64 = 0.8;

/// The picture in a file, its longer side no longer than `longest_px`.
///
/// # Errors
/// If the browser cannot read it as a picture.
pub(crate) async fn take_in(file: &Blob, longest_px: f64) -> Result<TakenIn, NotTaken> {
    read(file, longest_px).await.map_err(|_error| NotTaken::Unreadable)
}

async fn read(file: &Blob, longest_px: f64) -> Result<TakenIn, JsValue> {
    let true_px = size_of(file).await?;
    let options = scaled(true_px, longest_px);
    let made = window().create_image_bitmap_with_blob_and_image_bitmap_options(file, &options)?;
    Ok(TakenIn { bitmap: JsFuture::from(made).await?.dyn_into()?, true_px })
}

/// Has the browser scale a picture of that size down until its longer side is no longer than `longest_px`.
pub(crate) fn scaled(true_px: (u32, u32), longest_px: f64) -> ImageBitmapOptions {
    let (width, height) = (f64::from(true_px.0), f64::from(true_px.1));
    let scale = (longest_px / width.max(height).max(1.0)).min(1.0);
    let options = ImageBitmapOptions::new();
    options.set_resize_width(whole_px(width * scale));
    options.set_resize_height(whole_px(height * scale));
    options.set_resize_quality(ResizeQuality::High);
    options
}

/// The size of a picture, upright. Only its head is decoded for that.
async fn size_of(file: &Blob) -> Result<(u32, u32), JsValue> {
    let address = Url::create_object_url_with_blob(file)?;
    let image = HtmlImageElement::new()?;
    let loaded = Promise::new(&mut |loaded, failed| {
        image.set_onload(Some(&loaded));
        image.set_onerror(Some(&failed));
    });
    image.set_src(&address);
    let outcome = JsFuture::from(loaded).await;
    Url::revoke_object_url(&address)?;
    outcome?;
    let size = (image.natural_width(), image.natural_height());
    if size.0 == 0 || size.1 == 0 { Err(JsValue::NULL) } else { Ok(size) }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the side of a picture")]
fn whole_px(length: f64) -> u32 {
    length.round().max(1.0) as u32
}

impl TakenIn {
    /// The size of its pixels as the page has them.
    pub(crate) fn size_px(&self) -> (u32, u32) {
        (self.bitmap.width(), self.bitmap.height())
    }

    /// A canvas with the picture on it, which nobody sees.
    fn canvas(&self) -> Result<(HtmlCanvasElement, CanvasRenderingContext2d), JsValue> {
        let canvas: HtmlCanvasElement = document().create_element("canvas")?.dyn_into()?;
        let (width, height) = self.size_px();
        canvas.set_width(width);
        canvas.set_height(height);
        let context = context_of(&canvas).ok_or(JsValue::UNDEFINED)?;
        context.draw_image_with_image_bitmap(&self.bitmap, 0.0, 0.0)?;
        Ok((canvas, context))
    }

    /// Its pixels: red, green, blue and opacity of each, row by row.
    pub(crate) fn rgba(&self) -> Option<Vec<u8>> {
        self.pixels().map(|pixels| pixels.to_vec())
    }

    /// The same as the browser has them.
    pub(crate) fn pixels(&self) -> Option<Uint8ClampedArray> {
        let (_, context) = self.canvas().ok()?;
        let (width, height) = self.size_px();
        let data = context.get_image_data(0.0, 0.0, width.into(), height.into()).ok()?;
        // As an array of the browser's own, as it goes on to others and not through this module's memory.
        js_sys::Reflect::get(&data, &"data".into()).ok()?.dyn_into().ok()
    }

    /// The picture as a JPEG file; none if the browser makes none.
    pub(crate) async fn jpeg(&self) -> Option<Blob> {
        let (canvas, _) = self.canvas().ok()?;
        let made = Promise::new(&mut |resolve, _reject| {
            let asked = canvas.to_blob_with_type_and_encoder_options(&resolve, "image/jpeg", &QUALITY.into());
            if asked.is_err() {
                // Then there is no photo, as if the browser had made none.
                drop(resolve.call1(&JsValue::NULL, &JsValue::NULL));
            }
        });
        JsFuture::from(made).await.ok()?.dyn_into().ok()
    }
}
