//! Bringing in a picture, or a clip of which the frame that is shown is taken.

use js_sys::Promise;
use language::{key, say, text};
use leptos::html;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, HtmlVideoElement, Url};

use crate::taking_in::{TakenIn, scaled, take_in};
use crate::widgets::{FileButton, when};

/// The longer side of a picture on the page, pixels: chosen so that a 4K frame stays as it is, and one of fifty megapixels
/// is decoded to a third of that.
pub(super) const LONGEST_PX: f64 = 4096.0;

/// The picture that is measured on.
#[derive(Clone, Copy)]
pub(super) struct Intake {
    /// The picture, once there is one.
    pub(super) picture: RwSignal<Option<TakenIn>, LocalStorage>,
    /// The file that it is from.
    pub(super) name: RwSignal<String>,
    /// Where the browser has the clip to choose a frame of.
    clip: RwSignal<Option<String>>,
    problem: RwSignal<Option<&'static str>>,
    is_reading: RwSignal<bool>,
    /// The longer side that it is scaled down to.
    longest_px: f64,
    /// Told of every new picture, with its true size.
    taken: Callback<(u32, u32)>,
}

const UNPLAYABLE: &str = key!(
    "This browser cannot show that clip. Try the browser of the phone that shot it, or save the clip as \
                          MP4 in H.264 at its full size; a screenshot will not do, as it has another size."
);
const NO_FRAME: &str =
    key!("No frame of the clip is shown yet: let it play for a moment, stop it, and try again.");

impl Intake {
    /// Nothing brought in yet; `taken` hears of every picture that comes.
    pub(super) fn new(longest_px: f64, taken: Callback<(u32, u32)>) -> Self {
        let intake = Self {
            picture: RwSignal::new_local(None),
            name: RwSignal::new(String::new()),
            clip: RwSignal::new(None),
            problem: RwSignal::new(None),
            is_reading: RwSignal::new(false),
            longest_px,
            taken,
        };
        on_cleanup(move || intake.let_clip_go());
        intake
    }

    /// The picture's true size.
    pub(super) fn true_px(self) -> Option<(u32, u32)> {
        self.picture.with(|picture| picture.as_ref().map(|picture| picture.true_px))
    }

    /// Takes the picture away.
    pub(super) fn clear(self) {
        self.picture.set(None);
    }

    /// Has the browser forget the clip: it holds a whole file.
    fn let_clip_go(self) {
        let clip = self.clip.try_get_untracked().flatten();
        if let Some(address) = clip {
            drop(Url::revoke_object_url(&address));
            // Gone with the screen if it is the screen that goes.
            let _gone = self.clip.try_set(None);
        }
    }

    fn bring(self, file: &File) {
        self.problem.set(None);
        self.let_clip_go();
        self.name.set(file.name());
        if is_clip(&file.type_(), &file.name()) {
            self.clear();
            match Url::create_object_url_with_blob(file) {
                Ok(address) => self.clip.set(Some(address)),
                Err(_) => self.problem.set(Some(text(UNPLAYABLE))),
            }
            return;
        }
        let file = file.clone();
        self.is_reading.set(true);
        spawn_local(async move {
            let read = take_in(&file, self.longest_px).await;
            // The screen may be gone by now, and these with it.
            if self.is_reading.try_set(false).is_some() {
                return;
            }
            match read {
                Ok(picture) => self.show(picture),
                Err(error) => self.problem.set(Some(error.words())),
            }
        });
    }

    fn show(self, picture: TakenIn) {
        let true_px = picture.true_px;
        self.picture.set(Some(picture));
        self.taken.run(true_px);
    }

    /// Takes the frame that a clip shows.
    fn take_frame(self, video: &HtmlVideoElement) {
        let video = video.clone();
        self.problem.set(None);
        spawn_local(async move {
            let frame = frame_of(&video, self.longest_px).await;
            if self.picture.try_with_untracked(Option::is_some).is_none() {
                return;
            }
            match frame {
                Ok(picture) => self.show(picture),
                Err(_) => self.problem.set(Some(text(NO_FRAME))),
            }
        });
    }
}

/// Whether a file is a clip, by its kind or, where the browser knows none, by its name.
fn is_clip(kind: &str, name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    let ends = [".mov", ".mp4", ".m4v", ".webm"].iter().any(|end| name.ends_with(end));
    kind.starts_with("video/") || (!kind.starts_with("image/") && ends)
}

async fn frame_of(video: &HtmlVideoElement, longest_px: f64) -> Result<TakenIn, JsValue> {
    let true_px = (video.video_width(), video.video_height());
    let options = scaled(true_px, longest_px);
    let made: Promise =
        window().create_image_bitmap_with_html_video_element_and_image_bitmap_options(video, &options)?;
    Ok(TakenIn { bitmap: JsFuture::from(made).await?.dyn_into()?, true_px })
}

/// The button that asks for a file, and the clip if it is one.
#[component]
pub(super) fn PictureIntake(
    /// What is brought in.
    intake: Intake,
    /// What the button says.
    words: &'static str,
) -> impl IntoView {
    let clip = move || {
        let address = intake.clip.get()?;
        Some(view! { <Clip intake address /> })
    };
    view! {
        <div class="kit-buttons">
            <FileButton words=words accept="image/*,video/*,.heic,.mov" bring=move |file: File| intake.bring(&file) />
        </div>
        <p class="quiet">{say!("It stays on this device.")}</p>
        {clip}
        {when(move || intake.is_reading.get(), || view! { <p class="quiet" role="status">{say!("Reading…")}</p> }.into_any())}
        {move || intake.problem.get().map(|words| view! { <p class="problem" role="alert">{words}</p> })}
    }
}

/// A clip, with the button that takes the frame that it shows.
#[component]
fn Clip(intake: Intake, address: String) -> impl IntoView {
    let node = NodeRef::<html::Video>::new();
    let take = move |_| {
        if let Some(video) = node.get_untracked() {
            intake.take_frame(&video);
        }
    };
    view! {
        <div class="measure-clip">
            <video
                node_ref=node
                src=address
                controls=true
                muted=true
                playsinline="true"
                preload="auto"
                aria-label=say!("The clip: stop it where the phone holds still")
                on:error=move |_| intake.problem.set(Some(text(UNPLAYABLE)))
            ></video>
            <div class="kit-buttons">
                <button type="button" on:click=take>{say!("Take the frame that is shown")}</button>
            </div>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clip_is_told_by_its_kind_and_else_by_its_name() {
        assert!(is_clip("video/quicktime", "a"));
        assert!(is_clip("", "IMG_1.MOV"));
        assert!(!is_clip("image/heic", "IMG_1.HEIC"));
        assert!(!is_clip("", "IMG_1.HEIC"));
    }
}
