//! The page's frame: which screen is shown, the bar that changes it, and the menu.

use std::collections::BTreeSet;

use language::say;
use leptos::leptos_dom::helpers::location_hash;
use leptos::prelude::*;

use crate::draw::Palette;
use crate::lasting::strike_off_the_gone;
use crate::later::{LaterRoom, LaterSheet, Room, fetch_later};
use crate::pictures::Pictures;
use crate::session::{Screen, Session, Theme};
use crate::setup::SetupScreen;
use crate::turns::in_turn;

/// The page.
#[component]
pub(crate) fn App() -> impl IntoView {
    let session = Session::open();
    apply_theme(session);
    Pictures::provide(session);
    fetch_later();
    follow_links(session);
    let asked = RwSignal::new(None);
    // To make a screen takes longer than a frame: the door answers the tap at once, and the screen follows.
    let shown = in_turn(move || session.screen.get());
    // Each screen begins at its top, where its answer is; a page that is loaded anew stays where it was.
    Effect::new(move |before: Option<()>| {
        shown.track();
        strike_off_the_gone();
        if before.is_some() {
            window().scroll_to_with_x_and_y(0.0, 0.0);
        }
    });
    view! {
        // A file dropped beside the place for it would otherwise take the page's place.
        <div
            class="app"
            on:dragover=|event| event.prevent_default()
            on:drop=|event| event.prevent_default()
        >
            <Bar session asked />
            <Show when=move || !session.unsaved.with(BTreeSet::is_empty)>
                <p class="banner" role="alert">
                    {say!("This browser keeps nothing for this page (storage is full or not allowed). Your work is safe until \
                          the page is closed; export the kit from the Kit screen to keep it.")}
                </p>
            </Show>
            <main>
                {move || match room_of(shown.get()) {
                    None => view! { <SetupScreen session /> }.into_any(),
                    Some(room) => {
                        let left = move |()| {
                            if room.has_way_out() {
                                session.screen.set(Screen::Setup);
                            }
                        };
                        view! { <LaterRoom session room left /> }.into_any()
                    }
                }}
            </main>
            <LaterSheet session asked />
        </div>
    }
}

/// What the later module shows of a screen; nothing of Set-up, which is the page's own.
fn room_of(screen: Screen) -> Option<Room> {
    match screen {
        Screen::Setup => None,
        Screen::Story => Some(Room::Story),
        Screen::Light => Some(Room::LightScreen),
        Screen::Day => Some(Room::Day),
        Screen::Kit => Some(Room::Kit),
        Screen::Learn => Some(Room::Learn),
    }
}

/// The bar with the doors that are open, and the menu's.
#[component]
fn Bar(session: Session, asked: RwSignal<Option<Room>>) -> impl IntoView {
    let door = move |screen: Screen, name: &'static str| {
        view! {
            <button
                type="button"
                class="door"
                aria-current=move || (session.screen.get() == screen).then_some("page")
                on:click=move |_| session.screen.set(screen)
            >
                {name}
            </button>
        }
    };
    view! {
        <nav class="bar" aria-label=say!("Screens")>
            <span class="name" aria-hidden="true">"Tapemark"</span>
            {door(Screen::Story, say!("Story"))}
            {door(Screen::Setup, say!("Set-up"))}
            {door(Screen::Light, say!("Light"))}
            {door(Screen::Day, say!("Day"))}
            {door(Screen::Kit, say!("Kit"))}
            {door(Screen::Learn, say!("Learn"))}
            <button type="button" class="door" aria-haspopup="dialog" on:click=move |_| asked.set(Some(Room::Menu))>
                {say!("Menu")}
            </button>
        </nav>
    }
}

/// Goes to Story whenever the address brings a film, which Story opens, and to Learn when it brings a lesson or a task.
fn follow_links(session: Session) {
    let follow = move || {
        let hash = location_hash().unwrap_or_default();
        match hash.split('=').next() {
            Some("film") => session.screen.set(Screen::Story),
            Some("learn" | "task") => session.screen.set(Screen::Learn),
            Some(_) | None => {}
        }
    };
    follow();
    // For as long as the page.
    drop(window_event_listener_untyped("hashchange", move |_| follow()));
}

/// Puts the theme on the page's root and then reads its colours for the canvases.
pub(crate) fn apply_theme(session: Session) {
    Effect::new(move |_| {
        let theme = match session.settings.with(|settings| settings.theme) {
            Theme::System => "system",
            Theme::Paper => "paper",
            Theme::Studio => "studio",
            Theme::Sun => "sun",
        };
        let root = document().document_element();
        if root.is_some_and(|root| root.set_attribute("data-theme", theme).is_ok()) {
            read_palette(session);
        }
    });
}

/// Keeps the canvases' colours in step with a theme that somebody else puts on the root.
pub(crate) fn apply_palette(session: Session) {
    Effect::new(move |_| {
        session.settings.track();
        read_palette(session);
    });
}

/// Reads the theme's colours for the canvases, which have no other way to them.
fn read_palette(session: Session) {
    if let Some(palette) = Palette::current() {
        session.palette.set(palette);
    }
}
