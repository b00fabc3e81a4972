//! A hand at rest: palm, thumb and four fingers that curl a little.
//!
//! Shares of the hand's length, wrist to fingertip, which is 0.108 of stature; from memory of figure drawing.

use glam::DVec3;

use crate::figure::joints::Arm;
use crate::picture::Surface;
use crate::workshop::Workshop;

/// A hand's length as a share of stature.
const LENGTH: f64 = 0.108;

/// A finger: where its knuckle is towards the thumb, its radius, and the lengths of its drawn parts; the little one has
/// one.
const FINGERS: [[f64; 4]; 4] = [
    [0.142, 0.052, 0.27, 0.21],
    [0.048, 0.054, 0.30, 0.23],
    [-0.046, 0.051, 0.28, 0.21],
    [-0.132, 0.045, 0.37, 0.0],
];

/// Makes a hand at the end of an arm.
pub(super) fn make(workshop: &mut Workshop, stature: f64, arm: &Arm, skin: Surface) {
    let length = LENGTH * stature;
    // Fingers are thin.
    workshop.melt(0.045 * length);
    // Towards the thumb, along the fingers, out of the palm.
    let place = |thumb: f64, along: f64, palm: f64| {
        arm.wrist + arm.hand.of(DVec3::new(thumb, along, arm.side * palm)) * length
    };
    workshop.round_cone(
        (place(0.0, -0.10, 0.0), 0.140 * length),
        (place(0.0, 0.30, 0.005), 0.070 * length),
        skin,
    );
    workshop.turned_ellipsoid(
        place(0.005, 0.26, 0.008),
        arm.hand,
        DVec3::new(0.205, 0.28, 0.098) * length,
        skin,
    );
    // The row of knuckles.
    let knuckle = |across: f64| place(across, 0.46 - 0.9 * (across - 0.05) * (across - 0.05), 0.005);
    workshop.round_cone((knuckle(0.142), 0.054 * length), (knuckle(-0.132), 0.047 * length), skin);
    for (number, [across, radius, first, second]) in (0_u8..).zip(FINGERS) {
        // The little finger curls most.
        let curl = 0.20 + 0.09 * f64::from(number);
        let reach = |part: f64, angle: f64| (libm::cos(angle) * part, libm::sin(angle) * part);
        let (along, down) = reach(first, curl);
        let (further, deeper) = reach(second, 2.4 * curl);
        // Fingers lie a little together towards their tips.
        let offset = |inward: f64, along: f64, palm: f64| {
            knuckle(across) + arm.hand.of(DVec3::new(inward * across, along, arm.side * palm)) * length
        };
        let middle = offset(-0.10, along, down);
        let tip = offset(-0.22, along + further, down + deeper);
        workshop.round_cone((knuckle(across), (radius + 0.003) * length), (middle, radius * length), skin);
        if second > 0.0 {
            workshop.round_cone((middle, radius * length), (tip, (radius - 0.010) * length), skin);
        }
    }
    let joint = (place(0.255, 0.34, 0.10), 0.060 * length);
    workshop.round_cone((place(0.09, 0.12, 0.05), 0.082 * length), joint, skin);
    workshop.round_cone(joint, (place(0.262, 0.56, 0.135), 0.046 * length), skin);
}
