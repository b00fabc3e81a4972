//! A paced outline that ended where it began: how far from it the walk says it ended, and the outline that closes.

use glam::{DMat2, DMat3, DVec2, DVec3};
use language::say;
use units::{Angle, Length};

use super::PacedCorner;
use super::walk::Walk;

/// How well a closed outline closes, and the outline that does.
#[derive(Debug, Clone, PartialEq)]
pub struct Closing {
    /// From the start to where the walk seems to end: east and north, in metres.
    pub gap: DVec2,
    /// How much the turns add up to beyond a whole turn, the way they go round.
    pub turn_gap: Angle,
    /// What the turns add up to, to the right positive.
    pub turned: Angle,
    /// The standard uncertainty of that.
    pub turned_sd: Angle,
    /// The sum of squares of what every number has to be off by for the outline to close, over its standard
    /// uncertainty.
    pub squares: f64,
    /// The corners of the outline that closes; none if no outline near the walk does.
    pub corners: Option<Vec<PacedCorner>>,
}

/// The chi-squared distribution's 95 % limit for three numbers: end east, end north, sum of turns (a table's value,
/// from memory).
const THREE_95: f64 = 7.815;

/// The normal distribution's 95 % range, either way (a table's value, from memory).
const NORMAL_95: f64 = 1.96;

/// Rounds after which an outline that still moves is given up: chosen because five are the rule.
const MOST_ROUNDS: usize = 50;

impl Closing {
    /// Closes a walk with the least change of its numbers, each by how well it is known.
    ///
    /// ```text
    /// f(v) = 0,  Σ (vᵢ / uᵢ)² → least          v ← −Q Aᵀ (A Q Aᵀ)⁻¹ (f(v) − A v)
    /// C' = J Q Jᵀ − J Q Aᵀ (A Q Aᵀ)⁻¹ A Q Jᵀ
    /// ```
    /// `v` what each number is off by, of standard uncertainty `u`; `Q` their covariance; `f` where the walk ends and
    /// how far its turns are from a whole turn, with the slopes `A`; `C'` the covariance of a corner with the slopes
    /// `J`. A surveyor's compass rule spreads the gap by the sides' lengths alone; here it goes where it most likely
    /// came from.
    ///
    /// # Source
    /// Least squares of observations that meet conditions: `Mikhail1976`; `Jcgm2008`, 5.2.2, for what is taken as
    /// known.
    pub(super) fn of(walk: Walk) -> Self {
        let end = walk.closed_corners();
        let (gap, turned) = (walk.gap(), walk.turned());
        let turn_variance: f64 = walk.sds[end..2 * end].iter().map(|sd| sd * sd).sum();
        let closed = close(walk);
        Self {
            gap: gap.truncate(),
            turn_gap: Angle::from_rad(if turned < Angle::ZERO { -gap.z } else { gap.z }),
            turned,
            turned_sd: Angle::from_rad(libm::sqrt(turn_variance)),
            squares: closed.as_ref().map_or(f64::INFINITY, squares),
            corners: closed.map(|walk| (0..end).map(|corner| closed_corner(&walk, corner)).collect()),
        }
    }

    /// Whether it closes worse than 19 of 20 such walks do that were counted right.
    ///
    /// # Source
    /// The sum of squares of three normal distributions; `Jcgm2008`, G.1 (a 95 % range).
    pub fn is_doubtful(&self) -> bool {
        // Written so that what is no number is in doubt.
        self.corners.is_none() || !self.squares.is_finite() || self.squares > THREE_95
    }

    /// What may be wrong with a walk that closes badly, in plain words.
    pub fn doubt(&self) -> Option<String> {
        if !self.is_doubtful() {
            return None;
        }
        let turned_deg = self.turned.abs().to_deg();
        if self.turn_gap.abs() > self.turned_sd * NORMAL_95 {
            return Some(say!(
                "the turns add up to {turned_deg:.0}°, not 360°: one is missing, or goes the other way"
            ));
        }
        let apart = Length::from_m(self.gap.length());
        Some(say!(
            "the walk ends {apart:.1} from where it began, farther than 19 of 20 that are counted right: a side is \
             miscounted, or a corner is no such angle"
        ))
    }
}

/// The walk that closes with the least change; none if none is found.
fn close(walk: Walk) -> Option<Walk> {
    let mut closed = walk;
    for _ in 0..MOST_ROUNDS {
        let slopes = closed.slopes(closed.closed_corners());
        let weight = inverse(spread(&slopes, &slopes, &closed.sds))?;
        let along: DVec3 = slopes.iter().zip(closed.off()).map(|(slope, off)| *slope * *off).sum();
        let pull = weight * (closed.gap() - along);
        let off: Vec<_> =
            slopes.iter().zip(&closed.sds).map(|(slope, sd)| -sd * sd * slope.dot(pull)).collect();
        let moved =
            off.iter().zip(closed.off()).fold(0.0_f64, |most, (new, old)| most.max((new - old).abs()));
        if !moved.is_finite() {
            return None;
        }
        closed = closed.with_off(off);
        if moved < 1.0e-12 {
            return (closed.gap().length() < 1.0e-9).then_some(closed);
        }
    }
    None
}

/// The sum of squares of what the numbers are off by, over their standard uncertainties; what is exact is off by
/// nothing.
fn squares(walk: &Walk) -> f64 {
    let pairs = walk.off().iter().zip(&walk.sds).filter(|(_, sd)| **sd > 0.0);
    pairs.map(|(off, sd)| (off / sd) * (off / sd)).sum()
}

/// A corner of a closed walk, whose covariance is less for its closing.
fn closed_corner(walk: &Walk, corner: usize) -> PacedCorner {
    let open = walk.corner(corner);
    let (of_corner, of_end) = (walk.slopes(corner), walk.slopes(walk.closed_corners()));
    let shared = spread(&of_corner, &of_end, &walk.sds);
    let weight = inverse(spread(&of_end, &of_end, &walk.sds)).unwrap_or(DMat3::ZERO);
    let gained = DMat2::from_mat3(shared * weight * shared.transpose());
    PacedCorner { covariance: open.covariance - gained, ..open }
}

/// The covariance of two things by their slopes.
fn spread(left: &[DVec3], right: &[DVec3], sds: &[f64]) -> DMat3 {
    let products = left.iter().zip(right).zip(sds).map(|((left, right), sd)| {
        let (left, right) = (*left * *sd, *right * *sd);
        DMat3::from_cols(left * right.x, left * right.y, left * right.z)
    });
    products.fold(DMat3::ZERO, |sum, product| sum + product)
}

fn inverse(matrix: DMat3) -> Option<DMat3> {
    let inverse = matrix.inverse();
    (matrix.determinant() > 0.0 && inverse.is_finite()).then_some(inverse)
}
