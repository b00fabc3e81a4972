//! The screen stays on while a setup is looked at, where the browser allows it.

use js_sys::{Function, Promise, Reflect};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// Asks that the screen stays on as long as whoever calls this is shown.
///
/// A browser lets go of it whenever the page is hidden, so it is asked again when the page comes back. One that does not
/// know it, or does not allow it on a low battery, lets the screen go dark as ever.
pub(super) fn keep_awake() {
    let held = StoredValue::new_local(None::<JsValue>);
    let ask = move || {
        spawn_local(async move {
            let lock = request().await.ok();
            // By now the view may be gone.
            let is_gone = held.try_update_value(|held| held.clone_from(&lock)).is_none();
            if is_gone && let Some(lock) = lock {
                release(&lock);
            }
        });
    };
    ask();
    let listening = window_event_listener_untyped("visibilitychange", move |_| {
        if !document().hidden() {
            ask();
        }
    });
    on_cleanup(move || {
        listening.remove();
        if let Some(lock) = held.try_update_value(Option::take).flatten() {
            release(&lock);
        }
    });
}

/// Screen Wake Lock, of the W3C, which the bindings do not have yet.
async fn request() -> Result<JsValue, JsValue> {
    let locks = Reflect::get(&window().navigator(), &"wakeLock".into())?;
    let request: Function = Reflect::get(&locks, &"request".into())?.dyn_into()?;
    let promise: Promise = request.call1(&locks, &"screen".into())?.dyn_into()?;
    JsFuture::from(promise).await
}

fn release(lock: &JsValue) {
    let release = Reflect::get(lock, &"release".into()).and_then(JsCast::dyn_into::<Function>);
    // One that the browser let go of already has nothing to release.
    drop(release.and_then(|release| release.call0(lock)));
}
