//! The door between the page and its later module: what opens on a tap, and the Kit screen, are not needed for the first
//! answer, so they are a module of their own that comes when the page has opened.
//!
//! A [`LaterRoom`] is the page's side: a place, and what is shown there once the module is loaded. `room` is the module's
//! side. Each side has its own session; what crosses is the state that both know, as text, whenever it changes.

mod room;
mod telling;

pub use room::{close_room, open_room, tell_room};
pub(crate) use telling::Told;

use std::cell::RefCell;
use std::time::Duration;

use language::say;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::prelude::*;

use crate::later::telling::Wire;
use crate::session::Session;
use crate::speech::settled;

#[wasm_bindgen(inline_js = r#"
let module;
export async function load_later(settled) {
  // Beside the page, not beside this snippet: bindings are moved into a folder of their own.
  module ??= import(new URL("later/later.js", document.baseURI).href)
    .then(async (later) => { await later.default(); later.speak(...settled); return later; });
  try {
    return await module;
  } catch (error) {
    module = undefined;
    throw error;
  }
}
"#)]
extern "C" {
    #[derive(Clone)]
    type LaterModule;
    #[wasm_bindgen(catch)]
    async fn load_later(settled: JsValue) -> Result<JsValue, JsValue>;
    #[wasm_bindgen(method)]
    fn open_room(
        this: &LaterModule,
        room: &str,
        host: &web_sys::HtmlElement,
        state: &str,
        told: &Closure<dyn FnMut(String)>,
        left: &Closure<dyn FnMut()>,
    ) -> u32;
    #[wasm_bindgen(method, catch)]
    async fn photo_pixels(this: &LaterModule, number: f64) -> Result<JsValue, JsValue>;
    #[wasm_bindgen(method)]
    fn tell_room(this: &LaterModule, number: u32, told: &str);
    #[wasm_bindgen(method)]
    fn close_room(this: &LaterModule, number: u32);
}

/// What the later module shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Room {
    /// The Story screen.
    Story,
    /// Which shot of a film is being set up.
    OfShot,
    /// The Light screen.
    LightScreen,
    /// The Day screen.
    Day,
    /// The Kit screen.
    Kit,
    /// The Learn screen.
    Learn,
    /// The sheets of the chips.
    Who,
    Height,
    Side,
    Shape,
    Adapter,
    Place,
    Move,
    /// The sheet of what can be put on the set.
    Dress,
    /// What can be changed of the chosen one.
    Item,
    /// What the shot places, by steps.
    Steps,
    /// The light of the place.
    Light,
    /// The shot on larger cameras.
    LargerCameras,
    /// How the page looks and counts.
    Menu,
}

impl Room {
    const ALL: [(Self, &'static str); 19] = [
        (Self::Story, "story"),
        (Self::OfShot, "of-shot"),
        (Self::LightScreen, "light-screen"),
        (Self::Day, "day"),
        (Self::Kit, "kit"),
        (Self::Learn, "learn"),
        (Self::Who, "who"),
        (Self::Height, "height"),
        (Self::Side, "side"),
        (Self::Shape, "shape"),
        (Self::Adapter, "adapter"),
        (Self::Place, "place"),
        (Self::Move, "move"),
        (Self::Dress, "dress"),
        (Self::Item, "item"),
        (Self::Steps, "steps"),
        (Self::Light, "light"),
        (Self::LargerCameras, "larger-cameras"),
        (Self::Menu, "menu"),
    ];

    /// Its name at the door.
    fn name(self) -> &'static str {
        Self::ALL.iter().find(|(room, _)| *room == self).map_or("", |(_, name)| name)
    }

    /// Whether what is shown leads back by itself, beside opening sheets of its own; of all others, only their sheets are left.
    pub(crate) fn has_way_out(self) -> bool {
        matches!(self, Self::Story | Self::OfShot | Self::LightScreen | Self::Day)
    }

    /// The room of that name.
    fn named(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, one)| *one == name).map(|(room, _)| *room)
    }
}

/// The way from what is shown to the page's other screens, for those in whose context it is.
#[derive(Clone, Copy)]
pub(crate) struct WayOut(pub(crate) StoredValue<Box<dyn Fn()>, LocalStorage>);

/// How long after it has opened the page fetches the module by itself: chosen so that the first picture comes first.
const FETCHED_AFTER: Duration = Duration::from_secs(2);

/// Fetches the module before anybody asks for it.
pub(crate) fn fetch_later() {
    set_timeout(
        || {
            leptos::task::spawn_local(async {
                // Where there is no network now, the one who opens a room is told.
                drop(load_later(settled()).await);
            });
        },
        FETCHED_AFTER,
    );
}

/// The pixels of a photo of a place and its size, from the module that keeps them; none if this device does not have them.
#[expect(clippy::cast_precision_loss, reason = "photos are known by numbers that a float holds")]
pub(crate) async fn photo_pixels(number: u64) -> Option<((u32, u32), js_sys::ArrayBuffer)> {
    let module: LaterModule = load_later(settled()).await.ok()?.unchecked_into();
    let found: js_sys::Array = module.photo_pixels(number as f64).await.ok()?.dyn_into().ok()?;
    let rgba: js_sys::Uint8ClampedArray = found.get(0).dyn_into().ok()?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a width in pixels")]
    let width = found.get(1).as_f64()? as u32;
    let height = rgba.length() / 4 / width.max(1);
    Some(((width, height), rgba.buffer()))
}

/// What the page keeps of an open room.
struct Opened {
    module: LaterModule,
    number: u32,
    _told: Closure<dyn FnMut(String)>,
    _left: Closure<dyn FnMut()>,
}

impl Drop for Opened {
    fn drop(&mut self) {
        self.module.close_room(self.number);
    }
}

/// The page's side of one room.
#[derive(Clone, Copy)]
struct Door {
    session: Session,
    room: Room,
    host: NodeRef<html::Div>,
    left: Callback<()>,
    is_loading: RwSignal<bool>,
    has_failed: RwSignal<bool>,
    wire: StoredValue<RefCell<Wire>, LocalStorage>,
    opened: StoredValue<Option<Opened>, LocalStorage>,
}

impl Door {
    /// Loads the module, if it is not there yet, and opens the room.
    async fn open(self) {
        self.has_failed.set(false);
        self.is_loading.set(true);
        let module = load_later(settled()).await;
        // The user may have gone back before it came.
        let Some(node) = self.host.try_get_untracked().flatten() else { return };
        self.is_loading.set(false);
        let Ok(module) = module else {
            self.has_failed.set(true);
            return;
        };
        let module: LaterModule = module.unchecked_into();
        let hear = move |told: String| {
            self.wire.try_with_value(|wire| wire.borrow_mut().hear(self.session, &told));
        };
        let told = Closure::new(hear);
        // A sheet may say that it was closed after its place is gone.
        let left = Closure::new(move || {
            self.left.try_run(());
        });
        let state = untrack(|| self.session.shared());
        let number = module.open_room(self.room.name(), &node, &state, &told, &left);
        self.opened.set_value(Some(Opened { module, number, _told: told, _left: left }));
    }

    /// Tells the room what has changed.
    fn tell(self, told: &Told) {
        let text = self.wire.try_with_value(|wire| wire.borrow_mut().put(told)).flatten();
        self.opened.try_with_value(|opened| {
            if let (Some(opened), Some(text)) = (opened, text) {
                opened.module.tell_room(opened.number, &text);
            }
        });
    }
}

/// A place for a room, which is loaded when this is first shown.
#[component]
pub(crate) fn LaterRoom(
    session: Session,
    room: Room,
    /// What is done when a sheet has been left.
    #[prop(into)]
    left: Callback<()>,
) -> impl IntoView {
    let host = NodeRef::new();
    let (is_loading, has_failed) = (RwSignal::new(true), RwSignal::new(false));
    let door = Door {
        session,
        room,
        host,
        left,
        is_loading,
        has_failed,
        wire: StoredValue::new_local(RefCell::default()),
        opened: StoredValue::new_local(None),
    };
    let load = Callback::new(move |()| leptos::task::spawn_local(door.open()));
    Effect::new(move |before: Option<()>| {
        if before.is_none() {
            load.run(());
        }
    });
    telling::follow(session, Callback::new(move |told: Told| door.tell(&told)));
    on_cleanup(move || {
        let opened = door.opened.try_update_value(Option::take).flatten();
        // After what the room was just told has had its effects, which need the room's signals.
        set_timeout(move || drop(opened), Duration::ZERO);
    });
    view! {
        <Show when=move || is_loading.get()>
            <p class="quiet later-loading" role="status">{say!("Opening")}</p>
        </Show>
        <Show when=move || has_failed.get()>
            <div class="later-loading" role="alert">
                <p>{say!("This could not be loaded: the device seems to have no network. Nothing is lost; the rest \
                      goes on.")}</p>
                <button type="button" on:click=move |_| load.run(())>
                    {say!("Try again")}
                </button>
            </div>
        </Show>
        <div node_ref=host></div>
    }
}

/// A place for whichever sheet is asked for.
#[component]
pub(crate) fn LaterSheet(session: Session, asked: RwSignal<Option<Room>>) -> impl IntoView {
    move || {
        asked.get().map(|room| view! { <LaterRoom session room left=move |()| asked.set(None) /> }.into_any())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_room_is_found_by_its_name() {
        for (room, name) in Room::ALL {
            assert_eq!(Room::named(name), Some(room));
            assert_eq!(room.name(), name);
        }
    }
}
