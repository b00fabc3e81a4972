//! The cut of a scene as a strip of pictures, each as long as its seconds.

use std::collections::BTreeSet;
use std::sync::Arc;

use film::{Command, Entry, EntryId, Scene, SceneId, Shot, ShotId};
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::part::{Part, Shooting};
use crate::pictures::{Look, PictureCanvas, Rank, Standing};
use crate::story::cut_entry::EntryPanel;
use crate::story::findings::Found;
use crate::story::{scene_of, tell, words};
use crate::widgets::{live, when};

/// CSS pixels that a second is wide, beyond what every entry has: chosen so that four seconds make a picture that reads.
const SECOND_PX: f64 = 26.0;
/// The narrowest entry.
const LEAST_PX: f64 = 72.0;
/// The widest: chosen so that one long take does not hide what follows.
const MOST_PX: f64 = 300.0;

/// One entry with its shot, and the shot's number in the scene.
pub(super) type Shown = (Entry, Part<Shot>, usize);

/// An entry of a scene's cut, with its shot.
pub(super) fn entry_of(scene: Memo<Option<Part<Scene>>>, id: EntryId) -> Memo<Option<Shown>> {
    Memo::new(move |_| {
        scene.with(|scene| {
            let scene = scene.as_ref()?;
            let entry = *scene.cut.iter().find(|entry| entry.id == id)?;
            let at = scene.shots.iter().position(|shot| shot.id == entry.shot)?;
            Some((entry, Part(Arc::clone(scene.shots.get(at)?)), at + 1))
        })
    })
}

/// The look of a shot, that many seconds into it.
pub(crate) fn look(desk: Desk, scene: SceneId, shot: ShotId, at_s: f64) -> Option<Look> {
    desk.film.with(|film| {
        let film = film.as_ref()?;
        let scene = film.scene(scene)?;
        let shot = scene.shot(shot)?;
        let rehearsal = desk.rehearsal(film, scene, shot);
        let rehearsal = rehearsal.as_ref().as_ref().ok()?;
        let stage = rehearsal.pictured(film, scene, at_s)?;
        Some(Look::of(&stage, film.facts.aspect.to_f64()))
    })
}

/// What a look at a shot depends on: told when one of these is another.
pub(crate) fn depends(
    desk: Desk,
    scene: Memo<Option<Part<Scene>>>,
    shot: Signal<Option<Part<Shot>>>,
) -> Signal<()> {
    let parts = Memo::new(move |_| {
        let film = desk.film.with(|film| {
            let film = film.as_ref()?;
            Some((
                Shooting(Arc::clone(&film.facts)),
                Part(Arc::clone(&film.kit)),
                Part(Arc::clone(&film.cast)),
            ))
        });
        let blocking = scene.with(|scene| {
            let scene = scene.as_ref()?;
            Some((Part(Arc::clone(&scene.blocking)), Part(Arc::clone(&scene.facts))))
        });
        (film, blocking, shot.get())
    });
    // Read and not only tracked: a memo that nobody reads is never made, and so never tells.
    Signal::derive(move || drop(parts.get()))
}

/// The strip, and below it what can be changed of the entry that is chosen.
#[component]
pub(super) fn Strip(
    desk: Desk,
    id: SceneId,
    chosen: RwSignal<Option<ShotId>>,
    found: Memo<Found>,
) -> impl IntoView {
    let scene = scene_of(desk, id);
    let entry = RwSignal::new(None::<EntryId>);
    let entries = Memo::new(move |_| {
        scene
            .with(|scene| {
                scene.as_ref().map(|scene| scene.cut.iter().map(|entry| entry.id).collect::<Vec<_>>())
            })
            .unwrap_or_default()
    });
    let is_there = move |one: EntryId| entries.with(|entries| entries.contains(&one));
    let cuts = Memo::new(move |_| found.with(Found::cuts));
    let move_chosen = move |by: isize| {
        let cut =
            scene.with_untracked(|scene| scene.as_ref().map(|scene| scene.cut.clone())).unwrap_or_default();
        let Some(at) = cut.iter().position(|one| Some(one.id) == entry.get_untracked()) else { return };
        if let Some(next) = at.checked_add_signed(by).and_then(|to| cut.get(to)) {
            entry.set(Some(next.id));
            chosen.set(Some(next.shot));
        }
    };
    view! {
        <ol
            class="strip"
            aria-label=say!("The cut")
            on:keydown=move |event| match event.key().as_str() {
                "ArrowLeft" if event.alt_key() => {
                    event.prevent_default();
                    shift_entry(desk, id, entry.get_untracked(), -1);
                }
                "ArrowRight" if event.alt_key() => {
                    event.prevent_default();
                    shift_entry(desk, id, entry.get_untracked(), 1);
                }
                "ArrowLeft" => move_chosen(-1),
                "ArrowRight" => move_chosen(1),
                _ => {}
            }
        >
            <For each=move || entries.get() key=|id| *id children=move |one| {
                view! { <StripEntry desk scene_id=id scene one entry chosen cuts /> }
            } />
        </ol>
        {when(move || entry.get().is_some_and(is_there), move || view! { <EntryPanel desk id scene entry /> }.into_any())}
    }
}

/// Moves an entry of the cut by so many places.
pub(super) fn shift_entry(desk: Desk, id: SceneId, entry: Option<EntryId>, by: isize) {
    let cut = desk.film.with_untracked(|film| Some(film.as_ref()?.scene(id)?.cut.clone()));
    let Some(mut cut) = cut else { return };
    let Some(from) = cut.iter().position(|one| Some(one.id) == entry) else { return };
    let Some(to) = from.checked_add_signed(by).filter(|to| *to < cut.len()) else { return };
    let moved = cut.remove(from);
    cut.insert(to, moved);
    tell(desk, desk.change(say!("Move in the cut"), Some(id.number()), Command::SetCut { scene: id, cut }));
}

/// One entry.
#[component]
fn StripEntry(
    desk: Desk,
    scene_id: SceneId,
    scene: Memo<Option<Part<Scene>>>,
    one: EntryId,
    entry: RwSignal<Option<EntryId>>,
    chosen: RwSignal<Option<ShotId>>,
    cuts: Memo<BTreeSet<EntryId>>,
) -> impl IntoView {
    let shown = entry_of(scene, one);
    let shot = Signal::derive(move || shown.with(|shown| shown.as_ref().map(|(_, shot, _)| shot.clone())));
    let seconds = move || {
        shown.with(|shown| {
            shown.as_ref().map_or(0.0, |(entry, shot, _)| {
                let (from_s, to_s) = entry.stretch_of(shot);
                to_s - from_s
            })
        })
    };
    let width = move || format!("{:.0}px", (LEAST_PX + seconds() * SECOND_PX).min(MOST_PX));
    let label = live(move || {
        shown
            .with(|shown| {
                let (_, shot, number) = shown.as_ref()?;
                let words = desk.film.with(|film| Some(words::shot(film.as_ref()?, shot)))?;
                Some(say!("Shot {number}: {words}, {}", words::seconds(seconds())))
            })
            .unwrap_or_default()
    });
    let caption = live(move || {
        shown.with(|shown| {
            shown.as_ref().map_or_else(String::new, |(_, shot, number)| {
                format!("{number} {}", language::text(shot.size.name()))
            })
        })
    });
    let shows = depends(desk, scene, shot);
    let looks = Signal::derive(move || {
        shows.get();
        shown.track();
    });
    let look = Signal::derive(move || {
        let (shot, at_s) = shown.with(|shown| {
            let (entry, shot, _) = shown.as_ref()?;
            Some((shot.id, entry.stretch_of(shot).0))
        })?;
        look(desk, scene_id, shot, at_s)
    });
    let standing = RwSignal::new(Standing::Waiting);
    let is_chosen = move || entry.get() == Some(one);
    let press = move |_| {
        let was = entry.get_untracked() == Some(one);
        entry.set((!was).then_some(one));
        chosen.set(shown.with_untracked(|shown| shown.as_ref().map(|(entry, ..)| entry.shot)));
    };
    let does_not_cut = move || cuts.with(|cuts| cuts.contains(&one));
    view! {
        <li class="strip-entry" class:uncut=does_not_cut style:width=width>
            <button type="button" aria-label=label aria-pressed=live(move || is_chosen().to_string()) on:click=press>
                <span class="strip-frame" aria-hidden="true">
                    <PictureCanvas rank=Rank::Small shows=looks look standing class="strip-canvas" />
                </span>
                <span class="strip-caption" aria-hidden="true">
                    <span>{caption}</span>
                    <span>{live(move || words::seconds(seconds()))}</span>
                </span>
            </button>
        </li>
    }
}
