//! The floor plan that can be dragged, and the steps that do the same.

use std::sync::Arc;

use glam::DVec3;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use units::Angle;

use crate::canvas::{CanvasHost, WhileMoving};
use crate::draw::{Handle, PlanView, draw_plan};
use crate::scene::{Scene, along};
use crate::session::{Foreground, Plan, Session};
use crate::setup::words;
use crate::widgets::StepField;

/// A drag under way: what is dragged, and the view that it started in, which stays until it ends.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Drag {
    handle: Handle,
    view: PlanView,
}

/// The floor plan.
#[component]
pub(crate) fn PlanPanel(session: Session, scene: Memo<Option<Arc<Scene>>>) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let drag = RwSignal::new(None::<Drag>);
    let last = Memo::new(move |before: Option<&Option<Arc<Scene>>>| {
        scene.get().or_else(|| before.cloned().flatten())
    });
    let view_of = move |size: (f64, f64), scene: &Scene| {
        drag.get().map_or_else(|| PlanView::fitting(scene, size), |drag| drag.view)
    };
    let shows = Signal::derive(move || {
        last.track();
        drag.track();
        session.settings.track();
        session.palette.track();
    });
    let draw = move |surface: &crate::canvas::Surface| {
        let Some(scene) = last.get() else { return };
        let view = view_of((surface.width, surface.height), &scene);
        session.palette.with(|palette| draw_plan(surface, palette, &scene, view, session.unit()));
    };
    let handle_at = move |at: (f64, f64)| {
        let scene = last.get_untracked()?;
        let canvas = node.get_untracked()?;
        let view =
            PlanView::fitting(&scene, (f64::from(canvas.client_width()), f64::from(canvas.client_height())));
        Some(Drag { handle: view.handle_at(&scene, at)?, view })
    };
    let press = move |event: ev::PointerEvent| {
        let Some(started) = handle_at(place_of(&event)) else { return };
        if let Some(canvas) = node.get_untracked() {
            // Refused only for a pointer that is gone already, and then there is nothing to drag.
            if canvas.set_pointer_capture(event.pointer_id()).is_ok() {
                drag.set(Some(started));
            }
        }
    };
    let follow = move |event: ev::PointerEvent| {
        let (Some(Drag { handle, view }), Some(scene)) = (drag.get_untracked(), last.get_untracked()) else {
            return;
        };
        let floor = view.to_floor(place_of(&event));
        session.plan.update(|plan| move_handle(plan, &scene, handle, floor));
        if handle == Handle::Subject {
            // The subject is the plan's origin: the floor moves under the view instead.
            drag.set(Some(Drag { handle, view: view.moved(-floor) }));
        }
    };
    let release = move |_: ev::PointerEvent| drag.set(None);
    // A finger on a handle drags it; anywhere else it scrolls the page.
    let hold_still = move |event: ev::TouchEvent| {
        let on_handle = event.touches().item(0).zip(node.get_untracked()).and_then(|(touch, canvas)| {
            let bounds = canvas.get_bounding_client_rect();
            handle_at((
                f64::from(touch.client_x()) - bounds.left(),
                f64::from(touch.client_y()) - bounds.top(),
            ))
        });
        if on_handle.is_some() {
            event.prevent_default();
        }
    };
    let label = Signal::derive(move || twin(session, last.get().as_deref()));
    view! {
        <div class="plan-panel">
            <div
                class="plan-box"
                on:pointerdown=press
                on:pointermove=follow
                on:pointerup=release
                on:pointercancel=release
                on:touchstart=hold_still
            >
                <CanvasHost node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="plan" />
            </div>
            <p class="quiet">"Look before you step back: edges and traffic are not on this plan."</p>
            <details class="fold">
                <summary>"Move by steps"</summary>
                <Steps session />
            </details>
        </div>
    }
}

/// Everything that can be dragged, as steps.
#[component]
fn Steps(session: Session) -> impl IntoView {
    let plan = session.plan;
    let length = move |metres: f64| words::length(metres, session.unit());
    let distance = Signal::derive(move || {
        session.chosen.with(|row| {
            row.as_ref().and_then(|row| row.result.outcome.ok()).map_or(2.0, |setup| setup.distance.to_m())
        })
    });
    let foreground = Signal::derive(move || plan.with(|plan| plan.foreground));
    view! {
        <div class="steps">
            <p class="quiet">
                "Walking backwards with a phone needs a spotter. Local rules, and whoever is responsible for the place, "
                "decide what may be done there."
            </p>
            <StepField
                label="Phone goes round them"
                range=(0.0, 360.0)
                step=5.0
                value=Signal::derive(move || plan.with(|plan| plan.phone_bearing_deg))
                words=|degrees| format!("{degrees:.0}°")
                set=move |degrees| plan.update(|plan| plan.phone_bearing_deg = degrees)
            />
            <StepField
                label="Phone's distance"
                range=(0.1, 30.0)
                step=0.1
                value=distance
                words=length
                set=move |metres| plan.update(|plan| plan.shot.stand_at_m = Some(metres))
            />
            <StepField
                label="Background behind them"
                range=(0.2, 60.0)
                step=0.2
                value=Signal::derive(move || plan.with(|plan| plan.shot.background_behind_subject_m))
                words=length
                set=move |metres| plan.update(|plan| plan.shot.background_behind_subject_m = metres)
            />
            <StepField
                label="They face"
                range=(-180.0, 180.0)
                step=5.0
                value=Signal::derive(move || plan.with(|plan| plan.facing_deg))
                words=words::facing
                set=move |degrees| plan.update(|plan| plan.facing_deg = degrees)
            />
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=move || foreground.get().is_some()
                    on:change:target=move |event| {
                        let on = event.target().checked();
                        plan.update(|plan| plan.foreground = on.then_some(Foreground { ahead_m: 0.5, right_m: 0.35 }));
                    }
                />
                "Something near the lens"
            </label>
            <Show when=move || foreground.get().is_some()>
                <StepField
                    label="Its distance"
                    range=(0.1, 10.0)
                    step=0.1
                    value=Signal::derive(move || foreground.get().map_or(0.5, |piece| piece.ahead_m))
                    words=length
                    set=move |metres| plan.update(|plan| {
                        if let Some(piece) = &mut plan.foreground { piece.ahead_m = metres; }
                    })
                />
                <StepField
                    label="Its place to the right"
                    range=(-5.0, 5.0)
                    step=0.05
                    value=Signal::derive(move || foreground.get().map_or(0.0, |piece| piece.right_m))
                    words=length
                    set=move |metres| plan.update(|plan| {
                        if let Some(piece) = &mut plan.foreground { piece.right_m = metres; }
                    })
                />
            </Show>
        </div>
    }
}

/// Where a pointer is on the canvas, in CSS pixels.
fn place_of(event: &ev::PointerEvent) -> (f64, f64) {
    (f64::from(event.offset_x()), f64::from(event.offset_y()))
}

/// Moves what is dragged to a floor point.
fn move_handle(plan: &mut Plan, scene: &Scene, handle: Handle, floor: DVec3) {
    let phone = DVec3::new(scene.phone.x, scene.phone.y, 0.0);
    let ahead = along(scene.azimuth);
    match handle {
        Handle::Phone => place_phone(plan, floor),
        Handle::Subject => {
            let background_ahead = (scene.background - phone).dot(ahead);
            place_phone(plan, phone - floor);
            let left = background_ahead - (floor - phone).dot(ahead);
            plan.shot.background_behind_subject_m = left.clamp(0.2, 1000.0);
        }
        Handle::Background => {
            plan.shot.background_behind_subject_m = floor.dot(ahead).clamp(0.2, 1000.0);
        }
        Handle::Foreground => {
            let from_phone = floor - phone;
            plan.foreground = Some(Foreground {
                ahead_m: from_phone.dot(ahead).clamp(0.1, 100.0),
                right_m: from_phone.dot(scene.camera.right()).clamp(-50.0, 50.0),
            });
        }
    }
}

/// Puts the phone at a floor point, seen from the subject; there it stays until a size is asked for.
fn place_phone(plan: &mut Plan, floor: DVec3) {
    let bearing = Angle::from_components(floor.x, floor.y).to_deg();
    plan.phone_bearing_deg = if bearing < 0.0 { bearing + 360.0 } else { bearing };
    plan.shot.stand_at_m = Some(libm::hypot(floor.x, floor.y).clamp(0.1, 1000.0));
}

/// The floor plan in words.
fn twin(session: Session, scene: Option<&Scene>) -> String {
    let Some(scene) = scene else { return "Floor plan".to_owned() };
    let unit = session.unit();
    let distance = libm::hypot(scene.phone.x, scene.phone.y);
    let sharp = match scene.sharp {
        Some((near, Some(far))) => {
            format!(
                "; sharp from {} to {}",
                words::length(near.to_m(), unit),
                words::length(far.to_m(), unit)
            )
        }
        Some((near, None)) => format!("; sharp from {} on", words::length(near.to_m(), unit)),
        None => String::new(),
    };
    format!(
        "Floor plan: the phone {} from the subject, the background {} behind them{sharp}. Drag the tape marks, or use \
         the steps below.",
        words::length(distance, unit),
        words::length(scene.background.length(), unit)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::first_kit;

    fn scene(plan: &Plan) -> Scene {
        let kit = first_kit().to_kit().expect("a preset");
        let rows = plan.compare(&kit);
        let row = plan.choose(&kit, &rows).expect("a row");
        let setup = row.result.outcome.expect("a setup");
        Scene::of(plan, &row.result.shot, &setup, row.result.figures.as_ref())
    }

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
        move_handle(&mut plan, &before, Handle::Subject, towards);
        let after = scene(&plan);
        let gap = |scene: &Scene| (scene.background - DVec3::new(scene.phone.x, scene.phone.y, 0.0)).length();
        assert!((gap(&before) - gap(&after)).abs() < 1e-9, "{} {}", gap(&before), gap(&after));
        assert!((before.phone.truncate().length() - after.phone.truncate().length() - 0.4).abs() < 1e-9);
    }
}
