//! A small glowing ball, drawn alone in a window of a large picture, and what can be measured of its image.

use glam::DVec3;
use optics::ViewTangents;
use render::{Floor, Lighting, Picture, Shape, Size, Solid, Surface, draw};
use staging::{Camera, Pupil};

/// Rays for one window, chosen because what they leave of noise is less than half of what a disc may be off.
const RAYS: u32 = 1 << 20;

/// A large picture of which only the part around one ball is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Large {
    pub(crate) camera: Camera,
    pub(crate) view: ViewTangents,
    pub(crate) pupil: Option<Pupil>,
    pub(crate) size_px: (f64, f64),
}

/// What is drawn: where the ball is in the world, and the half side of the window around its image.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ball {
    pub(crate) centre: DVec3,
    /// Half of it along the world's axes: as wide and as high as suits what is measured.
    pub(crate) half_m: DVec3,
    pub(crate) reach_px: f64,
}

/// The middle of the light in pixels of the large picture, and its mean square distance from it in each direction.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Measured {
    pub(crate) middle_px: (f64, f64),
    pub(crate) spread_px2: (f64, f64),
}

impl Large {
    /// Draws the window around a place of the large picture and measures the ball's image in it. The place is in the middle
    /// of one of the window's pixels.
    pub(crate) fn measure(&self, ball: Ball, near_px: (f64, f64)) -> Measured {
        let side_px = 2.0 * libm::ceil(ball.reach_px) + 1.0;
        let (left_px, top_px) = (near_px.0 - side_px / 2.0, near_px.1 - side_px / 2.0);
        let tangent = self.view.width() / self.size_px.0;
        let tangent_down = self.view.height() / self.size_px.1;
        let window = ViewTangents {
            left: self.view.left - left_px * tangent,
            right: (left_px + side_px) * tangent - self.view.left,
            up: self.view.up - top_px * tangent_down,
            down: (top_px + side_px) * tangent_down - self.view.up,
        };
        let axes = DVec3::AXES.map(|axis| axis * ball.half_m);
        let picture = Picture {
            opens: self.camera,
            closes: self.camera,
            view: window,
            pupil: self.pupil,
            shapes: vec![Shape {
                solid: Solid::Ellipsoid { centre: ball.centre, axes },
                surface: Surface::Glowing([1.0; 3]),
                moved: DVec3::ZERO,
                melts_m: 0.0,
            }],
            floor: Floor::None,
            backdrop: None,
            lighting: Lighting { sun: None, zenith: [0.0; 3], horizon: [0.0; 3], bounce: [0.0; 3] },
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole and small")]
        let side = side_px as u32;
        let image = draw(&picture, Size { width: side, height: side }, RAYS / (side * side));
        // Sums of light, of light times place, and of light times place squared.
        let (mut light, mut first, mut second) = (0.0, (0.0, 0.0), (0.0, 0.0));
        for (row, pixels) in (0_u32..).zip(image.linear.chunks_exact(side as usize)) {
            for (column, pixel) in (0_u32..).zip(pixels) {
                let value = f64::from(pixel[1]);
                let (x, y) = (f64::from(column) + 0.5 - side_px / 2.0, f64::from(row) + 0.5 - side_px / 2.0);
                light += value;
                first = (first.0 + value * x, first.1 + value * y);
                second = (second.0 + value * x * x, second.1 + value * y * y);
            }
        }
        assert!(light > 0.0, "{ball:?} gives light near {near_px:?}");
        let middle = (first.0 / light, first.1 / light);
        // A pixel spreads what falls on it over its own width.
        let spread = |second: f64, middle: f64| second / light - middle * middle - 1.0 / 12.0;
        Measured {
            middle_px: (left_px + side_px / 2.0 + middle.0, top_px + side_px / 2.0 + middle.1),
            spread_px2: (spread(second.0, middle.0), spread(second.1, middle.1)),
        }
    }
}
