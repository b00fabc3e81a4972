//! What is held over all shots of a scene: each thing, to what it is set, and why; folded.

use film::{LockItem, LockList, LockWhat, SceneId, SunJump};
use language::say;
use leptos::prelude::*;

use super::explanations::WHITE_BALANCE;
use super::light_desk::LightDesk;
use crate::story::words::{capital, sentence_of};
use crate::widgets::{explained, finding_card, live, when};

/// The lock list of a scene.
#[component]
pub(super) fn LockListFold(light: LightDesk, scene: SceneId) -> impl IntoView {
    let is_open = RwSignal::new(false);
    let list = Memo::new(move |_| {
        light.desk().film.with(|film| {
            let film = film.as_ref()?;
            let scene = film.scene(scene)?;
            Some(LockList::of(film, scene, &light.lights_of(scene)))
        })
    });
    // As the order has them, wherever the hand is: so no move of it asks this again.
    let sun_jump = Memo::new(move |_| {
        let (plan, day) = (light.plan().get()?, light.day().get()?);
        light.shooting().daylights.with(|daylights| {
            light.desk().film.with(|film| {
                let film = film.as_ref()?;
                let jump = SunJump::of(film.scene(scene)?, &day, daylights, &plan)?;
                Some(jump.to_finding(film))
            })
        })
    });
    let found = move || {
        let found = list.with(|list| {
            light.desk().film.with(|film| {
                let (list, film) = (list.as_ref()?, film.as_ref()?);
                Some(list.findings.iter().map(|finding| finding.to_finding(film)).collect::<Vec<_>>())
            })
        });
        let found = found.into_iter().flatten().chain(sun_jump.get());
        found.map(|finding| finding_card(&finding, None)).collect_view()
    };
    let summary = live(move || {
        let balance = list.with(|list| {
            let items = list.as_ref()?.items.iter();
            items.clone().find(|item| item.what == LockWhat::WhiteBalance).map(|item| item.set_to.clone())
        });
        balance.map_or_else(
            || say!("Held over the scene").to_owned(),
            |kelvin| say!("Held over the scene: {kelvin}, focus and the rest"),
        )
    });
    view! {
        <details class="fold light-locks" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{summary}</summary>
            {when(move || is_open.get(), move || {
                let items = move || list.get().map(|list| list.items.into_iter().map(item).collect_view());
                view! { <dl>{items}</dl> }.into_any()
            })}
        </details>
        <ul class="findings">{found}</ul>
    }
}

fn item(item: LockItem) -> impl IntoView {
    let LockItem { what, set_to, why, can_be_set } = item;
    let cannot = (!can_be_set)
        .then(|| view! { <p class="light-cannot">{say!("This app does not let you set it.")}</p> });
    let name = capital(what.name());
    let label =
        if what == LockWhat::WhiteBalance { explained(name, &WHITE_BALANCE) } else { name.into_any() };
    view! {
        <div>
            <dt>{label}</dt>
            <dd>
                <p><strong>{set_to}</strong></p>
                <p class="quiet">{sentence_of(&why)}</p>
                {cannot}
            </dd>
        </div>
    }
}
