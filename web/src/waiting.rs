//! Lets some time pass.

use std::time::Duration;

use js_sys::Promise;
use leptos::prelude::set_timeout;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Lets some time pass.
pub(crate) async fn wait(time: Duration) {
    // It is never rejected.
    drop(JsFuture::from(passed(time)).await);
}

/// Kept when some time has passed.
pub(crate) fn passed(time: Duration) -> Promise {
    Promise::new(&mut |resolve, _| {
        set_timeout(move || drop(resolve.call0(&JsValue::NULL)), time);
    })
}
