//! What is shown only when it is near what is seen: a long film has more scenes and pictures than a page should hold.

use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{IntersectionObserver, IntersectionObserverEntry, IntersectionObserverInit};

/// How far outside the window something is made already: about a phone's screen, chosen so that scrolling meets no gaps.
const MARGIN: &str = "800px 400px";

/// A place whose content is made when it comes near what is seen, and stays.
#[component]
pub(crate) fn WhenNear(
    /// The class of the element, which has a size before there is anything in it.
    class: &'static str,
    /// What it holds.
    content: ViewFn,
) -> impl IntoView {
    let node = NodeRef::<html::Div>::new();
    let is_near = RwSignal::new(false);
    let watch: StoredValue<Option<Watch>, LocalStorage> = StoredValue::new_local(None);
    Effect::new(move |_| {
        let Some(element) = node.get() else { return };
        let heard = Closure::new(move |entries: js_sys::Array| {
            let mut entries = entries.iter().map(JsValue::unchecked_into::<IntersectionObserverEntry>);
            if entries.any(|entry| entry.is_intersecting()) {
                is_near.try_set(true);
                watch.try_set_value(None);
            }
        });
        let options = IntersectionObserverInit::new();
        options.set_root_margin(MARGIN);
        let callback: &js_sys::Function = Closure::as_ref(&heard).unchecked_ref();
        match IntersectionObserver::new_with_options(callback, &options) {
            Ok(observer) => {
                observer.observe(&element);
                watch.set_value(Some(Watch { observer, _heard: heard }));
            }
            // A browser that cannot tell shows everything.
            Err(_) => is_near.set(true),
        }
    });
    view! {
        <div node_ref=node class=class>
            {move || is_near.get().then(|| content.run())}
        </div>
    }
}

/// An observer with what listens to it.
struct Watch {
    observer: IntersectionObserver,
    _heard: Closure<dyn Fn(js_sys::Array)>,
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}
