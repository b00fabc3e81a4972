//! The floor plan: tape on a studio floor, seen from above.

use std::cell::RefCell;
use std::f64::consts::TAU;
use std::ops::Deref;

use glam::DVec3;
use requests::ColourRequest;
use staging::{Light, Person, Seen, Stance};
use units::{Angle, Length, LengthUnit};

use super::Palette;
use super::chalk::{Chalk, LABEL_FONT};
use super::plan_view::{Chosen, PlanView};
use crate::canvas::Surface;
use crate::dressing::{Item, tape_of};
use crate::scene::{Scene, along};

/// What of the floor plan is not the scene's own.
pub(crate) struct PlanOptions<'a> {
    pub(crate) unit: LengthUnit,
    /// The chosen one.
    pub(crate) chosen: Option<Chosen>,
    /// Everybody's and everything's names.
    pub(crate) items: &'a [(Item, String)],
}

/// A pen on the floor: it knows where on the canvas a place of the floor is.
pub(crate) struct Floor<'a> {
    chalk: Chalk<'a>,
    pub(crate) view: PlanView,
    /// Where labels stand already: left, top, right, bottom.
    labels: RefCell<Vec<[f64; 4]>>,
}

/// Draws the floor plan.
pub(crate) fn draw_plan(
    surface: &Surface,
    palette: &Palette,
    scene: &Scene,
    view: PlanView,
    options: &PlanOptions<'_>,
) {
    let floor = Floor::new(surface, palette, view);
    let unit = options.unit;
    floor.sweep();
    floor.grid();
    floor.sharp_band(scene);
    floor.sight_lines(scene);
    floor.background(scene, unit);
    for piece in scene.set_pieces() {
        floor.piece(piece);
    }
    floor.distance(scene, unit);
    floor.way(&scene.way, &palette.accent);
    if let Some(walker) = scene.people().first() {
        floor.way(&scene.walk, &floor.tape_colour(walker));
    }
    if let Some(piece) = scene.stage.pieces.last().filter(|_| scene.foreground.is_some()) {
        floor.piece(piece);
        floor.label(piece.place.extend(0.0), (0.0, 22.0), "foreground");
    }
    if scene.stage.object.is_some() {
        floor.table();
    }
    for person in scene.people() {
        floor.person(person);
    }
    floor.phone(scene.phone.with_z(0.0), scene.azimuth, &palette.accent);
    if let Some(chosen) = &options.chosen {
        floor.mark_chosen(chosen.place, chosen.turn_px(view));
    }
    floor.names(scene, options);
    if let Light::Sun { azimuth, .. } = scene.stage.light {
        floor.sun(azimuth);
    }
}

impl<'a> Floor<'a> {
    pub(crate) fn new(surface: &'a Surface, palette: &'a Palette, view: PlanView) -> Self {
        Self { chalk: Chalk::new(surface, palette), view, labels: RefCell::new(Vec::new()) }
    }
}

impl<'a> Deref for Floor<'a> {
    type Target = Chalk<'a>;

    fn deref(&self) -> &Chalk<'a> {
        &self.chalk
    }
}

impl Floor<'_> {
    pub(crate) fn path(&self, points: &[DVec3]) {
        self.context.begin_path();
        for (index, point) in points.iter().enumerate() {
            let (x, y) = self.view.to_px(*point);
            if index == 0 { self.context.move_to(x, y) } else { self.context.line_to(x, y) }
        }
    }

    /// Crosses every metre: a floor has marks, not lines.
    pub(crate) fn grid(&self) {
        if self.view.scale < 12.0 {
            return;
        }
        self.pen(&self.palette.chalk_quiet, 0.5);
        let corner = self.view.to_floor((0.0, self.view.size.1));
        let far = self.view.to_floor((self.view.size.0, 0.0));
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

    /// The colour of somebody's tape: their clothes'.
    pub(crate) fn tape_colour(&self, person: &Person) -> String {
        let clothes = person.clothes.to_srgb8();
        let own = tape_of(clothes).and_then(|tape| self.palette.tape.get(tape)).cloned();
        own.unwrap_or_else(|| ColourRequest(clothes).to_string())
    }

    /// A path as dashes, with an arrow after every second of it.
    fn way(&self, places: &[DVec3], colour: &str) {
        self.pen(colour, 2.0);
        self.dashed(6.0, 5.0);
        self.path(places);
        self.context.stroke();
        self.solid();
        for pair in places.windows(2) {
            self.arrow(pair[0], pair[1]);
        }
    }

    /// The point of an arrow from one place to another, on the second.
    pub(crate) fn arrow(&self, from: DVec3, to: DVec3) {
        let [from, to] = [from, to].map(|place| self.view.to_px(place));
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = libm::hypot(dx, dy);
        // Where it stands still, or nearly, there is no way to point.
        if length < 2.0 {
            return;
        }
        let (ux, uy) = (dx / length * 7.0, dy / length * 7.0);
        self.context.begin_path();
        self.context.move_to(to.0 - ux - uy * 0.6, to.1 - uy + ux * 0.6);
        self.context.line_to(to.0, to.1);
        self.context.line_to(to.0 - ux + uy * 0.6, to.1 - uy - ux * 0.6);
        self.context.stroke();
    }

    /// A strip of tape between two floor points, its ends torn.
    pub(crate) fn tape(&self, from: DVec3, to: DVec3, colour: &str, width_px: f64) {
        self.torn_strip(self.view.to_px(from), self.view.to_px(to), colour, width_px);
    }

    /// A T of tape: toes to the bar, which lies where the person looks.
    pub(crate) fn person(&self, person: &Person) {
        let colour = &self.tape_colour(person);
        let unit = (14.0 / self.view.scale).max(0.12);
        let ahead = along(person.facing) * unit;
        let beside = along(person.facing + Angle::from_deg(90.0)) * unit;
        let feet = person.place.extend(0.0);
        self.tape(feet - beside, feet + beside, colour, 8.0);
        self.tape(feet, feet - ahead * 1.4, colour, 8.0);
        // The look, as a short chalk stroke from the toes on; whoever walks goes where an arrow points.
        self.pen(&self.palette.chalk, 1.5);
        self.path(&[feet + ahead * 0.6, feet + ahead * 1.5]);
        self.context.stroke();
        if let Stance::Walking(_) = person.stance {
            let tip = feet + ahead * 2.6;
            self.dashed(4.0, 4.0);
            self.path(&[feet + ahead * 0.6, tip]);
            self.context.stroke();
            self.solid();
            self.path(&[tip - ahead * 0.5 - beside * 0.4, tip, tip - ahead * 0.5 + beside * 0.4]);
            self.context.stroke();
        }
    }

    /// A ring around the chosen one, and what turns it: a bit of the accent's tape before its front.
    pub(crate) fn mark_chosen(&self, place: DVec3, turn: Option<(f64, f64)>) {
        let (x, y) = self.view.to_px(place);
        self.context.begin_path();
        // Refused only for a negative radius.
        self.context.arc(x, y, 22.0, 0.0, TAU).unwrap_or_default();
        if let Some((turn_x, turn_y)) = turn {
            let away = libm::hypot(turn_x - x, turn_y - y).max(1.0);
            self.context.move_to(x + (turn_x - x) * 22.0 / away, y + (turn_y - y) * 22.0 / away);
            self.context.line_to(turn_x, turn_y);
        }
        // In sunlight the accent alone is too light for a white floor.
        if self.palette.heavier {
            self.pen(&self.palette.chalk, 3.0);
            self.context.stroke();
        }
        self.pen(&self.palette.accent, 2.0);
        self.dashed(5.0, 4.0);
        self.context.stroke();
        self.solid();
        if let Some((turn_x, turn_y)) = turn {
            self.context.begin_path();
            self.context.arc(turn_x, turn_y, 9.0, 0.0, TAU).unwrap_or_default();
            self.context.set_fill_style_str(&self.palette.studio);
            self.context.fill();
            self.pen(&self.palette.chalk, 6.0);
            self.context.stroke();
            self.pen(&self.palette.accent, 4.0);
            self.context.stroke();
        }
    }

    /// Names beside the pieces, the chosen one's first; a name that would lie on another is left out.
    fn names(&self, scene: &Scene, options: &PlanOptions<'_>) {
        let chosen = options.chosen.map(|chosen| chosen.item);
        for only_chosen in [true, false] {
            for (item, name) in options.items {
                let Item::Piece(at) = item else { continue };
                if (chosen == Some(*item)) != only_chosen {
                    continue;
                }
                let Some(piece) = scene.set_pieces().get(*at) else { continue };
                let (x, y) = self.view.to_px(piece.place.extend(0.0));
                if !(0.0..=self.view.size.0).contains(&x) || !(0.0..=self.view.size.1).contains(&y) {
                    continue;
                }
                let (width, depth) = (piece.size.width.to_m(), piece.size.depth.to_m());
                // In the middle of what has room for it, else below.
                let half_height = (piece.facing.sin() * width).abs() + (piece.facing.cos() * depth).abs();
                let below = half_height / 2.0 * self.view.scale + 11.0;
                let has_room = width.min(depth) * self.view.scale > 70.0;
                self.label(piece.place.extend(0.0), (0.0, if has_room { 16.0 } else { below }), name);
            }
        }
    }

    /// The sun's mark at the edge of the floor, and the way that its light goes.
    pub(crate) fn sun(&self, azimuth: Angle) {
        let (x, y) = self.view.sun_px(azimuth);
        let context = self.context;
        context.set_fill_style_str(&self.palette.studio);
        context.begin_path();
        // Refused only for a negative radius.
        context.arc(x, y, 22.0, 0.0, TAU).unwrap_or_default();
        context.fill();
        self.pen(&self.palette.chalk, 3.0);
        context.begin_path();
        context.arc(x, y, 7.0, 0.0, TAU).unwrap_or_default();
        for ray in 0..8 {
            let angle = Angle::from_rad(TAU / 8.0 * f64::from(ray));
            context.move_to(x + angle.sin() * 11.0, y + angle.cos() * 11.0);
            context.line_to(x + angle.sin() * 16.0, y + angle.cos() * 16.0);
        }
        context.stroke();
        let (right, down) = (-azimuth.sin(), azimuth.cos());
        self.pen(&self.palette.chalk, 1.5);
        self.dashed(3.0, 5.0);
        context.begin_path();
        context.move_to(x + right * 22.0, y + down * 22.0);
        context.line_to(x + right * 58.0, y + down * 58.0);
        context.stroke();
        self.solid();
    }

    /// A table's outline in plain strips.
    fn table(&self) {
        let corner = |x: f64, y: f64| DVec3::new(x, y, 0.0);
        let (a, b, c, d) = (corner(-0.6, -0.4), corner(0.6, -0.4), corner(0.6, 0.4), corner(-0.6, 0.4));
        for (from, to) in [(a, b), (b, c), (c, d), (d, a)] {
            self.tape(from, to, &self.palette.chalk_quiet, 4.0);
        }
    }

    /// A phone: a short double bar that points where it looks.
    pub(crate) fn phone(&self, place: DVec3, azimuth: Angle, colour: &str) {
        let unit = (13.0 / self.view.scale).max(0.08);
        let ahead = along(azimuth) * unit;
        let beside = along(azimuth + Angle::from_deg(90.0)) * unit;
        self.tape(place - beside, place + beside, colour, 7.0);
        let inner = place + ahead * 0.75;
        self.tape(inner - beside * 0.6, inner + beside * 0.6, colour, 5.0);
    }

    /// A plain label with a halo of floor around it; none where it would lie on another. Says whether there is one.
    pub(crate) fn label(&self, place: DVec3, (dx, dy): (f64, f64), text: &str) -> bool {
        let (x, y) = self.view.to_px(place);
        let margin = 40.0;
        let x = (x + dx).clamp(margin, (self.view.size.0 - margin).max(margin));
        let y = (y + dy).clamp(14.0, (self.view.size.1 - 8.0).max(14.0));
        // Letters of this font are about so wide on average; measuring each label would cost more than it tells.
        let half = text.chars().map(|_| 3.7).sum::<f64>();
        let lies = [x - half, y - 8.0, x + half, y + 8.0];
        let mut labels = self.labels.borrow_mut();
        let is_apart = |other: &[f64; 4]| {
            lies[2] < other[0] || other[2] < lies[0] || lies[3] < other[1] || other[3] < lies[1]
        };
        if !labels.iter().all(is_apart) {
            return false;
        }
        labels.push(lies);
        self.word(text, (x, y), LABEL_FONT, "center");
        true
    }
}

/// A distance as a label says it.
fn say(metres: f64, unit: LengthUnit) -> String {
    format!("{:.1} {}", Length::from_m(metres).to(unit), unit.sign())
}
