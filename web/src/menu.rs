//! How the page looks and counts.

use leptos::html;
use leptos::prelude::*;

use crate::offline::{Offline, Standing};
use crate::pictures::Grain;
use crate::session::{Session, Theme};
use crate::widgets::{Choice, Choices, LengthField, Sheet, live, when};

/// How the page looks and counts.
#[component]
pub(crate) fn Menu(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let themes = [
        Choice::new(Theme::System, "as the system"),
        Choice::new(Theme::Paper, "paper"),
        Choice::new(Theme::Studio, "studio"),
        Choice::new(Theme::Sun, "sun"),
    ];
    let grain = [Choice::new(Grain::Fine, "fine"), Choice::new(Grain::Coarse, "grainy, spares the battery")];
    let units = [Choice::new(false, "metres"), Choice::new(true, "feet")];
    view! {
        <Sheet node title="Menu">
            <Choices
                legend="Colours"
                choices=themes
                chosen=Signal::derive(move || session.settings.with(|settings| settings.theme))
                choose=move |theme| session.settings.update(|settings| settings.theme = theme)
            />
            <Choices
                legend="Pictures"
                choices=grain
                chosen=Signal::derive(move || session.settings.with(|settings| settings.grain))
                choose=move |grain| session.settings.update(|settings| settings.grain = grain)
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
            <WithoutNetwork />
            <p class="quiet">
                "Everything is computed in this page; photos and plans never leave this device. Distances and angles are "
                "figures of optics, with their uncertainty beside them; rules of framing are common practice and advise."
            </p>
        </Sheet>
    }
}

/// How the page stands without a network, and the way to a new version.
#[component]
fn WithoutNetwork() -> impl IntoView {
    let offline = Offline::here();
    let use_now = move || {
        let click = move |_| offline.use_now();
        view! { <button type="button" class="next" on:click=click>"Use it now"</button> }.into_any()
    };
    view! {
        <p role="status">{live(move || offline.standing.with(Standing::words))}</p>
        {when(move || offline.standing.with(Standing::is_new), use_now)}
        <p class="quiet">{move || offline.keeping.get().words()}</p>
    }
}
