//! Putting focus on something: by clicking it in the frame or on the floor plan, or by its name.

use glam::DVec3;
use leptos::prelude::*;
use staging::Landmark;

use crate::scene::Scene;
use crate::session::Session;

/// Something that focus can be put on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mark {
    pub(super) name: String,
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
    let marks = marks(scene).into_iter().enumerate();
    let off = |mark: &Mark| mark.place.distance(place.with_z(0.0));
    let nearest = marks.min_by(|(_, one), (_, other)| off(one).total_cmp(&off(other)));
    if let Some((at, mark)) = nearest.filter(|(_, mark)| off(mark) <= SAME_PLACE_M) {
        // On the subject focus follows the framing, as it does at first.
        let is_subject = at == 0 && !scene.people().is_empty();
        let follows = is_subject && !session.marks_second.get_untracked();
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
    let mut marks: Vec<(String, DVec3, f64)> = Vec::new();
    for (at, person) in scene.people().iter().enumerate() {
        let name = match at {
            0 => "the subject".to_owned(),
            1 if scene.cast > 1 => "the other one".to_owned(),
            _ => format!("somebody {}", at + 1 - scene.cast),
        };
        marks.push((name, person.place.extend(0.0), person.body.height_of(Landmark::Eyes).to_m()));
    }
    for (at, piece) in scene.set_pieces().iter().enumerate() {
        let name = format!("{} {}", crate::dressing::piece_name(piece.kind), at + 1);
        marks.push((name, piece.place.extend(0.0), piece.size.height.to_m() / 2.0));
    }
    marks.extend(scene.foreground.map(|place| ("what is near the lens".to_owned(), place, scene.phone.z)));
    marks.push(("the background".to_owned(), scene.background, scene.phone.z));
    let seen = marks.into_iter().filter_map(|(name, place, height_m)| {
        let depth = scene.camera.see(place + DVec3::Z * height_m)?.depth;
        Some(Mark { name, depth_m: depth.to_m(), place })
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
        assert_eq!(marks[0].name, "the subject");
        assert!((marks[0].depth_m - focus).abs() < 1e-9, "{marks:?} {focus}");
    }

    #[test]
    fn the_background_is_behind_the_subject() {
        let marks = marks(&scene_of(&Plan::first()));
        let background = marks.last().expect("a background");
        assert_eq!(background.name, "the background");
        assert!(background.depth_m > marks[0].depth_m + 5.0, "{marks:?}");
    }
}
