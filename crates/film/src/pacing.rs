//! A place paced out: sides in steps or by tape and the turns between them give its corners, each as well as it is
//! known.
//!
//! # Conventions
//! - The first corner is the origin; x is east and y north, metres; directions and turns are clockwise positive.
//! - A side's turn is the one at its end, to the next side; in a closed outline the last one's leads back to the first side.
//! - `sd` is one standard uncertainty. Every side and turn is off on its own, and the length of a step in all sides alike.

mod closing;
mod corner;
mod walk;

use language::key;
use units::{Angle, Length};

pub use closing::Closing;
pub use corner::{PacedCorner, SpreadEllipse};

use crate::kit_file::{RecordError, within_range};
use crate::view_check::stepped_distance;
use walk::Walk;

/// The length of somebody's step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepLength {
    /// Of one step, 0.2 to 2 m.
    pub length: Length,
    /// Its standard uncertainty: how far the mean of many steps may be from it.
    pub sd: Length,
}

/// How far it is along a side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Paced {
    /// So many steps; the last may be a part of one.
    Steps(f64),
    /// Measured with a tape.
    Taped {
        /// How far.
        length: Length,
        /// Its standard uncertainty; [`TAPED_SD`](crate::TAPED_SD) is the usual one.
        sd: Length,
    },
}

/// A side of an outline, and the turn at its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PacedSide {
    /// How far it is along it.
    pub distance: Paced,
    /// The turn to the next side: to the right positive, −180° to 180°.
    pub turn: Angle,
    /// Its standard uncertainty; [`TURN_SD`] by eye.
    pub turn_sd: Angle,
}

/// The outline of a place, as it was paced out.
#[derive(Debug, Clone, PartialEq)]
pub struct PacedOutline {
    /// The step of whoever paced it.
    pub step: StepLength,
    /// The direction of the first side, clockwise from north.
    pub first: Angle,
    /// Its standard uncertainty.
    pub first_sd: Angle,
    /// The sides in the order of the walk: 1 to 64, and at least 3 of a closed outline.
    pub sides: Vec<PacedSide>,
    /// Whether the walk ended where it began.
    pub is_closed: bool,
}

/// The corners of an outline as it was paced out.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkedOutline {
    /// Every corner as walked, the first at the origin; of a closed outline the last is where the walk seemed to end.
    pub corners: Vec<PacedCorner>,
    /// How well a closed outline closes, and its corners once it does.
    pub closing: Option<Closing>,
}

/// The standard uncertainty of a turn that is judged by eye: chosen because a corner that is off its right angle by six
/// degrees is seen to be none.
pub const TURN_SD: Angle = Angle::from_deg(3.0);

/// More sides are a slip: chosen because nobody paces out so many.
const MOST_SIDES: usize = 64;

impl StepLength {
    /// The length of a step, from so many steps along a known length.
    ///
    /// ```text
    /// p = L / n          u(p)² = (u(L) / n)² + (0.1 p)² / n
    /// ```
    /// `L` the length (1 to 1000 m); `n` steps along it (2 to 2000); `p` the length of a step (0.2 to 2 m); `u`
    /// standard uncertainty. The second term is that of [`stepped_distance`]: steps are off each on its own.
    ///
    /// # Errors
    /// Names what is out of range: `steps`, `along_m`, `along_sd_m`, or what follows, `step_m`.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.2 and 5.1.6.
    ///
    /// # Examples
    /// ```
    /// use film::StepLength;
    /// use units::Length;
    /// let step = StepLength::learned(25.0, Length::from_m(20.0), Length::ZERO)?;
    /// assert!((step.length.to_m() - 0.8).abs() < 1e-12);
    /// // A tenth of a step over the root of 25.
    /// assert!((step.sd.to_m() - 0.016).abs() < 1e-12);
    /// # Ok::<(), film::RecordError>(())
    /// ```
    pub fn learned(steps: f64, along: Length, along_sd: Length) -> Result<Self, RecordError> {
        let n = within_range("steps", steps, 2.0, 2000.0, key!("steps"))?;
        within_range("along_m", along.to_m(), 1.0, 1000.0, "m")?;
        within_range("along_sd_m", along_sd.to_m(), 0.0, 100.0, "m")?;
        let length = along / n;
        within_range("step_m", length.to_m(), 0.2, 2.0, "m")?;
        let (_, own_sd) = stepped_distance(n, length);
        let sd = libm::hypot(along_sd.to_m() / n, own_sd.to_m() / n);
        Ok(Self { length, sd: Length::from_m(sd) })
    }
}

impl PacedSide {
    /// A side with a right angle to the right at its end, as most corners are.
    pub const fn new(distance: Paced) -> Self {
        Self { distance, turn: Angle::from_deg(90.0), turn_sd: TURN_SD }
    }
}

impl PacedOutline {
    /// The corners of the outline, and of a closed one how well it closes.
    ///
    /// ```text
    /// αᵢ = α₁ + β₁ + … + βᵢ₋₁          Pₖ₊₁ = Pₖ + dₖ (sin αₖ, cos αₖ)
    /// ```
    /// `α` directions of sides, `β` turns, `d` lengths (`n p` for `n` steps of `p`), `P` corners. Their covariance is
    /// that of all lengths, turns, the step and the first direction, to first order: where a taped side swings by an
    /// uncertain turn, what is a thin ellipse here is bent in truth.
    ///
    /// # Errors
    /// Names what is out of range, such as `sides[2].steps`.
    ///
    /// # Source
    /// Geometry of a traverse: latitudes and departures as in `Mahun2026`; `Jcgm2008`, 5.2.2 (the law of propagation).
    ///
    /// # Examples
    /// ```
    /// use film::{Paced, PacedOutline, PacedSide, StepLength};
    /// use units::{Angle, Length};
    /// let room = PacedOutline {
    ///     step: StepLength::learned(25.0, Length::from_m(20.0), Length::ZERO)?,
    ///     first: Angle::ZERO,
    ///     first_sd: Angle::ZERO,
    ///     sides: [10.0, 5.0, 10.0, 5.0].map(|steps| PacedSide::new(Paced::Steps(steps))).to_vec(),
    ///     is_closed: true,
    /// };
    /// let walked = room.walk()?;
    /// // North by 8 m, then east by 4 m.
    /// assert!((walked.corners[2].at.x - 4.0).abs() < 1e-12 && (walked.corners[2].at.y - 8.0).abs() < 1e-12);
    /// assert!(walked.closing.is_some_and(|closing| closing.gap.length() < 1e-12 && !closing.is_doubtful()));
    /// # Ok::<(), film::RecordError>(())
    /// ```
    pub fn walk(&self) -> Result<WalkedOutline, RecordError> {
        self.check()?;
        let walk = Walk::of(self);
        let corners = (0..=self.sides.len()).map(|corner| walk.corner(corner)).collect();
        Ok(WalkedOutline { corners, closing: self.is_closed.then(|| Closing::of(walk)) })
    }

    fn check(&self) -> Result<(), RecordError> {
        within_range("step_m", self.step.length.to_m(), 0.2, 2.0, "m")?;
        within_range("step_sd_m", self.step.sd.to_m(), 0.0, 1.0, "m")?;
        within_range("first_deg", self.first.to_deg(), -360.0, 360.0, key!("deg"))?;
        within_range("first_sd_deg", self.first_sd.to_deg(), 0.0, 90.0, key!("deg"))?;
        let least = if self.is_closed { 3.0 } else { 1.0 };
        let count = u32::try_from(self.sides.len()).map_or(f64::MAX, f64::from);
        let most = u32::try_from(MOST_SIDES).map_or(f64::MAX, f64::from);
        within_range("sides", count, least, most, key!("sides"))?;
        for (index, side) in self.sides.iter().enumerate() {
            let named = |field: &str| format!("sides[{index}].{field}");
            match side.distance {
                Paced::Steps(steps) => {
                    within_range(&named("steps"), steps, 0.1, 10_000.0, key!("steps"))?;
                }
                Paced::Taped { length, sd } => {
                    within_range(&named("length_m"), length.to_m(), 0.01, 10_000.0, "m")?;
                    within_range(&named("length_sd_m"), sd.to_m(), 0.0, 1000.0, "m")?;
                }
            }
            within_range(&named("turn_deg"), side.turn.to_deg(), -180.0, 180.0, key!("deg"))?;
            within_range(&named("turn_sd_deg"), side.turn_sd.to_deg(), 0.0, 90.0, key!("deg"))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec2;
    use proptest::prelude::*;

    const STEP: StepLength = StepLength { length: Length::from_mm(800.0), sd: Length::from_mm(16.0) };

    fn open(sides: Vec<PacedSide>) -> PacedOutline {
        PacedOutline { step: STEP, first: Angle::ZERO, first_sd: Angle::ZERO, sides, is_closed: false }
    }

    fn steps(steps: f64) -> PacedSide {
        PacedSide::new(Paced::Steps(steps))
    }

    fn assert_at(corner: &PacedCorner, (x, y): (f64, f64)) {
        assert!(corner.at.distance(DVec2::new(x, y)) < 1e-9, "{corner:?} is not at {x}, {y}");
    }

    #[test]
    fn turning_right_from_north_leads_east() {
        let walked = open(vec![steps(10.0), steps(5.0)]).walk().expect("a walk");
        assert_at(&walked.corners[1], (0.0, 8.0));
        assert_at(&walked.corners[2], (4.0, 8.0));
        assert_eq!(walked.closing, None);
    }

    #[test]
    fn the_first_direction_turns_everything() {
        let outline = PacedOutline { first: Angle::from_deg(90.0), ..open(vec![steps(10.0), steps(5.0)]) };
        let walked = outline.walk().expect("a walk");
        assert_at(&walked.corners[2], (8.0, -4.0));
    }

    #[test]
    fn a_side_is_known_along_by_its_steps_and_across_by_its_direction() {
        let first_sd = Angle::from_deg(2.0);
        let walked = PacedOutline { first_sd, ..open(vec![steps(16.0)]) }.walk().expect("a walk");
        let end = walked.corners[1];
        // 16 steps of their own: a tenth of 0.8 m times 4; and the step itself, 16 times.
        let along = libm::hypot(0.32, 16.0 * 0.016);
        assert!((libm::sqrt(end.covariance.y_axis.y) - along).abs() < 1e-9, "{end:?}");
        assert!((libm::sqrt(end.covariance.x_axis.x) - 12.8 * first_sd.to_rad()).abs() < 1e-9, "{end:?}");
    }

    #[test]
    fn a_corner_is_known_less_well_the_farther_the_walk() {
        let walked = open(vec![steps(10.0), steps(10.0), steps(2.0)]).walk().expect("a walk");
        let spread: Vec<_> = walked.corners.iter().map(|corner| corner.ellipse().long.to_m()).collect();
        assert!(spread[0] < 1e-12 && spread[0] < spread[1] && spread[1] < spread[2], "{spread:?}");
    }

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let path = |outline: PacedOutline| outline.walk().expect_err("refused").path;
        assert_eq!(path(open(Vec::new())), "sides");
        assert_eq!(path(PacedOutline { is_closed: true, ..open(vec![steps(3.0); 2]) }), "sides");
        assert_eq!(path(open(vec![steps(3.0), steps(0.0)])), "sides[1].steps");
        let turned = PacedSide { turn: Angle::from_deg(200.0), ..steps(3.0) };
        assert_eq!(path(open(vec![turned])), "sides[0].turn_deg");
        let slow = StepLength::learned(100.0, Length::from_m(10.0), Length::ZERO);
        assert_eq!(slow.expect_err("refused").path, "step_m");
    }

    proptest! {
        #[test]
        fn the_covariance_is_that_of_small_changes(
            counts in proptest::collection::vec(2.0..30.0_f64, 3..6),
            turns_deg in proptest::collection::vec(-120.0..120.0_f64, 6),
            which in 0..3_usize,
        ) {
            let sides: Vec<_> = counts
                .iter()
                .zip(&turns_deg)
                .map(|(count, turn)| PacedSide {
                    turn: Angle::from_deg(*turn),
                    turn_sd: Angle::ZERO,
                    ..PacedSide::new(Paced::Taped { length: Length::from_m(*count), sd: Length::ZERO })
                })
                .collect();
            // One turn alone is uncertain, so that the covariance is that of its change.
            let mut uncertain = sides.clone();
            uncertain[which].turn_sd = Angle::from_rad(1e-3);
            let mut turned = sides.clone();
            turned[which].turn = turned[which].turn + Angle::from_rad(1e-6);
            let end = |sides: &[PacedSide]| *open(sides.to_vec()).walk().expect("a walk").corners.last().expect("a corner");
            let slope = (end(&turned).at - end(&sides).at) / 1e-6;
            let (sure, unsure) = (end(&sides).covariance, end(&uncertain).covariance);
            // What is not given a spread has the least there is.
            let difference = (unsure - sure) * 1e6;
            let expected = glam::DMat2::from_cols(slope * slope.x, slope * slope.y);
            let off = (difference - expected).to_cols_array().into_iter().fold(0.0_f64, |most, part| most.max(part.abs()));
            prop_assert!(off < 0.011 * slope.length_squared() + 1e-3, "{difference} is not {expected}");
        }
    }
}
