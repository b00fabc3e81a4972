//! A hand on the floor plan: what it takes hold of follows it.

use glam::DVec3;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use requests::{ForegroundRequest, LightRequest, PieceWord, SunRequest};
use units::Angle;

use super::PlanDesk;
use crate::draw::{Handle, Looking, PlanView};
use crate::dressing::{DRAG, Item, full_turn};
use crate::pointing::{self, LookedAt, Pinch, in_turn_steps, is_still};
use crate::scene::{Scene, along};
use crate::session::Plan;
use crate::setup::take::focus_on_place;

/// A drag under way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Drag {
    /// Something is held.
    Held {
        handle: Handle,
        /// The view that the drag started in, which stays until it ends.
        view: PlanView,
        /// From where it was taken hold of to its own place.
        grip: DVec3,
        /// Where the drag started on the canvas; none once it has moved.
        from: Option<(f64, f64)>,
    },
    /// The floor itself, by that point.
    Floor(DVec3),
    /// The floor by two fingers.
    Pinched(Pinch),
}

impl LookedAt for PlanDesk {
    fn node(self) -> NodeRef<html::Canvas> {
        self.node
    }

    fn looking(self) -> RwSignal<Looking> {
        self.looking
    }

    fn fit(self, size: (f64, f64)) -> Option<PlanView> {
        self.scene.get().map(|scene| PlanView::fitting(&scene, size))
    }

    fn held_view(self) -> Option<PlanView> {
        let Some(Drag::Held { view, .. }) = self.drag.get() else { return None };
        Some(view)
    }

    fn has_handle_at(self, at: pointing::At) -> bool {
        self.handle_at(at).is_some()
    }

    fn pinched(self) -> Option<Pinch> {
        let Some(Drag::Pinched(pinch)) = self.drag.get_untracked() else { return None };
        Some(pinch)
    }

    fn begin_pinch(self, pinch: Pinch) {
        self.drag.set(Some(Drag::Pinched(pinch)));
    }
}

impl PlanDesk {
    /// What a hand at that place of the canvas means.
    pub(super) fn handle_at(self, at: (f64, f64)) -> Option<Handle> {
        untrack(|| self.view()?.handle_at(&*self.scene.get()?, self.chosen().as_ref(), at))
    }

    /// Takes hold of what is there.
    pub(super) fn press(self, event: &ev::PointerEvent) {
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
                let place = untrack(|| self.place(handle)).unwrap_or(floor);
                Drag::Held { handle, view, grip: place - floor, from: Some(at) }
            }
            None => Drag::Floor(floor),
        };
        if let Some(canvas) = self.node.get_untracked() {
            // Refused only for a pointer that is gone already, and then there is nothing to drag.
            if canvas.set_pointer_capture(event.pointer_id()).is_ok() {
                if let Some(Handle::Item(item)) = handle {
                    self.session.select(Some(item));
                }
                self.session.dressing.end_change();
                self.drag.set(Some(drag));
            }
        }
    }

    fn place(self, handle: Handle) -> Option<DVec3> {
        let scene = self.scene.get()?;
        match handle {
            Handle::Phone => Some(scene.phone.with_z(0.0)),
            Handle::Foreground => scene.foreground,
            Handle::Background => Some(scene.background),
            Handle::Item(item) => self.session.plan.with(|plan| plan.place(item)),
            Handle::Turn(_) | Handle::Sun => None,
        }
    }

    pub(super) fn follow(self, event: &ev::PointerEvent) {
        let at = pointing::of_pointer(event);
        match self.drag.get_untracked() {
            Some(Drag::Held { handle, view, grip, from }) => {
                if from.is_some_and(|from| is_still(from, at)) {
                    return;
                }
                let floor = view.to_floor(at) + grip;
                self.move_held(handle, floor, view.sun_deg(at));
                // The subject is the plan's origin: the floor moves under the view instead.
                let view = if handle == Handle::Item(Item::Subject) { view.moved(-floor) } else { view };
                self.drag.set(Some(Drag::Held { handle, view, grip, from: None }));
            }
            Some(Drag::Floor(floor)) => self.look(1.0, floor, at),
            Some(Drag::Pinched(..)) | None => {}
        }
    }

    /// Moves what is held to a floor point, or the sun to a direction.
    fn move_held(self, handle: Handle, floor: DVec3, sun_deg: f64) {
        let Some(scene) = self.scene.get_untracked() else { return };
        let session = self.session;
        match handle {
            Handle::Phone | Handle::Background => {
                session.plan.update(|plan| move_handle(plan, &scene, handle, floor));
            }
            Handle::Item(Item::Subject) => {
                session.plan.update(|plan| move_handle(plan, &scene, handle, floor));
                session.shift_set(-floor);
            }
            Handle::Foreground => {
                session.change_set(None, DRAG, &|plan| move_handle(plan, &scene, handle, floor));
            }
            Handle::Item(item) => session.change_set(Some(item), DRAG, &|plan| plan.put(item, floor)),
            Handle::Turn(item) => session.change_set(Some(item), DRAG, &|plan| {
                if let Some(place) = plan.place(item) {
                    let way = floor - place;
                    let degrees = Angle::from_components(way.x, way.y).to_deg();
                    plan.face(item, in_turn_steps(degrees));
                }
            }),
            Handle::Sun => session.change_set(None, DRAG, &|plan| {
                if let LightRequest::Sun(sun) = plan.light() {
                    let azimuth_deg = libm::round(full_turn(sun_deg));
                    plan.set_mut().light = Some(LightRequest::Sun(SunRequest { azimuth_deg, ..sun }));
                }
            }),
        }
    }

    pub(super) fn release(self) {
        // What was held and not moved was clicked: focus goes there.
        if let Some(Drag::Held { handle, from: Some(_), .. }) = self.drag.get_untracked()
            && let Some((place, scene)) = untrack(|| self.place(handle).zip(self.scene.get()))
        {
            focus_on_place(self.session, &scene, place);
        }
        self.cancel();
    }

    /// Ends a drag that nobody finished: where it has come to stays.
    pub(super) fn cancel(self) {
        self.session.dressing.end_change();
        self.drag.set(None);
    }
}

/// Moves what the shot places, or the piece near the lens, to a floor point.
fn move_handle(plan: &mut Plan, scene: &Scene, handle: Handle, floor: DVec3) {
    let phone = scene.phone.with_z(0.0);
    let ahead = along(scene.azimuth);
    match handle {
        Handle::Phone => place_phone(plan, floor),
        Handle::Background => {
            plan.shot.background_behind_subject_m = floor.dot(ahead).clamp(0.2, 1000.0);
        }
        Handle::Foreground => {
            let from_phone = floor - phone;
            let kind = plan.set().and_then(|set| set.foreground).map_or(PieceWord::Plant, |piece| piece.kind);
            plan.set_mut().foreground = Some(ForegroundRequest {
                kind,
                ahead_m: from_phone.dot(ahead).clamp(0.1, 100.0),
                right_m: from_phone.dot(scene.camera.right()).clamp(-50.0, 50.0),
            });
        }
        Handle::Item(_) | Handle::Turn(_) | Handle::Sun => {
            let background_ahead = (scene.background - phone).dot(ahead);
            place_phone(plan, phone - floor);
            let left = background_ahead - (floor - phone).dot(ahead);
            plan.shot.background_behind_subject_m = left.clamp(0.2, 1000.0);
        }
    }
}

/// Puts the phone at a floor point, seen from the subject; there it stays until a size is asked for.
fn place_phone(plan: &mut Plan, floor: DVec3) {
    plan.turn_phone(Angle::from_components(floor.x, floor.y).to_deg());
    plan.shot.stand_at_m = Some(libm::hypot(floor.x, floor.y).clamp(0.1, 1000.0));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::scene_of as scene;

    #[test]
    fn a_phone_dragged_to_the_right_stands_east_of_them() {
        let mut plan = Plan::first();
        place_phone(&mut plan, DVec3::new(2.0, 0.0, 0.0));
        assert!((plan.phone_bearing_deg - 90.0).abs() < 1e-9, "{plan:?}");
        assert_eq!(plan.shot.stand_at_m, Some(2.0));
    }

    #[test]
    fn a_subject_dragged_towards_the_phone_leaves_phone_and_background_in_place() {
        let mut plan = Plan::first();
        let before = scene(&plan);
        let towards = along(before.azimuth) * -0.4;
        move_handle(&mut plan, &before, Handle::Item(Item::Subject), towards);
        let after = scene(&plan);
        let gap = |scene: &Scene| (scene.background - scene.phone.with_z(0.0)).length();
        assert!((gap(&before) - gap(&after)).abs() < 1e-9, "{} {}", gap(&before), gap(&after));
        assert!((before.phone.truncate().length() - after.phone.truncate().length() - 0.4).abs() < 1e-9);
    }
}
