//! Something near the lens, where a draft has a shot for it.

use staging::{Foreground, PieceKind};
use units::Length;

use super::CoverageWish;
use super::ground::Ground;
use super::picking::Picked;
use super::proposal::Role;
use crate::cut_view::EntryView;
use crate::scene::Setting;
use crate::scene_blocking::HALF_OPENING_M;
use crate::shot::ShotOf;

/// A draft of so many shots has one with something near the lens: common practice; the figure is chosen.
const FROM_SHOTS: usize = 5;
/// ...and a second one from so many on.
const SECOND_FROM_SHOTS: usize = 9;
/// How far ahead of the phone it is at the most: chosen because it is then soft even on a phone.
const AHEAD_M: f64 = 0.8;
/// ...and at the most this share of the way to the subject.
const OF_THE_WAY: f64 = 0.4;
/// Nearer than this nothing is put before a lens, metres: chosen because it would be on the phone.
const NEAREST_M: f64 = 0.25;
/// The share of the half of the frame that it leaves free: chosen so that it frames and does not hide.
const LEAVES_FREE: f64 = 0.7;

/// A subject nearer than this would stand in the doorway's leaf, metres: chosen, as its leaf stands open behind it.
const DOORWAY_FROM_M: f64 = 2.2;

/// Puts something near the lens of the shots that bear it best.
pub(super) fn add(grounds: &[Ground<'_>], picked: &mut [Picked], wish: &CoverageWish) {
    let count = match picked.len() {
        few if few < FROM_SHOTS => 0,
        some if some < SECOND_FROM_SHOTS => 1,
        _ => 2,
    };
    let mut added = 0;
    for roles in [
        &[Role::Place, Role::Master, Role::Pair][..],
        &[Role::Behind, Role::Single, Role::Along, Role::Another],
        &[Role::Insert, Role::Tight, Role::Shoulder, Role::PointOfView],
    ] {
        for one in picked.iter_mut().filter(|one| roles.contains(&one.role)) {
            if added == count {
                return;
            }
            let setting =
                grounds.get(one.beat_at).map_or(Setting::Outside, |ground| ground.scene.facts.setting);
            let kind = kind(setting, wish.is_odd() != (added > 0));
            if let Some(foreground) = near_the_lens(&one.had.view, kind) {
                one.had.shot.foreground = Some(foreground);
                added += 1;
            }
        }
    }
}

/// What is found near a lens: inside a plant or the doorway that the phone looks past, outside a hedge or a lamp post.
const fn kind(setting: Setting, is_other: bool) -> PieceKind {
    match (setting, is_other) {
        (Setting::Inside, false) => PieceKind::Plant,
        (Setting::Inside, true) => PieceKind::Doorway,
        (Setting::Outside, false) => PieceKind::Hedge,
        (Setting::Outside, true) => PieceKind::LampPost,
    }
}

/// A piece at the edge of the frame that is farther from the subject; none where the subject is too near for one.
///
/// ```text
/// r = p c + i
/// ```
/// `r` its middle to the right of straight ahead; `p` how far ahead it is; `c` the column, as a tangent, of its inner edge;
/// `i` how far that edge is from its middle: half its width, or back across a doorway's opening.
fn near_the_lens(view: &EntryView, kind: PieceKind) -> Option<Foreground> {
    let rehearsal = view.rehearsal.as_ref().as_ref().ok()?;
    let setup = rehearsal.result().outcome.as_ref().ok()?;
    let ahead_m = (setup.ahead.to_m() * OF_THE_WAY).min(AHEAD_M);
    // A shoulder is a foreground of its own.
    if ahead_m < NEAREST_M || matches!(view.shot.of, ShotOf::OverShoulder { .. }) {
        return None;
    }
    // A doorway frames with the jamb of its opening, everything else with its own edge.
    let kind = if kind == PieceKind::Doorway && setup.ahead.to_m() < DOORWAY_FROM_M {
        PieceKind::Plant
    } else {
        kind
    };
    let inner_m =
        if kind == PieceKind::Doorway { -HALF_OPENING_M } else { kind.usual_size().width.to_m() / 2.0 };
    let is_right = view.shot.across <= 0.5;
    let column = if is_right { setup.view.right } else { setup.view.left } * LEAVES_FREE;
    let right_m = ahead_m * column + inner_m;
    let right = Length::from_m(if is_right { right_m } else { -right_m });
    Some(Foreground { kind, ahead: Length::from_m(ahead_m), right })
}
