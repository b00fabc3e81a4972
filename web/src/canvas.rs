//! One host for every canvas: it owns the node, keeps its pixels in step with its box, and draws when what it shows
//! has changed.

use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;

use leptos::html;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{CanvasRenderingContext2d, CssStyleDeclaration, HtmlCanvasElement, ResizeObserver};

/// A canvas to draw on, in units ([`unit_px`]) from its upper left corner.
#[derive(Debug)]
pub(crate) struct Surface {
    /// Where to draw; scaled so that 1 is a unit.
    pub(crate) context: CanvasRenderingContext2d,
    /// Width in units.
    pub(crate) width: f64,
    /// Height in units.
    pub(crate) height: f64,
    /// Whether what is shown keeps changing: what can wait for rest is left out.
    pub(crate) is_moving: bool,
}

/// What a canvas does while what it shows keeps changing, as in a drag.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum WhileMoving {
    /// It follows, in fewer pixels.
    Follows,
    /// It waits until there is rest: what is beside the point of a drag must not slow it down.
    Waits,
}

/// Redraws nearer to each other than this are a movement, milliseconds: chosen because a hand that stops is slower.
const MOVING_MS: f64 = 120.0;
/// Rest after a movement before the canvas is drawn in full, milliseconds.
const REST: Duration = Duration::from_millis(160);

/// A canvas that is redrawn when what it shows has changed, or its box has.
///
/// It draws in the animation frame after the change: once however much changes in between, and a browser lays out and
/// paints only once for it.
#[component]
pub(crate) fn CanvasHost(
    /// The node, for those who listen to its pointer.
    node: NodeRef<html::Canvas>,
    /// Tells of every change of what the canvas shows.
    shows: Signal<()>,
    /// Draws everything.
    draw: Box<dyn Fn(&Surface)>,
    /// What it does while what it shows keeps changing.
    while_moving: WhileMoving,
    /// What the canvas shows, for those who do not see it.
    #[prop(into)]
    label: Signal<String>,
    /// The class of the canvas element.
    #[prop(into)]
    class: String,
) -> impl IntoView {
    let size = RwSignal::new((0.0_f64, 0.0_f64));
    let rested = RwSignal::new(0_u32);
    let timer = StoredValue::new(None::<TimeoutHandle>);
    observe_size(node, size);
    let draw = Rc::new(draw);
    let drawn = Rc::new(Cell::new(None::<Drawn>));
    let is_due = Rc::new(Cell::new(false));
    let in_frame = move || {
        // The canvas may have gone between the change and the frame.
        let (Some(rests), Some(size)) = (rested.try_get_untracked(), size.try_get_untracked()) else {
            return;
        };
        let now = performance_now();
        let before = drawn.replace(Some(Drawn { at_ms: now, rests }));
        let is_rest = before.is_some_and(|before| before.rests != rests);
        let is_moving = !is_rest && before.is_some_and(|before| now - before.at_ms < MOVING_MS);
        if is_moving {
            let wait = set_timeout_with_handle(move || rested.update(|rests| *rests += 1), REST).ok();
            if let Some(earlier) = timer.try_update_value(|timer| std::mem::replace(timer, wait)).flatten() {
                earlier.clear();
            }
        }
        if let Some(canvas) = node.try_get_untracked().flatten()
            && !(is_moving && while_moving == WhileMoving::Waits)
            && let Some(surface) = surface(&canvas, size, is_moving)
        {
            untrack(|| draw(&surface));
        }
    };
    let in_frame = Rc::new(in_frame);
    Effect::new(move |_| {
        // Read and not only tracked: a derived signal tracks what it is made from by being computed.
        shows.get();
        size.track();
        rested.track();
        if !is_due.replace(true) {
            let (in_frame, is_due) = (Rc::clone(&in_frame), Rc::clone(&is_due));
            request_animation_frame(move || {
                is_due.set(false);
                in_frame();
            });
        }
    });
    on_cleanup(move || {
        if let Some(wait) = timer.try_get_value().flatten() {
            wait.clear();
        }
    });
    view! { <canvas node_ref=node class=class role="img" aria-label=move || label.get()></canvas> }
}

/// When a canvas was drawn last, and how many rests it had seen by then.
#[derive(Debug, Clone, Copy)]
struct Drawn {
    at_ms: f64,
    rests: u32,
}

/// Milliseconds since the page was opened.
pub(crate) fn performance_now() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |clock| clock.now())
}

/// Units of drawing to a `rem` of style sheets: in letters of the usual size a unit is a CSS pixel.
pub(crate) const UNITS_A_REM: f64 = 16.0;

/// How many CSS pixels a unit of drawing is: the more, the larger whoever reads has made letters. So what is drawn grows
/// with what is written, and keeps its proportions.
pub(crate) fn unit_px() -> f64 {
    let size = root_style().and_then(|style| style.get_property_value("font-size").ok());
    // Read by the browser, which passes over the unit: Rust's own tables for reading numbers are no part of the first load.
    let size = size.map(|size| js_sys::parse_float(&size));
    size.filter(|size| *size > 0.0).map_or(1.0, |size| size / UNITS_A_REM)
}

/// What the page's root looks like; nothing outside a browser.
pub(crate) fn root_style() -> Option<CssStyleDeclaration> {
    let window = web_sys::window()?;
    let root = window.document()?.document_element()?;
    let style = window.get_computed_style(&root).ok()??;
    Some(style.unchecked_into())
}

/// Width and height of an element's box in units. Asked after a change, it has the browser lay the page out.
pub(crate) fn box_size(element: &web_sys::Element) -> (f64, f64) {
    let ((width, height), unit) = (box_px(element), unit_px());
    (width / unit, height / unit)
}

/// The same in CSS pixels.
fn box_px(element: &web_sys::Element) -> (f64, f64) {
    (f64::from(element.client_width()), f64::from(element.client_height()))
}

/// A watch on a node's box, and what it calls.
type Watch = (ResizeObserver, Closure<dyn FnMut(js_sys::Array)>);

/// Tells the size of the canvas's box in CSS pixels; stops when the component goes.
pub(crate) fn observe_size(node: NodeRef<html::Canvas>, size: RwSignal<(f64, f64)>) {
    let kept: StoredValue<Option<Watch>, LocalStorage> = StoredValue::new_local(None);
    Effect::new(move |_| {
        let Some(canvas) = node.get() else { return };
        let watched = canvas.clone();
        let changed = Closure::new(move |_: js_sys::Array| {
            let now = box_px(&watched);
            if size.try_get_untracked().is_some_and(|before| before != now) {
                size.set(now);
            }
        });
        if let Ok(observer) = ResizeObserver::new(changed.as_ref().unchecked_ref()) {
            observer.observe(&canvas);
            kept.set_value(Some((observer, changed)));
        }
    });
    on_cleanup(move || {
        kept.try_update_value(|kept| {
            if let Some((observer, _)) = kept.take() {
                observer.disconnect();
            }
        });
    });
}

/// Pixels drawn to a CSS pixel's side during a movement: chosen because eyes that follow a hand do not miss the rest.
const COARSE: f64 = 0.6;

/// The canvas's context, cleared and scaled to units; none while the canvas has no size.
fn surface(canvas: &HtmlCanvasElement, (width, height): (f64, f64), is_moving: bool) -> Option<Surface> {
    if width < 1.0 || height < 1.0 {
        return None;
    }
    let fine = web_sys::window().map_or(1.0, |window| window.device_pixel_ratio()).clamp(1.0, 3.0);
    let ratio = if is_moving { COARSE } else { fine };
    let (wide, high) = (device_px(width, ratio), device_px(height, ratio));
    // Setting the size clears a canvas and is slow, so it is set only when it differs.
    if canvas.width() != wide {
        canvas.set_width(wide);
    }
    if canvas.height() != high {
        canvas.set_height(high);
    }
    let context = context_of(canvas)?;
    let unit = unit_px();
    let (width, height, scale) = (width / unit, height / unit, ratio * unit);
    context.set_transform(scale, 0.0, 0.0, scale, 0.0, 0.0).ok()?;
    context.clear_rect(0.0, 0.0, width, height);
    Some(Surface { context, width, height, is_moving })
}

/// What draws on a canvas.
pub(crate) fn context_of(canvas: &HtmlCanvasElement) -> Option<CanvasRenderingContext2d> {
    canvas.get_context("2d").unwrap_or(None).map(|context| JsValue::from(context).unchecked_into())
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a screen's size is small and positive"
)]
fn device_px(length: f64, ratio: f64) -> u32 {
    (length * ratio).round() as u32
}

#[cfg(all(test, target_arch = "wasm32"))]
mod browser_tests {
    use wasm_bindgen_test::{wasm_bindgen_test as test, wasm_bindgen_test_configure};

    use super::*;

    wasm_bindgen_test_configure!(run_in_browser);

    #[test]
    fn what_is_drawn_grows_with_letters() {
        let root = document().document_element().expect("a page");
        let canvas: HtmlCanvasElement = document().create_element("canvas").expect("a name").unchecked_into();
        canvas.set_attribute("style", "display: block; width: 320px; height: 200px").expect("a style");
        root.append_child(&canvas).expect("a child");
        for (letters, unit) in [("16px", 1.0), ("32px", 2.0)] {
            root.set_attribute("style", &format!("font-size: {letters}")).expect("a style");
            let drawn = surface(&canvas, (320.0, 200.0), false).expect("it has a size");
            let size = (320.0 / unit, 200.0 / unit);
            assert_eq!((unit_px(), (drawn.width, drawn.height)), (unit, size), "letters of {letters}");
            assert_eq!(box_size(&canvas), size, "letters of {letters}");
        }
        root.remove_attribute("style").expect("a style");
        canvas.remove();
    }
}
