//! The shots of a scene as a list with pictures: added, put in order by hand or keys, opened.

use std::sync::Arc;

use film::{Command, Entry, EntryId, SceneId, Shot, ShotId, ShotOf};
use glam::DVec2;
use language::say;
use leptos::html;
use leptos::prelude::*;
use staging::{ShotSize, Support};
use units::{Angle, Length};

use crate::dressing::THING_M;
use crate::films::Desk;
use crate::session::Session;
use crate::story::shot_row::ShotRow;
use crate::story::shot_sheet::ShotSheet;
use crate::story::{scene_of, tell};
use crate::widgets::open;

/// The list.
#[component]
pub(super) fn Shots(
    session: Session,
    desk: Desk,
    id: SceneId,
    chosen: RwSignal<Option<ShotId>>,
) -> impl IntoView {
    let scene = scene_of(desk, id);
    let sheet = NodeRef::<html::Dialog>::new();
    let edited = RwSignal::new(None::<ShotId>);
    let shots = Memo::new(move |_| {
        scene
            .with(|scene| {
                scene.as_ref().map(|scene| scene.shots.iter().map(|shot| shot.id).collect::<Vec<_>>())
            })
            .unwrap_or_default()
    });
    let edit = Callback::new(move |shot: ShotId| {
        chosen.set(Some(shot));
        edited.set(Some(shot));
        open(sheet);
    });
    let add = move |_| {
        if let Some(shot) = add_shot(desk, id, chosen.get_untracked()) {
            edit.run(shot);
        }
    };
    view! {
        <ol class="shots" aria-label=say!("The shots")>
            <For each=move || shots.get() key=|id| *id children=move |one| {
                view! { <ShotRow session desk scene_id=id scene one chosen edit /> }
            } />
        </ol>
        <button type="button" on:click=add>{say!("Add a shot")}</button>
        <ShotSheet session desk scene_id=id scene node=sheet edited />
    }
}

/// Adds a shot after the chosen one, and says which it is: of the first who is in the scene, from half their left or right.
fn add_shot(desk: Desk, id: SceneId, after: Option<ShotId>) -> Option<ShotId> {
    let (shot_id, entry_id): (ShotId, EntryId) = (desk.fresh(), desk.fresh());
    let command = desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        let scene = film.scene(id)?;
        let after = after.filter(|after| scene.shot(*after).is_some());
        let before = after.and_then(|after| scene.shot(after));
        let people =
            scene.blocking.people_at(&film.cast, scene.blocking.starts_s(before.and_then(|shot| shot.beat)));
        let beat = before.and_then(|shot| shot.beat);
        let shot = if let Some(one) = people.first() {
            let side = one.person.facing + Angle::from_deg(35.0);
            Shot { beat, ..Shot::of(shot_id, ShotOf::One(one.who), ShotSize::Medium, side) }
        } else {
            let (name, size) = (String::new(), Length::from_m(THING_M));
            let of =
                ShotOf::Object { name, size, place: DVec2::ZERO, support: Support::Table, hands: Vec::new() };
            Shot { beat, ..Shot::of(shot_id, of, ShotSize::Insert, Angle::from_deg(180.0)) }
        };
        film.adds_shot(id, after, Arc::new(shot), Entry::whole(entry_id, shot_id)).ok()
    })?;
    desk.change(say!("Add a shot"), None, command).is_ok().then_some(shot_id)
}

/// Takes a shot up again that was given up, as one step.
pub(crate) fn take_up(desk: Desk, shot: ShotId) {
    let entry: EntryId = desk.fresh();
    let taken = desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        let number = film.numbered(shot).unwrap_or_default();
        Some((number, film.takes_up_shot(shot, entry)))
    });
    if let Some((number, command)) = taken {
        let outcome = command.and_then(|command| desk.change(&say!("Take up {number} again"), None, command));
        desk.end_gesture();
        tell(desk, outcome);
    }
}

/// Moves a shot by so many places in its scene's list; the cut stays as it is.
pub(super) fn move_shot(desk: Desk, id: SceneId, shot: ShotId, by: isize) {
    let place = desk.film.with_untracked(|film| {
        let scene = film.as_ref()?.scene(id)?;
        let at = scene.shots.iter().position(|one| one.id == shot)?;
        at.checked_add_signed(by).filter(|to| *to < scene.shots.len())
    });
    if let Some(to) = place {
        tell(desk, desk.change(say!("Move a shot"), Some(shot.number()), Command::MoveShot { shot, to }));
    }
}
