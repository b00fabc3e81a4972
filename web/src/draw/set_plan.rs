//! A set from above: each piece as strips of tape in its true outline and size.

use std::f64::consts::TAU;

use glam::{DVec2, DVec3};
use staging::{PieceKind, PieceSize, SetPiece};
use units::Angle;

use super::Palette;
use super::floor::Floor;
use super::plan_view::PlanView;
use crate::canvas::Surface;
use crate::scene::along;

/// The width of a strip on the floor, units.
const STRIP_PX: f64 = 4.0;

/// Draws one piece of its usual size on a small floor of its own.
pub(crate) fn draw_piece(surface: &Surface, palette: &Palette, kind: PieceKind) {
    let size = kind.usual_size();
    let view = PlanView::around(size.width.to_m(), size.depth.to_m(), (surface.width, surface.height));
    let floor = Floor::new(surface, palette, view);
    floor.sweep();
    let facing = Angle::from_deg(180.0);
    floor.piece(&SetPiece { kind, place: DVec2::ZERO, facing, size });
}

/// A piece's own directions on the floor, half its size long: to its right as it looks to its front, and to its front.
struct Ground {
    place: DVec3,
    beside: DVec3,
    before: DVec3,
}

impl Ground {
    fn of(piece: &SetPiece) -> Self {
        let PieceSize { width, depth, .. } = piece.size;
        Self {
            place: piece.place.extend(0.0),
            beside: along(piece.facing + Angle::from_deg(90.0)) * (width.to_m() / 2.0),
            before: along(piece.facing) * (depth.to_m() / 2.0),
        }
    }

    fn at(&self, beside: f64, before: f64) -> DVec3 {
        self.place + self.beside * beside + self.before * before
    }
}

impl Floor<'_> {
    /// A piece of the set, in its outline.
    pub(crate) fn piece(&self, piece: &SetPiece) {
        let ground = Ground::of(piece);
        let thick = (piece.size.depth.to_m() * self.view.scale).max(STRIP_PX);
        match piece.kind {
            PieceKind::Wall => self.strip(&ground, [-1.0, 0.0], [1.0, 0.0], thick),
            PieceKind::Window => {
                let side = opening(piece, 0.7, 0.6);
                self.strip(&ground, [-1.0, 0.0], [-side, 0.0], thick);
                self.strip(&ground, [side, 0.0], [1.0, 0.0], thick);
                for pane in [-0.6, 0.6] {
                    self.chalk_line(&[ground.at(-side, pane), ground.at(side, pane)]);
                }
            }
            PieceKind::Doorway => {
                let side = opening(piece, 0.45, 0.72);
                self.strip(&ground, [-1.0, 0.0], [-side, 0.0], thick);
                self.strip(&ground, [side, 0.0], [1.0, 0.0], thick);
                // The leaf stands open behind, and the floor shows the way that it swings.
                let hinge = ground.at(-side, 0.0);
                let leaf = (ground.at(side, 0.0) - hinge).length();
                let back = Angle::from_deg(180.0);
                let swung =
                    |degrees: f64| hinge + along(piece.facing + back - Angle::from_deg(degrees)) * leaf;
                self.chalk_line(&[hinge, swung(0.0)]);
                let arc: Vec<DVec3> = (0..=6).map(|step| swung(-15.0 * f64::from(step))).collect();
                self.dashed(2.0, 4.0);
                self.chalk_line(&arc);
                self.solid();
            }
            PieceKind::Table => self.outline(&ground),
            PieceKind::Bench => {
                self.outline(&ground);
                self.strip(&ground, [-1.0, -0.55], [1.0, -0.55], STRIP_PX);
            }
            PieceKind::Hedge => {
                self.outline(&ground);
                let count = (piece.size.width.to_m() * self.view.scale / 9.0).clamp(4.0, 40.0);
                let count = libm::round(count);
                let mut leaves = Vec::new();
                let mut at = 0.0;
                while at <= count {
                    let side = if leaves.len() % 2 == 0 { -0.5 } else { 0.5 };
                    leaves.push(ground.at(2.0 * at / count - 1.0, side));
                    at += 1.0;
                }
                self.chalk_line(&leaves);
            }
            PieceKind::Car => {
                self.outline(&ground);
                self.strip(&ground, [-0.8, 0.35], [0.8, 0.35], STRIP_PX);
                self.strip(&ground, [-0.8, -0.5], [0.8, -0.5], STRIP_PX);
                for side in [-0.8, 0.8] {
                    self.chalk_line(&[ground.at(side, 0.35), ground.at(side, -0.5)]);
                }
            }
            PieceKind::Tree => {
                self.ring(&ground, 11, 1.0);
                self.ring(&ground, 7, 0.55);
                self.dot(ground.place, 4.0);
            }
            PieceKind::Plant => self.ring(&ground, 5, 1.0),
            PieceKind::LampPost => {
                self.dot(ground.place, 3.0);
                // Its light, as short strokes all round.
                let reach = 9.0 / self.view.scale;
                for turn in 0..8 {
                    let way = along(piece.facing + Angle::from_rad(TAU / 8.0 * f64::from(turn)));
                    self.chalk_line(&[ground.place + way * reach, ground.place + way * (reach * 1.6)]);
                }
            }
            PieceKind::Lights => {
                self.chalk_line(&[ground.at(-1.0, 0.0), ground.at(1.0, 0.0)]);
                for bead in -4..=4 {
                    self.dot(ground.at(f64::from(bead) * 0.22, 0.0), 2.5);
                }
                for end in [-1.0, 1.0] {
                    self.strip(&ground, [end, 0.0], [end * 0.97, 0.0], 9.0);
                }
            }
        }
    }

    /// The name of a piece, in the middle of it if there is room, else below; none where the piece is not seen.
    pub(crate) fn name_piece(&self, piece: &SetPiece, name: &str) {
        let (x, y) = self.view.to_px(piece.place.extend(0.0));
        if !(0.0..=self.view.size.0).contains(&x) || !(0.0..=self.view.size.1).contains(&y) {
            return;
        }
        let (width, depth) = (piece.size.width.to_m(), piece.size.depth.to_m());
        let high = (piece.facing.sin() * width).abs() + (piece.facing.cos() * depth).abs();
        let below = high / 2.0 * self.view.scale + 11.0;
        let has_room = width.min(depth) * self.view.scale > 70.0;
        self.label(piece.place.extend(0.0), (0.0, if has_room { 16.0 } else { below }), name);
    }

    /// A strip between two points of a piece.
    fn strip(&self, ground: &Ground, from: [f64; 2], to: [f64; 2], width_px: f64) {
        self.tape(ground.at(from[0], from[1]), ground.at(to[0], to[1]), &self.palette.chalk_quiet, width_px);
    }

    /// Four strips around a piece, inside its edges.
    fn outline(&self, ground: &Ground) {
        let corners = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
        for (at, from) in corners.iter().enumerate() {
            self.strip(ground, *from, corners[(at + 1) % 4], STRIP_PX);
        }
    }

    /// Short strips in a ring, as large as the piece times `share`.
    fn ring(&self, ground: &Ground, count: u8, share: f64) {
        let step = TAU / f64::from(count);
        for number in 0..count {
            let at = |turn: f64| {
                let angle = Angle::from_rad(step * (f64::from(number) + turn));
                ground.at(angle.sin() * share, angle.cos() * share)
            };
            self.tape(at(0.0), at(0.62), &self.palette.chalk_quiet, STRIP_PX);
        }
    }

    fn chalk_line(&self, points: &[DVec3]) {
        self.pen(&self.palette.chalk, 1.5);
        self.trace(points);
    }

    /// A round bit of tape.
    fn dot(&self, place: DVec3, radius_px: f64) {
        let (x, y) = self.view.to_px(place);
        self.context.set_fill_style_str(&self.palette.chalk_quiet);
        self.context.begin_path();
        // Refused only for a negative radius.
        self.context.arc(x, y, radius_px, 0.0, TAU).unwrap_or_default();
        self.context.fill();
    }
}

/// Where an opening of that half width ends, as a share of the wall's half width and at most `most` of it: as in the
/// picture.
fn opening(piece: &SetPiece, half_m: f64, most: f64) -> f64 {
    (half_m / (piece.size.width.to_m() / 2.0)).min(most)
}
