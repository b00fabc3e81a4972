//! Where a hand is on a canvas, in units ([`unit_px`]) from its upper left corner: mouse, pen, fingers and wheel.

mod looked_at;

pub(crate) use looked_at::{CLOSER_STEP, LookedAt, Pinch};

use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use web_sys::{Element, Touch};

use crate::canvas::unit_px;

/// A place on the canvas.
pub(crate) type At = (f64, f64);

/// So many pixels of a wheel look e times closer: chosen because a notch, 100 px, is then about a press of the button.
const WHEEL_PX: f64 = 250.0;
/// A hand that moves less than this, in units, means to choose and not to drag.
const STILL_PX: f64 = 4.0;
/// Directions are dragged in steps of so many degrees: chosen because walls that are nearly square look like a mistake.
const TURN_STEP_DEG: f64 = 5.0;

/// Where a mouse, a pen or a finger is on what listens to it.
pub(crate) fn of_pointer(event: &ev::MouseEvent) -> At {
    let unit = unit_px();
    (f64::from(event.offset_x()) / unit, f64::from(event.offset_y()) / unit)
}

/// Where the first finger is on a canvas.
pub(crate) fn of_finger(event: &ev::TouchEvent, node: NodeRef<html::Canvas>) -> Option<At> {
    let (touches, canvas) = (event.touches(), node.get_untracked()?);
    Some(of_touch(&touches.item(0)?, &canvas))
}

/// Where the middle of the first two fingers is on a canvas, and how far they are apart; none if there are not two.
fn of_two_fingers(event: &ev::TouchEvent, node: NodeRef<html::Canvas>) -> Option<(At, f64)> {
    let (touches, canvas) = (event.touches(), node.get_untracked()?);
    let [one, other] = [touches.item(0)?, touches.item(1)?].map(|touch| of_touch(&touch, &canvas));
    let apart = libm::hypot(one.0 - other.0, one.1 - other.1).max(1.0);
    Some(((f64::midpoint(one.0, other.0), f64::midpoint(one.1, other.1)), apart))
}

/// Where a finger is on an element: touches say only where they are in the window.
fn of_touch(touch: &Touch, element: &Element) -> At {
    let (bounds, unit) = (element.get_bounding_client_rect(), unit_px());
    let (right, down) =
        (f64::from(touch.client_x()) - bounds.left(), f64::from(touch.client_y()) - bounds.top());
    (right / unit, down / unit)
}

/// How many times closer a wheel asks to look, if it is meant for that: two fingers on a touch pad come as a wheel with
/// Control, and without it the page scrolls.
fn times_closer(event: &ev::WheelEvent) -> Option<f64> {
    event.ctrl_key().then(|| libm::exp(-event.delta_y() / WHEEL_PX))
}

/// Whether a hand has hardly moved from where it was put down.
pub(crate) fn is_still(from: At, at: At) -> bool {
    libm::hypot(at.0 - from.0, at.1 - from.1) < STILL_PX
}

/// The nearest direction that a drag can give, degrees.
pub(crate) fn in_turn_steps(degrees: f64) -> f64 {
    libm::round(degrees / TURN_STEP_DEG) * TURN_STEP_DEG
}
