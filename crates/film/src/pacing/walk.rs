//! The walk along an outline, with what every number of it may be off by.

use glam::{DMat2, DVec2, DVec3};
use units::Angle;

use super::{Paced, PacedCorner, PacedOutline};
use crate::view_check::stepped_distance;

/// No length is better known than this and no turn than this: chosen because a tape is read to a millimetre and no
/// floor is truer; it keeps what is stated as exact from having no weight at all.
const LEAST_SD: (f64, f64) = (1.0e-3, 1.0e-4);

/// A walk whose numbers are off by `off`: each side's own, each turn's, the step's, and the first direction's.
#[derive(Debug, Clone)]
pub(super) struct Walk {
    sides: Vec<Side>,
    step_m: f64,
    first_rad: f64,
    /// The standard uncertainty of each number: sides (m), turns (rad), the step (m), the first direction (rad).
    pub(super) sds: Vec<f64>,
    /// What each number is off by, at first nothing.
    off: Vec<f64>,
    /// The corners that follow, the first at the origin.
    corners: Vec<DVec2>,
}

/// A side as walked.
#[derive(Debug, Clone, Copy)]
struct Side {
    /// How often the step is in it.
    steps: f64,
    /// What was taped of it.
    taped_m: f64,
    turn_rad: f64,
}

impl Walk {
    pub(super) fn of(outline: &PacedOutline) -> Self {
        let mut sds = Vec::new();
        let sides = outline.sides.iter().map(|side| {
            let (steps, taped_m, sd_m) = match side.distance {
                Paced::Steps(steps) => (steps, 0.0, stepped_distance(steps, outline.step.length).1.to_m()),
                Paced::Taped { length, sd } => (0.0, length.to_m(), sd.to_m()),
            };
            sds.push(sd_m.max(LEAST_SD.0));
            Side { steps, taped_m, turn_rad: side.turn.to_rad() }
        });
        let sides = sides.collect();
        sds.extend(outline.sides.iter().map(|side| side.turn_sd.to_rad().max(LEAST_SD.1)));
        // These have no part in whether the outline closes, or one that sides share: nothing is gained by a least.
        sds.extend([outline.step.sd.to_m(), outline.first_sd.to_rad()]);
        let off = vec![0.0; sds.len()];
        let (step_m, first_rad) = (outline.step.length.to_m(), outline.first.to_rad());
        Self { sides, step_m, first_rad, sds, off, corners: Vec::new() }.walked()
    }

    /// The same walk with its numbers off by that much.
    pub(super) fn with_off(&self, off: Vec<f64>) -> Self {
        Self { off, ..self.clone() }.walked()
    }

    /// Fills in the corners.
    fn walked(mut self) -> Self {
        let count = self.sides.len();
        let mut at = DVec2::ZERO;
        self.corners = vec![at];
        let mut direction = self.first_rad + self.off[2 * count + 1];
        for (index, side) in self.sides.iter().enumerate() {
            let length_m = side.steps * (self.step_m + self.off[2 * count]) + side.taped_m + self.off[index];
            at += towards(direction) * length_m;
            direction += side.turn_rad + self.off[count + index];
            self.corners.push(at);
        }
        self
    }

    pub(super) fn off(&self) -> &[f64] {
        &self.off
    }

    /// How many corners an outline has that closes.
    pub(super) fn closed_corners(&self) -> usize {
        self.sides.len()
    }

    /// Where the walk ends (m) and how much its turns add up to beyond a whole turn, to the right or left (rad).
    pub(super) fn gap(&self) -> DVec3 {
        let count = self.sides.len();
        let turned: f64 =
            self.sides.iter().zip(&self.off[count..]).map(|(side, off)| side.turn_rad + off).sum();
        let whole = if turned < 0.0 { -core::f64::consts::TAU } else { core::f64::consts::TAU };
        self.corners[count].extend(turned - whole)
    }

    /// The sum of its turns.
    pub(super) fn turned(&self) -> Angle {
        Angle::from_rad(self.sides.iter().map(|side| side.turn_rad).sum())
    }

    /// What a corner (east, north, in metres) and the sum of turns (rad) change by with each number.
    pub(super) fn slopes(&self, corner: usize) -> Vec<DVec3> {
        let count = self.sides.len();
        let at = self.corners[corner];
        let mut by_step = DVec2::ZERO;
        let mut slopes = Vec::with_capacity(self.sds.len());
        let mut direction = self.first_rad + self.off[2 * count + 1];
        for (index, side) in self.sides.iter().enumerate() {
            let way = if index < corner { towards(direction) } else { DVec2::ZERO };
            by_step += way * side.steps;
            slopes.push(way.extend(0.0));
            direction += side.turn_rad + self.off[count + index];
        }
        for index in 0..count {
            // A turn swings everything after it about the corner where it is made.
            let swung = if index < corner { at - self.corners[index + 1] } else { DVec2::ZERO };
            slopes.push(quarter_right(swung).extend(1.0));
        }
        slopes.push(by_step.extend(0.0));
        slopes.push(quarter_right(at).extend(0.0));
        slopes
    }

    /// A corner with its covariance, to first order.
    pub(super) fn corner(&self, corner: usize) -> PacedCorner {
        let mut covariance = DMat2::ZERO;
        for (slope, sd) in self.slopes(corner).iter().zip(&self.sds) {
            let moved = slope.truncate() * *sd;
            covariance += DMat2::from_cols(moved * moved.x, moved * moved.y);
        }
        PacedCorner { at: self.corners[corner], covariance }
    }
}

/// The direction of that angle clockwise from north.
fn towards(direction_rad: f64) -> DVec2 {
    DVec2::new(libm::sin(direction_rad), libm::cos(direction_rad))
}

/// What a small turn to the right moves the end of a way by.
fn quarter_right(way: DVec2) -> DVec2 {
    DVec2::new(way.y, -way.x)
}
