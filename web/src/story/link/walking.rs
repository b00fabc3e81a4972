//! How the mark of somebody in a scene follows what is said of them at the start of one of its shots.

use film::{Faces, Mark, Way};
use glam::DVec2;
use staging::{Person, USUAL_PACE, along};
use units::Angle;

/// Somebody at the start of a shot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start {
    /// As the picture shows them then, on the scene's floor.
    pub(super) person: Person,
    /// When that is, seconds into the scene.
    pub(super) starts_s: f64,
    /// How long the shot is meant to be, seconds.
    pub(super) planned_s: f64,
}

/// How many times as long as the shot somebody walks of whom only that is said: chosen so that they do not stop in the take.
const WALKS_FOR: f64 = 2.0;

impl Start {
    /// Whether they walk.
    pub(super) fn walks(&self) -> bool {
        self.person.velocity != DVec2::ZERO
    }

    /// Moves their mark with its way.
    pub(super) fn shift(&mut self, mark: &mut Mark, by: DVec2) {
        self.person.place += by;
        mark.place += by;
        for corner in mark.way.iter_mut().flat_map(|way| &mut way.corners) {
            *corner += by;
        }
    }

    /// Has them walk that way from where they are.
    pub(super) fn set_off(&self, mark: &mut Mark, facing: Angle) {
        let metres = USUAL_PACE.to_m() * self.planned_s * WALKS_FOR;
        mark.place = self.person.place;
        mark.way = Some(Way {
            corners: vec![mark.place + along(facing) * metres],
            pace: USUAL_PACE,
            starts_s: self.starts_s,
        });
    }

    /// Has them stand where they are, looking that way.
    pub(super) fn stop(&self, mark: &mut Mark, facing: Angle) {
        mark.place = self.person.place;
        mark.way = None;
        mark.faces = Faces::Towards(facing);
    }

    /// Turns them; says whether they can be turned. Whoever has arrived looks where their way led them.
    pub(super) fn turn(&self, mark: &mut Mark, facing: Angle) -> bool {
        match &mut mark.way {
            Some(way) if self.walks() => {
                let left = left_m(way, mark.place, self.starts_s);
                mark.place = self.person.place;
                way.corners = vec![mark.place + along(facing) * left];
                way.starts_s = self.starts_s;
            }
            Some(way) if way.starts_s <= self.starts_s => return false,
            Some(_) | None => mark.faces = Faces::Towards(facing),
        }
        true
    }
}

/// How much of the way from `mark` is left at a second of the scene, metres.
fn left_m(way: &Way, mark: DVec2, seconds: f64) -> f64 {
    let walked_s = (seconds - way.starts_s).max(0.0);
    (way.lasts_s(mark) - walked_s).max(0.0) * way.pace.to_m()
}

#[cfg(test)]
mod check {
    use super::*;
    use film::PersonId;
    use staging::{Body, Colour, Posture, Stance};
    use units::Length;

    fn walker() -> (Start, Mark) {
        let way = Way {
            corners: vec![DVec2::new(0.0, 4.0), DVec2::new(3.0, 4.0)],
            pace: Length::from_m(1.0),
            starts_s: 1.0,
        };
        let mark = Mark {
            who: PersonId::new(1).expect("small"),
            place: DVec2::ZERO,
            faces: Faces::Towards(Angle::ZERO),
            posture: Posture::Standing,
            way: Some(way),
        };
        let person = Person {
            body: Body::standing(Length::from_m(1.7)),
            stance: Stance::Walking(0.0),
            place: DVec2::new(0.0, 2.0),
            facing: Angle::ZERO,
            clothes: Colour([0.5; 3]),
            velocity: DVec2::Y,
        };
        (Start { person, starts_s: 3.0, planned_s: 4.0 }, mark)
    }

    #[test]
    fn whoever_turns_on_the_way_walks_as_far_as_they_would_have() {
        let (start, mut mark) = walker();
        assert!(start.turn(&mut mark, Angle::from_deg(90.0)), "they walk");
        let way = mark.way.expect("they walk on");
        assert_eq!((mark.place, way.starts_s), (DVec2::new(0.0, 2.0), 3.0));
        assert!((way.corners[0] - DVec2::new(5.0, 2.0)).length() < 1e-9, "{way:?}");
    }

    #[test]
    fn whoever_has_arrived_is_not_turned() {
        let (mut start, mut mark) = walker();
        start.person.velocity = DVec2::ZERO;
        start.starts_s = 60.0;
        assert!(!start.turn(&mut mark, Angle::from_deg(90.0)), "their way says where they look");
    }

    #[test]
    fn a_mark_is_moved_with_its_way() {
        let (mut start, mut mark) = walker();
        start.shift(&mut mark, DVec2::X);
        assert_eq!(mark.place, DVec2::X);
        assert_eq!(mark.way.expect("a way").corners, [DVec2::new(1.0, 4.0), DVec2::new(4.0, 4.0)]);
    }
}
