//! What the phone's frame holds: a true perspective of the scene, as sharp and as soft as the formulas say.

use glam::DVec3;
use staging::Landmark;
use units::Length;

use crate::canvas::Surface;
use crate::draw::background::{draw_lights, draw_street};
use crate::draw::figure::draw_figure;
use crate::draw::ground::{draw_grid, draw_sharp_band, draw_sky_and_floor};
use crate::draw::overlay::{draw_crop, draw_headroom, draw_protected, draw_sharp_words, draw_thirds};
use crate::draw::palette::Palette;
use crate::draw::perspective::{NEAREST_M, Perspective, Rectangle};
use crate::draw::props::{draw_object, draw_plant};
use crate::draw::sketch::Sketch;
use crate::draw::soft::draw_softly;
use crate::scene::{Person, Scene};

/// What of a frame is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct FrameOptions {
    /// Whether thirds, headroom and the sharp band are drawn.
    pub(crate) lines: bool,
    /// Whether the whole recorded image is drawn, what the crop loses dimmed.
    pub(crate) whole: bool,
    /// The width over height of a second frame shape that must hold the people too.
    pub(crate) protect: Option<f64>,
    /// Whether it is a thumbnail: nothing over the picture, fewer details in it.
    pub(crate) small: bool,
}

/// On a thumbnail, lights are drawn from this disc on, pixels.
const LIGHTS_FROM_PX: f64 = 2.5;

/// Something that stands between the phone and the background.
#[derive(Debug, Clone, Copy)]
enum Piece<'scene> {
    Person(&'scene Person),
    Object(f64),
    Plant(DVec3),
}

/// Draws the scene's frame onto the middle of a canvas.
pub(crate) fn draw_frame(surface: &Surface, palette: &Palette, scene: &Scene, options: &FrameOptions) {
    let canvas = Rectangle { left: 0.0, top: 0.0, width: surface.width, height: surface.height };
    let (view, aspect) =
        if options.whole { (scene.whole_view, scene.whole_aspect) } else { (scene.view, scene.aspect) };
    let perspective = Perspective { camera: scene.camera, view, rectangle: canvas.largest_within(aspect) };
    let frame = delivered(&perspective, scene);
    let picture = perspective.rectangle;
    let context = &surface.context;
    context.save();
    context.begin_path();
    context.rect(picture.left, picture.top, picture.width, picture.height);
    context.clip();
    draw_place(surface, palette, &perspective, scene, options);
    for piece in from_far_to_near(scene) {
        draw_piece(surface, palette, &perspective, scene, (piece, options.small));
    }
    let sketch = Sketch::new(context);
    if options.whole {
        draw_crop(&sketch, palette, picture, frame);
    }
    if options.lines && !options.small {
        draw_thirds(&sketch, palette, frame);
    }
    // Words with their halos cost as much as a person, and nobody reads them in the middle of a drag.
    if options.lines && !options.small && !surface.is_moving {
        draw_sharp_words(&sketch, palette, &perspective, scene, frame);
        draw_headroom(&sketch, palette, &perspective, scene, frame);
    }
    if let Some(aspect) = options.protect.filter(|_| !options.small) {
        draw_protected(&sketch, palette, frame, aspect);
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

/// Sky, floor and background.
fn draw_place(
    surface: &Surface,
    palette: &Palette,
    perspective: &Perspective,
    scene: &Scene,
    options: &FrameOptions,
) {
    let sketch = Sketch::new(&surface.context);
    draw_sky_and_floor(&sketch, palette, perspective);
    draw_grid(&sketch, palette, perspective, options.small);
    if options.lines && !options.small {
        draw_sharp_band(&sketch, palette, perspective, scene);
    }
    let disc = disc_share(scene, scene.background_depth)
        .map_or((0.0, 0.0), |share| disc_px(perspective, scene, share));
    draw_softly(surface, disc, |context| draw_street(&mut Sketch::new(context), palette, perspective, scene));
    // Too small to be seen as discs, lights on a thumbnail would be dust.
    if scene.blur.is_some() && !(options.small && disc.1 < LIGHTS_FROM_PX) {
        draw_lights(&sketch, palette, perspective, scene, disc);
    }
}

/// A disc given in shares of the delivered frame's height, in pixels of the picture.
fn disc_px(perspective: &Perspective, scene: &Scene, (width, height): (f64, f64)) -> (f64, f64) {
    let frame_height = scene.view.height() / perspective.view.height() * perspective.rectangle.height;
    (width * frame_height, height * frame_height)
}

/// Draws a piece as soft as it is where it stands.
fn draw_piece(
    surface: &Surface,
    palette: &Palette,
    perspective: &Perspective,
    scene: &Scene,
    (piece, small): (Piece<'_>, bool),
) {
    let disc =
        disc_at(scene, piece.depth(scene)).map_or((0.0, 0.0), |share| disc_px(perspective, scene, share));
    match piece {
        Piece::Person(person) => draw_softly(surface, disc, |context| {
            draw_figure(&mut Sketch::new(context), palette, perspective, person, small);
        }),
        Piece::Object(size) => draw_object(&mut Sketch::new(&surface.context), palette, perspective, size),
        Piece::Plant(place) => draw_softly(surface, disc, |context| {
            draw_plant(&mut Sketch::new(context), palette, perspective, place);
        }),
    }
}

impl Piece<'_> {
    /// Axial distance of what of it counts: eyes, or its foot raised to the lens's height.
    fn depth(&self, scene: &Scene) -> f64 {
        let place = match self {
            Self::Person(person) => eyes(person),
            Self::Object(size) => DVec3::Z * (0.75 + size / 2.0),
            Self::Plant(place) => place.with_z(scene.camera.position().z.min(1.0)),
        };
        scene.camera.to_own(place).z
    }
}

fn eyes(person: &Person) -> DVec3 {
    person.feet + DVec3::Z * person.body.height_of(Landmark::Eyes).to_m()
}

/// Pieces ahead of the lens in painter's order.
fn from_far_to_near(scene: &Scene) -> Vec<Piece<'_>> {
    let people = scene.people.iter().map(Piece::Person);
    let object = scene.object.map(|size| Piece::Object(size.to_m()));
    let mut pieces: Vec<_> = people.chain(object).chain(scene.foreground.map(Piece::Plant)).collect();
    pieces.retain(|piece| piece.depth(scene) > NEAREST_M);
    pieces.sort_by(|one, other| other.depth(scene).total_cmp(&one.depth(scene)));
    pieces
}

/// A point's disc at an axial distance, width and height in shares of the frame's height: none where it counts as sharp,
/// so that what the figures call sharp is drawn sharp.
fn disc_at(scene: &Scene, depth: f64) -> Option<(f64, f64)> {
    let (near, far) = scene.sharp?;
    let is_sharp = depth >= near.to_m() && far.is_none_or(|far| depth <= far.to_m());
    (!is_sharp && depth > 0.0).then(|| disc_share(scene, Length::from_m(depth))).flatten()
}

/// A point's disc at an axial distance, width and height in shares of the frame's height.
fn disc_share(scene: &Scene, depth: Length) -> Option<(f64, f64)> {
    scene.blur.map(|blur| blur.at(depth)).map(|softness| (softness.width_share, softness.share))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{Plan, first_kit};

    /// The page's first scene, on the long lens so that something is soft.
    fn scene() -> Scene {
        let plan = Plan { lens: "long".to_owned(), ..Plan::first() };
        let kit = first_kit().to_kit().expect("a preset");
        let rows = plan.compare(&kit);
        let result = &plan.choose(&kit, &rows).expect("a row").result;
        let setup = result.outcome.as_ref().expect("a setup");
        Scene::of(&plan, &result.shot, setup, result.figures.as_ref())
    }

    #[test]
    fn what_counts_as_sharp_is_drawn_sharp() {
        let scene = scene();
        let (near, far) = scene.sharp.expect("known");
        let far = far.expect("a long lens").to_m();
        assert_eq!(disc_at(&scene, f64::midpoint(near.to_m(), far)), None);
        assert!(disc_at(&scene, far * 2.0) > disc_at(&scene, far * 1.1));
        assert!(disc_at(&scene, near.to_m() * 0.5) > disc_at(&scene, near.to_m() * 0.9));
    }

    #[test]
    fn the_delivered_frame_lies_within_the_whole_image() {
        let scene = scene();
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
