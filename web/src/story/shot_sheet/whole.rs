//! What happens in a shot, how long it is, how much it matters, and what can be done with all of it.

use std::sync::Arc;

use film::{CoverageWish, Entry, EntryId, Pace, Priority, SceneId, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;

use super::Editing;
use crate::story::{tell, words};
use crate::widgets::{Choice, Choices, StepField, close, live};

/// The longest that a shot is planned with the slider, seconds: longer ones are typed in a file; chosen as takes of a phone
/// film hardly last longer.
const LONGEST_S: f64 = 60.0;

/// What happens in it.
#[component]
pub(super) fn Action(editing: Editing) -> impl IntoView {
    let action = live(move || editing.read(|shot| shot.action.clone(), String::new()));
    view! {
        <label class="field">
            <span>{say!("What happens in it")}</span>
            <textarea rows="2" maxlength="1000" prop:value=action on:input:target=move |event| {
                let text = event.target().value();
                editing.change(say!("Change what happens in it"), &|shot| shot.action.clone_from(&text));
            }></textarea>
        </label>
    }
}

/// Seconds, beat, priority, notes; and duplicate, ask again, to another scene, drop.
#[component]
pub(super) fn Whole(
    editing: Editing,
    node: NodeRef<html::Dialog>,
    edited: RwSignal<Option<ShotId>>,
) -> impl IntoView {
    let planned_s = Signal::derive(move || editing.read(|shot| shot.planned_s, 1.0));
    let notes = live(move || editing.read(|shot| shot.notes.clone(), String::new()));
    let priority = Signal::derive(move || editing.read(|shot| shot.priority, Priority::MustHave));
    view! {
        <StepField
            label=say!("Planned")
            range=(0.5, LONGEST_S)
            step=0.5
            value=planned_s
            words=words::seconds
            set=move |seconds: f64| editing.change(say!("Change how long it is"), &|shot| shot.planned_s = seconds)
        />
        <Beat editing />
        <Choices
            legend=say!("The scene")
            choices=[
                Choice::new(Priority::MustHave, say!("cannot do without it")),
                Choice::new(Priority::NiceToHave, say!("can do without it")),
            ]
            chosen=priority
            choose=move |priority: Priority| {
                editing.change(say!("Change how much it matters"), &|shot| shot.priority = priority);
            }
        />
        <label class="field">
            <span>{say!("Notes")}</span>
            <textarea rows="2" maxlength="4000" prop:value=notes on:input:target=move |event| {
                let text = event.target().value();
                editing.change(say!("Change the notes"), &|shot| shot.notes.clone_from(&text));
            }></textarea>
        </label>
        <Doing editing node edited />
    }
}

/// The beat in which it starts.
#[component]
fn Beat(editing: Editing) -> impl IntoView {
    let beats = move || {
        editing
            .desk
            .film
            .with(|film| {
                let scene = film.as_ref()?.scene(editing.scene_id)?;
                let named = scene.blocking.beats.iter().enumerate().map(|(at, beat)| {
                    let what = if beat.what.is_empty() { say!("Beat {}", at + 1) } else { beat.what.clone() };
                    (beat.id, say!("{what}, at {}", words::seconds(beat.starts_s)))
                });
                Some(named.collect::<Vec<_>>())
            })
            .unwrap_or_default()
    };
    let has_several = Memo::new(move |_| beats().len() > 1);
    let options = move || {
        let chosen = editing.read(|shot| shot.beat, None);
        let option = |(at, (id, name)): (usize, (film::BeatId, String))| {
            let selected = chosen == Some(id) || (chosen.is_none() && at == 0);
            view! { <option value=id.number().to_string() prop:selected=selected>{name}</option> }
        };
        beats().into_iter().enumerate().map(option).collect_view()
    };
    view! {
        <Show when=move || has_several.get()>
            <label class="field">
                <span>{say!("Starts with")}</span>
                <select on:change:target=move |event| {
                    let beat = event.target().value().parse().ok().and_then(film::BeatId::new);
                    editing.change(say!("Change when it starts"), &|shot| shot.beat = beat);
                }>
                    {options}
                </select>
            </label>
        </Show>
    }
}

/// Duplicate, ask again, bring elsewhere, drop.
#[component]
fn Doing(editing: Editing, node: NodeRef<html::Dialog>, edited: RwSignal<Option<ShotId>>) -> impl IntoView {
    let Editing { desk, scene_id, id, .. } = editing;
    let variant = RwSignal::new(1_u32);
    let duplicate = move |_| {
        let (shot_id, entry_id): (ShotId, EntryId) = (desk.fresh(), desk.fresh());
        let command = desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            let copy = Arc::new(film.scene(scene_id)?.shot(id)?.known_by(shot_id));
            film.adds_shot(scene_id, Some(id), copy, Entry::whole(entry_id, shot_id)).ok()
        });
        if let Some(command) = command {
            tell(desk, desk.change(say!("Duplicate a shot"), None, command));
            edited.set(Some(shot_id));
        }
    };
    let ask_again = move |_| {
        let wish = CoverageWish { shots: 5, pace: Pace::Calm, variant: variant.get_untracked() };
        let again = desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            film::redraft(film, film.scene(scene_id)?, id, &wish, &mut desk.fresh_ids())
        });
        variant.update(|variant| *variant += 1);
        if let Some(shot) = again {
            tell(
                desk,
                desk.change(
                    say!("Ask for another shot"),
                    Some(id.number()),
                    film::Command::SetShot(Arc::new(shot.known_by(id))),
                ),
            );
        }
    };
    let drop_it = move |_| {
        let command = desk.film.with_untracked(|film| film.as_ref()?.removes_shot(id).ok());
        if let Some(command) = command {
            close(node);
            edited.set(None);
            tell(desk, desk.change(say!("Drop a shot"), None, command));
        }
    };
    let scenes = move || {
        desk.film
            .with(|film| {
                let film = film.as_ref()?;
                let others = film.scenes.iter().filter(|scene| scene.id != scene_id);
                Some(others.map(|scene| (scene.id, words::scene_name(film, scene))).collect::<Vec<_>>())
            })
            .unwrap_or_default()
    };
    let bring = move |to: SceneId| {
        let command = desk.film.with_untracked(|film| {
            film.as_ref()?.brings_shot(id, to, usize::MAX, &mut desk.fresh_ids()).ok()
        });
        if let Some(command) = command {
            close(node);
            edited.set(None);
            tell(desk, desk.change(say!("Bring a shot to another scene"), None, command));
        }
    };
    let has_others = Memo::new(move |_| !scenes().is_empty());
    view! {
        <div class="shot-doing">
            <button type="button" on:click=ask_again>{say!("Ask for another")}</button>
            <button type="button" on:click=duplicate>{say!("Duplicate")}</button>
            <button type="button" on:click=drop_it>{say!("Drop it")}</button>
        </div>
        <Show when=move || has_others.get()>
            <label class="field">
                <span>{say!("Bring it to")}</span>
                <select on:change:target=move |event| {
                    if let Some(to) = event.target().value().parse().ok().and_then(SceneId::new) {
                        bring(to);
                    }
                }>
                    <option value="">{say!("it stays in this scene")}</option>
                    {move || scenes().into_iter().map(|(id, name)| {
                        view! { <option value=id.number().to_string()>{name}</option> }
                    }).collect_view()}
                </select>
            </label>
        </Show>
    }
}
