//! Where a hand is on a canvas, in CSS pixels from its upper left corner: mouse, pen, fingers and wheel.

use leptos::ev;
use web_sys::{Element, Touch};

/// A place on the canvas.
pub(crate) type At = (f64, f64);

/// So many pixels of a wheel look e times closer: chosen because a notch, 100 px, is then about a press of the button.
const WHEEL_PX: f64 = 250.0;

/// Where a mouse, a pen or a finger is on what listens to it.
pub(crate) fn of_pointer(event: &ev::MouseEvent) -> At {
    (f64::from(event.offset_x()), f64::from(event.offset_y()))
}

/// Where a finger is on an element: touches say only where they are in the window.
pub(crate) fn of_touch(touch: &Touch, element: &Element) -> At {
    let bounds = element.get_bounding_client_rect();
    (f64::from(touch.client_x()) - bounds.left(), f64::from(touch.client_y()) - bounds.top())
}

/// Where the middle of the first two fingers is on an element, and how far they are apart; none if there are not two.
pub(crate) fn of_two_fingers(event: &ev::TouchEvent, element: &Element) -> Option<(At, f64)> {
    let touches = event.touches();
    let [one, other] = [touches.item(0)?, touches.item(1)?].map(|touch| of_touch(&touch, element));
    let apart = libm::hypot(one.0 - other.0, one.1 - other.1).max(1.0);
    Some(((f64::midpoint(one.0, other.0), f64::midpoint(one.1, other.1)), apart))
}

/// How many times closer a wheel asks to look, if it is meant for that: two fingers on a touch pad come as a wheel with
/// Control, and without it the page scrolls.
pub(crate) fn times_closer(event: &ev::WheelEvent) -> Option<f64> {
    event.ctrl_key().then(|| libm::exp(-event.delta_y() / WHEEL_PX))
}
