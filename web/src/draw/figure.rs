//! A person in the frame: a plain mannequin, its parts painted from the farthest to the nearest.

use glam::DVec3;

use crate::draw::face::draw_head;
use crate::draw::mannequin::{Mannequin, Material, Part, PartShape};
use crate::draw::palette::Palette;
use crate::draw::perspective::Perspective;
use crate::draw::sketch::Sketch;
use crate::draw::stance::{Lump, Stance};
use crate::draw::tone::mix;
use crate::scene::{Person, along};

/// A colour with what it is in shade and where it ends.
#[derive(Debug)]
pub(super) struct Tone {
    pub(super) fill: String,
    pub(super) shade: String,
    pub(super) line: String,
}

/// The colours of one person.
#[derive(Debug)]
pub(super) struct Dress {
    pub(super) skin: Tone,
    pub(super) hair: Tone,
    /// The white of an eye.
    pub(super) eye: String,
    pub(super) mouth: String,
    top: Tone,
    trousers: Tone,
    shoe: Tone,
    wood: Tone,
}

/// How finely a person is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Finish {
    /// Width of outlines in pixels.
    pub(super) line: f64,
    /// Whether the side away from the light is darker.
    pub(super) shaded: bool,
}

/// Away from the light, which is over the viewer's left shoulder: to the image's right, a little down and away.
pub(super) const SHADE: DVec3 = DVec3::new(0.85, -0.35, 0.30);
/// How much of a limb's breadth is in shade.
const SHADED_SHARE: f64 = 0.38;
/// Dark and light that tones are mixed with, neither of them pure, so that all tones stay warm.
const DARK: &str = "#1d1712";
const LIGHT: &str = "#fffaf0";

impl Tone {
    fn of(fill: String, palette: &Palette) -> Self {
        let shade = mix(&fill, DARK, 0.16);
        let line = if palette.heavier { palette.ink.clone() } else { mix(&fill, DARK, 0.48) };
        Self { fill, shade, line }
    }
}

impl Dress {
    fn of(palette: &Palette, colour: usize) -> Self {
        let tape = palette.tape.get(colour).unwrap_or(&palette.ink);
        let tone = |fill: String| Tone::of(fill, palette);
        Self {
            skin: tone(palette.skin.clone()),
            hair: tone(palette.hair.clone()),
            eye: mix(&palette.skin, LIGHT, 0.72),
            mouth: mix(&palette.skin, "#8c3d32", 0.55),
            top: tone(tape.clone()),
            trousers: tone(mix(tape, DARK, 0.42)),
            shoe: tone(mix(tape, DARK, 0.72)),
            wood: tone(mix(&palette.far, DARK, 0.30)),
        }
    }

    fn tone(&self, material: Material) -> &Tone {
        match material {
            Material::Skin => &self.skin,
            Material::Top => &self.top,
            Material::Trousers => &self.trousers,
            Material::Shoe => &self.shoe,
            Material::Wood => &self.wood,
        }
    }
}

/// Draws a person.
pub(super) fn draw_figure(
    sketch: &mut Sketch<'_>,
    palette: &Palette,
    perspective: &Perspective,
    person: &Person,
    small: bool,
) {
    let stance = Stance::new(&perspective.camera, person.feet, person.facing);
    let mannequin = Mannequin::of(&person.body);
    let dress = Dress::of(palette, person.colour);
    let middle = stance.point(DVec3::Z * (mannequin.head.crown / 2.0));
    let finish = finish(palette, perspective.px_per_m(middle.z), small);
    let standing_px = perspective.px_per_m(stance.point(DVec3::ZERO).z);
    if standing_px > MARK_FROM_PX {
        draw_mark(sketch, palette, perspective, person, &stance);
    }
    sketch.context.set_line_join("round");
    for part in from_far_to_near(&mannequin, &stance) {
        match part.shape {
            PartShape::Chain { material, first, shade, end, seam } => {
                let placed = |from, to| {
                    mannequin.lumps.get(from..to).unwrap_or_default().iter().map(|lump| stance.place(lump))
                };
                let tone = dress.tone(material);
                sketch.begin();
                sketch.chain(perspective, placed(first, end));
                if finish.line > 0.0 {
                    // Twice as wide, because the fill covers its inner half and leaves the union's outline.
                    sketch.stroke(&tone.line, finish.line * 2.0);
                }
                if seam > end {
                    sketch.chain(perspective, placed(end, seam));
                }
                sketch.fill(&tone.fill);
                if finish.shaded {
                    sketch.begin();
                    let shaded = placed(shade, end).enumerate().map(|(at, link)| {
                        // It begins as a wedge.
                        link.inscribed(if at == 0 { 0.4 * SHADED_SHARE } else { SHADED_SHARE }, SHADE)
                    });
                    sketch.chain(perspective, shaded);
                    sketch.fill(&tone.shade);
                }
            }
            PartShape::Head => draw_head(sketch, &dress, perspective, &stance, &mannequin.head, finish),
        }
    }
}

/// A metre of the floor must be this many pixels for tape on it to be seen.
const MARK_FROM_PX: f64 = 24.0;

/// The mark that a person stands on, a T of tape with their toes to the bar, and the floor's shade between their feet.
fn draw_mark(
    sketch: &mut Sketch<'_>,
    palette: &Palette,
    perspective: &Perspective,
    person: &Person,
    stance: &Stance,
) {
    let under = Lump::new(DVec3::new(0.0, -0.06, 0.0), DVec3::new(0.21, 0.19, 0.002));
    sketch.begin();
    sketch.chain(perspective, [stance.place(&under)]);
    sketch.fill(&mix(&palette.floor, DARK, 0.20));
    let forward = along(person.facing);
    let right = DVec3::new(forward.y, -forward.x, 0.0);
    let strip = |(left, to_right): (f64, f64), (back, front): (f64, f64)| {
        [(left, back), (to_right, back), (to_right, front), (left, front)]
            .map(|(x, y)| person.feet + right * x + forward * y)
    };
    let toes = 0.085 * person.body.stature.to_m();
    sketch.begin();
    sketch.polygon(perspective, &strip((-0.26, 0.26), (toes, toes + 0.05)));
    sketch.polygon(perspective, &strip((-0.025, 0.025), (toes - 0.32, toes + 0.025)));
    sketch.fill(palette.tape.get(person.colour).unwrap_or(&palette.ink));
}

/// Lines and shade for a person drawn at that scale: what is tiny stays plain.
fn finish(palette: &Palette, px_per_m: f64, small: bool) -> Finish {
    let usual = (px_per_m * 0.0035).clamp(0.6, 2.2);
    let line = match (palette.heavier, small) {
        (true, false) => usual.max(1.2),
        (true, true) => 0.8,
        (false, false) => usual,
        (false, true) => 0.6,
    };
    Finish { line, shaded: px_per_m > 40.0 && !palette.heavier }
}

/// The parts in painter's order.
fn from_far_to_near(mannequin: &Mannequin, stance: &Stance) -> Vec<Part> {
    let mut parts = mannequin.parts.clone();
    let distance = |part: &Part| stance.point(mannequin.middle(part)).length() - part.over_m;
    parts.sort_by(|one, other| distance(other).total_cmp(&distance(one)));
    parts
}

#[cfg(test)]
mod tests {
    use staging::Body;
    use units::{Angle, Length};

    use super::*;
    use crate::draw::perspective::tests::looking_north;

    #[test]
    fn the_far_arm_is_painted_first() {
        let mannequin = Mannequin::of(&Body::standing(Length::from_m(1.7)));
        let camera = looking_north(0.0).camera;
        // Facing the image's right, the left arm is the far one.
        let stance = Stance::new(&camera, DVec3::new(0.0, 3.0, 0.0), Angle::from_deg(90.0));
        let parts = from_far_to_near(&mannequin, &stance);
        let at = |wanted: &dyn Fn(&Part) -> bool| parts.iter().position(wanted).expect("a part");
        let sleeve = |side: f64| {
            move |part: &Part, mannequin: &Mannequin| {
                let middle = mannequin.middle(part);
                middle.x * side > 0.1 && middle.z > 0.9
            }
        };
        let far = at(&|part| sleeve(-1.0)(part, &mannequin));
        let near = at(&|part| sleeve(1.0)(part, &mannequin));
        let head = at(&|part| part.shape == PartShape::Head);
        assert!(far < head && far < near, "{far} {head} {near}");
    }
}
