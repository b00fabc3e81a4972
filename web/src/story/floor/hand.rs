//! What a hand does on a scene's floor: drags, taps, presses keys.

use glam::{DVec2, DVec3};
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use staging::Light;
use units::Angle;

use super::FloorDesk;
use super::blocking_edit::{azimuth, set_light, set_north, walks_to};
use super::north::direction_of;
use super::shown::Handle;
use super::thing::Thing;
use crate::draw::{Looking, PlanView};
use crate::pointing::{self, LookedAt, Pinch, in_turn_steps, is_still};

/// What a hand is doing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Hand {
    drag: Option<Drag>,
    /// Whether it has moved since it was put down, so that its click means nothing.
    has_moved: bool,
}

/// A drag under way.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Drag {
    /// Something is held.
    Held {
        handle: Handle,
        /// The view that the drag started in, which stays until it ends.
        view: PlanView,
        /// From where it was taken hold of to its own place.
        grip: DVec2,
        /// Where the drag started on the canvas; none once it has moved.
        from: Option<(f64, f64)>,
    },
    /// The floor itself, by that point; where the drag started on the canvas.
    Floor(DVec3, (f64, f64)),
    /// The floor by two fingers.
    Pinched(Pinch),
}

/// How far a key or a button turns, degrees: chosen because a smaller turn of somebody is hardly seen.
pub(super) const TURN_KEY_DEG: f64 = 15.0;
/// How far a key or a button moves, metres, and how far with Shift.
pub(super) const MOVE_M: f64 = 0.1;
const FAR_MOVE_M: f64 = 1.0;

impl LookedAt for FloorDesk {
    fn node(self) -> NodeRef<html::Canvas> {
        self.node
    }

    fn looking(self) -> RwSignal<Looking> {
        self.looking
    }

    fn fit(self, size: (f64, f64)) -> Option<PlanView> {
        self.of_shown(|shown| shown.fit(size))
    }

    fn held_view(self) -> Option<PlanView> {
        let Some(Drag::Held { view, .. }) = self.hand.get().drag else { return None };
        Some(view)
    }

    fn has_handle_at(self, at: pointing::At) -> bool {
        self.handle_at(at).is_some()
    }

    fn pinched(self) -> Option<Pinch> {
        let Some(Drag::Pinched(pinch)) = self.hand.get_untracked().drag else { return None };
        Some(pinch)
    }

    fn begin_pinch(self, pinch: Pinch) {
        self.hand.set(Hand { drag: Some(Drag::Pinched(pinch)), has_moved: true });
    }
}

impl FloorDesk {
    /// Looks so many times closer at what is chosen, or at the middle: it comes to the middle.
    pub(super) fn look_closer(self, times: f64) {
        let Some(view) = self.view() else { return };
        let chosen = untrack(|| {
            let chosen = self.chosen()?;
            self.of_shown(|shown| chosen.place(&shown.scene.blocking, shown.seconds)).flatten()
        });
        let floor = chosen.map_or_else(|| view.to_floor(view.middle_px()), |place| place.extend(0.0));
        self.look(times, floor, view.middle_px());
    }

    fn handle_at(self, at: (f64, f64)) -> Option<Handle> {
        untrack(|| {
            let (view, chosen) = (self.view()?, self.chosen());
            self.of_shown(|shown| shown.handle_at(view, chosen, at)).flatten()
        })
    }

    /// Takes hold of what is there.
    pub(super) fn press(self, event: &ev::PointerEvent) {
        if self.hand.get_untracked() != Hand::default() {
            self.hand.set(Hand::default());
        }
        let at = pointing::of_pointer(event);
        let handle = self.handle_at(at);
        let Some(view) = self.view() else { return };
        // A finger on the bare floor scrolls the page; a mouse has a wheel for that.
        if handle.is_none() && event.pointer_type() != "mouse" {
            return;
        }
        let floor = view.to_floor(at);
        let drag = match handle {
            Some(handle) => {
                let place = self.place_of(handle).unwrap_or(floor.truncate());
                Drag::Held { handle, view, grip: place - floor.truncate(), from: Some(at) }
            }
            None => Drag::Floor(floor, at),
        };
        if let Some(canvas) = self.node.get_untracked() {
            // Refused only for a pointer that is gone already, and then there is nothing to drag.
            if canvas.set_pointer_capture(event.pointer_id()).is_ok() {
                if let Some(Handle::Thing(thing)) = handle {
                    self.choose(Some(thing));
                }
                self.desk.end_gesture();
                self.desk.begin_gesture();
                self.hand.set(Hand { drag: Some(drag), has_moved: false });
            }
        }
    }

    fn place_of(self, handle: Handle) -> Option<DVec2> {
        match handle {
            Handle::Thing(thing) => {
                self.of_shown_now(|shown| thing.place(&shown.scene.blocking, shown.seconds)).flatten()
            }
            Handle::Turn(_) | Handle::Sun | Handle::North => None,
        }
    }

    pub(super) fn follow(self, event: &ev::PointerEvent) {
        let at = pointing::of_pointer(event);
        match self.hand.get_untracked().drag {
            Some(Drag::Held { handle, view, grip, from }) => {
                if from.is_some_and(|from| is_still(from, at)) {
                    return;
                }
                self.move_held(handle, view.to_floor(at).truncate() + grip, (view, at));
                let drag = Some(Drag::Held { handle, view, grip, from: None });
                self.hand.set(Hand { drag, has_moved: true });
            }
            Some(Drag::Floor(floor, from)) => {
                if !is_still(from, at) {
                    self.hand.update_untracked(|hand| hand.has_moved = true);
                }
                self.look(1.0, floor, at);
            }
            Some(Drag::Pinched(..)) | None => {}
        }
    }

    /// Moves what is held to a floor point, or sun and north to the direction of a point of the canvas.
    fn move_held(self, handle: Handle, floor: DVec2, (view, at): (PlanView, (f64, f64))) {
        match handle {
            Handle::Thing(thing) => self.put(thing, floor),
            Handle::Turn(thing) => self.change(|name| say!("Turn {name}"), thing, &|shown| {
                let place = thing.place(&shown.scene.blocking, shown.seconds).unwrap_or(floor);
                let degrees = azimuth(floor - place).to_deg();
                Ok(thing.face(&shown.scene.blocking, in_steps(degrees)))
            }),
            Handle::North => self.change_north(&|_| in_steps(direction_of(at).to_deg())),
            Handle::Sun => self.change_light(&|light| match light {
                Light::Sun { elevation, .. } => {
                    Light::Sun { azimuth: Angle::from_deg(libm::round(view.sun_deg(at))), elevation }
                }
                Light::Overcast | Light::Dusk => light,
            }),
        }
    }

    /// Changes the light of the scene.
    pub(super) fn change_light(self, change: &dyn Fn(Light) -> Light) {
        self.change_blocking(say!("Change the light"), None, &|shown| {
            let blocking = &*shown.scene.blocking;
            Ok(set_light(blocking, change(blocking.light)))
        });
    }

    /// Where the earth's north is on the floor.
    pub(super) fn north(self) -> Angle {
        self.of_shown(|shown| shown.scene.blocking.north).unwrap_or(Angle::ZERO)
    }

    /// Turns the earth's north on the floor.
    pub(super) fn change_north(self, change: &dyn Fn(Angle) -> Angle) {
        self.change_blocking(say!("Turn north"), None, &|shown| {
            let blocking = &*shown.scene.blocking;
            Ok(set_north(blocking, change(blocking.north)))
        });
    }

    /// Puts something down elsewhere.
    fn put(self, thing: Thing, to: DVec2) {
        self.change(|name| say!("Move {name}"), thing, &|shown| {
            Ok(thing.put(&shown.scene.blocking, shown.seconds, to))
        });
    }

    /// Moves something by so many metres east and north.
    pub(super) fn nudge(self, thing: Thing, by: DVec2) {
        if let Some(place) = self.place_of(Handle::Thing(thing)) {
            self.put(thing, place + by);
        }
    }

    /// Turns something by so many degrees, clockwise.
    pub(super) fn turn(self, thing: Thing, by_deg: f64) {
        self.change(|name| say!("Turn {name}"), thing, &|shown| {
            let blocking = &shown.scene.blocking;
            let turned = thing
                .facing(&shown.film, blocking, shown.seconds)
                .map(|facing| thing.face(blocking, facing + Angle::from_deg(by_deg)));
            Ok(turned.unwrap_or_else(|| film::SceneBlocking::clone(blocking)))
        });
    }

    pub(super) fn release(self) {
        if self.hand.get_untracked().drag.is_some() {
            self.desk.end_gesture();
            self.hand.update(|hand| hand.drag = None);
        }
    }

    /// Has the walker come to where the floor was tapped, or lets go of what was chosen.
    pub(super) fn click(self, event: &ev::MouseEvent) {
        let at = pointing::of_pointer(event);
        if self.hand.get_untracked().has_moved || self.handle_at(at).is_some() {
            return;
        }
        let Some(view) = self.view() else { return };
        match self.walker.get_untracked() {
            Some(who) => self.change(|name| say!("Change the way of {name}"), Thing::Person(who), &|shown| {
                walks_to(&shown.scene.blocking, who, shown.seconds, view.to_floor(at).truncate())
            }),
            None => self.choose(None),
        }
        self.desk.end_gesture();
    }

    /// Keys move, turn and remove what is chosen; those that are typed into a field are the field's.
    pub(super) fn key(self, event: &ev::KeyboardEvent) {
        let Some(chosen) = untrack(|| self.chosen()) else { return };
        if event.ctrl_key() || event.alt_key() || event.meta_key() || is_typed(event) {
            return;
        }
        let step = if event.shift_key() { FAR_MOVE_M } else { MOVE_M };
        match event.key().as_str() {
            "ArrowLeft" => self.nudge(chosen, DVec2::X * -step),
            "ArrowRight" => self.nudge(chosen, DVec2::X * step),
            "ArrowUp" => self.nudge(chosen, DVec2::Y * step),
            "ArrowDown" => self.nudge(chosen, DVec2::Y * -step),
            "[" => self.turn(chosen, -TURN_KEY_DEG),
            "]" => self.turn(chosen, TURN_KEY_DEG),
            "Delete" | "Backspace" => self.remove(chosen),
            "Escape" => self.choose(None),
            _ => return,
        }
        event.prevent_default();
    }
}

/// The nearest direction that a drag can give.
fn in_steps(degrees: f64) -> Angle {
    Angle::from_deg(in_turn_steps(degrees))
}

/// Whether a key goes to something that takes keys itself.
fn is_typed(event: &ev::KeyboardEvent) -> bool {
    use wasm_bindgen::JsCast as _;
    let element = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    element.is_some_and(|element| ["INPUT", "SELECT", "TEXTAREA"].contains(&element.tag_name().as_str()))
}
