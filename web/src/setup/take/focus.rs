//! Putting focus on something: by clicking it in the frame or on the floor plan, or by its name.

use glam::DVec3;
use leptos::prelude::*;
use staging::Landmark;

use crate::dressing::Item;
use crate::scene::Scene;
use crate::session::Session;

/// What focus can be put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// Somebody, or a piece of the set.
    Item(Item),
    /// What stands near the lens.
    NearTheLens,
    Background,
}

/// Something that focus can be put on, and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Mark {
    pub(super) aim: Aim,
    /// Axial distance.
    pub(super) depth_m: f64,
    /// Where it stands on the floor.
    place: DVec3,
}

/// The nearest and the farthest that requests let focus be, metres.
const NEAREST_M: f64 = 0.02;
const FARTHEST_M: f64 = 100_000.0;
/// Something within this of a place on the plan is meant by it, metres.
const SAME_PLACE_M: f64 = 0.05;

/// Puts focus at that axial distance; or the end of the pull, if that is what the click was for.
pub(crate) fn focus_at_depth(session: Session, depth_m: f64) {
    put(session, Some(depth_m));
}

/// Puts focus on what stands at that place of the floor plan.
pub(crate) fn focus_on_place(session: Session, scene: &Scene, place: DVec3) {
    let off = |mark: &Mark| mark.place.distance(place.with_z(0.0));
    let nearest = marks(scene).into_iter().min_by(|one, other| off(one).total_cmp(&off(other)));
    if let Some(mark) = nearest.filter(|mark| off(mark) <= SAME_PLACE_M) {
        // On the subject focus follows the framing, as it does at first.
        let follows = mark.aim == Aim::Item(Item::Subject) && !session.marks_second.get_untracked();
        put(session, (!follows).then_some(mark.depth_m));
    }
}

/// Puts focus there, or on the subject.
fn put(session: Session, depth_m: Option<f64>) {
    let depth_m = depth_m.map(|depth| depth.clamp(NEAREST_M, FARTHEST_M));
    let is_second = session.marks_second.get_untracked();
    if is_second {
        session.marks_second.set(false);
    }
    session.plan.update(|plan| {
        let pull = plan.shot.take.as_mut().and_then(|take| take.pull.as_mut());
        match (depth_m, pull.filter(|_| is_second)) {
            (Some(depth), Some(pull)) => pull.to_m = depth,
            (depth, _) => plan.shot.focus_at_m = depth,
        }
    });
}

/// Everybody and everything before the lens that focus can be put on, the subject first and the background last.
pub(super) fn marks(scene: &Scene) -> Vec<Mark> {
    let people = scene.people().iter().enumerate().map(|(at, person)| {
        let eyes_m = person.body.height_of(Landmark::Eyes).to_m();
        (Aim::Item(scene.item_of_person(at)), person.place.extend(0.0), eyes_m)
    });
    let pieces = scene.set_pieces().iter().enumerate().map(|(at, piece)| {
        (Aim::Item(Item::Piece(at)), piece.place.extend(0.0), piece.size.height.to_m() / 2.0)
    });
    let near_the_lens = scene.foreground.map(|place| (Aim::NearTheLens, place, scene.phone.z));
    let background = (Aim::Background, scene.background, scene.phone.z);
    let seen = people.chain(pieces).chain(near_the_lens).chain([background]);
    let seen = seen.filter_map(|(aim, place, height_m)| {
        let depth = scene.camera.see(place + DVec3::Z * height_m)?.depth;
        Some(Mark { aim, depth_m: depth.to_m(), place })
    });
    seen.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::scene_of;
    use crate::session::Plan;

    #[test]
    fn the_subject_is_as_deep_as_its_focus() {
        let scene = scene_of(&Plan::first());
        let marks = marks(&scene);
        let focus = scene.stage.pupil.expect("an f-number").focus_up.to_m();
        assert_eq!(marks[0].aim, Aim::Item(Item::Subject));
        assert!((marks[0].depth_m - focus).abs() < 1e-9, "{marks:?} {focus}");
    }

    #[test]
    fn the_background_is_behind_the_subject() {
        let marks = marks(&scene_of(&Plan::first()));
        let background = marks.last().expect("a background");
        assert_eq!(background.aim, Aim::Background);
        assert!(background.depth_m > marks[0].depth_m + 5.0, "{marks:?}");
    }
}
