//! What can be said of a shot, in a sheet: what stands in the frame, how it is taken, what is heard, what it
//! asks of the day, how much it matters.

mod framing;
mod on_set;
mod taking;
mod whole;
mod whom;

use std::sync::Arc;

use film::{Command, Kit, Scene, SceneId, Shot, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;
use units::LengthUnit;

use crate::films::Desk;
use crate::part::Part;
use crate::session::Session;
use crate::story::tell;
use crate::widgets::Sheet;

/// A shot that is changed.
#[derive(Clone, Copy)]
struct Editing {
    kit: Memo<Arc<Kit>>,
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
    let fields = move || {
        edited.get().map(|id| {
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
        <Sheet node title=say!("The shot")>{fields}</Sheet>
    }
}
