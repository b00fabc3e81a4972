//! Places paced out with the errors that people make: what is said to be known of a corner is, 19 times of 20.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "../../staging/tests/trials/chance.rs"]
mod chance;

use chance::Chance;
use film::{Paced, PacedCorner, PacedOutline, PacedSide, StepLength, WalkedOutline};
use glam::DVec2;
use proptest::prelude::*;
use units::{Angle, Length};

const TRIALS: u32 = 1000;
const STEP_M: f64 = 0.75;
const STEP_SD_M: f64 = 0.015;
const TURN_SD_DEG: f64 = 3.0;
const FIRST_SD_DEG: f64 = 4.0;
const TAPED_SD_M: f64 = 0.03;

/// A place as it is: the lengths of its sides and the turns between them.
struct Truth {
    first_deg: f64,
    sides: Vec<(f64, f64)>,
}

impl Truth {
    /// An L, 12 m by 9 m, of which 5 m by 4 m are cut out.
    fn angled() -> Self {
        let sides = vec![(12.0, 90.0), (4.0, 90.0), (5.0, -90.0), (5.0, 90.0), (7.0, 90.0), (9.0, 90.0)];
        Self { first_deg: 25.0, sides }
    }

    fn corners(&self) -> Vec<DVec2> {
        let (mut at, mut direction) = (DVec2::ZERO, self.first_deg);
        let mut corners = vec![at];
        for (length_m, turn_deg) in &self.sides {
            let way = Angle::from_deg(direction);
            at += DVec2::new(way.sin(), way.cos()) * *length_m;
            direction += turn_deg;
            corners.push(at);
        }
        corners
    }

    /// The place as somebody paces it out whose step is not quite what they think; two of its sides are taped.
    fn paced(&self, chance: &mut Chance, is_closed: bool) -> WalkedOutline {
        let true_step_m = STEP_M + chance.normal(STEP_SD_M);
        let sides = self.sides.iter().enumerate().map(|(index, (length_m, turn_deg))| {
            let distance = if index % 3 == 1 {
                let length = Length::from_m(length_m + chance.normal(TAPED_SD_M));
                Paced::Taped { length, sd: Length::from_m(TAPED_SD_M) }
            } else {
                let steps = length_m / true_step_m;
                Paced::Steps(steps + chance.normal(0.1) * libm::sqrt(steps))
            };
            PacedSide {
                distance,
                turn: Angle::from_deg(turn_deg + chance.normal(TURN_SD_DEG)),
                turn_sd: Angle::from_deg(TURN_SD_DEG),
            }
        });
        let sides = sides.collect();
        let outline = PacedOutline {
            step: StepLength { length: Length::from_m(STEP_M), sd: Length::from_m(STEP_SD_M) },
            first: Angle::from_deg(self.first_deg + chance.normal(FIRST_SD_DEG)),
            first_sd: Angle::from_deg(FIRST_SD_DEG),
            sides,
            is_closed,
        };
        outline.walk().expect("a walk")
    }
}

/// Whether a corner is within its 95 % ellipse, and within 1.96 standard uncertainties of its east alone.
fn is_within(corner: &PacedCorner, truth: DVec2) -> (bool, bool) {
    let off = corner.at - truth;
    let squares = off.dot(corner.covariance.inverse() * off);
    // The 95 % limits of chi-squared with two numbers, and of the normal distribution.
    (squares < 5.991, off.x.abs() < 1.96 * libm::sqrt(corner.covariance.x_axis.x))
}

fn assert_honest(is_closed: bool, corner: impl Fn(&WalkedOutline) -> PacedCorner, which: usize) -> f64 {
    let truth = Truth::angled();
    let at = truth.corners()[which];
    let mut chance = Chance(11);
    let (mut both, mut east, mut doubtful) = (0_u32, 0_u32, 0_u32);
    for _ in 0..TRIALS {
        let walked = truth.paced(&mut chance, is_closed);
        let (is_both, is_east) = is_within(&corner(&walked), at);
        both += u32::from(is_both);
        east += u32::from(is_east);
        doubtful += u32::from(walked.closing.is_some_and(|closing| closing.is_doubtful()));
    }
    for count in [both, east] {
        assert!((920..=980).contains(&count), "{both} and {east} of {TRIALS} within, corner {which}");
    }
    f64::from(doubtful) / f64::from(TRIALS)
}

#[test]
fn corners_as_walked_are_as_well_known_as_they_say() {
    for which in [1, 3, 6] {
        assert_honest(false, |walked| walked.corners[which], which);
    }
}

#[test]
fn corners_of_a_closed_outline_are_as_well_known_as_they_say() {
    for which in [1, 3, 5] {
        let closed = |walked: &WalkedOutline| {
            walked.closing.as_ref().and_then(|closing| closing.corners.as_ref()).expect("closes")[which]
        };
        let doubtful = assert_honest(true, closed, which);
        assert!((0.03..0.08).contains(&doubtful), "{doubtful} in doubt");
    }
}

#[test]
fn closing_an_outline_makes_its_corners_better_known() {
    let walked = Truth::angled().paced(&mut Chance(3), true);
    let closed = walked.closing.and_then(|closing| closing.corners).expect("closes");
    for (corner, closed) in walked.corners.iter().zip(&closed).skip(1) {
        assert!(closed.ellipse().long < corner.ellipse().long, "{closed:?} {corner:?}");
    }
}

fn room(counts: &[f64], turns_deg: &[f64]) -> PacedOutline {
    let sides = counts.iter().zip(turns_deg.iter().cycle()).map(|(count, turn_deg)| PacedSide {
        turn: Angle::from_deg(*turn_deg),
        ..PacedSide::new(Paced::Steps(*count))
    });
    PacedOutline {
        step: StepLength { length: Length::from_m(STEP_M), sd: Length::from_m(STEP_SD_M) },
        first: Angle::ZERO,
        first_sd: Angle::ZERO,
        sides: sides.collect(),
        is_closed: true,
    }
}

/// What is doubted; nothing if nothing is.
fn doubt(outline: &PacedOutline) -> String {
    outline.walk().expect("a walk").closing.expect("closed").doubt().unwrap_or_default()
}

#[test]
fn a_side_that_is_miscounted_by_ten_is_doubted() {
    assert_eq!(doubt(&room(&[30.0, 20.0, 30.0, 20.0], &[90.0])), "");
    let words = doubt(&room(&[30.0, 20.0, 20.0, 20.0], &[90.0]));
    assert!(words.starts_with("the walk ends 7.5 m from where it began"), "{words}");
}

#[test]
fn a_turn_the_wrong_way_is_told_apart() {
    let words = doubt(&room(&[30.0, 20.0, 30.0, 20.0], &[90.0, 90.0, -90.0, 90.0]));
    assert_eq!(words, "the turns add up to 180°, not 360°: one is missing, or goes the other way");
}

proptest! {
    #[test]
    fn any_outline_gives_finite_numbers_or_a_reason(
        counts in proptest::collection::vec(prop_oneof![0.05..200.0_f64, Just(0.0), Just(f64::NAN)], 0..9),
        turns_deg in proptest::collection::vec(prop_oneof![-180.0..180.0_f64, Just(90.0), Just(0.0)], 1..9),
        sd_deg in prop_oneof![0.0..90.0_f64, Just(0.0)],
        is_closed in any::<bool>(),
    ) {
        let mut outline = PacedOutline { is_closed, ..room(&counts, &turns_deg) };
        for side in &mut outline.sides {
            side.turn_sd = Angle::from_deg(sd_deg);
        }
        if let Ok(walked) = outline.walk() {
            let closing = walked.closing.as_ref();
            let closed = closing.and_then(|closing| closing.corners.as_ref());
            for corner in walked.corners.iter().chain(closed.into_iter().flatten()) {
                let ellipse = corner.ellipse();
                prop_assert!(corner.at.is_finite() && corner.covariance.is_finite(), "{corner:?}");
                prop_assert!(ellipse.short <= ellipse.long, "{ellipse:?}");
            }
            prop_assert!(closing.is_none_or(|closing| closing.doubt().is_some() == closing.is_doubtful()));
        }
    }

    #[test]
    fn a_closed_outline_closes(
        sides in proptest::collection::vec((5.0..40.0_f64, 60.0..110.0_f64), 4..5),
    ) {
        let (counts, turns): (Vec<_>, Vec<_>) = sides.into_iter().unzip();
        let closing = room(&counts, &turns).walk().expect("a walk").closing.expect("closed");
        if let Some(corners) = closing.corners {
            prop_assert_eq!(corners.len(), 4);
            prop_assert!(corners[0].at.length() < 1e-12 && corners[0].covariance.to_cols_array().iter().all(|part| part.abs() < 1e-12));
        } else {
            prop_assert!(closing.gap.length() > 1.0, "{closing:?}");
        }
    }
}
