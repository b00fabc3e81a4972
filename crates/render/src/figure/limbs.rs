//! Sleeves, trouser legs and shoes.
//!
//! Shares of stature, from memory of figure drawing.

use glam::DVec3;

use crate::figure::MELTS;
use crate::figure::dress::Dress;
use crate::figure::gait::SOLE;
use crate::figure::hand;
use crate::figure::joints::{ANKLE, Arm, Leg};
use crate::workshop::{Turn, Workshop};

/// Makes a sleeve, its cuff and a hand.
pub(super) fn make_arm(workshop: &mut Workshop, stature: f64, arm: &Arm, dress: &Dress) {
    workshop.melt(MELTS * stature);
    let elbow = (arm.elbow, 0.0255 * stature);
    workshop.round_cone((arm.shoulder, 0.033 * stature), elbow, dress.top);
    let cuff = arm.wrist - (arm.wrist - arm.elbow).normalize_or_zero() * (0.012 * stature);
    workshop.round_cone(elbow, (cuff, 0.0200 * stature), dress.top);
    let turn = Turn::along(arm.wrist - arm.elbow, arm.hand.x);
    let across = Turn { x: turn.x, y: turn.z, z: turn.y };
    workshop.turned_column(cuff, across, DVec3::new(0.0215, 0.0215, 0.012) * stature, dress.trim);
    hand::make(workshop, stature, arm, dress.skin);
}

/// Makes a trouser leg and a shoe.
pub(super) fn make_leg(workshop: &mut Workshop, stature: f64, leg: &Leg, dress: &Dress) {
    workshop.melt(MELTS * stature);
    let knee = (leg.knee, 0.0335 * stature);
    workshop.round_cone((leg.hip, 0.0390 * stature), knee, dress.trousers);
    workshop.round_cone(knee, (leg.ankle, 0.0275 * stature), dress.trousers);
    shoe(workshop, stature, leg, dress);
}

fn shoe(workshop: &mut Workshop, stature: f64, leg: &Leg, dress: &Dress) {
    let [heel, toes] = SOLE;
    let place = |x: f64, y: f64, z: f64| leg.ankle + leg.foot.of(DVec3::new(x, y, z)) * stature;
    let (middle, half) = (f64::midpoint(heel, toes), (toes - heel) / 2.0);
    let thick = 0.0045;
    workshop.turned_column(
        place(0.0, middle, thick - ANKLE),
        leg.foot,
        DVec3::new(0.0285, half, thick) * stature,
        dress.sole,
    );
    workshop.turned_ellipsoid(
        place(0.0, middle, 0.0155 - ANKLE),
        leg.foot,
        DVec3::new(0.027, half - 0.001, 0.0175) * stature,
        dress.shoe,
    );
    // The instep.
    workshop.round_cone(
        (place(0.0, -0.008, -0.014), 0.0250 * stature),
        (place(0.0, 0.046, 0.022 - ANKLE), 0.0150 * stature),
        dress.shoe,
    );
}
