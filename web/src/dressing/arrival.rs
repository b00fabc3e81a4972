//! Where what is new on the set appears: behind the subject, where the frame sees it and nothing else stands.

use glam::DVec3;
use requests::{AgeRequest, PieceWord};
use staging::PieceKind;

use super::{Item, Pose, somebody, usual_piece};
use crate::scene::Scene;
use crate::session::Plan;

/// How far behind the subject a place is looked for, metres: chosen because each then has the one before it in front.
const BEHIND_M: [f64; 6] = [1.8, 2.8, 4.0, 6.0, 9.0, 13.0];
/// Where across the frame what is broad may come, as shares of its half width from the middle.
const ACROSS_BROAD: [f64; 3] = [0.0, 0.6, -0.6];
/// The same for other things: beside the subject first.
const ACROSS: [f64; 5] = [0.55, -0.55, 0.8, -0.8, 0.0];
/// What is as broad as this, in metres, fills the frame: chosen because it is wider than people stand apart.
const BROAD_M: f64 = 2.5;
/// A piece's top must be seen above this share of the frame's lower half: chosen because less is not noticed.
const SHOWN: f64 = 0.85;

impl Plan {
    /// Puts a piece on the set where the frame sees it, and says which it is.
    pub(crate) fn add_piece(&mut self, kind: PieceKind, scene: Option<&Scene>) -> Item {
        let size = kind.usual_size();
        let (width, depth) = (size.width.to_m(), size.depth.to_m());
        let place = self.free_place(width, depth, size.height.to_m(), scene);
        // A car is known from its side.
        let turned = if kind == PieceKind::Car { 70.0 } else { 0.0 };
        let piece = usual_piece(PieceWord::from(kind), place, self.phone_bearing_deg + turned);
        let pieces = &mut self.set_mut().pieces;
        pieces.push(piece);
        Item::Piece(pieces.len() - 1)
    }

    /// Has somebody else come to where the frame sees them, and says which they are.
    pub(crate) fn add_person(&mut self, age: AgeRequest, pose: Pose, scene: Option<&Scene>) -> Item {
        let height = match age {
            AgeRequest::Child => 1.2,
            AgeRequest::Adult => 1.6,
        };
        let place = self.free_place(0.5, 0.5, height, scene);
        // Whoever walks is seen from the side.
        let turned = if pose == Pose::Walking { 90.0 } else { 0.0 };
        let tape = self.free_tape();
        let person = somebody(place, self.phone_bearing_deg + turned, age, pose, tape);
        let people = &mut self.set_mut().people;
        people.push(person);
        Item::Person(people.len() - 1)
    }

    /// A floor point behind the subject that the frame sees and where nothing else is.
    fn free_place(&self, width: f64, depth: f64, height: f64, scene: Option<&Scene>) -> DVec3 {
        let (ahead, right) = self.directions();
        let across: &[f64] = if width >= BROAD_M { &ACROSS_BROAD } else { &ACROSS };
        for behind in BEHIND_M {
            let behind = behind + depth / 2.0;
            for share in across {
                let half = scene.map_or(1.5, |scene| {
                    scene.view.width() / 2.0 * (scene.phone.truncate().length() + behind)
                });
                let place = ahead * behind + right * (share * half);
                if scene.is_none_or(|scene| is_seen(scene, place, height)) && self.is_free(place, width) {
                    return place;
                }
            }
        }
        ahead * (BEHIND_M[1] + depth / 2.0)
    }

    fn is_free(&self, place: DVec3, width: f64) -> bool {
        let apart = 0.4 + 0.35 * width;
        let others = self.items();
        let mut places = others.iter().filter_map(|(item, _)| self.place(*item));
        places.all(|other| (other - place).length() >= apart)
    }
}

/// Whether the frame sees some of what stands there.
fn is_seen(scene: &Scene, place: DVec3, height: f64) -> bool {
    let (Some(foot), Some(top)) = (scene.camera.see(place), scene.camera.see(place + DVec3::Z * height))
    else {
        return false;
    };
    let view = &scene.view;
    (-view.left..=view.right).contains(&foot.right) && foot.up < view.up && top.up > -view.down * SHOWN
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::scene_of;

    #[test]
    fn every_newcomer_is_seen_behind_the_subject_and_stands_free() {
        for bearing in [180.0, 35.0] {
            let mut plan = Plan { phone_bearing_deg: bearing, ..Plan::first() };
            for kind in PieceKind::ALL {
                let scene = scene_of(&plan);
                let before = plan.clone();
                let item = plan.add_piece(kind, Some(&scene));
                let place = plan.place(item).expect("it is on the set");
                assert!(is_seen(&scene, place, kind.usual_size().height.to_m()), "{kind:?} at {place}");
                assert!(place.dot(plan.directions().0) > 1.0, "{kind:?} at {place}");
                assert!(before.is_free(place, kind.usual_size().width.to_m()), "{kind:?} at {place}");
            }
        }
    }
}
