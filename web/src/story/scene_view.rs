//! One scene of the film: its heading, its floor, its cut as a strip, its shots.

use film::{Command, SceneId, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::session::Session;
use crate::story::draft::DraftSheet;
use crate::story::facts::{FactsSheet, change_scene};
use crate::story::findings::{SceneFindings, found};
use crate::story::floor::SceneFloor;
use crate::story::near::WhenNear;
use crate::story::play::PlayScene;
use crate::story::shots::Shots;
use crate::story::strip::Strip;
use crate::story::{ShownScene, scene_of, tell, words};
use crate::widgets::{live, open, when};

/// One scene.
#[component]
pub(super) fn SceneView(session: Session, desk: Desk, id: SceneId) -> impl IntoView {
    provide_context(ShownScene(id, scene_of(desk, id)));
    let content = ViewFn::from(move || view! { <SceneBody session desk id /> }.into_any());
    let name = Memo::new(move |_| {
        let name = desk.film.with(|film| {
            let film = film.as_ref()?;
            Some(words::scene_name(film, film.scene(id)?))
        });
        name.unwrap_or_default()
    });
    view! {
        <section class="scene" aria-label=name>
            <SceneHead session desk id />
            <WhenNear class="scene-near" content />
        </section>
    }
}

/// Number, name and heading, and what can be done with the scene.
#[component]
fn SceneHead(session: Session, desk: Desk, id: SceneId) -> impl IntoView {
    let scene = scene_of(desk, id);
    let sheet = NodeRef::<html::Dialog>::new();
    let is_asked = RwSignal::new(false);
    let at = Memo::new(move |_| {
        desk.film
            .with(|film| film.as_ref().and_then(|film| film.scenes.iter().position(|scene| scene.id == id)))
    });
    let number = live(move || at.get().map_or_else(String::new, |at| (at + 1).to_string()));
    let title = live(move || {
        scene.with(|scene| scene.as_ref().map_or_else(String::new, |scene| scene.facts.title.clone()))
    });
    let heading = Memo::new(move |_| {
        let heading = desk.film.with(|film| {
            let film = film.as_ref()?;
            Some(words::heading(film, &film.scene(id)?.facts))
        });
        heading.unwrap_or_default()
    });
    let happens = live(move || {
        scene.with(|scene| scene.as_ref().map_or_else(String::new, |scene| scene.facts.happens.clone()))
    });
    let moved = move |by: isize| {
        if let Some(to) = at.get_untracked().and_then(|at| at.checked_add_signed(by)) {
            tell(
                desk,
                desk.change(say!("Move a scene"), Some(id.number()), Command::MoveScene { scene: id, to }),
            );
        }
    };
    let asks = move |_| {
        is_asked.set(true);
        open(sheet);
    };
    view! {
        <header class="scene-head">
            <span class="scene-number" aria-hidden="true">{number}</span>
            <input
                type="text"
                class="scene-title"
                aria-label=live(move || say!("Name of scene {}", number.get()))
                placeholder=say!("What is this scene called?")
                maxlength="200"
                prop:value=title
                on:input:target=move |event| {
                    let title = event.target().value();
                    tell(desk, change_scene(desk, id, say!("Name the scene"), |facts| facts.title = title));
                }
            />
            <button type="button" class="scene-heading" aria-haspopup="dialog" on:click=asks>{heading}</button>
            <p class="quiet scene-happens">{happens}</p>
            <details class="fold scene-more">
                <summary>{say!("More of this scene")}</summary>
                <div class="scene-more-buttons">
                    <button type="button" aria-haspopup="dialog" on:click=asks>{say!("What it is about")}</button>
                    <button type="button" on:click=move |_| moved(-1)>{say!("Earlier in the film")}</button>
                    <button type="button" on:click=move |_| moved(1)>{say!("Later in the film")}</button>
                    <button
                        type="button"
                        on:click=move |_| tell(desk, desk.change(say!("Remove a scene"), Some(id.number()), Command::RemoveScene(id)))
                    >
                        {say!("Remove the scene")}
                    </button>
                </div>
            </details>
            <FactsSheet session desk id node=sheet is_asked />
        </header>
    }
}

/// Floor, strip and shots.
#[component]
fn SceneBody(session: Session, desk: Desk, id: SceneId) -> impl IntoView {
    let scene = scene_of(desk, id);
    let chosen = RwSignal::new(None::<ShotId>);
    let draft = NodeRef::<html::Dialog>::new();
    let has_shots =
        Memo::new(move |_| scene.with(|scene| scene.as_ref().is_some_and(|scene| !scene.shots.is_empty())));
    let shot = Signal::derive(move || chosen.get());
    let found = found(desk, id);
    view! {
        <div class="scene-body">
            <div class="scene-floor">
                <SceneFloor session desk scene=id shot />
            </div>
            <div class="scene-shots">
                <div class="scene-tools">
                    <button
                        type="button"
                        class:next=move || !has_shots.get()
                        aria-haspopup="dialog"
                        on:click=move |_| open(draft)
                    >
                        {live(move || {
                            if has_shots.get() { say!("Propose more shots") } else { say!("Propose shots") }.to_owned()
                        })}
                    </button>
                    {when(move || has_shots.get(), move || view! { <PlayScene session desk id /> }.into_any())}
                </div>
                {when(move || has_shots.get(), move || view! {
                    <Strip desk id chosen found />
                    <SceneFindings session desk id found chosen />
                }.into_any())}
                <div class="scene-list">
                    <Shots session desk id chosen />
                </div>
            </div>
            <DraftSheet desk id node=draft />
        </div>
    }
}
