//! Things out of focus: drawn small and laid back large, so that softness costs less the more of it there is.
//!
//! A point out of focus is a disc, which of diameter D has a spread of D/4 along each axis. Drawing Δ times as small
//! spreads a point over a box Δ wide, and laying it back over a tent Δ to each side:
//!
//! ```text
//! once:   √(Δ²/12 + Δ²/6) = Δ/2             twice, by 2 first:   √(Δ²/12 + Δ²/6 + Δ²/24) = 0.54 Δ
//! ```
//! so that Δ = D/2, or 0.46 D, is as soft as the formulas say. Twice is smoother, and is done where one tent would show.

use std::cell::RefCell;

use wasm_bindgen::JsCast as _;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

use crate::canvas::Surface;

/// Discs below this, in CSS pixels, are not seen.
const VISIBLE_PX: f64 = 1.5;
/// Discs above this, in CSS pixels, are laid back in two steps.
const TWICE_FROM_PX: f64 = 7.0;
/// How many pixels of the small image lie beyond the picture, so that its edges are as soft as the rest.
const MARGIN: f64 = 3.0;

/// Two canvases that are never shown and are kept from picture to picture.
struct Scratch {
    small: Layer,
    double: Layer,
}

struct Layer {
    canvas: HtmlCanvasElement,
    context: CanvasRenderingContext2d,
}

thread_local! {
    static SCRATCH: RefCell<Option<Scratch>> = const { RefCell::new(None) };
}

/// Draws with points spread to a disc of that width and height in CSS pixels; sharp if the disc is too small to see, or
/// if there is no canvas to work on.
pub(super) fn draw_softly(
    surface: &Surface,
    disc_px: (f64, f64),
    mut draw: impl FnMut(&CanvasRenderingContext2d),
) {
    if disc_px.0.max(disc_px.1) < VISIBLE_PX {
        draw(&surface.context);
        return;
    }
    let laid = SCRATCH.with_borrow_mut(|scratch| {
        if scratch.is_none() {
            *scratch = Layer::new().zip(Layer::new()).map(|(small, double)| Scratch { small, double });
        }
        scratch.as_ref().and_then(|scratch| scratch.lay(surface, disc_px, &mut draw))
    });
    if laid.is_none() {
        draw(&surface.context);
    }
}

impl Layer {
    fn new() -> Option<Self> {
        let document = web_sys::window()?.document()?;
        let canvas: HtmlCanvasElement = document.create_element("canvas").ok()?.dyn_into().ok()?;
        let context = canvas.get_context("2d").ok()??.dyn_into().ok()?;
        Some(Self { canvas, context })
    }

    /// Makes room for an image and clears it.
    fn clear(&self, (width, height): (f64, f64)) -> Option<()> {
        let (wide, high) = (whole_px(width), whole_px(height));
        if self.canvas.width() < wide {
            self.canvas.set_width(wide);
        }
        if self.canvas.height() < high {
            self.canvas.set_height(high);
        }
        self.context.set_transform(1.0, 0.0, 0.0, 1.0, 0.0, 0.0).ok()?;
        self.context.clear_rect(0.0, 0.0, f64::from(wide), f64::from(high));
        Some(())
    }

    /// Lays its image of that size onto a rectangle: left, top, width, height.
    fn lay(
        &self,
        size: (f64, f64),
        onto: &CanvasRenderingContext2d,
        (left, top, width, height): (f64, f64, f64, f64),
    ) -> Option<()> {
        onto.draw_image_with_html_canvas_element_and_sw_and_sh_and_dx_and_dy_and_dw_and_dh(
            &self.canvas,
            0.0,
            0.0,
            size.0,
            size.1,
            left,
            top,
            width,
            height,
        )
        .ok()
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what a canvas can be"
)]
fn whole_px(length: f64) -> u32 {
    length.ceil().clamp(1.0, 8192.0) as u32
}

impl Scratch {
    fn lay(
        &self,
        surface: &Surface,
        (disc_wide, disc_high): (f64, f64),
        draw: &mut impl FnMut(&CanvasRenderingContext2d),
    ) -> Option<()> {
        let ratio = surface.context.canvas().map_or(1.0, |canvas| f64::from(canvas.width()) / surface.width);
        let twice = disc_wide.max(disc_high) > TWICE_FROM_PX;
        let share = if twice { 0.46 } else { 0.5 };
        // Never finer than the canvas itself.
        let step = |disc: f64| (disc * share).max(1.0 / ratio);
        let (wide_step, high_step) = (step(disc_wide), step(disc_high));
        let size = (surface.width / wide_step + 2.0 * MARGIN, surface.height / high_step + 2.0 * MARGIN);
        self.small.clear(size)?;
        self.small.context.set_transform(1.0 / wide_step, 0.0, 0.0, 1.0 / high_step, MARGIN, MARGIN).ok()?;
        draw(&self.small.context);
        let onto = (-MARGIN * wide_step, -MARGIN * high_step, size.0 * wide_step, size.1 * high_step);
        if !twice {
            return self.small.lay(size, &surface.context, onto);
        }
        let double = (2.0 * size.0, 2.0 * size.1);
        self.double.clear(double)?;
        self.small.lay(size, &self.double.context, (0.0, 0.0, double.0, double.1))?;
        self.double.lay(double, &surface.context, onto)
    }
}
