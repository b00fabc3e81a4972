//! The floor of a scene: where people stand, walk and look, where walls, props and pieces are, and, beat by beat, the line.

mod blocking_edit;
mod draw;
mod hand;
mod in_sun;
mod north;
mod panel;
mod shown;
mod thing;
mod twin;

pub(crate) use in_sun::FloorInSun;

use std::sync::Arc;

use film::{BeatId, Command, Film, PersonId, Scene, SceneBlocking, SceneId, ShotId};
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;

use crate::canvas::{CanvasHost, Surface, WhileMoving};
use crate::draw::{Looking, Palette};
use crate::films::Desk;
use crate::part::{Part, Shooting};
use crate::pointing::LookedAt as _;
use crate::session::Session;
use blocking_edit::Refusal;
use hand::Hand;
use shown::Shown;
use thing::Thing;

/// A scene's floor with what is chosen on it and how it is looked at.
#[derive(Clone, Copy)]
struct FloorDesk {
    desk: Desk,
    /// What is shown; none once the scene is gone.
    shown: Memo<Option<Part<Shown>>>,
    /// What is chosen; it may be gone from the scene.
    chosen: RwSignal<Option<Thing>>,
    /// The beat that was asked for, and the shot that was chosen then: another shot shows its own beat.
    asked: RwSignal<Option<(Option<ShotId>, BeatId)>>,
    /// Who walks to wherever the floor is tapped.
    walker: RwSignal<Option<PersonId>>,
    /// Why the last change was not made.
    refused: RwSignal<String>,
    node: NodeRef<html::Canvas>,
    looking: RwSignal<Looking>,
    hand: RwSignal<Hand>,
}

/// What the floor of a scene is made from. Two are the same if their parts are the same ones.
#[derive(Debug, Clone)]
struct Source {
    film: Film,
    scene: Arc<Scene>,
}

impl PartialEq for Source {
    fn eq(&self, other: &Self) -> bool {
        let (one, two) = (&self.film, &other.film);
        Arc::ptr_eq(&self.scene, &other.scene)
            && Arc::ptr_eq(&one.cast, &two.cast)
            && Arc::ptr_eq(&one.kit, &two.kit)
            && Arc::ptr_eq(&one.places, &two.places)
            && Shooting(Arc::clone(&one.facts)) == Shooting(Arc::clone(&two.facts))
    }
}

impl FloorDesk {
    fn new(desk: Desk, scene: SceneId, shot: Signal<Option<ShotId>>) -> Self {
        let asked = RwSignal::new(None::<(Option<ShotId>, BeatId)>);
        let source = Memo::new(move |_| {
            desk.film.with(|film| {
                let film = film.as_ref()?;
                Some(Source { film: film.clone(), scene: Arc::clone(film.scene(scene)?) })
            })
        });
        let shown = Memo::new(move |_| {
            let shot = shot.get();
            let asked = asked.get().filter(|(then, _)| *then == shot);
            source.with(|source| {
                let Source { film, scene } = source.as_ref()?;
                let own = || shot.and_then(|id| scene.shot(id)?.beat);
                let beat = asked.map(|(_, beat)| beat).or_else(own);
                let shown = Shown::of(film, scene, beat, shot, &|shot| desk.rehearsal(film, scene, shot));
                Some(Part(Arc::new(shown)))
            })
        });
        Self {
            desk,
            shown,
            chosen: RwSignal::new(None),
            asked,
            walker: RwSignal::new(None),
            refused: RwSignal::new(String::new()),
            node: NodeRef::new(),
            looking: RwSignal::new(Looking::FITTING),
            hand: RwSignal::new(Hand::default()),
        }
    }

    /// What is chosen, as long as it is there.
    fn chosen(self) -> Option<Thing> {
        let chosen = self.chosen.get()?;
        self.of_shown(|shown| chosen.is_in(&shown.scene.blocking)).unwrap_or(false).then_some(chosen)
    }

    /// Chooses something, or nothing.
    fn choose(self, thing: Option<Thing>) {
        if self.chosen.get_untracked() != thing {
            self.chosen.set(thing);
        }
        let walker = self.walker.get_untracked();
        if walker.is_some() && walker != thing.and_then(Thing::person) {
            self.walker.set(None);
        }
        self.refuse(String::new());
        self.desk.end_gesture();
    }

    /// Chooses what has just come, if it has.
    fn choose_if_there(self, thing: Thing) {
        if self.of_shown_now(|shown| thing.is_in(&shown.scene.blocking)).unwrap_or(false) {
            self.choose(Some(thing));
        }
    }

    /// Shows the scene as it is when that beat starts, and chooses the beat.
    fn show_beat(self, beat: BeatId) {
        self.asked.set(Some((self.of_shown_now(|shown| shown.shot).flatten(), beat)));
        self.choose(Some(Thing::Beat(beat)));
    }

    /// Something about what is shown.
    fn of_shown<Told>(self, tell: impl FnOnce(&Shown) -> Told) -> Option<Told> {
        self.shown.with(|shown| shown.as_deref().map(tell))
    }

    /// The same, without being told again when it changes.
    fn of_shown_now<Told>(self, tell: impl FnOnce(&Shown) -> Told) -> Option<Told> {
        untrack(|| self.of_shown(tell))
    }

    /// Changes the blocking of the scene, under a name that says what is done to the thing of that name.
    fn change(
        self,
        what: fn(&str) -> String,
        thing: Thing,
        edit: &dyn Fn(&Shown) -> Result<SceneBlocking, Refusal>,
    ) {
        let name = self.of_shown_now(|shown| thing.name(&shown.film, &shown.scene.blocking));
        self.change_as(&what(&name.unwrap_or_default()), thing, edit);
    }

    /// The same under that name.
    fn change_as(self, name: &str, thing: Thing, edit: &dyn Fn(&Shown) -> Result<SceneBlocking, Refusal>) {
        self.change_blocking(name, Some(thing.target()), edit);
    }

    /// The same whatever it is done to.
    fn change_blocking(
        self,
        name: &str,
        target: Option<u64>,
        edit: &dyn Fn(&Shown) -> Result<SceneBlocking, Refusal>,
    ) {
        let edited = self.of_shown_now(|shown| {
            let sets = |blocking: SceneBlocking| {
                let is_other = blocking != *shown.scene.blocking;
                let scene = shown.scene.id;
                is_other.then(|| Command::SetBlocking { scene, blocking: Arc::new(blocking) })
            };
            edit(shown).map(sets)
        });
        match edited {
            Some(Ok(Some(command))) => self.make(name, target, command),
            Some(Ok(None)) | None => {}
            Some(Err(refusal)) => self.refuse(refusal.to_string()),
        }
    }

    /// Makes a change at the desk, and says why if it is not made.
    fn make(self, name: &str, target: Option<u64>, command: Command) {
        let outcome = self.desk.change(name, target, command);
        self.refuse(outcome.err().map_or_else(String::new, |error| error.to_string()));
    }

    fn refuse(self, why: String) {
        if self.refused.with_untracked(|before| *before != why) {
            self.refused.set(why);
        }
    }

    /// Takes what is chosen away.
    fn remove(self, thing: Thing) {
        self.change(|name| say!("Remove {name}"), thing, &|shown| thing.remove(&shown.film, &shown.scene));
        if self.of_shown_now(|shown| !thing.is_in(&shown.scene.blocking)).unwrap_or(true) {
            self.chosen.set(None);
            self.walker.set(None);
        }
        self.desk.end_gesture();
    }

    fn draw(self, surface: &Surface, palette: &Palette) {
        let view = self.view_on((surface.width, surface.height));
        if let (Some(shown), Some(view)) = (self.shown.get(), view) {
            draw::draw_floor(surface, palette, &shown, view, self.chosen());
        }
    }
}

/// The floor of a scene, and everything that is done on it.
#[component]
pub(crate) fn SceneFloor(
    session: Session,
    desk: Desk,
    scene: SceneId,
    /// The shot whose view is drawn.
    shot: Signal<Option<ShotId>>,
) -> impl IntoView {
    let floor = FloorDesk::new(desk, scene, shot);
    let shows = Signal::derive(move || {
        floor.shown.track();
        floor.hand.track();
        floor.looking.track();
        floor.chosen.track();
        session.palette.track();
    });
    let draw = move |surface: &Surface| session.palette.with(|palette| floor.draw(surface, palette));
    let label =
        Signal::derive(move || floor.of_shown(|shown| twin::twin(shown, session.unit())).unwrap_or_default());
    let keys = say!(
        "Floor plan. Arrow keys move what is chosen by 10 cm, with Shift by 1 m; brackets turn it; Delete removes it."
    );
    view! {
        <div class="floor" on:keydown=move |event: ev::KeyboardEvent| floor.key(&event)>
            <div
                class="plan-box"
                role="group"
                tabindex="0"
                aria-label=keys
                on:pointerdown=move |event| floor.press(&event)
                on:pointermove=move |event| floor.follow(&event)
                on:pointerup=move |_| floor.release()
                on:pointercancel=move |_| floor.release()
                on:touchstart=move |event| floor.touch(&event)
                on:touchmove=move |event| floor.pinch(&event)
                on:wheel=move |event| floor.wheel(&event)
                on:click=move |event| floor.click(&event)
            >
                <CanvasHost
                    node=floor.node
                    shows
                    draw=Box::new(draw)
                    while_moving=WhileMoving::Follows
                    label
                    class="plan floor-plan"
                />
            </div>
            <panel::Panel session floor />
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use blocking_edit::tests::two;

    #[test]
    fn a_floor_is_another_one_when_a_place_is() {
        let (film, scene) = two();
        let one = Source { film, scene: Arc::new(scene) };
        let mut other = one.clone();
        assert_eq!(one, other);
        other.film.places = Arc::from([]);
        assert_ne!(one, other);
    }
}
