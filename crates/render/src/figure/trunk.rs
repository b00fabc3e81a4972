//! The trunk in its top, the hips, and the stool under who sits.
//!
//! Shares of stature, from memory of figure drawing.

use glam::DVec3;
use staging::{Body, Landmark, Posture};

use crate::figure::MELTS;
use crate::figure::dress::Dress;
use crate::figure::head::Head;
use crate::figure::joints::{Joints, SPINE};
use crate::workshop::{Turn, Workshop};

/// The section of the top where it hangs, half across and half from front to back.
const HEM: [f64; 2] = [0.0915, 0.0700];

/// Makes the top, its collar, and the hips.
pub(super) fn make(workshop: &mut Workshop, body: &Body, joints: &Joints, head: &Head, dress: &Dress) {
    let stature = joints.stature;
    workshop.melt(MELTS * stature);
    let height = |landmark| body.height_of(landmark).to_m() / stature;
    let (collar, chest) = (height(Landmark::Collar), height(Landmark::Chest));
    let hip = joints.pelvis.z / stature;
    // Narrower shoulders, narrower trunk: a child's is not an adult's made small.
    let breadth = body.shoulder_breadth().to_m() / stature / 0.2838;
    let place = |x: f64, y: f64, z: f64| DVec3::new(x, SPINE + y, z) * stature;
    let radii = |x: f64, y: f64, z: f64| DVec3::new(x, y, z) * stature;

    let chest = (place(0.0, 0.001, chest - 0.035), radii(0.097 * breadth, 0.0730, 0.143));
    workshop.ellipsoid(chest.0, chest.1, dress.top);
    // The top hangs straight from the waist to its hem.
    let hem = match body.posture {
        Posture::Standing => hip - 0.022,
        Posture::Seated => hip - 0.012,
    };
    let hang = 0.125;
    workshop.ellipsoid(place(0.0, 0.0, hem + hang), radii(HEM[0], HEM[1], hang) * 1.002, dress.top);
    for arm in &joints.arms {
        // From the neck to the shoulder.
        workshop.round_cone(
            (place(arm.side * 0.016, -0.010, collar - 0.012), 0.037 * stature),
            (arm.shoulder - DVec3::X * (arm.side * 0.004 * stature), 0.033 * stature),
            dress.top,
        );
    }
    workshop.ellipsoid(joints.pelvis, radii(0.086, 0.062, 0.048), dress.trousers);
    // What is sewn has edges.
    workshop.melt(0.0);
    workshop.column(place(0.0, 0.0, hem + hang / 2.0), radii(HEM[0], HEM[1], hang / 2.0), dress.top);
    let (neck, girth) = head.neck_root;
    workshop.turned_column(
        neck + DVec3::new(0.0, 0.0015, 0.003) * stature,
        Turn::LEVEL.pitched(-0.26),
        DVec3::new(1.13 * girth, 1.13 * girth, 0.017 * stature),
        dress.trim,
    );
}

/// Makes a plain stool: a seat on four legs.
pub(super) fn make_stool(workshop: &mut Workshop, body: &Body, dress: &Dress) {
    let seat = body.height_of(Landmark::MidThigh).to_m();
    let middle = DVec3::new(0.0, SPINE * body.stature.to_m() + 0.05, 0.0);
    let thick = 0.018;
    workshop.column(middle + DVec3::Z * (seat - thick), DVec3::new(0.19, 0.19, thick), dress.wood);
    for (x, y) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
        let leg = |out: f64, up: f64| middle + DVec3::new(x * out, y * out, up);
        workshop.round_cone((leg(0.115, seat - 0.03), 0.017), (leg(0.155, 0.013), 0.013), dress.wood);
    }
}
