//! The floor plan that can be dragged and looked at closer.

mod steps;
mod twin;

pub(crate) use steps::Steps;

use std::sync::Arc;

use glam::DVec3;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use requests::{ForegroundRequest, LightRequest, PieceWord, SunRequest};
use units::Angle;

use crate::canvas::{CanvasHost, Surface, WhileMoving, box_size};
use crate::draw::{Chosen, Handle, Looking, PlanOptions, PlanView, draw_plan};
use crate::dressing::{DRAG, Item, full_turn};
use crate::later::{LaterRoom, Room};
use crate::scene::{Scene, along};
use crate::session::{Plan, Session};
use crate::setup::dress::{Cautions, DressPanel, DressTools, LightFold};
use crate::setup::take::focus_on_place;
use crate::turns::said_in_turn;
use crate::widgets::when;

/// A drag under way.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Drag {
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
    /// The floor by two fingers: that point of it, how far they were apart in pixels, how close the view was.
    Pinched(DVec3, f64, f64),
}

/// A hand that moves less than this, in CSS pixels, means to choose and not to drag.
const STILL_PX: f64 = 4.0;
/// The closest and the widest look at the floor: chosen because beyond them there is nothing to see.
const CLOSER: (f64, f64) = (0.1, 12.0);
/// How much closer one press of a button goes.
pub(super) const CLOSER_STEP: f64 = 1.5;
/// Directions are dragged in steps of so many degrees: chosen because walls that are nearly square look like a mistake.
const TURN_STEP_DEG: f64 = 5.0;

/// The floor plan's canvas with what it shows and how it is looked at.
#[derive(Clone, Copy)]
pub(super) struct PlanDesk {
    pub(super) session: Session,
    node: NodeRef<html::Canvas>,
    /// The scene that is shown: the last one, where there is none now.
    scene: Memo<Option<Arc<Scene>>>,
    pub(super) looking: RwSignal<Looking>,
    drag: RwSignal<Option<Drag>>,
}

impl PlanDesk {
    /// The scene that is shown.
    pub(super) fn scene(self) -> Option<Arc<Scene>> {
        self.scene.get()
    }

    /// The canvas's size in CSS pixels, for a hand on it: to ask has the browser lay the page out, so drawing does not.
    fn size(self) -> Option<(f64, f64)> {
        let canvas = self.node.get_untracked()?;
        Some(box_size(&canvas))
    }

    /// The view that fits the scene on a canvas of that size.
    fn fit(self, size: (f64, f64)) -> Option<PlanView> {
        self.scene.get().map(|scene| PlanView::fitting(&scene, size))
    }

    /// The view that is shown on a canvas of that size.
    fn view_on(self, size: (f64, f64)) -> Option<PlanView> {
        if let Some(Drag::Held { view, .. }) = self.drag.get() {
            return Some(view);
        }
        Some(self.fit(size)?.looked_at(self.looking.get()))
    }

    /// The view that is shown.
    fn view(self) -> Option<PlanView> {
        self.view_on(self.size()?)
    }

    /// Looks so close that the floor point comes to lie at that point of the canvas.
    fn look(self, closer: f64, floor: DVec3, at: (f64, f64)) {
        let closer = closer.clamp(CLOSER.0, CLOSER.1);
        if let Some(fit) = untrack(|| self.fit(self.size()?)) {
            let centred = fit.looked_at(Looking { closer, aside: DVec3::ZERO });
            self.looking.set(Looking { closer, aside: floor - centred.to_floor(at) });
        }
    }

    /// Looks so many times closer at the chosen one, or at the subject: it comes to the middle.
    pub(super) fn look_closer(self, times: f64) {
        let chosen = untrack(|| self.chosen()).map_or(DVec3::ZERO, |chosen| chosen.place);
        if let Some(view) = untrack(|| self.view()) {
            self.look(self.looking.get_untracked().closer * times, chosen, view.middle_px());
        }
    }

    /// The chosen one as it is marked.
    fn chosen(self) -> Option<Chosen> {
        let item = self.session.selected()?;
        let scene = self.scene.get()?;
        self.session.plan.with(|plan| {
            let second = || scene.people().get(1).map(|person| person.place.extend(0.0));
            let of_the_shot = || scene.people().first().map(|person| person.place.extend(0.0));
            let place = match item {
                Item::Subject => of_the_shot(),
                Item::Second => second(),
                Item::Person(_) | Item::Piece(_) => plan.place(item),
            };
            let half_depth_m = match item {
                Item::Piece(at) => {
                    scene.set_pieces().get(at).map_or(0.0, |piece| piece.size.depth.to_m() / 2.0)
                }
                Item::Subject | Item::Second | Item::Person(_) => 0.0,
            };
            let facing = plan.faces_deg(item).map(Angle::from_deg);
            Some(Chosen { item, place: place?, facing, half_depth_m })
        })
    }

    fn handle_at(self, at: (f64, f64)) -> Option<Handle> {
        untrack(|| self.view()?.handle_at(&*self.scene.get()?, self.chosen().as_ref(), at))
    }

    fn draw(self, surface: &Surface) {
        let view = self.view_on((surface.width, surface.height));
        let (Some(scene), Some(view)) = (self.scene.get(), view) else { return };
        let items = self.session.plan.with(Plan::items);
        let options = PlanOptions { unit: self.session.unit(), chosen: self.chosen(), items: &items };
        self.session.palette.with(|palette| draw_plan(surface, palette, &scene, view, &options));
    }

    /// Takes hold of what is there.
    fn press(self, event: &ev::PointerEvent) {
        let at = place_of(event);
        let handle = self.handle_at(at);
        let Some(view) = untrack(|| self.view()) else { return };
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

    fn follow(self, event: &ev::PointerEvent) {
        let at = place_of(event);
        match self.drag.get_untracked() {
            Some(Drag::Held { handle, view, grip, from }) => {
                let is_still = from.is_some_and(|(x, y)| libm::hypot(at.0 - x, at.1 - y) < STILL_PX);
                if is_still {
                    return;
                }
                let floor = view.to_floor(at) + grip;
                self.move_held(handle, floor, view.sun_deg(at));
                // The subject is the plan's origin: the floor moves under the view instead.
                let view = if handle == Handle::Item(Item::Subject) { view.moved(-floor) } else { view };
                self.drag.set(Some(Drag::Held { handle, view, grip, from: None }));
            }
            Some(Drag::Floor(floor)) => self.look(self.looking.get_untracked().closer, floor, at),
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
                    plan.face(item, libm::round(degrees / TURN_STEP_DEG) * TURN_STEP_DEG);
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

    fn release(self) {
        self.session.dressing.end_change();
        // What was held and not moved was clicked: focus goes there.
        if let Some(Drag::Held { handle, from: Some(_), .. }) = self.drag.get_untracked()
            && let Some((place, scene)) = untrack(|| self.place(handle).zip(self.scene.get()))
        {
            focus_on_place(self.session, &scene, place);
        }
        self.drag.set(None);
    }

    /// Where the middle of the first two fingers is on the canvas, and how far they are apart.
    fn fingers(self, event: &ev::TouchEvent) -> Option<((f64, f64), f64)> {
        let touches = event.touches();
        let (one, other) = (touches.item(0)?, touches.item(1)?);
        let bounds = self.node.get_untracked()?.get_bounding_client_rect();
        let place = |touch: web_sys::Touch| {
            (f64::from(touch.client_x()) - bounds.left(), f64::from(touch.client_y()) - bounds.top())
        };
        let (one, other) = (place(one), place(other));
        let apart = libm::hypot(one.0 - other.0, one.1 - other.1).max(1.0);
        Some(((f64::midpoint(one.0, other.0), f64::midpoint(one.1, other.1)), apart))
    }

    /// A finger on a handle drags it, two fingers look closer; anything else scrolls the page.
    fn touch(self, event: &ev::TouchEvent) {
        let is_ours = if let Some((middle, apart)) = self.fingers(event) {
            if let Some(view) = untrack(|| self.view()) {
                let closer = self.looking.get_untracked().closer;
                self.drag.set(Some(Drag::Pinched(view.to_floor(middle), apart, closer)));
            }
            true
        } else {
            event.touches().item(0).zip(self.node.get_untracked()).is_some_and(|(touch, canvas)| {
                let bounds = canvas.get_bounding_client_rect();
                let at =
                    (f64::from(touch.client_x()) - bounds.left(), f64::from(touch.client_y()) - bounds.top());
                self.handle_at(at).is_some()
            })
        };
        if is_ours {
            event.prevent_default();
        }
    }

    fn pinch(self, event: &ev::TouchEvent) {
        if let Some(Drag::Pinched(floor, apart_before, closer)) = self.drag.get_untracked()
            && let Some((middle, apart)) = self.fingers(event)
        {
            event.prevent_default();
            self.look(closer * apart / apart_before, floor, middle);
        }
    }

    /// Two fingers on a touch pad come as a wheel with Control.
    fn wheel(self, event: &ev::WheelEvent) {
        if !event.ctrl_key() {
            return;
        }
        event.prevent_default();
        let at = (f64::from(event.offset_x()), f64::from(event.offset_y()));
        if let Some(view) = untrack(|| self.view()) {
            // Chosen because a notch of a wheel, 100 px, is then about a press of the button.
            let times = libm::exp(-event.delta_y() / 250.0);
            self.look(self.looking.get_untracked().closer * times, view.to_floor(at), at);
        }
    }
}

/// The floor plan, and everything that is done on it.
#[component]
pub(crate) fn PlanPanel(session: Session, scene: Memo<Option<Arc<Scene>>>) -> impl IntoView {
    let last = Memo::new(move |before: Option<&Option<Arc<Scene>>>| {
        scene.get().or_else(|| before.cloned().flatten())
    });
    let desk = PlanDesk {
        session,
        node: NodeRef::new(),
        scene: last,
        looking: RwSignal::new(Looking::FITTING),
        drag: RwSignal::new(None),
    };
    let shows_steps = RwSignal::new(false);
    let shows = Signal::derive(move || {
        last.track();
        desk.drag.track();
        desk.looking.track();
        session.selected();
        session.settings.track();
        session.palette.track();
    });
    let draw = move |surface: &Surface| desk.draw(surface);
    // A click on the bare floor lets go of what was chosen.
    let let_go = move |event: ev::MouseEvent| {
        if desk.handle_at((f64::from(event.offset_x()), f64::from(event.offset_y()))).is_none() {
            session.select(None);
        }
    };
    let label = said_in_turn(move || twin::twin(session, last.get().as_deref()));
    view! {
        <div class="plan-panel">
            <div
                class="plan-box"
                on:pointerdown=move |event| desk.press(&event)
                on:pointermove=move |event| desk.follow(&event)
                on:pointerup=move |_| desk.release()
                on:pointercancel=move |_| desk.release()
                on:touchstart=move |event| desk.touch(&event)
                on:touchmove=move |event| desk.pinch(&event)
                on:wheel=move |event| desk.wheel(&event)
                on:click=let_go
            >
                <CanvasHost node=desk.node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="plan" />
            </div>
            <DressTools desk />
            <Cautions desk />
            <DressPanel session />
            <p class="quiet">"Look before you step back: edges and traffic are not on this plan."</p>
            <LightFold session />
            <details class="fold" on:toggle:target=move |event| shows_steps.set(event.target().open())>
                <summary>"Move by steps"</summary>
                {when(move || shows_steps.get(), move || {
                    view! { <LaterRoom session room=Room::Steps left=|()| {} /> }.into_any()
                })}
            </details>
        </div>
    }
}

/// Where a pointer is on the canvas, in CSS pixels.
fn place_of(event: &ev::PointerEvent) -> (f64, f64) {
    (f64::from(event.offset_x()), f64::from(event.offset_y()))
}

/// Moves what the shot places, or the piece near the lens, to a floor point.
fn move_handle(plan: &mut Plan, scene: &Scene, handle: Handle, floor: DVec3) {
    let phone = DVec3::new(scene.phone.x, scene.phone.y, 0.0);
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
        let gap = |scene: &Scene| (scene.background - DVec3::new(scene.phone.x, scene.phone.y, 0.0)).length();
        assert!((gap(&before) - gap(&after)).abs() < 1e-9, "{} {}", gap(&before), gap(&after));
        assert!((before.phone.truncate().length() - after.phone.truncate().length() - 0.4).abs() < 1e-9);
    }
}
