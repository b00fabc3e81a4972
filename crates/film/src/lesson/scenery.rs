//! What surrounds the person of a lesson, so that what it is about reads at a glance.
//!
//! The person stands at the origin and the phone to the south of them, looking north.

use glam::DVec2;
use staging::{Blocking, Light, Moment, PieceKind, PieceSize, SetPiece, Setup, Shot, Stage, Take};
use units::{Angle, Length};

use super::seen::LessonView;

/// From the person to the phone, clockwise from north.
pub(super) const PHONE_BEARING: Angle = Angle::from_deg(180.0);
/// Strings of lights side by side at the most: chosen because more are too small to tell apart.
const MOST_STRINGS: i32 = 9;
/// How far behind the lights the hedge stands, metres: chosen so that lights are seen before something dark.
const HEDGE_BEHIND_M: f64 = 1.2;
/// How far apart trees stand in a row, metres: chosen because their crowns then leave gaps of sky.
const TREE_SPACING_M: f64 = 5.0;

/// Somebody on a bare floor who looks at the phone.
pub(super) fn bare(shot: &Shot, light: Light) -> Blocking {
    Blocking { light, ..Blocking::bare(shot, PHONE_BEARING) }
}

/// Strings of small lights at the background's distance and a hedge behind them, as wide as the frame sees there: a point
/// of light shows a blur disc best.
pub(super) fn lights_behind(shot: &Shot, setup: &Setup) -> Blocking {
    let behind_m = shot.background_behind.to_m();
    let size = PieceKind::Lights.usual_size();
    let width_m = size.width.to_m();
    let seen_m = seen_behind_m(shot, setup);
    let mut pieces = Vec::new();
    for place in each_side(seen_m, width_m) {
        let x = f64::from(place) * width_m;
        pieces.push(piece(PieceKind::Lights, DVec2::new(x, behind_m), size));
        let hedge = PieceSize { width: size.width, ..PieceKind::Hedge.usual_size() };
        pieces.push(piece(PieceKind::Hedge, DVec2::new(x, behind_m + HEDGE_BEHIND_M), hedge));
    }
    Blocking { pieces, ..bare(shot, Light::Dusk) }
}

/// A row of trees with lamp posts between at the background's distance, as wide as the frame sees there.
pub(super) fn trees_behind(shot: &Shot, setup: &Setup, light: Light) -> Blocking {
    let behind_m = shot.background_behind.to_m();
    let seen_m = seen_behind_m(shot, setup);
    let mut pieces = Vec::new();
    for place in each_side(seen_m, TREE_SPACING_M) {
        // Half a space aside, so that no trunk grows out of the person's head.
        let x = (f64::from(place) + 0.5) * TREE_SPACING_M;
        let tree = PieceKind::Tree;
        pieces.push(piece(
            tree,
            DVec2::new(x, behind_m + tree.usual_size().depth.to_m() / 2.0),
            tree.usual_size(),
        ));
        let post = PieceKind::LampPost;
        pieces.push(piece(post, DVec2::new(x + TREE_SPACING_M * 0.35, behind_m), post.usual_size()));
    }
    Blocking { pieces, ..bare(shot, light) }
}

/// A house front of windows side by side at the background's distance, as wide as the frame sees there: how many windows
/// there are shows how much is seen.
pub(super) fn windows_behind(shot: &Shot, setup: &Setup) -> Blocking {
    let size = PieceKind::Window.usual_size();
    let seen_m = seen_behind_m(shot, setup);
    let width_m = size.width.to_m();
    let windows = each_side(seen_m, width_m).map(|place| {
        let x = f64::from(place) * width_m;
        piece(PieceKind::Window, DVec2::new(x, shot.background_behind.to_m()), size)
    });
    Blocking { pieces: windows.collect(), ..bare(shot, Light::USUAL) }
}

/// How wide a strip the frame holds at the background's distance, metres.
fn seen_behind_m(shot: &Shot, setup: &Setup) -> f64 {
    ((setup.subject_depth + shot.background_behind) * setup.view.width()).to_m()
}

/// Places to the left and right of the middle that fill a width with things of that width.
fn each_side(seen_m: f64, of_m: f64) -> std::ops::RangeInclusive<i32> {
    let sides = libm::ceil(seen_m / of_m / 2.0).clamp(1.0, f64::from(MOST_STRINGS / 2));
    #[expect(clippy::cast_possible_truncation, reason = "clamped to a few")]
    let sides = sides as i32;
    -sides..=sides
}

const fn piece(kind: PieceKind, place: DVec2, size: PieceSize) -> SetPiece {
    SetPiece { kind, place, facing: PHONE_BEARING, size }
}

/// The picture of a shot while nothing moves.
pub(super) fn still(shot: &Shot, setup: &Setup, blocking: &Blocking) -> LessonView {
    shown(shot, setup, blocking, Moment::default())
}

/// The picture of a shot at one moment.
pub(super) fn shown(shot: &Shot, setup: &Setup, blocking: &Blocking, moment: Moment) -> LessonView {
    LessonView {
        caption: String::new(),
        stage: Stage::of(shot, setup, blocking, &Take::default(), moment),
        aspect: setup.frame.aspect(),
    }
}

/// Half of the frame's width at that depth.
pub(super) fn half_width(setup: &Setup, depth: Length) -> Length {
    depth * (setup.view.width() / 2.0)
}
