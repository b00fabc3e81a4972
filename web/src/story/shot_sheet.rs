//! What can be said of a shot, in a sheet: what stands in the frame, how it is taken, what is heard, what it
//! asks of the day, how much it matters.

mod framing;
mod hands;
mod on_set;
mod taking;
mod whole;
mod whom;

use std::sync::Arc;

use film::{Command, Kit, Scene, SceneId, Shot, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;
use units::{Angle, LengthUnit};

use crate::films::Desk;
use crate::lasting::Lasting;
use crate::part::Part;
use crate::session::Session;
use crate::story::tell;
use crate::turns::in_turn;
use crate::widgets::Sheet;

/// A shot that is changed.
#[derive(Clone, Copy)]
struct Editing {
    kit: Lasting<Memo<Arc<Kit>>>,
    unit: Signal<LengthUnit>,
    desk: Desk,
    scene_id: SceneId,
    id: ShotId,
    shot: Memo<Option<Part<Shot>>>,
}

impl Editing {
    /// Something of the shot; `otherwise` while it is gone.
    fn read<Value>(self, read: impl Fn(&Shot) -> Value, otherwise: Value) -> Value {
        self.shot.with(|shot| shot.as_ref().map(|shot| read(shot))).unwrap_or(otherwise)
    }

    /// Which way whoever is in focus faces as the shot starts, clockwise from north; none of a thing.
    fn faces(self) -> Memo<Option<Angle>> {
        Memo::new(move |_| {
            self.desk.film.with(|film| {
                let film = film.as_ref()?;
                let scene = film.scene(self.scene_id)?;
                let shot = scene.shot(self.id)?;
                let who = shot.of.subject()?;
                let person = scene.blocking.person_of(&film.cast, who, scene.blocking.starts_s(shot.beat))?;
                Some(person.facing)
            })
        })
    }

    /// Changes the shot.
    fn change(self, what: &str, change: &dyn Fn(&mut Shot)) {
        let shot = self.shot.get_untracked();
        let Some(mut shot) = shot.map(|shot| Shot::clone(&shot)) else { return };
        change(&mut shot);
        tell(self.desk, self.desk.change(what, Some(self.id.number()), Command::SetShot(Arc::new(shot))));
    }
}

/// The sheet of the shot that is edited.
#[component]
pub(super) fn ShotSheet(
    session: Session,
    desk: Desk,
    scene_id: SceneId,
    scene: Memo<Option<Part<Scene>>>,
    node: NodeRef<html::Dialog>,
    edited: RwSignal<Option<ShotId>>,
) -> impl IntoView {
    let unit = Signal::derive(move || session.unit());
    // The sheet comes at once, and its fields a frame later.
    let due = in_turn(move || edited.get());
    let fields = move || {
        let shown = due.get().filter(|due| edited.get() == Some(*due));
        shown.map(|id| {
            let shot = Memo::new(move |_| scene.with(|scene| scene.as_ref()?.shot(id).cloned().map(Part)));
            let editing = Editing { kit: session.owned, unit, desk, scene_id, id, shot };
            view! {
                <whole::Action editing />
                <framing::Framing editing />
                <whom::Whom editing />
                <taking::Taking editing />
                <on_set::OnSet editing />
                <whole::Whole editing node edited />
            }
        })
    };
    view! {
        // What it still held when it is opened again would be laid out once more, for nothing.
        <Sheet node title=say!("The shot") left=move |()| edited.set(None)>{fields}</Sheet>
    }
}
