//! Lets some time pass, and waits for others no longer than that.

use std::cell::Cell;
use std::future::Future;
use std::rc::Rc;
use std::time::Duration;

use js_sys::{Array, Promise};
use leptos::prelude::set_timeout;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, future_to_promise};

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

/// What comes of something, if it comes within that time; it goes on in any case.
pub(crate) async fn within<Out: 'static>(
    time: Duration,
    awaited: impl Future<Output = Out> + 'static,
) -> Option<Out> {
    let came = Rc::new(Cell::new(None));
    let keeps = Rc::clone(&came);
    let done = future_to_promise(async move {
        keeps.set(Some(awaited.await));
        Ok(JsValue::UNDEFINED)
    });
    // Neither is ever rejected.
    drop(JsFuture::from(Promise::race(&Array::of2(&done, &passed(time)))).await);
    came.take()
}

#[cfg(test)]
#[cfg(target_arch = "wasm32")]
mod browser_tests {
    use std::future::{pending, ready};

    use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

    use super::*;

    wasm_bindgen_test_configure!(run_in_browser);

    #[wasm_bindgen_test]
    async fn nobody_waits_longer_than_they_want_to() {
        assert_eq!(within(Duration::from_secs(60), ready(3)).await, Some(3));
        assert_eq!(within(Duration::from_millis(10), pending::<u32>()).await, None);
    }

    #[wasm_bindgen_test]
    async fn what_comes_too_late_comes_all_the_same() {
        let came = Rc::new(Cell::new(false));
        let later = Rc::clone(&came);
        let slow = async move {
            wait(Duration::from_millis(40)).await;
            later.set(true);
        };
        assert_eq!(within(Duration::from_millis(10), slow).await, None);
        wait(Duration::from_millis(60)).await;
        assert!(came.get());
    }
}
