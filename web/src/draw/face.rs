//! A head that carries tight shots: hair, ears, brow line, eyes, nose and mouth, and nobody in particular.
//!
//! Measures that no landmark gives are from memory of figure drawing, as shares of a head's breadth, length or height.

use glam::DVec3;
use staging::Age;

use crate::draw::figure::{Dress, Finish, SHADE};
use crate::draw::head::{FRONT, Head, Shapes, eye_middle};
use crate::draw::perspective::Perspective;
use crate::draw::sketch::Sketch;
use crate::draw::stance::{Lump, Stance};

/// Heads lower than this on the canvas, in pixels, are hair and skin only.
const FACE_FROM_PX: f64 = 16.0;
/// From this height on features are drawn with their parts.
const DETAIL_FROM_PX: f64 = 70.0;

/// What is needed to draw one head.
struct Portrait<'draw> {
    dress: &'draw Dress,
    perspective: &'draw Perspective,
    stance: &'draw Stance,
    head: &'draw Head,
    shapes: Shapes,
    finish: Finish,
}

/// Draws a head.
pub(super) fn draw_head(
    sketch: &mut Sketch<'_>,
    dress: &Dress,
    perspective: &Perspective,
    stance: &Stance,
    head: &Head,
    finish: Finish,
) {
    let portrait = Portrait { dress, perspective, stance, head, shapes: Shapes::of(head), finish };
    let middle = stance.point(DVec3::new(0.0, 0.0, head.eyes));
    let height_px = head.height() * perspective.px_per_m(middle.z);
    let faces_lens = portrait.faces_lens(DVec3::Y, head.eyes);
    let detailed = height_px > DETAIL_FROM_PX;
    portrait.ears(sketch, false);
    let from_behind = faces_lens < -0.1;
    if !from_behind {
        portrait.neck(sketch);
    }
    portrait.skin(sketch, from_behind);
    if height_px > FACE_FROM_PX && faces_lens > -0.35 {
        portrait.features(sketch, detailed);
    }
    portrait.hair(sketch);
    portrait.ears(sketch, true);
    if detailed && faces_lens > 0.0 {
        portrait.nose(sketch);
    }
}

impl Portrait<'_> {
    /// How much a direction at a height of the head points at the lens: the cosine between them.
    fn faces_lens(&self, direction: DVec3, up_m: f64) -> f64 {
        let to_lens = -self.stance.point(DVec3::new(0.0, -0.4 * self.head.length, up_m)).normalize_or_zero();
        self.stance.direction(direction.normalize_or_zero()).dot(to_lens)
    }

    fn chain(&self, sketch: &mut Sketch<'_>, links: &[Lump]) {
        sketch.chain(self.perspective, links.iter().map(|lump| self.stance.place(lump)));
    }

    /// The neck in shade or light, before the chin is laid over it.
    fn neck(&self, sketch: &mut Sketch<'_>) {
        let skin = &self.dress.skin;
        let links = self.neck_lumps();
        sketch.begin();
        self.chain(sketch, &links);
        sketch.stroke(&skin.line, self.finish.line * 2.0);
        sketch.fill(&skin.fill);
        if self.finish.shaded {
            sketch.begin();
            let shaded = links.map(|lump| self.stance.place(&lump).inscribed(0.55, SHADE));
            sketch.chain(self.perspective, shaded);
            sketch.fill(&skin.shade);
        }
    }

    fn neck_lumps(&self) -> [Lump; 3] {
        let (head, breadth) = (self.head, self.head.breadth);
        [
            Lump::ball(
                DVec3::new(0.0, -0.38 * head.length, head.chin + 0.10 * head.height()),
                0.38 * breadth,
            ),
            Lump::ball(
                DVec3::new(0.0, -0.42 * head.length, head.chin - 0.10 * head.height()),
                0.375 * breadth,
            ),
            Lump::new(
                DVec3::new(0.0, -0.42 * head.length, head.collar + 0.10 * head.height()),
                DVec3::new(0.42 * breadth, 0.39 * breadth, 0.13 * head.height()),
            ),
        ]
    }

    /// Skull, cheeks, jaw and chin, and the neck where the nape runs into it.
    fn skin(&self, sketch: &mut Sketch<'_>, from_behind: bool) {
        let Shapes { skull, cheeks, jaw, chin, .. } = self.shapes;
        let links = [skull, cheeks, jaw, chin];
        let skin = &self.dress.skin;
        sketch.begin();
        self.chain(sketch, &links);
        // In one path with the head, so that only what stands out of it is outlined.
        self.chain(sketch, &self.nose_lumps());
        if from_behind {
            self.chain(sketch, &self.neck_lumps());
        }
        sketch.stroke(&skin.line, self.finish.line * 2.0);
        if self.finish.shaded && !from_behind {
            // Shade all over, and the lit face laid over it from the light's side.
            sketch.fill(&skin.shade);
            sketch.begin();
            let lit = links.map(|lump| self.stance.place(&lump).inscribed(0.88, -SHADE));
            sketch.chain(self.perspective, lit);
        }
        sketch.fill(&skin.fill);
    }

    fn hair(&self, sketch: &mut Sketch<'_>) {
        let hair = self.stance.place(&self.shapes.hair);
        // From over the forehead down to the nape: the hairline, tilted back about 50 degrees.
        let (normal, offset) = (DVec3::new(0.16, -0.68, 0.7155), -0.15);
        let tone = &self.dress.hair;
        sketch.begin();
        sketch.outline(|outline| hair.cap_outline(self.perspective, normal, offset, outline));
        sketch.stroke(&tone.line, self.finish.line);
        sketch.fill(&tone.fill);
        for side in [-1.0, 1.0] {
            if self.faces_lens(DVec3::X * side, self.head.eyes) > 0.0 {
                self.temple(sketch, side);
            }
        }
    }

    /// Hair before an ear.
    fn temple(&self, sketch: &mut Sketch<'_>, side: f64) {
        let head = self.head;
        let place = |right: f64, forward: f64, up: f64| {
            DVec3::new(side * right * head.breadth, forward * head.length, head.eyes + up * head.height())
        };
        let links = [
            Lump::ball(place(0.440, -0.39, 0.18), 0.070 * head.breadth),
            Lump::ball(place(0.465, -0.385, 0.04), 0.036 * head.breadth),
        ];
        sketch.begin();
        self.chain(sketch, &links);
        sketch.fill(&self.dress.hair.fill);
    }

    /// The ear or ears that are nearer than the head's middle, or the other ones.
    fn ears(&self, sketch: &mut Sketch<'_>, near: bool) {
        let head = self.head;
        for side in [-1.0, 1.0] {
            if (self.faces_lens(DVec3::X * side, head.eyes) > 0.12) != near {
                continue;
            }
            let ear = Lump::new(
                DVec3::new(
                    side * 0.495 * head.breadth,
                    -0.44 * head.length,
                    head.eyes - 0.06 * head.height(),
                ),
                DVec3::new(0.055 * head.breadth, 0.085 * head.length, 0.125 * head.height()),
            );
            let skin = &self.dress.skin;
            sketch.begin();
            self.chain(sketch, &[ear]);
            sketch.stroke(&skin.line, self.finish.line * 2.0);
            sketch.fill(&skin.fill);
            let inner =
                Lump::new(ear.at + DVec3::new(side * 0.05 * head.breadth, 0.0, 0.0), ear.radii * 0.55);
            if near {
                sketch.begin();
                self.chain(sketch, &[inner]);
                sketch.fill(&skin.shade);
            }
        }
    }

    /// Bridge, tip and wings of the nose.
    fn nose_lumps(&self) -> [Lump; 3] {
        let head = self.head;
        let (height, breadth, length) = (head.height(), head.breadth, head.length);
        // A child's nose is short.
        let reach = match head.age {
            Age::Adult => 1.0,
            Age::Child => 0.78,
        };
        let down = |share: f64| head.eyes - share * reach * height;
        let bridge = Lump::ball(DVec3::new(0.0, 0.020 * length, down(-0.02)), 0.040 * breadth);
        let tip = Lump::ball(
            DVec3::new(0.0, FRONT * length + 0.065 * reach * length, down(0.195)),
            0.062 * breadth,
        );
        let wings = Lump::new(
            DVec3::new(0.0, 0.050 * length, down(0.215)),
            DVec3::new(0.112 * breadth, 0.06 * length, 0.034 * height),
        );
        [bridge, tip, wings]
    }

    /// The nose's far side and what is below it, in shade; its outline is the head's.
    fn nose(&self, sketch: &mut Sketch<'_>) {
        let [bridge, tip, wings] = self.nose_lumps();
        let skin = &self.dress.skin;
        sketch.begin();
        self.chain(sketch, &[tip, wings]);
        sketch.fill(&skin.shade);
        sketch.begin();
        self.chain(sketch, &[bridge, tip]);
        sketch.fill(&skin.fill);
        // In profile its far side is not seen.
        if self.faces_lens(DVec3::Y, self.head.eyes) > 0.35 {
            sketch.begin();
            let shaded = [bridge, tip].map(|lump| self.stance.place(&lump).inscribed(0.42, SHADE));
            sketch.chain(self.perspective, shaded);
            sketch.fill(&skin.shade);
        }
    }

    /// Brows, eyes and mouth, clipped to the head so that a far eye ends where the face does.
    fn features(&self, sketch: &mut Sketch<'_>, detailed: bool) {
        let Shapes { skull, cheeks, jaw, chin, .. } = self.shapes;
        sketch.context.save();
        sketch.begin();
        self.chain(sketch, &[skull, cheeks, jaw, chin]);
        sketch.context.clip();
        for side in [-1.0, 1.0] {
            let outward = DVec3::new(side * 0.38, 0.92, 0.0);
            if self.faces_lens(outward, self.head.eyes) > 0.03 {
                self.eye(sketch, side, detailed);
                self.brow(sketch, side);
            }
        }
        self.mouth(sketch, detailed);
        sketch.context.restore();
    }

    fn brow(&self, sketch: &mut Sketch<'_>, side: f64) {
        let (head, breadth) = (self.head, self.head.breadth);
        let place = |right: f64, forward: f64, down: f64| {
            DVec3::new(side * right * breadth, forward * head.length, head.brow - down * head.height())
        };
        let links = [
            Lump::ball(place(0.095, 0.045, 0.017), 0.018 * breadth),
            Lump::ball(place(0.235, 0.020, -0.004), 0.016 * breadth),
            Lump::ball(place(0.340, -0.045, 0.022), 0.008 * breadth),
        ];
        sketch.begin();
        self.chain(sketch, &links);
        sketch.fill(&self.dress.hair.fill);
    }

    /// An eye, its middle exactly at the landmark's height and depth.
    fn eye(&self, sketch: &mut Sketch<'_>, side: f64, detailed: bool) {
        let (head, breadth) = (self.head, self.head.breadth);
        let middle = eye_middle(head, side);
        let iris = Lump::new(middle, DVec3::new(0.044, 0.012, 0.044) * breadth);
        if !detailed {
            sketch.begin();
            self.chain(sketch, &[Lump::new(middle, DVec3::new(0.062, 0.012, 0.050) * breadth)]);
            sketch.fill(&self.dress.hair.fill);
            return;
        }
        let corner = |right: f64, forward: f64, up: f64| {
            Lump::ball(middle + DVec3::new(side * right, forward, up) * breadth, 0.006 * breadth)
        };
        let white = Lump::new(middle, DVec3::new(0.062, 0.030, 0.045) * breadth);
        let almond = [corner(-0.090, 0.0, -0.008), white, corner(0.088, -0.09, 0.004)];
        sketch.begin();
        self.chain(sketch, &almond);
        sketch.fill(&self.dress.eye);
        sketch.context.save();
        sketch.context.clip();
        sketch.begin();
        self.chain(sketch, &[iris]);
        sketch.fill(&self.dress.hair.line);
        sketch.context.restore();
        // The upper lid's line, which carries the gaze at a distance.
        let lid = |right: f64, forward: f64, up: f64, radius: f64| {
            Lump::ball(middle + DVec3::new(side * right, forward, up) * breadth, radius * breadth)
        };
        let links = [
            lid(-0.092, 0.0, -0.006, 0.004),
            lid(-0.040, 0.012, 0.040, 0.007),
            lid(0.035, 0.0, 0.043, 0.009),
            lid(0.098, -0.10, 0.008, 0.006),
        ];
        sketch.begin();
        self.chain(sketch, &links);
        sketch.fill(&self.dress.hair.fill);
    }

    fn mouth(&self, sketch: &mut Sketch<'_>, detailed: bool) {
        let (head, breadth, height) = (self.head, self.head.breadth, self.head.height());
        if self.faces_lens(DVec3::Y, head.chin) < -0.05 {
            return;
        }
        let up = head.chin + 0.34 * (head.eyes - head.chin);
        let place = |right: f64, forward: f64, rise: f64| {
            DVec3::new(right * breadth, forward * head.length, up + rise * height)
        };
        let thin = if detailed { 0.012 } else { 0.020 };
        let line = [
            Lump::ball(place(-0.150, 0.010, 0.004), 0.008 * breadth),
            Lump::ball(place(-0.045, 0.055, 0.002), thin * breadth),
            Lump::ball(place(0.045, 0.055, 0.002), thin * breadth),
            Lump::ball(place(0.150, 0.010, 0.004), 0.008 * breadth),
        ];
        if detailed {
            // The shade under the lower lip.
            let under = Lump::new(
                place(0.0, 0.045, -0.062),
                DVec3::new(0.075 * breadth, 0.01 * breadth, 0.012 * height),
            );
            sketch.begin();
            self.chain(sketch, &[under]);
            sketch.fill(&self.dress.skin.shade);
        }
        sketch.begin();
        self.chain(sketch, &line);
        sketch.fill(&self.dress.mouth);
    }
}
