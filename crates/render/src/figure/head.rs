//! A head's measures and its masses: skull, hair, face, ears and neck.
//!
//! A head is drawn for one adult of 1.70 m, in millimetres from the middle between the eyes, and stretched to the
//! landmarks of each body: across by breadth, along by length, upward and downward from the eyes by crown and chin.
//! The drawing is from memory of figure drawing and is nobody's.

use glam::DVec3;
use staging::{Age, Body, Landmark};

use crate::figure::dress::Dress;
use crate::figure::joints::SPINE;
use crate::workshop::{Turn, Workshop};

/// The drawn head: breadth, length, crown above and chin below the eyes, millimetres: the adult of
/// `presets/bodies.toml`.
const DRAWN: [f64; 4] = [152.0, 196.0, 112.2, 108.8];
/// The skull's middle and half axes in the drawing.
const SKULL: [DVec3; 2] = [DVec3::new(0.0, -78.0, 25.0), DVec3::new(71.5, 94.0, 80.4)];
/// How much larger than the skull the hair is, and how far it is shifted up and back, over the skull's half axes.
///
/// Two ellipsoids of one shape meet in a plane, here the hairline: from above the forehead past the temples to below
/// the ears. With size k and shift a along n the plane is at (1 − k² + a²) / 2a along n, here −0.34.
const HAIR: (f64, [f64; 2]) = (1.030, [-0.0584, 0.0544]);

/// A head's measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Head {
    /// The middle between the eyes, in the person's own directions.
    pub(super) eyes: DVec3,
    /// Metres of a millimetre of the drawing: across, along, up from the eyes, down from them.
    scale: [f64; 4],
    /// Where the neck comes out of the trunk, and its radius there.
    pub(super) neck_root: (DVec3, f64),
    pub(super) age: Age,
}

/// A neck is about 0.062 of stature thick where it leaves the collar, a child's about 0.060.
fn neck_root(body: &Body) -> (DVec3, f64) {
    let stature = body.stature.to_m();
    let girth = match body.age {
        Age::Adult => 0.031,
        Age::Child => 0.030,
    };
    let collar = body.height_of(Landmark::Collar).to_m();
    (DVec3::new(0.0, (SPINE - 0.0075) * stature, collar + 0.003 * stature), girth * stature)
}

impl Head {
    pub(super) fn of(body: &Body) -> Self {
        let height = |landmark| body.height_of(landmark).to_m();
        let (crown, eyes, chin) = (height(Landmark::Crown), height(Landmark::Eyes), height(Landmark::Chin));
        let [breadth, length, up, down] = DRAWN;
        Self {
            eyes: DVec3::Z * eyes,
            scale: [
                body.head_breadth().to_m() / breadth,
                body.head_length().to_m() / length,
                (crown - eyes) / up,
                (eyes - chin) / down,
            ],
            neck_root: neck_root(body),
            age: body.age,
        }
    }

    /// A point of the drawing.
    pub(super) fn point(&self, x: f64, y: f64, z: f64) -> DVec3 {
        let [across, along, ..] = self.scale;
        self.eyes + DVec3::new(x * across, y * along, self.rise(z))
    }

    fn rise(&self, z: f64) -> f64 {
        let [.., up, down] = self.scale;
        if z > 0.0 { z * up } else { z * down }
    }

    /// A small length of the drawing, the same whichever way it lies: eyes and nose do not stretch.
    pub(super) fn small(&self, millimetres: f64) -> f64 {
        millimetres * self.scale[0]
    }

    /// An ellipsoid of the drawing: its middle and half axes.
    pub(super) fn lump(&self, at: DVec3, radii: DVec3) -> (DVec3, DVec3) {
        let [across, along, ..] = self.scale;
        let (top, foot) = (self.rise(at.z + radii.z), self.rise(at.z - radii.z));
        let centre = self.eyes + DVec3::new(at.x * across, at.y * along, f64::midpoint(top, foot));
        (centre, DVec3::new(radii.x * across, radii.y * along, (top - foot) / 2.0))
    }

    /// Makes the masses.
    pub(super) fn make(&self, workshop: &mut Workshop, dress: &Dress) {
        let lump =
            |at: (f64, f64, f64), radii: (f64, f64, f64)| self.lump(DVec3::from(at), DVec3::from(radii));
        let [at, radii] = SKULL;
        let (skull, half) = self.lump(at, radii);
        workshop.ellipsoid(skull, half, dress.skin);
        let (size, [back, up]) = HAIR;
        let hair = skull + DVec3::new(0.0, half.y * back, half.z * up);
        workshop.ellipsoid(hair, half * size, dress.hair);
        // Hair over the nape.
        let (nape, half) = lump((0.0, -100.0, 8.0), (69.0, 75.0, 82.0));
        workshop.ellipsoid(nape, half, dress.hair);
        // Face from eyes to jaw, what the mouth stands on, the chin.
        for (at, radii) in [
            ((0.0, -46.0, -30.0), (61.5, 61.0, 74.0)),
            ((0.0, -29.0, -52.0), (46.0, 47.0, 56.8)),
            ((0.0, -12.5, -89.5), (21.5, 25.5, 19.3)),
        ] {
            let (at, radii) = lump(at, radii);
            workshop.ellipsoid(at, radii, dress.skin);
        }
        for side in [-1.0, 1.0] {
            // The cheek under an eye, along the face's own bend.
            let cheek = DVec3::new(25.0, 14.0, 19.0).map(|radius| self.small(radius));
            let turn = Turn::LEVEL.swung(-side * 0.55);
            workshop.turned_ellipsoid(self.point(side * 27.0, -5.6, -17.5), turn, cheek, dress.skin);
            self.ear(workshop, side, dress);
        }
        self.neck(workshop, dress);
    }

    fn ear(&self, workshop: &mut Workshop, side: f64, dress: &Dress) {
        let turn = Turn::LEVEL.pitched(0.20).swung(side * 0.35);
        let radii = |x: f64, y: f64, z: f64| DVec3::new(x, y, z).map(|radius| self.small(radius));
        let middle = self.point(side * 68.0, -84.0, -12.0);
        workshop.turned_ellipsoid(middle, turn, radii(5.5, 16.0, 28.0), dress.skin);
        let hollow = middle + turn.of(radii(side * 3.4, 3.0, -1.0));
        workshop.turned_ellipsoid(hollow, turn, radii(3.0, 8.5, 15.0), dress.hollow);
    }

    fn neck(&self, workshop: &mut Workshop, dress: &Dress) {
        let (root, girth) = self.neck_root;
        let nape = self.point(0.0, -86.0, -62.0);
        workshop.round_cone((nape, 0.88 * girth), (root, girth), dress.skin);
    }
}
