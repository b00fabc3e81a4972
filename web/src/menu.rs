//! How the page looks and counts.

use language::{ClockFace, DecimalMark, Tongue, say};
use leptos::html;
use leptos::prelude::*;

use crate::offline::{Offline, Standing};
use crate::pictures::Grain;
use crate::session::{Session, Settings, Theme};
use crate::widgets::{Choice, Choices, LengthField, Sheet, live, when};

/// How the page looks and counts.
#[component]
pub(crate) fn Menu(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let themes = [
        Choice::new(Theme::System, say!("as the system")),
        Choice::new(Theme::Paper, say!("paper")),
        Choice::new(Theme::Studio, say!("studio")),
        Choice::new(Theme::Sun, say!("sun")),
    ];
    let grain = [
        Choice::new(Grain::Fine, say!(in "a picture's grain", "fine")),
        Choice::new(Grain::Coarse, say!("grainy, spares the battery")),
    ];
    let units = [Choice::new(false, say!("metres")), Choice::new(true, say!("feet"))];
    let as_browser = say!("as the browser");
    let tongues = std::iter::once(Choice::new(None, as_browser))
        .chain(Tongue::ALL.map(|tongue| Choice::new(Some(tongue), tongue.name())));
    let marks = [
        Choice::new(None, as_browser),
        Choice::new(Some(DecimalMark::Point), "1.5"),
        Choice::new(Some(DecimalMark::Comma), "1,5"),
    ];
    let faces = [
        Choice::new(None, as_browser),
        Choice::new(Some(ClockFace::TwentyFour), "14:05"),
        Choice::new(Some(ClockFace::Twelve), "2:05 pm"),
    ];
    view! {
        <Sheet node title=say!("Menu")>
            {setting(session, say!("Colours"), themes, |settings| &mut settings.theme)}
            {setting(session, say!("Pictures"), grain, |settings| &mut settings.grain)}
            {setting(session, say!("Language"), tongues, |settings| &mut settings.wish.tongue)}
            {setting(session, say!("Decimals"), marks, |settings| &mut settings.wish.mark)}
            {setting(session, say!("Clock"), faces, |settings| &mut settings.wish.face)}
            {setting(session, say!("Distances"), units, |settings| &mut settings.feet)}
            <LengthField
                label=say!("Your step")
                hint=say!("Walk ten steps, measure, divide by ten.")
                range=(0.2, 1.5)
                unit=Signal::derive(move || session.unit())
                value=Signal::derive(move || session.settings.with(|settings| settings.step_m))
                set=move |metres| session.settings.update(|settings| settings.step_m = metres)
            />
            <WithoutNetwork />
            <p class="quiet">
                {say!("Everything is computed in this page; photos and plans never leave this device. Distances and angles are \
                      figures of optics, with their uncertainty beside them; rules of framing are common practice and advise.")}
            </p>
        </Sheet>
    }
}

/// The choices for one of the settings.
fn setting<Value: PartialEq + Copy + Send + Sync + 'static>(
    session: Session,
    legend: &'static str,
    choices: impl IntoIterator<Item = Choice<Value>>,
    of: fn(&mut Settings) -> &mut Value,
) -> impl IntoView {
    let chosen = Signal::derive(move || *of(&mut session.settings.get()));
    let choose = move |value| session.settings.update(|settings| *of(settings) = value);
    view! { <Choices legend choices chosen choose /> }
}

/// How the page stands without a network, and the way to a new version.
#[component]
fn WithoutNetwork() -> impl IntoView {
    let offline = Offline::here();
    let use_now = move || {
        let click = move |_| offline.use_now();
        view! { <button type="button" class="next" on:click=click>{say!("Use it now")}</button> }.into_any()
    };
    view! {
        <p role="status">{live(move || offline.standing.with(Standing::words))}</p>
        {when(move || offline.standing.with(Standing::is_new), use_now)}
        <p class="quiet">{move || offline.keeping.get().words()}</p>
    }
}
