//! One host for every canvas: it owns the node, keeps its pixels in step with its box, and draws when what it shows
//! has changed.

use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, ResizeObserver};

/// A canvas to draw on, in CSS pixels from its upper left corner.
#[derive(Debug)]
pub(crate) struct Surface {
    /// Where to draw; scaled so that one unit is one CSS pixel.
    pub(crate) context: CanvasRenderingContext2d,
    /// Width in CSS pixels.
    pub(crate) width: f64,
    /// Height in CSS pixels.
    pub(crate) height: f64,
}

/// A canvas that is redrawn when anything that `draw` reads has changed, or its box has.
///
/// Effects run once after all changes of a turn, and browsers hand out pointer moves once a frame, so this draws at
/// most once a frame.
#[component]
pub(crate) fn CanvasHost(
    /// The node, for those who listen to its pointer.
    node: NodeRef<html::Canvas>,
    /// Draws everything, reading the signals that it depends on.
    draw: Box<dyn Fn(&Surface)>,
    /// What the canvas shows, for those who do not see it.
    #[prop(into)]
    label: Signal<String>,
    /// The class of the canvas element.
    #[prop(into)]
    class: String,
) -> impl IntoView {
    let size = RwSignal::new((0.0_f64, 0.0_f64));
    observe_size(node, size);
    Effect::new(move |_| {
        let (width, height) = size.get();
        let Some(canvas) = node.get() else { return };
        if let Some(surface) = surface(&canvas, width, height) {
            draw(&surface);
        }
    });
    view! { <canvas node_ref=node class=class role="img" aria-label=move || label.get()></canvas> }
}

/// A watch on a node's box, and what it calls.
type Watch = (ResizeObserver, Closure<dyn FnMut(js_sys::Array)>);

/// Tells the size of the canvas's box; stops when the component goes.
fn observe_size(node: NodeRef<html::Canvas>, size: RwSignal<(f64, f64)>) {
    let kept: StoredValue<Option<Watch>, LocalStorage> = StoredValue::new_local(None);
    Effect::new(move |_| {
        let Some(canvas) = node.get() else { return };
        let watched = canvas.clone();
        let changed = Closure::new(move |_: js_sys::Array| {
            let now = (f64::from(watched.client_width()), f64::from(watched.client_height()));
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

/// The canvas's context, cleared and scaled to CSS pixels; none while the canvas has no size.
fn surface(canvas: &HtmlCanvasElement, width: f64, height: f64) -> Option<Surface> {
    if width < 1.0 || height < 1.0 {
        return None;
    }
    let ratio = web_sys::window().map_or(1.0, |window| window.device_pixel_ratio()).clamp(1.0, 3.0);
    let (wide, high) = (device_px(width, ratio), device_px(height, ratio));
    // Setting the size clears a canvas and is slow, so it is set only when it differs.
    if canvas.width() != wide {
        canvas.set_width(wide);
    }
    if canvas.height() != high {
        canvas.set_height(high);
    }
    let context: CanvasRenderingContext2d =
        canvas.get_context("2d").unwrap_or(None).map(JsValue::from)?.unchecked_into();
    context.set_transform(ratio, 0.0, 0.0, ratio, 0.0, 0.0).ok()?;
    context.clear_rect(0.0, 0.0, width, height);
    Some(Surface { context, width, height })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a screen's size is small and positive"
)]
fn device_px(length: f64, ratio: f64) -> u32 {
    (length * ratio).round() as u32
}
