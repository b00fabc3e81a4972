//! Whether a film is open in another tab, as far as the browser tells.
//!
//! Not every browser does, nor a page that was not fetched safely; the store's pen keeps tabs apart in any case.

use std::time::Duration;

use js_sys::{Function, Object, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use crate::waiting::wait;

/// A lock that this tab has until this is dropped, or the tab is gone.
#[derive(Debug)]
pub(crate) struct Lock(Function);

/// What came of asking for a lock.
#[derive(Debug)]
pub(crate) enum Claim {
    /// This tab has it.
    Here(Lock),
    /// Another tab has it.
    Elsewhere,
    /// This browser cannot tell.
    Unknown,
}

impl Drop for Lock {
    fn drop(&mut self) {
        // A promise's own function does not fail.
        drop(self.0.call0(&JsValue::NULL));
    }
}

/// How often to ask, and how long between: a page that is being loaded anew may meet the one before it on its way out.
const TRIES: u32 = 5;
const BETWEEN_TRIES: Duration = Duration::from_millis(150);

/// Asks for the lock of that name.
pub(crate) async fn claim(name: &str) -> Claim {
    for attempt in 0..TRIES {
        if attempt > 0 {
            wait(BETWEEN_TRIES).await;
        }
        match claim_once(name).await {
            Err(_) => return Claim::Unknown,
            Ok(answer) => match answer.dyn_into::<Function>() {
                Ok(release) => return Claim::Here(Lock(release)),
                Err(answer) if answer.is_undefined() => return Claim::Unknown,
                Err(_) => {}
            },
        }
    }
    Claim::Elsewhere
}

/// Waits until no other tab has the lock of that name; none where this browser cannot tell.
pub(crate) async fn wait_for(name: &str) -> Option<Lock> {
    let answer = ask(name, &Object::new()).await.ok()?;
    answer.dyn_into::<Function>().ok().map(Lock)
}

/// What releases the lock; null if another tab has it, undefined if the browser refuses to say.
async fn claim_once(name: &str) -> Result<JsValue, JsValue> {
    let options = Object::new();
    Reflect::set(&options, &"ifAvailable".into(), &JsValue::TRUE)?;
    ask(name, &options).await
}

async fn ask(name: &str, options: &Object) -> Result<JsValue, JsValue> {
    let locks = Reflect::get(&window().navigator(), &"locks".into())?;
    if locks.is_undefined() {
        return Ok(JsValue::UNDEFINED);
    }
    let request: Function = Reflect::get(&locks, &"request".into())?.dyn_into()?;
    let mut answers = None;
    let answered = Promise::new(&mut |resolve, _| answers = Some(resolve));
    let Some(answer) = answers else { return Ok(JsValue::UNDEFINED) };
    let refused = answer.clone();
    let granted = Closure::once_into_js(move |lock: JsValue| -> JsValue {
        if lock.is_null() {
            drop(answer.call1(&JsValue::NULL, &JsValue::NULL));
            return JsValue::UNDEFINED;
        }
        // The lock is held until this promise is kept.
        Promise::new(&mut |release, _| drop(answer.call1(&JsValue::NULL, &release))).into()
    });
    let asked: Promise = request.call3(&locks, &name.into(), options, &granted)?.dyn_into()?;
    spawn_local(async move {
        if JsFuture::from(asked).await.is_err() {
            drop(refused.call0(&JsValue::NULL));
        }
    });
    JsFuture::from(answered).await
}
