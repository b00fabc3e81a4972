//! What is drawn over the picture of a frame: lines, words, and what the crop gives up.

use crate::canvas::Surface;
use crate::draw::chalk::Chalk;
use crate::draw::overlay::{draw_crop, draw_headroom, draw_protected, draw_sharp_edges, draw_thirds};
use crate::draw::palette::Palette;
use crate::draw::perspective::{Perspective, Rectangle};
use crate::scene::Scene;

/// What of it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct FrameOptions {
    /// Whether thirds, headroom and what is sharp are drawn.
    pub(crate) lines: bool,
    /// Whether the picture is of the whole recorded image, what the crop loses dimmed.
    pub(crate) whole: bool,
    /// Whether words on what is seen are written, which hold only for the beginning of a take.
    pub(crate) words: bool,
    /// The width over height of a second frame shape that must hold the people too.
    pub(crate) protect: Option<f64>,
}

/// Draws over the picture of the scene's frame, which fills the middle of the canvas.
pub(crate) fn draw_over_frame(surface: &Surface, palette: &Palette, scene: &Scene, options: &FrameOptions) {
    let canvas = Rectangle { left: 0.0, top: 0.0, width: surface.width, height: surface.height };
    let (view, aspect) =
        if options.whole { (scene.whole_view, scene.whole_aspect) } else { (scene.view, scene.aspect) };
    let perspective = Perspective { camera: scene.camera, view, rectangle: canvas.largest_within(aspect) };
    let frame = delivered(&perspective, scene);
    let picture = perspective.rectangle;
    let chalk = &Chalk::new(surface, palette);
    let context = chalk.context;
    context.save();
    context.begin_path();
    context.rect(picture.left, picture.top, picture.width, picture.height);
    context.clip();
    if options.whole {
        draw_crop(chalk, picture, frame);
    }
    if options.lines {
        draw_thirds(chalk, frame);
    }
    // Words with their halos cost much, and nobody reads them in the middle of a drag.
    if options.lines && options.words && !surface.is_moving {
        draw_sharp_edges(chalk, &perspective, scene, frame);
        draw_headroom(chalk, &perspective, scene, frame);
    }
    if let Some(aspect) = options.protect {
        draw_protected(chalk, frame, aspect);
    }
    context.restore();
}

/// Where the delivered frame lies in the picture.
fn delivered(perspective: &Perspective, scene: &Scene) -> Rectangle {
    let Rectangle { left, width, .. } = perspective.rectangle;
    let (shown, view) = (&perspective.view, &scene.view);
    let column = |right: f64| left + (shown.left + right) / shown.width() * width;
    let (top, bottom) = (perspective.row(view.up), perspective.row(-view.down));
    let (from, to) = (column(-view.left), column(view.right));
    Rectangle { left: from, top, width: to - from, height: bottom - top }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::scene_of;
    use crate::session::Plan;

    #[test]
    fn the_delivered_frame_lies_within_the_whole_image() {
        let scene = scene_of(&Plan { lens: "long".to_owned(), ..Plan::first() });
        let picture = Rectangle { left: 0.0, top: 0.0, width: 1600.0, height: 900.0 };
        let whole = Perspective { camera: scene.camera, view: scene.whole_view, rectangle: picture };
        let frame = delivered(&whole, &scene);
        // 2.39 out of 16:9, by hand.
        let high = 1600.0 / 2.39;
        let expected = Rectangle { left: 0.0, top: (900.0 - high) / 2.0, width: 1600.0, height: high };
        for (one, other) in [
            (frame.left, expected.left),
            (frame.top, expected.top),
            (frame.width, expected.width),
            (frame.height, expected.height),
        ] {
            assert!((one - other).abs() < 1e-9, "{frame:?} {expected:?}");
        }
    }
}
