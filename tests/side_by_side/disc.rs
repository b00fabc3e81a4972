//! How large blur discs are: a glowing ball alone in a scene's frame, and what can be measured of its image.

use serde_json::{Value, json};

use crate::scenes::Scene;
use crate::ssim::Bytes;

/// A ball on the axis, at the depth of one of a scene's shapes.
pub(crate) struct Ball {
    /// A scene of it alone.
    pub(crate) json: Value,
    /// Its own size across and down, pixels, if it were sharp.
    ball_px: [f64; 2],
}

/// Of a frame's height a ball and its disc may fill so much, so that all of their light falls into the frame.
const ROOM: f64 = 0.8;

impl Ball {
    /// Balls at the depths of those of a scene's shapes that are the least, the middling and the most out of focus.
    pub(crate) fn of(scene: &Scene) -> Vec<Self> {
        let picture = scene.file.picture();
        let (camera, view) = (picture.opens, picture.view);
        let pupil = picture.pupil.expect("a lens");
        let size = scene.file.size();
        let tangent = view.width() / f64::from(size.width);
        let mut discs: Vec<(f64, [f64; 2])> = depths(scene)
            .into_iter()
            .map(|depth_m| {
                let disc =
                    |pupil_m: f64, focus_m: f64| pupil_m * (1.0 / depth_m - 1.0 / focus_m).abs() / tangent;
                let across = disc(pupil.width.to_m(), pupil.focus_across.to_m());
                (depth_m, [across, disc(pupil.height.to_m(), pupil.focus_up.to_m())])
            })
            .filter(|(_, disc)| ball_px(disc[1]) + disc[1] < ROOM * f64::from(size.height))
            .collect();
        discs.sort_by(|one, other| one.1[1].total_cmp(&other.1[1]));
        let mut chosen = vec![0, discs.len() / 2, discs.len().saturating_sub(1)];
        chosen.dedup();
        chosen
            .into_iter()
            .filter_map(|index| discs.get(index))
            .map(|(depth_m, disc)| {
                let ball = disc.map(ball_px);
                let half_m = ball.map(|ball| ball / 2.0 * tangent * depth_m);
                let centre = camera.position() + camera.forward() * *depth_m;
                let mut json = scene.json.clone();
                let turned = &scene.json["camera"];
                json["shape"] = json!([{
                    "ellipsoid": {
                        "centre_m": centre.to_array(), "half_m": [half_m[0], half_m[0].min(half_m[1]), half_m[1]],
                        "turn_deg": turned["azimuth_deg"], "lean_deg": turned["tilt_deg"],
                    },
                    "glowing": [LIGHT, LIGHT, LIGHT],
                }]);
                json["lighting"] = json!({ "sky": [0.0, 0.0, 0.0] });
                if let Some(table) = json.as_object_mut() {
                    table.remove("floor");
                }
                Self { json, ball_px: ball }
            })
            .collect()
    }

    /// The disc of a picture of it, across and down, pixels.
    ///
    /// ```text
    /// disc² = 16 σ² − ball²
    /// ```
    /// `σ²` the mean square of the light's distance from its middle along one direction: a sixteenth of the square of a uniform
    /// disc's diameter, and those of disc and ball add. The negative root of a negative square.
    pub(crate) fn disc_px(&self, image: &Bytes) -> [f64; 2] {
        let light = |byte: u8| {
            let signal = f64::from(byte) / 255.0;
            if signal <= 0.04045 { signal / 12.92 } else { libm::pow((signal + 0.055) / 1.055, 2.4) }
        };
        let (mut total, mut first, mut second) = (0.0, [0.0; 2], [0.0; 2]);
        for (at, pixel) in image.rgb.iter().enumerate() {
            let value = light(pixel[1]);
            let place = [(at % image.width) as f64 + 0.5, (at / image.width) as f64 + 0.5];
            total += value;
            first = [0, 1].map(|axis| first[axis] + value * place[axis]);
            second = [0, 1].map(|axis| second[axis] + value * place[axis] * place[axis]);
        }
        assert!(total > 0.0, "the ball gives light");
        [0, 1].map(|axis| {
            let middle = first[axis] / total;
            // A pixel spreads what falls on it over its own width.
            let spread = second[axis] / total - middle * middle - 1.0 / 12.0;
            let square = 16.0 * spread - self.ball_px[axis] * self.ball_px[axis];
            square.abs().sqrt().copysign(square)
        })
    }
}

/// What the balls give off: less than white, so that nothing is cut off.
const LIGHT: f64 = 0.9;

/// Half as large as its disc: met often enough for little noise.
fn ball_px(disc_px: f64) -> f64 {
    disc_px / 2.0 + 2.0
}

/// How far from the lens the middles of a scene's shapes are, along the axis.
fn depths(scene: &Scene) -> Vec<f64> {
    let camera = scene.file.picture().opens;
    let middle = |solid: &render::Solid| match *solid {
        render::Solid::Ellipsoid { centre, .. }
        | render::Solid::Block { centre, .. }
        | render::Solid::Cylinder { centre, .. } => centre,
        render::Solid::RoundCone { from, to, .. } => (from + to) / 2.0,
    };
    let shapes = scene.file.picture().shapes;
    let depths = shapes.iter().map(|shape| (middle(&shape.solid) - camera.position()).dot(camera.forward()));
    depths.filter(|depth_m| *depth_m > NEAREST_M).collect()
}

/// Nearer than this nothing that is seen stands.
const NEAREST_M: f64 = 0.2;
