//! One leg's way through a double step.
//!
//! Shares of stature from the middle of the body, from memory of figure drawing; not measured on anybody.

use std::f64::consts::TAU;

use crate::figure::joints::ANKLE;

/// From the ankle to the end of the heel and to the tips of the toes, along the sole.
pub(super) const SOLE: [f64; 2] = [-0.044, 0.104];
/// How far ahead of the body a foot lands, and behind it leaves: a step is twice that, about a third of stature.
const REACH: f64 = 0.172;
/// The share of a double step that a foot is on the floor.
const ON_FLOOR: f64 = 0.6;

/// A leg at one moment of a double step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Gait {
    /// How far the ankle is ahead of the body.
    pub(super) ankle_ahead: f64,
    /// How high the ankle is above the floor.
    pub(super) ankle_up: f64,
    /// How far the hip is turned ahead with it.
    pub(super) hip_ahead: f64,
    /// How far the toes point up, radians.
    pub(super) toes_up_rad: f64,
    /// How far ahead the leg is, −1 to 1.
    pub(super) ahead: f64,
}

impl Gait {
    /// The leg after `done` double steps since its foot landed.
    pub(super) fn of(done: f64) -> Self {
        let done = done - libm::floor(done);
        let ahead = libm::cos(TAU * (done - 0.02));
        let (share, lift) = if done < ON_FLOOR {
            (1.0 - 2.0 * done / ON_FLOOR, 0.0)
        } else {
            let share = (done - ON_FLOOR) / (1.0 - ON_FLOOR);
            (2.0 * smooth(share) - 1.0, 0.030 * libm::sin(TAU / 2.0 * share))
        };
        let toes_up_rad = toes_up(done);
        let (sin, cos) = (libm::sin(toes_up_rad), libm::cos(toes_up_rad));
        // The ankle is as high as the lower end of the turned sole asks.
        let [heel, toes] = SOLE.map(|along| ANKLE * cos - along * sin);
        Self {
            ankle_ahead: REACH * share,
            ankle_up: heel.max(toes) + lift,
            hip_ahead: 0.005 * share,
            toes_up_rad,
            ahead,
        }
    }
}

/// Lands on the heel, rolls flat, leaves from the toes.
fn toes_up(done: f64) -> f64 {
    const KEYS: [[f64; 2]; 6] =
        [[0.0, 0.30], [0.10, 0.0], [0.36, 0.0], [0.60, -0.62], [0.78, -0.20], [1.0, 0.30]];
    let mut angle = 0.0;
    for pair in KEYS.windows(2) {
        if let [[from, start], [to, end]] = *pair
            && done >= from
            && done <= to
        {
            angle = start + (end - start) * smooth((done - from) / (to - from));
        }
    }
    angle
}

/// From 0 to 1 without a jerk at either end.
fn smooth(share: f64) -> f64 {
    share * share * (3.0 - 2.0 * share)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn one_foot_is_always_on_the_floor(done in 0.0..1.0_f64) {
            let lowest = [done, done + 0.5]
                .map(Gait::of)
                .map(|gait| {
                    let (sin, cos) = (libm::sin(gait.toes_up_rad), libm::cos(gait.toes_up_rad));
                    let ends = SOLE.map(|along| gait.ankle_up - ANKLE * cos + along * sin);
                    ends[0].min(ends[1])
                });
            prop_assert!(lowest[0].min(lowest[1]).abs() < 1e-12 && lowest[0].max(lowest[1]) >= -1e-12, "{lowest:?}");
        }

        #[test]
        fn a_leg_never_jumps(done in 0.0..1.0_f64) {
            let (one, next) = (Gait::of(done), Gait::of(done + 1e-6));
            prop_assert!((one.ankle_ahead - next.ankle_ahead).abs() < 1e-5, "{one:?} {next:?}");
            prop_assert!((one.ankle_up - next.ankle_up).abs() < 1e-5, "{one:?} {next:?}");
        }
    }
}
