//! The door between the page and the Kit screen, which is a module of its own: the page's side, which loads and opens it,
//! and the module's side, which shows the screen and hands changes back.
//!
//! What crosses is the state that both sides know, as text; each side has its own signals.

use std::cell::{Cell, RefCell};

use leptos::html;
use leptos::mount::{UnmountHandle, mount_to};
use leptos::prelude::*;
use leptos::tachys::view::any_view::AnyViewState;
use wasm_bindgen::prelude::*;

use crate::kit::KitScreen;
use crate::session::{Session, Settings, Shared};

#[wasm_bindgen(inline_js = r#"
let module;
export async function load_kit() {
  // Beside the page, not beside this snippet: bindings are moved into a folder of their own.
  module ??= import(new URL("kit/kit.js", document.baseURI).href)
    .then(async (kit) => { await kit.default(); return kit; });
  try {
    return await module;
  } catch (error) {
    module = undefined;
    throw error;
  }
}
"#)]
extern "C" {
    type KitModule;
    #[wasm_bindgen(catch)]
    async fn load_kit() -> Result<JsValue, JsValue>;
    #[wasm_bindgen(method)]
    fn open_kit(
        this: &KitModule,
        host: &web_sys::HtmlElement,
        state: &str,
        changed: &Closure<dyn FnMut(String)>,
    );
    #[wasm_bindgen(method)]
    fn set_kit_settings(this: &KitModule, settings: &str);
    #[wasm_bindgen(method)]
    fn close_kit(this: &KitModule);
}

/// What the page keeps while the Kit screen is open.
type Opened = (KitModule, Closure<dyn FnMut(String)>);

/// The page's side of one opening: where the screen goes, and how far it has come.
#[derive(Clone, Copy)]
struct Door {
    session: Session,
    host: NodeRef<html::Div>,
    is_loading: RwSignal<bool>,
    has_failed: RwSignal<bool>,
    opened: StoredValue<Option<Opened>, LocalStorage>,
}

impl Door {
    /// Loads the module, the first time, and opens the screen.
    async fn open(self) {
        self.has_failed.set(false);
        self.is_loading.set(true);
        let module = load_kit().await;
        // The user may have gone back before it came.
        let Some(node) = self.host.try_get_untracked().flatten() else { return };
        self.is_loading.set(false);
        let Ok(module) = module else {
            self.has_failed.set(true);
            return;
        };
        let module: KitModule = module.unchecked_into();
        let session = self.session;
        let changed = Closure::new(move |state: String| session.take_shared(&state));
        module.open_kit(&node, &untrack(|| session.shared()), &changed);
        self.opened.set_value(Some((module, changed)));
    }

    /// Hands the page's settings to the screen, if it is open.
    fn tell_settings(self, settings: &Settings) {
        let Ok(text) = serde_json::to_string(settings) else { return };
        self.opened.with_value(|opened| {
            if let Some((module, _)) = opened {
                module.set_kit_settings(&text);
            }
        });
    }

    fn close(self) {
        self.opened.try_update_value(|opened| {
            if let Some((module, _)) = opened.take() {
                module.close_kit();
            }
        });
    }
}

/// The page's side: a place for the Kit screen, which is loaded when this is first shown.
#[component]
pub(crate) fn KitDoor(session: Session) -> impl IntoView {
    let host = NodeRef::new();
    let (is_loading, has_failed) = (RwSignal::new(true), RwSignal::new(false));
    let door = Door { session, host, is_loading, has_failed, opened: StoredValue::new_local(None) };
    let load = Callback::new(move |()| leptos::task::spawn_local(door.open()));
    Effect::new(move |before: Option<()>| {
        let settings = session.settings.get();
        if before.is_none() { load.run(()) } else { door.tell_settings(&settings) }
    });
    on_cleanup(move || door.close());
    view! {
        <link rel="stylesheet" href="kit/kit.css" />
        <Show when=move || is_loading.get()>
            <p class="quiet kit-loading">"Opening Kit"</p>
        </Show>
        <Show when=move || has_failed.get()>
            <div class="kit-loading" role="alert">
                <p>"Kit could not be loaded: this device seems to have no network. Your kit is kept; Set-up goes on."</p>
                <button type="button" on:click=move |_| load.run(())>
                    "Try again"
                </button>
            </div>
        </Show>
        <div node_ref=host></div>
    }
}

thread_local! {
    /// The module's side: the screen that is shown.
    static SHOWN: RefCell<Option<UnmountHandle<AnyViewState>>> = const { RefCell::new(None) };
    /// The module's side: the settings of the session that is shown.
    static SETTINGS: Cell<Option<RwSignal<Settings>>> = const { Cell::new(None) };
}

/// The module's side: shows the Kit screen in `host`, and calls `changed` with the state after each change.
pub fn open_kit(host: web_sys::HtmlElement, state: &str, changed: js_sys::Function) {
    close_kit();
    let Ok(shared) = serde_json::from_str::<Shared>(state) else { return };
    let handle = mount_to(host, move || {
        let session = Session::of(shared);
        SETTINGS.set(Some(session.settings));
        Effect::new(move |before: Option<()>| {
            let state = session.shared();
            // The first run only tells what the page said.
            if before.is_some()
                && let Err(error) = changed.call1(&JsValue::NULL, &JsValue::from_str(&state))
            {
                leptos::logging::error!("the page did not take a change of the kit: {error:?}");
            }
        });
        view! { <KitScreen session /> }.into_any()
    });
    SHOWN.with_borrow_mut(|shown| *shown = Some(handle));
}

/// The module's side: takes on the page's settings.
pub fn set_kit_settings(settings: &str) {
    if let (Ok(settings), Some(shown)) = (serde_json::from_str(settings), SETTINGS.get()) {
        shown.set(settings);
    }
}

/// The module's side: takes the Kit screen away.
pub fn close_kit() {
    SETTINGS.set(None);
    SHOWN.with_borrow_mut(|shown| drop(shown.take()));
}
