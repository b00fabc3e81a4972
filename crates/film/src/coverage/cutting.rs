//! Whether one entry cuts to the next, from what they show.

use units::Angle;

use super::ground::Ground;
use crate::cut_view::{EntryView, ScreenDirection, SeenAt, times_apart, turn_between};
use crate::findings::{direction_turns, jump_cut, seen_as_reverses};
use crate::scene_blocking::LineSide;

/// Two views of one person from directions that differ by less look like a mistake: 30 degrees, common practice; half a
/// degree more, chosen so that rounding a direction takes nothing from it.
const LEAST_TURN: Angle = Angle::from_deg(30.5);
/// ...unless the figure's height changes by so many times: 1.8, common practice; a little more for the same reason.
const LEAST_CHANGE: f64 = 1.82;

/// Whether two views of one person are so different that one can follow the other.
pub(super) fn differ(one: &SeenAt, other: &SeenAt) -> bool {
    let changes = match (one.figure_share, other.figure_share) {
        (Some(one), Some(other)) => times_apart(one, other) >= LEAST_CHANGE,
        (None, _) | (_, None) => false,
    };
    changes || turn_between(one, other) >= LEAST_TURN
}

/// Whether `next` can follow what was shown `before` in the scene of that ground.
pub(super) fn cuts(ground: &Ground<'_>, before: &[EntryView], next: &EntryView) -> bool {
    let Some(last) = before.last() else { return true };
    last.shot.id != next.shot.id
        && differs(last, next)
        && jump_cut(ground.film, ground.scene, last, next).is_none()
        && stays_on_side(last, next)
        && looks_meet(ground, last, next)
        && !direction_turns(ground.film, ground.scene, before, next)
}

/// How many entries do not follow what is before them, in the scene of that ground.
pub(super) fn broken(ground: &Ground<'_>, views: &[EntryView]) -> usize {
    let before = |at: usize| views.get(..at).unwrap_or_default();
    views.iter().enumerate().filter(|(at, view)| !cuts(ground, before(*at), view)).count()
}

fn differs(last: &EntryView, next: &EntryView) -> bool {
    let is_free = last.is_insert() || next.is_insert() || last.subject != next.subject;
    match (&last.seen, &next.seen) {
        (Some([_, last]), Some([next, _])) => is_free || differ(last, next),
        (None, _) | (_, None) => false,
    }
}

/// Whether the phone stays on one side of the line. Lines that run across each other are two.
fn stays_on_side(last: &EntryView, next: &EntryView) -> bool {
    let (Some(line), Some(next_line)) = (last.line, next.line) else { return true };
    let (Some([_, last]), Some([next, _])) = (&last.seen, &next.seen) else { return true };
    let (Some(side), Some(next_side)) = (last.side, next.side) else { return true };
    let crosses = |one: LineSide, other: LineSide| one != LineSide::On && other == one.reversed();
    match line.runs_with(&next_line) {
        Some(true) => !crosses(side, next_side),
        Some(false) => !crosses(side.reversed(), next_side),
        None => true,
    }
}

/// Whether two who face each other do not both look the same way across their frames.
fn looks_meet(ground: &Ground<'_>, last: &EntryView, next: &EntryView) -> bool {
    let seen = seen_as_reverses(ground.film, ground.scene, last, next);
    seen.is_none_or(|[end, start]| end.looks != start.looks || end.looks == Some(ScreenDirection::Neutral))
}

/// Whether the phone is on its side of the beat's line throughout.
pub(super) fn is_on_side(ground: &Ground<'_>, view: &EntryView) -> bool {
    let places = view.seen.iter().flatten();
    places.map(|seen| seen.camera.position().truncate()).all(|place| ground.is_on_side(place))
}
