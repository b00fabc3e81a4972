//! What is drawn over the picture: thirds, headroom, frame lines, what the crop gives up, and the words on the floor.

use glam::DVec2;
use language::say;
use optics::{FarLimit, SharpZone};
use staging::{Landmark, Person};

use crate::draw::chalk::{Chalk, Px};
use crate::draw::perspective::{Perspective, Rectangle};
use crate::scene::Scene;

/// The smallest size of text, as in the page.
const FONT: &str = "600 14px system-ui, sans-serif";
/// The width of a frame from which on words about its floor fit, pixels: a phone's in letters of twice the size.
const WORDS_FROM_PX: f64 = 180.0;
/// Room that a label needs, pixels.
const LABEL_HEIGHT: f64 = 18.0;
/// The length of a tick at the frame's side, pixels.
const TICK_PX: f64 = 28.0;

/// Thirds of the delivered frame as hairlines.
pub(super) fn draw_thirds(chalk: &Chalk<'_>, frame: Rectangle) {
    let (context, palette) = (chalk.context, chalk.palette);
    context.begin_path();
    for share in [1.0 / 3.0, 2.0 / 3.0] {
        let (x, y) = (crisp(frame.left + share * frame.width), crisp(frame.top + share * frame.height));
        chalk.add_line((x, frame.top), (x, frame.bottom()));
        chalk.add_line((frame.left, y), (frame.right(), y));
    }
    context.set_global_alpha(if palette.heavier { 0.7 } else { 0.42 });
    chalk.exact_pen(&palette.ground, 1.0);
    context.stroke();
    if palette.heavier {
        // White lines alone vanish on a white sky.
        context.set_global_alpha(0.55);
        chalk.exact_pen(&palette.ink, 1.0);
        context.stroke();
    }
    context.set_global_alpha(1.0);
}

/// Strokes the path in ink with a halo, so that it is seen on any picture.
fn stroke_with_halo(chalk: &Chalk<'_>) {
    for (colour, width) in [(&chalk.palette.ground, 4.0), (&chalk.palette.ink, 1.5)] {
        chalk.exact_pen(colour, width);
        chalk.context.stroke();
    }
}

/// In the middle of a pixel, where a hairline is drawn as one.
fn crisp(at: f64) -> f64 {
    at.floor() + 0.5
}

/// Whose crown is the highest of those whom the frame holds, where it is and the share of the frame's height above it.
fn headroom<'scene>(
    perspective: &Perspective,
    scene: &'scene Scene,
    frame: Rectangle,
) -> Option<(&'scene Person, DVec2, f64)> {
    let crowned = scene.people().iter().take(scene.framed).filter_map(|person| {
        let at = perspective.see(person.place.extend(person.body.height_of(Landmark::Crown).to_m()))?;
        let share = (at.y - frame.top) / frame.height;
        let is_seen = share > -1.0 && share < 1.0 && at.x > frame.left && at.x < frame.right();
        is_seen.then_some((person, at, share))
    });
    crowned.min_by(|(.., one), (.., other)| one.total_cmp(other))
}

/// A bracket from the frame's top to the highest crown of those whom the frame holds, with what it is of the frame's height.
pub(super) fn draw_headroom(chalk: &Chalk<'_>, perspective: &Perspective, scene: &Scene, frame: Rectangle) {
    let Some((person, crown, share)) = headroom(perspective, scene, frame) else { return };
    let px_per_m = perspective.px_per_m(perspective.camera.to_own(person.place.extend(0.0)).z);
    // Beside the head, so that the bracket is not taken for a part of it.
    let aside = (0.16 * px_per_m).max(14.0);
    let x = crisp((crown.x + aside).min(frame.right() - 16.0));
    let percent = say!("{:.0}% headroom", share * 100.0);
    if share <= 0.005 {
        let text = if share < -0.005 { say!("hair cropped by {:.0}%", -share * 100.0) } else { percent };
        let right = beside(chalk, &text, x, frame);
        label(chalk, &text, (right, frame.top + LABEL_HEIGHT));
        return;
    }
    let (top, bottom) = (frame.top + 1.0, crown.y);
    let tick = 5.0;
    chalk.context.begin_path();
    chalk.add_line((x, top), (x, bottom));
    chalk.add_line((x - tick, top), (x + tick, top));
    chalk.add_line((x - tick, bottom), (x + tick, bottom));
    stroke_with_halo(chalk);
    let middle = f64::midpoint(top, bottom) + 5.0;
    let right = beside(chalk, &percent, x, frame);
    label(chalk, &percent, (right, middle.max(frame.top + LABEL_HEIGHT)));
}

/// Where a text beside `x` begins: to its right, or to its left where the frame ends.
fn beside(chalk: &Chalk<'_>, text: &str, x: f64, frame: Rectangle) -> f64 {
    let width = chalk.width_of(text, FONT);
    if x + 10.0 + width + 4.0 < frame.right() { x + 10.0 } else { x - 10.0 - width }
}

/// Text with a halo.
fn label(chalk: &Chalk<'_>, text: &str, (x, y): Px) {
    let (context, palette) = (chalk.context, chalk.palette);
    context.set_font(FONT);
    context.set_line_join("round");
    chalk.exact_pen(&palette.ground, 4.0);
    context.set_fill_style_str(&palette.ink);
    // Only an unpaired surrogate is refused, and a Rust text has none.
    let drawn = context.stroke_text(text, x, y).and_then(|()| context.fill_text(text, x, y));
    debug_assert!(drawn.is_ok(), "text is drawn: {drawn:?}");
}

/// The floor's rows between which it is sharp, upper first, within the picture; none if none of it is seen.
fn sharp_rows(perspective: &Perspective, sharp: SharpZone) -> Option<(f64, f64)> {
    let lower = perspective.row_of_floor(sharp.near.to_m())?;
    let upper = match sharp.far {
        FarLimit::At(far) => perspective.row_of_floor(far.to_m())?,
        FarLimit::Infinity => perspective.horizon(),
    };
    let (top, bottom) = (perspective.rectangle.top, perspective.rectangle.bottom());
    (upper < bottom && lower > top && lower > upper).then_some((upper, lower))
}

/// The rows of the floor between which it is sharp: a tick at each side of the frame, and words.
pub(super) fn draw_sharp_edges(
    chalk: &Chalk<'_>,
    perspective: &Perspective,
    scene: &Scene,
    frame: Rectangle,
) {
    let Some(sharp) = scene.sharp else { return };
    let Some((upper, lower)) = sharp_rows(perspective, sharp) else { return };
    // A frame that is narrower than the words is upright and small: its floor says nothing then.
    if frame.width < WORDS_FROM_PX {
        return;
    }
    let left = frame.left + 10.0;
    // What is behind the background is not seen, sharp or not.
    let background = perspective.camera.to_own(scene.background).z;
    let ends = match sharp.far {
        FarLimit::At(far) => far.to_m() < background,
        FarLimit::Infinity => false,
    };
    let apart = lower.min(frame.bottom()) - upper > 2.0 * LABEL_HEIGHT;
    if lower < frame.bottom() - LABEL_HEIGHT {
        ticks(chalk, frame, lower);
        label(chalk, say!("sharp from here"), (left, lower + LABEL_HEIGHT - 3.0));
    } else if !ends && apart {
        label(chalk, say!("sharp as far as you see"), (left, frame.bottom() - 10.0));
    }
    if ends && upper > frame.top + LABEL_HEIGHT {
        ticks(chalk, frame, upper);
        label(chalk, say!("sharp to here"), (left, upper - 5.0));
    }
}

/// A short line at each side of the frame in that row.
fn ticks(chalk: &Chalk<'_>, frame: Rectangle, row: f64) {
    let y = crisp(row);
    chalk.context.begin_path();
    chalk.add_line((frame.left, y), (frame.left + TICK_PX, y));
    chalk.add_line((frame.right() - TICK_PX, y), (frame.right(), y));
    stroke_with_halo(chalk);
}

/// What the crop gives up, dimmed, and the delivered frame's edge.
pub(super) fn draw_crop(chalk: &Chalk<'_>, whole: Rectangle, frame: Rectangle) {
    let (context, palette) = (chalk.context, chalk.palette);
    context.set_global_alpha(0.66);
    context.set_fill_style_str(&palette.ground);
    context.fill_rect(whole.left, whole.top, whole.width, frame.top - whole.top);
    context.fill_rect(whole.left, frame.bottom(), whole.width, whole.bottom() - frame.bottom());
    context.fill_rect(whole.left, frame.top, frame.left - whole.left, frame.height);
    context.fill_rect(frame.right(), frame.top, whole.right() - frame.right(), frame.height);
    context.set_global_alpha(1.0);
    chalk.exact_pen(&palette.ink, if palette.heavier { 2.5 } else { 1.5 });
    context.stroke_rect(frame.left, frame.top, frame.width, frame.height);
}

/// A second frame shape to protect: dashes, because nothing is cut there yet.
pub(super) fn draw_protected(chalk: &Chalk<'_>, frame: Rectangle, aspect: f64) {
    let protected = frame.largest_within(aspect);
    let inset = 1.0;
    chalk.context.begin_path();
    chalk.context.rect(
        protected.left + inset,
        protected.top + inset,
        protected.width - 2.0 * inset,
        protected.height - 2.0 * inset,
    );
    chalk.dashed(9.0, 6.0);
    stroke_with_halo(chalk);
    chalk.solid();
}

#[cfg(test)]
mod tests {
    use requests::{ArrangementRequest, SecondPersonRequest};
    use units::Length;

    use super::*;
    use crate::draw::perspective::tests::looking_north;
    use crate::scene::tests::{result_of, scene_of};
    use crate::session::Plan;

    /// What is marked above those of a shot of a child, and of somebody 1.85 m tall with them.
    fn marked_above_a_child_and(arrangement: ArrangementRequest) -> (f64, f64) {
        let mut plan = Plan::first();
        let child = plan.shot.subject.as_mut().expect("a person");
        child.stature_m = 1.2;
        child.second_person = Some(SecondPersonRequest {
            stature_m: Some(1.85),
            posture: None,
            age: None,
            arrangement: Some(arrangement),
            apart_m: None,
            nearer_m: None,
        });
        let scene = scene_of(&plan);
        let rectangle = Rectangle { left: 0.0, top: 0.0, width: 1600.0, height: 1600.0 / scene.aspect };
        let perspective = Perspective { camera: scene.camera, view: scene.view, rectangle };
        let (.., share) = headroom(&perspective, &scene, rectangle).expect("a crown in the frame");
        (share, result_of(&plan).outcome.expect("a setup").headroom)
    }

    #[test]
    fn headroom_is_marked_as_the_figure_has_it() {
        for arrangement in [ArrangementRequest::Beside, ArrangementRequest::OverShoulder] {
            let (marked, figure) = marked_above_a_child_and(arrangement);
            assert!((marked - figure).abs() < 1e-3, "{arrangement:?}: {marked} is not {figure}");
        }
    }

    #[test]
    fn an_endless_sharp_zone_ends_at_the_horizon() {
        let perspective = looking_north(0.0);
        let zone = SharpZone { near: Length::from_m(6.0), far: FarLimit::Infinity };
        let (upper, lower) = sharp_rows(&perspective, zone).expect("seen");
        assert!((upper - perspective.horizon()).abs() < 1e-9 && lower > upper, "{upper} {lower}");
        assert_eq!(sharp_rows(&looking_north(40.0), zone), None);
    }
}
