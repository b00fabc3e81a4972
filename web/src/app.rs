//! The page's frame: which screen is shown, the bar that changes it, and the menu.

use std::collections::BTreeSet;

use leptos::html;
use leptos::prelude::*;

use crate::draw::Palette;
use crate::kit_door::KitDoor;
use crate::pictures::Pictures;
use crate::session::{Screen, Session, Theme};
use crate::setup::SetupScreen;
use crate::widgets::{Choice, Choices, LengthField, Sheet};

/// The page.
#[component]
pub(crate) fn App() -> impl IntoView {
    let session = Session::open();
    apply_theme(session);
    Pictures::provide();
    let menu = NodeRef::<html::Dialog>::new();
    view! {
        // A file dropped beside the place for it would otherwise take the page's place.
        <div
            class="app"
            on:dragover=|event| event.prevent_default()
            on:drop=|event| event.prevent_default()
        >
            <Bar session menu />
            <Show when=move || !session.unsaved.with(BTreeSet::is_empty)>
                <p class="banner" role="alert">
                    "This browser keeps nothing for this page (storage is full or not allowed). Your work is safe until "
                    "the page is closed; export the kit from the Kit screen to keep it."
                </p>
            </Show>
            <main>
                {move || match session.screen.get() {
                    Screen::Setup => view! { <SetupScreen session /> }.into_any(),
                    Screen::Kit => view! { <KitDoor session /> }.into_any(),
                }}
            </main>
            <Menu session menu />
        </div>
    }
}

/// The bar with the doors that are open, and the menu's.
#[component]
fn Bar(session: Session, menu: NodeRef<html::Dialog>) -> impl IntoView {
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
        <nav class="bar" aria-label="Screens">
            <span class="name" aria-hidden="true">"Tapemark"</span>
            {door(Screen::Setup, "Set-up")}
            {door(Screen::Kit, "Kit")}
            <button type="button" class="door" aria-haspopup="dialog" on:click=move |_| crate::widgets::open(menu)>
                "Menu"
            </button>
        </nav>
    }
}

/// How the page looks and counts.
#[component]
fn Menu(session: Session, menu: NodeRef<html::Dialog>) -> impl IntoView {
    let themes = [
        Choice::new(Theme::System, "as the system"),
        Choice::new(Theme::Paper, "paper"),
        Choice::new(Theme::Studio, "studio"),
        Choice::new(Theme::Sun, "sun"),
    ];
    let units = [Choice::new(false, "metres"), Choice::new(true, "feet")];
    view! {
        <Sheet node=menu title="Menu">
            <Choices
                legend="Colours"
                choices=themes
                chosen=Signal::derive(move || session.settings.with(|settings| settings.theme))
                choose=move |theme| session.settings.update(|settings| settings.theme = theme)
            />
            <Choices
                legend="Distances"
                choices=units
                chosen=Signal::derive(move || session.settings.with(|settings| settings.feet))
                choose=move |feet| session.settings.update(|settings| settings.feet = feet)
            />
            <LengthField
                label="Your step"
                hint="Walk ten steps, measure, divide by ten."
                range=(0.2, 1.5)
                unit=Signal::derive(move || session.unit())
                value=Signal::derive(move || session.settings.with(|settings| settings.step_m))
                set=move |metres| session.settings.update(|settings| settings.step_m = metres)
            />
            <p class="quiet">
                "Everything is computed in this page; photos and plans never leave this device. Distances and angles are "
                "figures of optics, with their uncertainty beside them; rules of framing are common practice and advise."
            </p>
        </Sheet>
    }
}

/// Puts the theme on the page's root and then reads its colours for the canvases.
fn apply_theme(session: Session) {
    Effect::new(move |_| {
        let theme = match session.settings.with(|settings| settings.theme) {
            Theme::System => "system",
            Theme::Paper => "paper",
            Theme::Studio => "studio",
            Theme::Sun => "sun",
        };
        let root = document().document_element();
        // Read after the attribute is set, so that the colours are the new theme's; a canvas has no other way to them.
        if root.is_some_and(|root| root.set_attribute("data-theme", theme).is_ok())
            && let Some(palette) = Palette::current()
        {
            session.palette.set(palette);
        }
    });
}
