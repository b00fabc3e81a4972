//! Eyes that look ahead, brows, nose and mouth, on a head's masses.
//!
//! Millimetres of the head's drawing, from memory of figure drawing.

use glam::DVec3;
use staging::Age;

use crate::figure::dress::Dress;
use crate::figure::head::Head;
use crate::picture::Surface;
use crate::workshop::{Turn, Workshop};

/// From the middle to an eye: pupils are 63 mm apart.
const EYE: f64 = 31.5;
/// An eyeball's radius.
const BALL: f64 = 12.5;
/// Eyes over a ball's radius: drawn broad, so that they read from afar, and flat, so that they lie in the face.
const EYE_SHAPE: DVec3 = DVec3::new(1.15, 0.72, 1.0);

/// A lid, or the lashes under it: a ball a little larger than the eye's and shifted, so that the two meet in a plane,
/// which is the lid's edge.
struct Lid {
    /// Forward and up, of length 1: away from the opening.
    normal: [f64; 2],
    /// How far the lid's ball is shifted.
    shift: f64,
    /// Where the edge is along `normal`, from the eye's middle.
    edge: f64,
}

/// The upper lid covers the top of the iris; its edge falls back to the corners of the eye.
const UPPER: Lid = Lid { normal: [-0.55, 0.835], shift: 1.8, edge: -1.7 };
const LASHES: Lid = Lid { normal: [-0.55, 0.835], shift: 1.0, edge: -2.5 };
const LOWER: Lid = Lid { normal: [-0.55, -0.835], shift: 1.1, edge: -1.9 };

impl Lid {
    /// The radius R of a ball shifted by a that meets the eye's, of radius r, at c along the shift.
    ///
    /// ```text
    /// R² = r² + a² − 2 a c
    /// ```
    fn radius(&self) -> f64 {
        let (r, a, c) = (BALL, self.shift, self.edge);
        libm::sqrt(r * r + a * a - 2.0 * a * c)
    }

    fn make(&self, workshop: &mut Workshop, head: &Head, eye: DVec3, surface: Surface) {
        let [forward, up] = self.normal;
        let at = eye + DVec3::new(0.0, forward, up) * EYE_SHAPE * head.small(self.shift);
        workshop.ellipsoid(at, ball(head, self.radius()), surface);
    }
}

/// The middle of an eye: straight above the person's place but for its side.
pub(super) fn eye_middle(head: &Head, side: f64) -> DVec3 {
    head.eyes + DVec3::X * (side * head.small(EYE))
}

/// The half axes of an eyeball or a lid.
fn ball(head: &Head, radius: f64) -> DVec3 {
    EYE_SHAPE * head.small(radius)
}

/// Makes a face.
pub(super) fn make(workshop: &mut Workshop, head: &Head, dress: &Dress) {
    for side in [-1.0, 1.0] {
        eye(workshop, head, side, dress);
        brow(workshop, head, side, dress);
    }
    nose(workshop, head, dress);
    mouth(workshop, head, dress);
}

fn eye(workshop: &mut Workshop, head: &Head, side: f64, dress: &Dress) {
    let middle = eye_middle(head, side);
    workshop.ellipsoid(middle, ball(head, BALL), dress.eye);
    let iris = DVec3::new(6.6, 3.0, 6.6).map(|radius| head.small(radius));
    workshop.ellipsoid(middle + DVec3::Y * head.small(7.0), iris, dress.iris);
    // On the same side of both eyes, as one light would be.
    let glint = middle + DVec3::new(-2.0, 9.3, 2.2).map(|length| head.small(length));
    workshop.ball(glint, head.small(1.1), dress.glint);
    UPPER.make(workshop, head, middle, dress.skin);
    LASHES.make(workshop, head, middle, dress.lash);
    LOWER.make(workshop, head, middle, dress.skin);
}

fn brow(workshop: &mut Workshop, head: &Head, side: f64, dress: &Dress) {
    let place = |x: f64, y: f64, z: f64| head.point(side * x, y, z);
    let links = [
        (place(13.0, 15.5, 25.0), head.small(3.0)),
        (place(32.0, 9.0, 27.5), head.small(3.2)),
        (place(46.0, -2.0, 24.0), head.small(2.0)),
    ];
    for pair in links.windows(2) {
        if let [from, to] = *pair {
            workshop.round_cone(from, to, dress.hair);
        }
    }
}

fn nose(workshop: &mut Workshop, head: &Head, dress: &Dress) {
    // A child's nose is short and flat.
    let reach = match head.age {
        Age::Adult => 1.0,
        Age::Child => 0.8,
    };
    let tip = head.point(0.0, 12.0 + 15.0 * reach, -40.0 * reach - 3.0);
    let root = (head.point(0.0, 6.5, 12.0), head.small(6.5));
    workshop.round_cone(root, (tip, head.small(9.5)), dress.skin);
    for side in [-1.0, 1.0] {
        let wing = tip + DVec3::new(side * 8.0, -8.5, -1.5).map(|length| head.small(length));
        let radii = DVec3::new(7.0, 10.0, 6.5).map(|radius| head.small(radius));
        workshop.ellipsoid(wing, radii, dress.skin);
    }
}

fn mouth(workshop: &mut Workshop, head: &Head, dress: &Dress) {
    // Lips keep their edges.
    workshop.melt(0.0);
    // A child's mouth is small.
    let breadth = match head.age {
        Age::Adult => 1.0,
        Age::Child => 0.84,
    };
    let line = head.point(0.0, 11.0, -70.0);
    let small = |x: f64, y: f64, z: f64| DVec3::new(x, y, z).map(|length| breadth * head.small(length));
    workshop.ellipsoid(line, small(22.0, 10.3, 1.1), dress.mouth);
    for side in [-1.0, 1.0] {
        let turn = Turn::along(DVec3::Y, DVec3::new(1.0, 0.0, -side * 0.05));
        let upper = line + small(side * 7.0, 0.6, 3.1);
        workshop.turned_ellipsoid(upper, turn, small(14.0, 8.8, 4.0), dress.lips);
    }
    workshop.ellipsoid(line + small(0.0, 0.3, -4.8), small(17.5, 9.8, 5.4), dress.lips);
}
