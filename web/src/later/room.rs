//! The module's side of the door: shows rooms, and tells the page what changes in them.

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;

use leptos::html;
use leptos::mount::{UnmountHandle, mount_to};
use leptos::prelude::*;
use leptos::tachys::view::any_view::AnyViewState;
use wasm_bindgen::prelude::*;

use super::telling::{Told, Wire, follow};
use super::{Room, WayOut};
use crate::day::DayScreen;
use crate::json;
use crate::kit::KitScreen;
use crate::lasting::strike_off_the_gone;
use crate::learn::LearnScreen;
use crate::light::LightScreen;
use crate::menu::Menu;
use crate::scene::Scene;
use crate::session::Session;
use crate::setup::rooms;
use crate::story::{OfShotBar, StoryScreen, keep_in_step, keep_kit_in_step};
use crate::widgets::{SheetLeft, open};

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = reportError)]
    fn report_error(error: &JsValue);
}

/// A room that is shown.
struct Shown {
    number: u32,
    session: Session,
    wire: Rc<RefCell<Wire>>,
    _view: UnmountHandle<AnyViewState>,
}

thread_local! {
    static SHOWN: RefCell<Vec<Shown>> = const { RefCell::new(Vec::new()) };
    static NEXT: Cell<u32> = const { Cell::new(0) };
}

/// Shows a room in `host` and says its number; calls `told` with each change, and `left` when a sheet has been closed.
pub fn open_room(
    room: &str,
    host: web_sys::HtmlElement,
    state: &str,
    told: js_sys::Function,
    left: js_sys::Function,
) -> u32 {
    let number = NEXT.replace(NEXT.get().wrapping_add(1));
    let (Some(room), Some(shared)) = (Room::named(room), json::read(state)) else { return number };
    let wire = Rc::new(RefCell::new(Wire::default()));
    let (made, own_wire) = (Rc::new(Cell::new(None)), Rc::clone(&wire));
    let making = Rc::clone(&made);
    let view = mount_to(host, move || {
        let session = Session::of(shared);
        making.set(Some(session));
        crate::app::apply_palette(session);
        let left: StoredValue<Box<dyn Fn()>, LocalStorage> = StoredValue::new_local(Box::new(move || {
            call(left.call0(&JsValue::NULL));
        }));
        // What is shown beside the page's own things has a way out of its own, and may open sheets of its own.
        if room.has_way_out() {
            provide_context(WayOut(left));
        } else {
            provide_context(SheetLeft(left));
        }
        let wire = StoredValue::new_local(own_wire);
        let told = StoredValue::new_local(told);
        let tell = move |one: Told| {
            let text = wire.with_value(|wire| wire.borrow_mut().put(&one));
            if let Some(text) = text {
                told.with_value(|told| call(told.call1(&JsValue::NULL, &JsValue::from_str(&text))));
            }
        };
        follow(session, Callback::new(tell));
        show(session, room)
    });
    if let Some(session) = made.get() {
        SHOWN.with_borrow_mut(|shown| shown.push(Shown { number, session, wire, _view: view }));
    }
    number
}

/// Tells a room what has changed on the page.
pub fn tell_room(number: u32, told: &str) {
    let found = SHOWN.with_borrow(|shown| {
        let room = shown.iter().find(|shown| shown.number == number)?;
        Some((room.session, Rc::clone(&room.wire)))
    });
    if let Some((session, wire)) = found {
        wire.borrow_mut().hear(session, told);
    }
}

/// Takes a room away.
pub fn close_room(number: u32) {
    let gone = SHOWN.with_borrow_mut(|shown| {
        let at = shown.iter().position(|shown| shown.number == number)?;
        Some(shown.swap_remove(at))
    });
    drop(gone);
    strike_off_the_gone();
}

/// Where the page's own module failed in a call, the page has failed, and not the room: it is said as if nobody had called.
fn call(outcome: Result<JsValue, JsValue>) {
    if let Err(error) = outcome {
        report_error(&error);
    }
}

/// What a room holds; a sheet opens at once.
fn show(session: Session, room: Room) -> AnyView {
    let node = NodeRef::<html::Dialog>::new();
    Effect::new(move |_| {
        if node.get().is_some() {
            open(node);
        }
    });
    match room {
        Room::Story => {
            keep_in_step(session);
            view! { <StoryScreen session /> }.into_any()
        }
        Room::OfShot => view! { <OfShotBar session /> }.into_any(),
        Room::LightScreen => view! { <LightScreen session /> }.into_any(),
        Room::Day => view! { <DayScreen session /> }.into_any(),
        Room::Kit => {
            keep_kit_in_step(session);
            view! { <KitScreen session /> }.into_any()
        }
        Room::Learn => view! { <LearnScreen session /> }.into_any(),
        Room::Who => view! { <rooms::WhoSheet session node /> }.into_any(),
        Room::Height => view! { <rooms::HeightSheet session node /> }.into_any(),
        Room::Side => view! { <rooms::SideSheet session node /> }.into_any(),
        Room::Shape => view! { <rooms::ShapeSheet session node /> }.into_any(),
        Room::Adapter => view! { <rooms::AdapterSheet session node /> }.into_any(),
        Room::Place => view! { <rooms::PlaceSheet session node /> }.into_any(),
        Room::Move => view! { <rooms::MoveSheet session scene=scene(session) node /> }.into_any(),
        Room::Dress => view! { <rooms::DressSheet session scene=scene(session) node /> }.into_any(),
        Room::Item => view! { <rooms::ChosenItem session /> }.into_any(),
        Room::LargerCameras => view! { <rooms::LargerCameras session /> }.into_any(),
        Room::Light => view! { <rooms::LightSteps session /> }.into_any(),
        Room::Menu => view! { <Menu session node /> }.into_any(),
        Room::Steps => view! { <rooms::Steps session /> }.into_any(),
    }
}

/// The scene of the chosen setup.
fn scene(session: Session) -> Memo<Option<Arc<Scene>>> {
    Memo::new(move |_| Scene::chosen(session).map(Arc::new))
}
