//! A plain mannequin from a body's landmarks: which ellipsoids make it, in the person's own directions.
//!
//! Points are metres to the person's right, forward and up from the middle between the feet. Heights come from the
//! landmarks; breadths that no landmark gives are shares of stature from memory of figure drawing, and say no more than
//! that. The eyes are straight above the feet, because framing puts all landmarks on one vertical; the rest of a body
//! stands a hand's breadth behind its eyes.

use glam::{DVec2, DVec3};
use staging::{Body, Landmark, Posture};

use crate::draw::head::Head;
use crate::draw::stance::Lump;

/// What a part is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Material {
    Skin,
    Top,
    Trousers,
    Shoe,
    Wood,
}

/// A part of a mannequin that is drawn in one go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Part {
    pub(super) shape: PartShape,
    /// How much nearer than it is it counts when parts are put in order: clothes lie over what they cover.
    pub(super) over_m: f64,
}

/// How a part is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum PartShape {
    /// The mannequin's lumps from `first` to before `end`, joined, and those from there to before `seam`, which hide
    /// the outline where the part grows out of another. Shade begins at `shade`.
    Chain { material: Material, first: usize, shade: usize, end: usize, seam: usize },
    /// The neck and the head, which has a face.
    Head,
}

/// A person as ellipsoids.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mannequin {
    pub(super) lumps: Vec<Lump>,
    pub(super) parts: Vec<Part>,
    pub(super) head: Head,
}

/// Collects lumps and parts while a body is put together.
struct Builder {
    lumps: Vec<Lump>,
    parts: Vec<Part>,
    /// Metres of a share of stature.
    stature: f64,
}

impl Builder {
    /// Adds a chain.
    fn chain(&mut self, material: Material, over_m: f64, links: &[Lump]) {
        self.grown_chain(material, over_m, links, &[], 0);
    }

    /// Adds a chain that grows out of another part along `seam`, its first `lit` links without shade.
    fn grown_chain(&mut self, material: Material, over_m: f64, links: &[Lump], seam: &[Lump], lit: usize) {
        let first = self.lumps.len();
        self.lumps.extend_from_slice(links);
        let end = self.lumps.len();
        self.lumps.extend_from_slice(seam);
        let shape = PartShape::Chain { material, first, shade: first + lit, end, seam: self.lumps.len() };
        self.parts.push(Part { shape, over_m });
    }

    /// A lump from shares of stature, at a height in metres.
    fn lump(&self, (right, forward): (f64, f64), up_m: f64, radii: (f64, f64, f64)) -> Lump {
        Lump::new(
            DVec3::new(right * self.stature, forward * self.stature, up_m),
            DVec3::new(radii.0, radii.1, radii.2) * self.stature,
        )
    }

    fn ball(&self, place: (f64, f64), up_m: f64, radius: f64) -> Lump {
        self.lump(place, up_m, (radius, radius, radius))
    }
}

/// How far the spine is behind the eyes, as a share of stature.
const SPINE: f64 = -0.050;
/// A chair's seat, as in `staging`'s bodies.
const SEAT_M: f64 = 0.45;

impl Mannequin {
    pub(super) fn of(body: &Body) -> Self {
        let mut builder = Builder {
            lumps: Vec::with_capacity(64),
            parts: Vec::with_capacity(24),
            stature: body.stature.to_m(),
        };
        let joints = Joints::of(body);
        builder.trunk(body, &joints);
        for side in [-1.0, 1.0] {
            builder.leg(side, &joints);
            builder.arm(side, body, &joints);
        }
        if body.posture == Posture::Seated {
            builder.stool(joints.seat);
        }
        builder.parts.push(Part { shape: PartShape::Head, over_m: 0.08 });
        Self { lumps: builder.lumps, parts: builder.parts, head: Head::of(body) }
    }

    /// The middle of a part, in the person's own directions.
    pub(super) fn middle(&self, part: &Part) -> DVec3 {
        match part.shape {
            PartShape::Chain { first, end, .. } => {
                let links = self.lumps.get(first..end).unwrap_or_default();
                let count = links.iter().map(|_| 1.0).sum::<f64>().max(1.0);
                links.iter().map(|lump| lump.at).sum::<DVec3>() / count
            }
            PartShape::Head => DVec3::new(0.0, -0.4 * self.head.length, self.head.eyes),
        }
    }
}

/// Heights in metres, and places in shares of stature, of what bends.
struct Joints {
    shoulder: f64,
    waist: f64,
    hip: f64,
    /// Shares of stature right of the middle.
    shoulder_right: f64,
    elbow: DVec3,
    wrist: DVec3,
    hip_forward: f64,
    knee: DVec2,
    ankle: DVec2,
    /// A chair's seat under the person.
    seat: f64,
}

impl Joints {
    fn of(body: &Body) -> Self {
        let height = |landmark| body.height_of(landmark).to_m();
        let stature = body.stature.to_m();
        let (shoulder, waist) = (height(Landmark::Shoulder), height(Landmark::Waist));
        let half_breadth = body.shoulder_breadth().to_m() / 2.0 / stature;
        let shoulder_right = half_breadth - 0.032;
        match body.posture {
            Posture::Standing => {
                // The mid-thigh landmark is halfway between crotch and knee.
                let knee = height(Landmark::Knee);
                let crotch = 2.0 * height(Landmark::MidThigh) - knee;
                Self {
                    shoulder,
                    waist,
                    hip: crotch + 0.035 * stature,
                    shoulder_right,
                    elbow: DVec3::new(half_breadth - 0.004, SPINE - 0.022, waist + 0.035 * stature),
                    wrist: DVec3::new(half_breadth - 0.002, SPINE + 0.022, crotch + 0.005 * stature),
                    hip_forward: SPINE,
                    knee: DVec2::new(SPINE + 0.006, knee),
                    ankle: DVec2::new(SPINE - 0.008, 0.042 * stature),
                    seat: SEAT_M,
                }
            }
            Posture::Seated => {
                let knee = (height(Landmark::Knee) - 0.03 * stature).max(SEAT_M + 0.025 * stature);
                Self {
                    shoulder,
                    waist,
                    hip: SEAT_M + 0.05 * stature,
                    shoulder_right,
                    elbow: DVec3::new(half_breadth - 0.004, SPINE + 0.01, waist + 0.02 * stature),
                    wrist: DVec3::new(0.075, SPINE + 0.155, knee + 0.055 * stature),
                    hip_forward: SPINE,
                    knee: DVec2::new(SPINE + 0.25, knee),
                    // Feet of short legs hang.
                    ankle: DVec2::new(SPINE + 0.245, (knee - 0.243 * stature).max(0.042 * stature)),
                    seat: SEAT_M,
                }
            }
        }
    }
}

impl Builder {
    /// Top and hips.
    fn trunk(&mut self, body: &Body, joints: &Joints) {
        let stature = self.stature;
        let height = |landmark| body.height_of(landmark).to_m();
        let (chest, collar) = (height(Landmark::Chest), height(Landmark::Collar));
        // Narrower shoulders, narrower trunk: a child's is not an adult's made small.
        let breadth = joints.shoulder_right / 0.110;
        let hips = [
            self.lump((0.0, joints.hip_forward), joints.hip + 0.03 * stature, (0.092, 0.062, 0.040)),
            self.lump((0.0, joints.hip_forward), joints.hip, (0.096, 0.064, 0.036)),
        ];
        self.chain(Material::Trousers, 0.02, &hips);
        let hem = match body.posture {
            Posture::Standing => joints.hip + 0.028 * stature,
            Posture::Seated => joints.hip + 0.02 * stature,
        };
        let top = [
            self.lump((0.0, SPINE - 0.012), collar + 0.019 * stature, (0.036 * breadth, 0.030, 0.012)),
            self.lump(
                (0.0, SPINE - 0.004),
                joints.shoulder - 0.026 * stature,
                (0.130 * breadth, 0.042, 0.024),
            ),
            self.lump((0.0, SPINE + 0.006), chest, (0.098 * breadth, 0.066, 0.050)),
            self.lump((0.0, SPINE + 0.004), joints.waist, (0.083 * breadth, 0.058, 0.040)),
            self.lump((0.0, joints.hip_forward), hem, (0.100, 0.068, 0.022)),
        ];
        // Shoulders take the light, and sleeves grow out of them.
        self.grown_chain(Material::Top, 0.05, &top, &[], 2);
    }

    /// A trouser leg and a shoe.
    fn leg(&mut self, side: f64, joints: &Joints) {
        let stature = self.stature;
        let (hip, knee, ankle) = (side * 0.047, side * 0.049, side * 0.050);
        let calf = joints.knee.lerp(joints.ankle, 0.32);
        let links = [
            self.ball((hip, joints.hip_forward), joints.hip, 0.047),
            self.ball((knee, joints.knee.x), joints.knee.y, 0.033),
            self.ball((knee, calf.x - 0.008), calf.y, 0.032),
            self.ball((ankle, joints.ankle.x), joints.ankle.y + 0.012 * stature, 0.026),
        ];
        self.chain(Material::Trousers, 0.0, &links);
        let sole = joints.ankle.y - 0.042 * stature;
        let shoe = [
            self.lump((ankle, joints.ankle.x - 0.012), sole + 0.020 * stature, (0.020, 0.024, 0.020)),
            self.lump(
                (ankle + side * 0.004, joints.ankle.x + 0.050),
                sole + 0.016 * stature,
                (0.026, 0.034, 0.016),
            ),
            self.lump(
                (ankle + side * 0.007, joints.ankle.x + 0.085),
                sole + 0.013 * stature,
                (0.024, 0.026, 0.013),
            ),
        ];
        self.chain(Material::Shoe, -0.03, &shoe);
    }

    /// A sleeve and a hand.
    fn arm(&mut self, side: f64, body: &Body, joints: &Joints) {
        let stature = self.stature;
        let (elbow, wrist) = (joints.elbow, joints.wrist);
        let sleeve = [
            self.ball((side * joints.shoulder_right, SPINE), joints.shoulder - 0.037 * stature, 0.033),
            self.ball((side * elbow.x, elbow.y), elbow.z, 0.025),
            self.ball((side * wrist.x, wrist.y), wrist.z + 0.015 * stature, 0.0195),
        ];
        let seam = [
            self.ball(
                (side * (joints.shoulder_right - 0.026), SPINE),
                joints.shoulder - 0.036 * stature,
                0.025,
            ),
            self.ball(
                (side * (joints.shoulder_right - 0.002), SPINE),
                joints.shoulder - 0.038 * stature,
                0.031,
            ),
        ];
        self.grown_chain(Material::Top, 0.15, &sleeve, &seam, 0);
        let hand = match body.posture {
            Posture::Standing => [
                self.ball((side * wrist.x, wrist.y), wrist.z, 0.0140),
                self.lump(
                    (side * wrist.x, wrist.y + 0.006),
                    wrist.z - 0.040 * stature,
                    (0.011, 0.023, 0.020),
                ),
                self.lump(
                    (side * (wrist.x - 0.004), wrist.y + 0.008),
                    wrist.z - 0.080 * stature,
                    (0.009, 0.016, 0.018),
                ),
            ],
            Posture::Seated => [
                self.ball((side * wrist.x, wrist.y), wrist.z + 0.006 * stature, 0.0140),
                self.lump(
                    (side * (wrist.x - 0.010), wrist.y + 0.034),
                    wrist.z - 0.004 * stature,
                    (0.023, 0.020, 0.011),
                ),
                self.lump(
                    (side * (wrist.x - 0.016), wrist.y + 0.068),
                    wrist.z - 0.012 * stature,
                    (0.018, 0.020, 0.009),
                ),
            ],
        };
        self.chain(Material::Skin, 0.045, &hand);
    }

    /// A plain stool: a seat on four legs.
    fn stool(&mut self, seat_m: f64) {
        let middle = DVec2::new(0.0, SPINE * self.stature + 0.05);
        for (right, forward) in [(-0.15, -0.15), (0.15, -0.15), (-0.15, 0.15), (0.15, 0.15)] {
            let leg = [
                Lump::ball(DVec3::new(middle.x + right, middle.y + forward, seat_m - 0.03), 0.016),
                Lump::ball(DVec3::new(middle.x + right * 1.2, middle.y + forward * 1.2, 0.014), 0.013),
            ];
            self.chain(Material::Wood, -0.06, &leg);
        }
        let seat = [Lump::new(middle.extend(seat_m - 0.022), DVec3::new(0.19, 0.19, 0.022))];
        self.chain(Material::Wood, -0.05, &seat);
    }
}

#[cfg(test)]
mod tests {
    use staging::Age;
    use units::Length;

    use super::*;

    fn body(posture: Posture, age: Age) -> Body {
        Body { stature: Length::from_m(1.7), posture, age }
    }

    fn everybody() -> impl Iterator<Item = Body> {
        [Posture::Standing, Posture::Seated]
            .into_iter()
            .flat_map(|posture| [Age::Adult, Age::Child].map(|age| body(posture, age)))
    }

    #[test]
    fn nobody_sinks_into_the_floor_or_outgrows_their_crown() {
        for body in everybody() {
            let mannequin = Mannequin::of(&body);
            for lump in &mannequin.lumps {
                assert!(lump.at.z - lump.radii.z > -0.005, "{body:?} {lump:?}");
                assert!(lump.at.z + lump.radii.z < mannequin.head.crown, "{body:?} {lump:?}");
            }
        }
    }

    #[test]
    fn arms_span_the_shoulder_breadth() {
        for body in everybody() {
            let mannequin = Mannequin::of(&body);
            let widest = mannequin
                .lumps
                .iter()
                .filter(|lump| lump.at.z > body.height_of(Landmark::Chest).to_m())
                .map(|lump| lump.at.x + lump.radii.x)
                .fold(0.0, f64::max);
            let half = body.shoulder_breadth().to_m() / 2.0;
            assert!((widest - half).abs() < 0.02, "{body:?} {widest} {half}");
        }
    }
}
