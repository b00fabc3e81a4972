//! Where a body bends: shoulders, elbows, wrists, hips, knees and ankles, for every posture and stance.
//!
//! Metres in the person's own directions. Shares of stature are from memory of figure drawing: an upper arm is 0.155
//! from the ball of the shoulder, a forearm 0.147, and hips stand 0.035 above the crotch.

use std::f64::consts::TAU;

use glam::DVec3;
use staging::{Body, Landmark, Posture, Stance};

use crate::figure::gait::Gait;
use crate::workshop::Turn;

/// How far the spine is behind the eyes, as a share of stature.
pub(super) const SPINE: f64 = -0.050;
/// How high an ankle is above the sole, as a share of stature.
pub(super) const ANKLE: f64 = 0.042;
/// From the middle to a hip, as a share of stature.
const HIP_OUT: f64 = 0.043;
const UPPER_ARM: f64 = 0.155;
const FOREARM: f64 = 0.147;

/// Where a body bends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Joints {
    pub(super) stature: f64,
    /// The middle between the hips.
    pub(super) pelvis: DVec3,
    /// The left one, then the right one.
    pub(super) arms: [Arm; 2],
    /// The left one, then the right one.
    pub(super) legs: [Leg; 2],
}

/// An arm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Arm {
    /// −1 on the left, 1 on the right.
    pub(super) side: f64,
    pub(super) shoulder: DVec3,
    pub(super) elbow: DVec3,
    pub(super) wrist: DVec3,
    /// The hand's directions: `x` towards the thumb, `y` along the fingers.
    pub(super) hand: Turn,
}

/// A leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Leg {
    pub(super) hip: DVec3,
    pub(super) knee: DVec3,
    pub(super) ankle: DVec3,
    /// The foot's directions: `y` towards the toes, `z` up from the sole.
    pub(super) foot: Turn,
}

impl Joints {
    pub(super) fn of(body: &Body, stance: Stance) -> Self {
        let stature = body.stature.to_m();
        match (body.posture, stance) {
            (Posture::Seated, _) => Self::seated(body, stature),
            (Posture::Standing, Stance::Still) => Self::standing(body, stature),
            (Posture::Standing, Stance::Walking(done)) => Self::walking(body, stature, done),
        }
    }

    fn standing(body: &Body, stature: f64) -> Self {
        let hip = hip_height(body);
        let knee = body.height_of(Landmark::Knee).to_m();
        Self {
            stature,
            pelvis: DVec3::new(0.0, SPINE * stature, hip),
            arms: [-1.0, 1.0].map(|side| hanging_arm(body, side, [-0.09, 0.24])),
            legs: [-1.0, 1.0].map(|side| {
                // Toes turn out a little.
                let foot = Turn::LEVEL.swung(-side * 0.10);
                Leg {
                    hip: DVec3::new(side * HIP_OUT, SPINE, hip / stature) * stature,
                    knee: DVec3::new(side * 0.047, SPINE + 0.007, knee / stature) * stature,
                    ankle: DVec3::new(side * 0.050, SPINE - 0.008, ANKLE) * stature,
                    foot,
                }
            }),
        }
    }

    fn walking(body: &Body, stature: f64, done: f64) -> Self {
        let standing_hip = hip_height(body) / stature;
        let knee = body.height_of(Landmark::Knee).to_m() / stature;
        let (thigh, shin) = (standing_hip - knee, knee - ANKLE);
        // Reaching out takes the hips down, twice in a double step; the eyes stay where the framing has them.
        let reach = libm::cos(TAU * done);
        let hip_height = standing_hip - 0.002 - 0.016 * reach * reach;
        let legs = [-1.0, 1.0].map(|side| {
            let gait = Gait::of(if side < 0.0 { done + 0.5 } else { done });
            let hip = DVec3::new(side * HIP_OUT, SPINE + gait.hip_ahead, hip_height);
            let ankle = DVec3::new(side * 0.040, SPINE + gait.ankle_ahead, gait.ankle_up);
            let knee = bend(hip, ankle, thigh, shin);
            let foot = Turn::LEVEL.pitched(gait.toes_up_rad);
            Leg { hip: hip * stature, knee: knee * stature, ankle: ankle * stature, foot }
        });
        let arms = [-1.0, 1.0].map(|side| {
            // An arm goes with the other side's leg.
            let swing = Gait::of(if side < 0.0 { done } else { done + 0.5 }).ahead;
            hanging_arm(body, side, [0.02 + 0.34 * swing, 0.30 + 0.18 * swing])
        });
        Self { stature, pelvis: DVec3::new(0.0, SPINE, hip_height) * stature, arms, legs }
    }

    fn seated(body: &Body, stature: f64) -> Self {
        let height = |landmark| body.height_of(landmark).to_m() / stature;
        // A seated person's thighs lie on the seat.
        let seat = height(Landmark::MidThigh);
        let half_breadth = body.shoulder_breadth().to_m() / 2.0 / stature;
        // Thighs of short legs lie on the seat all the same, and their feet hang.
        let knee = (height(Landmark::Knee) - 0.034).max(seat + 0.027);
        let ankle = (knee - 0.239).max(ANKLE);
        let legs = [-1.0, 1.0].map(|side| Leg {
            hip: DVec3::new(side * 0.050, SPINE, seat + 0.050) * stature,
            knee: DVec3::new(side * 0.066, SPINE + 0.245, knee) * stature,
            ankle: DVec3::new(side * 0.064, SPINE + 0.238, ankle) * stature,
            foot: Turn::LEVEL.swung(-side * 0.12),
        });
        let arms = [-1.0, 1.0].map(|side| {
            let wrist_up = seat + 0.050 + (knee - seat - 0.050) * 0.6 + 0.052;
            Arm {
                side,
                shoulder: shoulder(body, side),
                elbow: DVec3::new(
                    side * (half_breadth - 0.002),
                    SPINE + 0.006,
                    height(Landmark::Waist) + 0.022,
                ) * stature,
                wrist: DVec3::new(side * 0.076, SPINE + 0.132, wrist_up) * stature,
                hand: Turn::along(
                    DVec3::new(-side * 0.12, 1.0, 0.8 * (knee - wrist_up)),
                    DVec3::new(-side, 0.0, -0.22),
                ),
            }
        });
        Self { stature, pelvis: DVec3::new(0.0, SPINE, seat + 0.050) * stature, arms, legs }
    }
}

/// The mid-thigh landmark is halfway between crotch and knee.
fn hip_height(body: &Body) -> f64 {
    let height = |landmark| body.height_of(landmark).to_m();
    2.0 * height(Landmark::MidThigh) - height(Landmark::Knee) + 0.035 * body.stature.to_m()
}

/// The ball of a shoulder: half an arm's breadth within the breadth over both arms.
fn shoulder(body: &Body, side: f64) -> DVec3 {
    let stature = body.stature.to_m();
    let out = body.shoulder_breadth().to_m() / 2.0 - 0.033 * stature;
    let up = body.height_of(Landmark::Shoulder).to_m() - 0.034 * stature;
    DVec3::new(side * out, (SPINE - 0.004) * stature, up)
}

/// An arm that hangs, swung forward and bent at the elbow by those angles in radians.
fn hanging_arm(body: &Body, side: f64, [swing, bend]: [f64; 2]) -> Arm {
    let stature = body.stature.to_m();
    // Narrow shoulders over hips as broad need arms held out more.
    let out = 0.16 + 2.0 * (0.142 - body.shoulder_breadth().to_m() / 2.0 / stature);
    let along =
        |angle: f64, out: f64| DVec3::new(side * out, libm::sin(angle), -libm::cos(angle)).normalize();
    let shoulder = shoulder(body, side);
    let elbow = shoulder + along(swing, out) * (UPPER_ARM * stature);
    let wrist = elbow + along(swing + bend, 0.02) * (FOREARM * stature);
    let hand = Turn::along(
        along(swing + 0.7 * bend, -0.10),
        // Palms towards the body, thumbs ahead and a little inward.
        DVec3::new(-side * 0.35, 1.0, 0.0),
    );
    Arm { side, shoulder, elbow, wrist, hand }
}

/// A knee that bends forward between hip and ankle; out of reach it is straight, and the leg a little longer.
fn bend(hip: DVec3, ankle: DVec3, thigh: f64, shin: f64) -> DVec3 {
    let reach = ankle - hip;
    let distance = reach.length();
    let along = reach / distance;
    // The law of cosines: how far along the straight line the knee is.
    let share = (distance * distance + thigh * thigh - shin * shin) / (2.0 * distance);
    let out = libm::sqrt((thigh * thigh - share * share).max(0.0));
    let forward = (DVec3::Y - along * along.y).normalize_or(DVec3::Y);
    let at = if out > 0.0 { share } else { distance * thigh / (thigh + shin) };
    hip + along * at + forward * out
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use staging::Age;
    use units::Length;

    use super::*;

    fn body(age: Age) -> Body {
        Body { stature: Length::from_m(1.7), posture: Posture::Standing, age }
    }

    #[test]
    fn a_still_person_has_level_hips_and_feet_under_them() {
        let joints = Joints::of(&body(Age::Adult), Stance::Still);
        let [left, right] = joints.legs;
        assert!((left.ankle.x + right.ankle.x).abs() < 1e-12 && (left.ankle.z - right.ankle.z).abs() < 1e-12);
        assert!(left.ankle.x < 0.0 && right.ankle.x > 0.0, "{left:?} {right:?}");
    }

    #[test]
    fn the_arm_ahead_is_on_the_side_of_the_leg_behind() {
        let joints = Joints::of(&body(Age::Adult), Stance::Walking(0.0));
        let [left_leg, right_leg] = joints.legs;
        let [left_arm, right_arm] = joints.arms;
        assert!(right_leg.ankle.y > left_leg.ankle.y + 0.3, "{joints:?}");
        assert!(left_arm.wrist.y > right_arm.wrist.y + 0.2, "{joints:?}");
    }

    proptest! {
        #[test]
        fn a_step_on_swaps_left_and_right(done in 0.0..0.5_f64) {
            let [one, other] =
                [done, done + 0.5].map(|done| Joints::of(&body(Age::Adult), Stance::Walking(done)));
            let mirrored = other.legs[1].ankle * DVec3::new(-1.0, 1.0, 1.0);
            prop_assert!(one.legs[0].ankle.distance(mirrored) < 1e-9, "{one:?} {other:?}");
        }

        #[test]
        fn walking_stretches_no_leg_by_more_than_a_hundredth(done in 0.0..1.0_f64) {
            for age in [Age::Adult, Age::Child] {
                let still = Joints::of(&body(age), Stance::Still).legs[0];
                let length = still.hip.z - still.ankle.z;
                for leg in Joints::of(&body(age), Stance::Walking(done)).legs {
                    let walking = leg.hip.distance(leg.knee) + leg.knee.distance(leg.ankle);
                    prop_assert!(walking < 1.01 * length && walking > 0.99 * length, "{walking} {length}");
                }
            }
        }
    }
}
