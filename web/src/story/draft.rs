//! A first draft of a scene's shots: how many, calm or restless, and asked for again until it is liked.

use film::{CoverageWish, Pace, SceneId};
use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::story::{scene_of, tell};
use crate::widgets::{Choice, Choices, Sheet, StepField, close, live};

/// Shots that are proposed where nothing else is asked for: common practice has three to eight in a scene.
const USUAL_SHOTS: f64 = 5.0;

/// The sheet that asks for a draft.
#[component]
pub(super) fn DraftSheet(desk: Desk, id: SceneId, node: NodeRef<html::Dialog>) -> impl IntoView {
    let scene = scene_of(desk, id);
    let shots = RwSignal::new(USUAL_SHOTS);
    let pace = RwSignal::new(Pace::Calm);
    let variant = RwSignal::new(0_u32);
    let has_shots =
        Memo::new(move |_| scene.with(|scene| scene.as_ref().is_some_and(|scene| !scene.shots.is_empty())));
    let draft = move |replaces: bool| {
        let drafted = desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            let scene = film.scene(id)?;
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "3 to 12")]
            let count = shots.get_untracked() as usize;
            let wish =
                CoverageWish { shots: count, pace: pace.get_untracked(), variant: variant.get_untracked() };
            let draft = film::draft(film, scene, &wish, &mut desk.fresh_ids());
            Some(if replaces { draft.replaces(scene) } else { draft.appends(scene) })
        });
        // The next one is another.
        variant.update(|variant| *variant += 1);
        if let Some(command) = drafted {
            tell(desk, desk.change(say!("Propose shots"), Some(id.number()), command));
        }
    };
    view! {
        <Sheet node title=say!("Propose shots")>
            <p class="quiet">
                {say!(
                    "From who is in the scene and where: sizes, sides and heights that differ, one side of the line, \
                     and only what your lenses can do. Change, drop or ask again for any of them."
                )}
            </p>
            <StepField
                label=say!("How many")
                range=(3.0, 12.0)
                step=1.0
                value=shots.into()
                words=|count: f64| say!("{count:.0} shots")
                set=move |count: f64| shots.set(libm::round(count))
            />
            <Choices
                legend=say!("How it feels")
                choices=[Choice::new(Pace::Calm, say!("calm")), Choice::new(Pace::Restless, say!("restless"))]
                chosen=pace.into()
                choose=move |chosen| pace.set(chosen)
            />
            <div class="draft-buttons">
                <button type="button" class="next" on:click=move |_| {
                    draft(true);
                    close(node);
                }>
                    {live(move || {
                        if has_shots.get() { say!("Propose in their place") } else { say!("Propose") }.to_owned()
                    })}
                </button>
                <Show when=move || has_shots.get()>
                    <button type="button" on:click=move |_| {
                        draft(false);
                        close(node);
                    }>
                        {say!("Add to what is there")}
                    </button>
                </Show>
            </div>
        </Sheet>
    }
}
