//! The floor plan: tape on a studio floor, seen from above.

use glam::DVec3;
use staging::Seen;
use units::{Angle, Length, LengthUnit};
use web_sys::CanvasRenderingContext2d;

use super::Palette;
use crate::canvas::Surface;
use crate::scene::{Person, Scene, along};

/// What can be dragged on the floor plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Handle {
    Phone,
    Subject,
    Foreground,
    Background,
}

/// Where the floor plan's metres are on the canvas.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PlanView {
    /// CSS pixels a metre.
    scale: f64,
    /// The floor point in the middle of the canvas, metres.
    middle: (f64, f64),
    /// The canvas's size in CSS pixels.
    size: (f64, f64),
}

/// CSS pixels a metre on a floor so large that it hardly matters.
const LEAST_SCALE: f64 = 0.01;
/// From one scale to the next.
const SCALE_STEP: f64 = 1.2;

/// The nearest that a finger can be expected to come to what it means, in CSS pixels.
const REACH_PX: f64 = 30.0;

impl PlanView {
    /// A view that shows phone, subject and background with air around them, never less than four metres.
    ///
    /// Steps of a fifth in scale keep the floor from breathing while something is dragged.
    pub(crate) fn fitting(scene: &Scene, size: (f64, f64)) -> Self {
        let points = [DVec3::ZERO, scene.phone, scene.background];
        let (mut least, mut most) = (points[0], points[0]);
        for point in points {
            least = least.min(point);
            most = most.max(point);
        }
        let span = (most - least).max(DVec3::splat(2.4)) * 1.35;
        let fit = (size.0 / span.x).min(size.1 / span.y);
        let mut scale = LEAST_SCALE;
        while scale * SCALE_STEP <= fit {
            scale *= SCALE_STEP;
        }
        Self { scale, middle: (f64::midpoint(least.x, most.x), f64::midpoint(least.y, most.y)), size }
    }

    /// The same view after the floor under it has moved by `by` metres.
    #[must_use]
    pub(crate) fn moved(self, by: DVec3) -> Self {
        Self { middle: (self.middle.0 + by.x, self.middle.1 + by.y), ..self }
    }

    /// Where a floor point is on the canvas.
    pub(crate) fn to_px(self, point: DVec3) -> (f64, f64) {
        (
            self.size.0 / 2.0 + (point.x - self.middle.0) * self.scale,
            self.size.1 / 2.0 - (point.y - self.middle.1) * self.scale,
        )
    }

    /// The floor point under a canvas point.
    pub(crate) fn to_floor(self, (x, y): (f64, f64)) -> DVec3 {
        DVec3::new(
            self.middle.0 + (x - self.size.0 / 2.0) / self.scale,
            self.middle.1 - (y - self.size.1 / 2.0) / self.scale,
            0.0,
        )
    }

    /// What a finger at that canvas point means to drag.
    pub(crate) fn handle_at(self, scene: &Scene, (x, y): (f64, f64)) -> Option<Handle> {
        let mut places = vec![(Handle::Phone, scene.phone), (Handle::Subject, DVec3::ZERO)];
        places.extend(scene.foreground.map(|place| (Handle::Foreground, place)));
        places.push((Handle::Background, scene.background));
        let reach = |place: DVec3| {
            let (px, py) = self.to_px(place);
            libm::hypot(px - x, py - y)
        };
        let nearest = places.into_iter().map(|(handle, place)| (handle, reach(place)));
        let (handle, away) = nearest.min_by(|(_, one), (_, other)| one.total_cmp(other))?;
        (away <= REACH_PX).then_some(handle)
    }
}

/// A pen on the floor: the canvas, the view and the colours.
struct Floor<'a> {
    context: &'a CanvasRenderingContext2d,
    view: PlanView,
    palette: &'a Palette,
}

/// Draws the floor plan.
pub(crate) fn draw_plan(
    surface: &Surface,
    palette: &Palette,
    scene: &Scene,
    view: PlanView,
    unit: LengthUnit,
) {
    let context = &surface.context;
    context.set_fill_style_str(&palette.studio);
    context.fill_rect(0.0, 0.0, surface.width, surface.height);
    let floor = Floor { context, view, palette };
    floor.grid(surface);
    floor.sharp_band(scene);
    floor.sight_lines(scene);
    floor.background(scene, unit);
    floor.distance(scene, unit);
    if let Some(place) = scene.foreground {
        floor.foreground(place);
    }
    if scene.object.is_some() {
        floor.table();
    }
    for person in &scene.people {
        floor.person(person);
    }
    floor.phone(scene);
}

impl Floor<'_> {
    fn pen(&self, colour: &str, width: f64) {
        self.context.set_stroke_style_str(colour);
        self.context.set_line_width(if self.palette.heavier { width * 1.5 } else { width });
    }

    fn dashed(&self, on: f64, off: f64) {
        let pattern = js_sys::Array::of2(&on.into(), &off.into());
        // Refused only for patterns that are not numbers.
        self.context.set_line_dash(&pattern).unwrap_or_default();
    }

    fn solid(&self) {
        self.context.set_line_dash(&js_sys::Array::new()).unwrap_or_default();
    }

    fn path(&self, points: &[DVec3]) {
        self.context.begin_path();
        for (index, point) in points.iter().enumerate() {
            let (x, y) = self.view.to_px(*point);
            if index == 0 { self.context.move_to(x, y) } else { self.context.line_to(x, y) }
        }
    }

    /// Crosses every metre: a floor has marks, not lines.
    fn grid(&self, surface: &Surface) {
        if self.view.scale < 12.0 {
            return;
        }
        self.pen(&self.palette.chalk_quiet, 0.5);
        let corner = self.view.to_floor((0.0, surface.height));
        let far = self.view.to_floor((surface.width, 0.0));
        self.context.begin_path();
        let mut x = libm::ceil(corner.x);
        while x <= far.x {
            let mut y = libm::ceil(corner.y);
            while y <= far.y {
                let (px, py) = self.view.to_px(DVec3::new(x, y, 0.0));
                self.context.move_to(px - 2.0, py);
                self.context.line_to(px + 2.0, py);
                self.context.move_to(px, py - 2.0);
                self.context.line_to(px, py + 2.0);
                y += 1.0;
            }
            x += 1.0;
        }
        self.context.stroke();
    }

    /// The floor point at that axial depth and column: where a plane of focus cuts the floor.
    fn at_depth(scene: &Scene, depth_m: f64, column: f64) -> DVec3 {
        // A level plan of a tilted view: depth along the floor is the axial depth over the tilt's cosine, as for points
        // at the lens's height.
        let forward = scene.camera.forward();
        let level = libm::hypot(forward.x, forward.y).max(0.05);
        let ahead = along(scene.azimuth) * (depth_m / level);
        DVec3::new(scene.phone.x, scene.phone.y, 0.0) + ahead + scene.camera.right() * (column * depth_m)
    }

    /// The chalk-hatched band of what is sharp.
    fn sharp_band(&self, scene: &Scene) {
        let Some((near, far)) = scene.sharp else { return };
        let beyond = self.view.size.0.max(self.view.size.1) / self.view.scale * 1.5;
        let (near, far) = (near.to_m(), far.map_or(beyond, Length::to_m).min(beyond));
        let corner = |depth: f64, column: f64| Self::at_depth(scene, depth, column);
        let (left, right) = (-scene.view.left, scene.view.right);
        // Strokes across the view, a hand's breadth apart on the canvas, each along the plane of its depth.
        self.pen(&self.palette.chalk_quiet, 1.0);
        self.context.begin_path();
        let step = 7.0 / self.view.scale;
        let mut depth = near;
        while depth <= far {
            let (ax, ay) = self.view.to_px(corner(depth, left));
            let (bx, by) = self.view.to_px(corner((depth + step).min(far), right));
            self.context.move_to(ax, ay);
            self.context.line_to(bx, by);
            depth += step;
        }
        self.context.set_global_alpha(0.45);
        self.context.stroke();
        self.context.set_global_alpha(1.0);
        self.pen(&self.palette.chalk, 1.5);
        for edge in [near, far] {
            if edge < beyond {
                self.path(&[corner(edge, left), corner(edge, right)]);
                self.context.stroke();
            }
        }
    }

    /// Chalk lines of what the frame sees.
    fn sight_lines(&self, scene: &Scene) {
        let beyond = self.view.size.0.max(self.view.size.1) / self.view.scale * 1.5;
        self.pen(&self.palette.chalk, 1.5);
        for column in [-scene.view.left, scene.view.right] {
            self.path(&[
                DVec3::new(scene.phone.x, scene.phone.y, 0.0),
                Self::at_depth(scene, beyond, column),
            ]);
            self.context.stroke();
        }
    }

    /// The background as a strip of tape as wide as it is seen.
    fn background(&self, scene: &Scene, unit: LengthUnit) {
        let depth = scene
            .camera
            .see(scene.background + DVec3::Z * scene.phone.z)
            .map_or(1.0, |Seen { depth, .. }| depth.to_m());
        let half = f64::midpoint(scene.view.left, scene.view.right) * depth;
        let along = scene.background_right * half;
        self.tape(scene.background - along, scene.background + along, &self.palette.chalk, 5.0);
        let behind = (scene.background - DVec3::ZERO).length();
        self.label(scene.background, (0.0, -12.0), &format!("background {}", say(behind, unit)));
    }

    /// The distance from phone to subject, written along its line.
    fn distance(&self, scene: &Scene, unit: LengthUnit) {
        let phone = DVec3::new(scene.phone.x, scene.phone.y, 0.0);
        self.pen(&self.palette.chalk, 1.0);
        self.dashed(2.0, 4.0);
        self.path(&[phone, DVec3::ZERO]);
        self.context.stroke();
        self.solid();
        let beside = along(scene.azimuth + Angle::from_deg(90.0));
        let offset = (beside.x * 34.0, -beside.y * 20.0);
        self.label(phone / 2.0, offset, &say(phone.length(), unit));
    }

    /// A strip of tape between two floor points, its ends torn.
    fn tape(&self, from: DVec3, to: DVec3, colour: &str, width_px: f64) {
        let (ax, ay) = self.view.to_px(from);
        let (bx, by) = self.view.to_px(to);
        let length = libm::hypot(bx - ax, by - ay).max(1.0);
        let (ux, uy) = ((bx - ax) / length, (by - ay) / length);
        let half = width_px / 2.0;
        let context = self.context;
        context.set_fill_style_str(colour);
        context.begin_path();
        context.move_to(ax - uy * half, ay + ux * half);
        // A tear is a zigzag across the strip, the same at every redraw.
        for (across, out) in [(0.4, 2.0), (0.0, -0.5), (-0.5, 1.5)] {
            context.line_to(ax - uy * half * across - ux * out, ay + ux * half * across - uy * out);
        }
        context.line_to(ax + uy * half, ay - ux * half);
        context.line_to(bx + uy * half, by - ux * half);
        for (across, out) in [(-0.4, 1.5), (0.1, -0.5), (0.5, 2.0)] {
            context.line_to(bx - uy * half * across + ux * out, by + ux * half * across + uy * out);
        }
        context.line_to(bx - uy * half, by + ux * half);
        context.close_path();
        context.fill();
    }

    /// A T of tape: toes to the bar, which lies where the person looks.
    fn person(&self, person: &Person) {
        let unit = (14.0 / self.view.scale).max(0.12);
        let ahead = along(person.facing) * unit;
        let beside = along(person.facing + Angle::from_deg(90.0)) * unit;
        let colour = &self.palette.tape[person.colour.min(1)];
        self.tape(person.feet - beside, person.feet + beside, colour, 8.0);
        self.tape(person.feet, person.feet - ahead * 1.4, colour, 8.0);
        // The look, as a short chalk stroke from the toes on.
        self.pen(&self.palette.chalk, 1.5);
        self.path(&[person.feet + ahead * 0.6, person.feet + ahead * 1.5]);
        self.context.stroke();
    }

    /// A table's outline in plain strips.
    fn table(&self) {
        let corner = |x: f64, y: f64| DVec3::new(x, y, 0.0);
        let (a, b, c, d) = (corner(-0.6, -0.4), corner(0.6, -0.4), corner(0.6, 0.4), corner(-0.6, 0.4));
        for (from, to) in [(a, b), (b, c), (c, d), (d, a)] {
            self.tape(from, to, &self.palette.chalk_quiet, 4.0);
        }
    }

    /// A foreground piece: a ring of short strips.
    fn foreground(&self, place: DVec3) {
        for turn in 0..5 {
            let angle = Angle::from_deg(72.0 * f64::from(turn));
            let from = place + along(angle) * 0.2;
            self.tape(from, from + along(angle + Angle::from_deg(125.0)) * 0.2, &self.palette.chalk, 4.0);
        }
        self.label(place, (0.0, 22.0), "foreground");
    }

    /// The phone: a short double bar that points where it looks, in the accent.
    fn phone(&self, scene: &Scene) {
        let unit = (13.0 / self.view.scale).max(0.08);
        let place = DVec3::new(scene.phone.x, scene.phone.y, 0.0);
        let ahead = along(scene.azimuth) * unit;
        let beside = along(scene.azimuth + Angle::from_deg(90.0)) * unit;
        self.tape(place - beside, place + beside, &self.palette.accent, 7.0);
        let inner = place + ahead * 0.75;
        self.tape(inner - beside * 0.6, inner + beside * 0.6, &self.palette.accent, 5.0);
    }

    /// A plain label with a halo of floor around it.
    fn label(&self, place: DVec3, (dx, dy): (f64, f64), text: &str) {
        let (x, y) = self.view.to_px(place);
        let margin = 40.0;
        let x = (x + dx).clamp(margin, (self.view.size.0 - margin).max(margin));
        let y = (y + dy).clamp(14.0, (self.view.size.1 - 8.0).max(14.0));
        let context = self.context;
        context.set_font("14px system-ui, sans-serif");
        context.set_text_align("center");
        context.set_text_baseline("middle");
        context.set_line_width(4.0);
        context.set_stroke_style_str(&self.palette.studio);
        context.set_line_join("round");
        // Text is refused only when it is not text.
        context.stroke_text(text, x, y).unwrap_or_default();
        context.set_fill_style_str(&self.palette.chalk);
        context.fill_text(text, x, y).unwrap_or_default();
    }
}

/// A distance as a label says it.
fn say(metres: f64, unit: LengthUnit) -> String {
    format!("{:.1} {}", Length::from_m(metres).to(unit), unit.sign())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_on_the_canvas_is_its_floor_point_and_back() {
        let view = PlanView { scale: 37.0, middle: (1.0, -2.0), size: (390.0, 390.0) };
        let floor = view.to_floor((100.0, 250.0));
        let (x, y) = view.to_px(floor);
        assert!((x - 100.0).abs() < 1e-9 && (y - 250.0).abs() < 1e-9, "{x} {y}");
    }
}
