//! The floor plan: tape on a studio floor, seen from above.

use glam::DVec3;
use language::say;
use optics::{FarLimit, SharpZone};
use staging::{Light, Seen, Support};
use units::{Angle, Length, LengthUnit};

use super::Palette;
use super::floor::Floor;
use super::plan_view::{Chosen, PlanView};
use crate::canvas::Surface;
use crate::dressing::Item;
use crate::scene::{Scene, along};

/// What of the floor plan is not the scene's own.
pub(crate) struct PlanOptions<'a> {
    pub(crate) unit: LengthUnit,
    /// The chosen one.
    pub(crate) chosen: Option<Chosen>,
    /// Everybody's and everything's names.
    pub(crate) items: &'a [(Item, String)],
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
        floor.label(piece.place.extend(0.0), (0.0, 22.0), say!("foreground"));
    }
    match scene.stage.object.map(|object| object.support) {
        Some(Support::Table) => floor.table(),
        Some(Support::At(_)) => floor.thing(),
        None => {}
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

impl Floor<'_> {
    /// So many metres from the phone are outside the canvas, wherever on it the phone is.
    fn beyond_m(&self) -> f64 {
        self.view.size.0.max(self.view.size.1) / self.view.scale * 1.5
    }

    /// The floor point at that axial depth and column: where a plane of focus cuts the floor.
    fn at_depth(scene: &Scene, depth_m: f64, column: f64) -> DVec3 {
        // A level plan of a tilted view: depth along the floor is the axial depth over the tilt's cosine, as for points
        // at the lens's height.
        let forward = scene.camera.forward();
        let level = libm::hypot(forward.x, forward.y).max(0.05);
        let ahead = along(scene.azimuth) * (depth_m / level);
        scene.phone.with_z(0.0) + ahead + scene.camera.right() * (column * depth_m)
    }

    /// The chalk-hatched band of what is sharp.
    fn sharp_band(&self, scene: &Scene) {
        let Some(SharpZone { near, far }) = scene.sharp else { return };
        let beyond = self.beyond_m();
        let near = near.to_m();
        let far = match far {
            FarLimit::At(far) => far.to_m().min(beyond),
            FarLimit::Infinity => beyond,
        };
        let corner = |depth: f64, column: f64| Self::at_depth(scene, depth, column);
        let (left, right) = (-scene.view.left, scene.view.right);
        // Strokes across the view, a hand's breadth apart on the canvas, each along the plane of its depth.
        self.pen(&self.palette.chalk_quiet, 1.0);
        self.context.begin_path();
        let step = 7.0 / self.view.scale;
        let mut depth = near;
        while depth <= far {
            let to = corner((depth + step).min(far), right);
            self.add_line(self.view.to_px(corner(depth, left)), self.view.to_px(to));
            depth += step;
        }
        self.context.set_global_alpha(0.45);
        self.context.stroke();
        self.context.set_global_alpha(1.0);
        self.pen(&self.palette.chalk, 1.5);
        for edge in [near, far] {
            if edge < beyond {
                self.trace(&[corner(edge, left), corner(edge, right)]);
            }
        }
    }

    /// Chalk lines of what the frame sees.
    fn sight_lines(&self, scene: &Scene) {
        self.pen(&self.palette.chalk, 1.5);
        for column in [-scene.view.left, scene.view.right] {
            self.trace(&[scene.phone.with_z(0.0), Self::at_depth(scene, self.beyond_m(), column)]);
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
        let behind = scene.background.length();
        self.label(scene.background, (0.0, -12.0), &say!("background {}", told(behind, unit)));
    }

    /// The distance from phone to subject, written along its line.
    fn distance(&self, scene: &Scene, unit: LengthUnit) {
        let phone = scene.phone.with_z(0.0);
        self.pen(&self.palette.chalk, 1.0);
        self.dashed(2.0, 4.0);
        self.trace(&[phone, DVec3::ZERO]);
        self.solid();
        let beside = along(scene.azimuth + Angle::from_deg(90.0));
        let offset = (beside.x * 34.0, -beside.y * 20.0);
        self.label(phone / 2.0, offset, &told(phone.length(), unit));
    }

    /// A path as dashes, with an arrow after every second of it.
    fn way(&self, places: &[DVec3], colour: &str) {
        self.pen(colour, 2.0);
        self.dashed(6.0, 5.0);
        self.trace(places);
        self.solid();
        for pair in places.windows(2) {
            self.arrow(pair[0], pair[1]);
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
                self.name_piece(piece, name);
            }
        }
    }

    /// A table's outline in plain strips.
    fn table(&self) {
        let corner = |x: f64, y: f64| DVec3::new(x, y, 0.0);
        let (a, b, c, d) = (corner(-0.6, -0.4), corner(0.6, -0.4), corner(0.6, 0.4), corner(-0.6, 0.4));
        for (from, to) in [(a, b), (b, c), (c, d), (d, a)] {
            self.tape(from, to, &self.palette.chalk_quiet, 4.0);
        }
    }

    /// A thing without a table: a small cross, as on the crew's sheets.
    fn thing(&self) {
        let half = 6.0 / self.view.scale;
        for side in [-half, half] {
            let corner = DVec3::new(half, side, 0.0);
            self.tape(-corner, corner, &self.palette.chalk, 4.0);
        }
    }
}

/// A distance as a label says it.
fn told(metres: f64, unit: LengthUnit) -> String {
    Length::from_m(metres).told(unit, 1)
}
