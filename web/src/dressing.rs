//! Dressing the set: what stands on the floor beside the phone, as a plan keeps it, and how it is changed and taken back.

mod arrival;
mod history;
mod places;
mod property;
mod tape;

pub(crate) use history::{DRAG, Dressing};
pub(crate) use places::PLACES;
pub(crate) use property::{Property, Steps};
pub(crate) use tape::{TAPE_CLASSES, TAPES, tape_of};

use glam::DVec3;
use language::say;
use requests::{
    AgeRequest, BlockingRequest, ColourRequest, FARTHEST_PLACE_M, LightRequest, PersonRequest, PieceRequest,
    PieceWord, PostureRequest, ShotSizeRequest, SunRequest,
};
use serde::{Deserialize, Serialize};
use staging::{Light, PieceKind};
use units::Angle;

use crate::scene::along;
use crate::session::Plan;

/// Who or what on the floor plan can be chosen and changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Item {
    /// Whom the shot is of.
    Subject,
    /// The other one of a shot of two.
    Second,
    /// Somebody else, by their place in the plan's list.
    Person(usize),
    /// A piece of the set, by its place in the plan's list.
    Piece(usize),
}

/// What somebody does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Pose {
    Standing,
    Seated,
    Walking,
}

/// The stature of a child where nothing is said, metres: about seven years old, as in the Who sheet.
pub(crate) const CHILD_M: f64 = 1.22;

/// The size of a thing where nothing is said, metres: a hand's length, chosen because most things shown alone fit into one.
pub(crate) const THING_M: f64 = 0.15;

/// The same direction in 0 to 360 degrees.
pub(crate) fn full_turn(degrees: f64) -> f64 {
    degrees.rem_euclid(360.0)
}

/// The same direction in -180 to 180 degrees.
pub(crate) fn half_turn(degrees: f64) -> f64 {
    180.0 - (180.0 - degrees).rem_euclid(360.0)
}

/// A piece's plain name.
pub(crate) fn piece_name(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Wall => say!("wall"),
        PieceKind::Window => say!("window"),
        PieceKind::Doorway => say!("doorway"),
        PieceKind::Table => say!("table"),
        PieceKind::Bench => say!("bench"),
        PieceKind::Tree => say!("tree"),
        PieceKind::Hedge => say!("hedge"),
        PieceKind::Car => say!("car"),
        PieceKind::LampPost => say!("lamp post"),
        PieceKind::Lights => say!("string of lights"),
        PieceKind::Plant => say!("plant"),
    }
}

impl Plan {
    /// What surrounds the shot, if anything was said.
    pub(crate) fn set(&self) -> Option<&BlockingRequest> {
        self.shot.blocking.as_ref()
    }

    /// What surrounds the shot, to be changed.
    pub(crate) fn set_mut(&mut self) -> &mut BlockingRequest {
        self.shot.blocking.get_or_insert_default()
    }

    /// Whether there is anybody or anything beside the subject, or another light than usual.
    pub(crate) fn is_dressed(&self) -> bool {
        self.set().is_some_and(|set| {
            !set.pieces.is_empty()
                || !set.people.is_empty()
                || set.foreground.is_some()
                || set.light.is_some()
        })
    }

    /// The direction that the subject faces over the floor, clockwise from the plan's top; as it comes, so it may be past a
    /// full turn.
    pub(crate) const fn subject_faces_deg(&self) -> f64 {
        self.phone_bearing_deg + self.facing_deg
    }

    /// Moves the phone round the subject, who goes on facing the same way over the floor.
    pub(crate) fn turn_phone(&mut self, bearing_deg: f64) {
        let faces = self.subject_faces_deg();
        self.phone_bearing_deg = full_turn(bearing_deg);
        self.facing_deg = half_turn(faces - self.phone_bearing_deg);
    }

    /// The directions along the floor from phone to subject, and to the right of that.
    pub(crate) fn directions(&self) -> (DVec3, DVec3) {
        let ahead = -along(Angle::from_deg(self.phone_bearing_deg));
        (ahead, DVec3::new(ahead.y, -ahead.x, 0.0))
    }

    /// Everybody and everything that can be chosen, by name; those of one name are counted.
    pub(crate) fn items(&self) -> Vec<(Item, String)> {
        let mut items: Vec<(Item, &str)> = Vec::new();
        if self.shot.shot_size != ShotSizeRequest::Insert {
            items.push((Item::Subject, named(&self.own_names, 0, say!("subject"))));
            if self.is_of_two() {
                items.push((Item::Second, named(&self.own_names, 1, say!("the other one"))));
            }
        }
        if let Some(set) = self.set() {
            items.extend(set.people.iter().enumerate().map(|(at, person)| {
                let name =
                    if person.age == Some(AgeRequest::Child) { say!("child") } else { say!("somebody") };
                (Item::Person(at), named(&self.other_names, at, name))
            }));
            let pieces = set.pieces.iter().enumerate();
            items.extend(pieces.map(|(at, piece)| (Item::Piece(at), piece_name(piece.kind.into()))));
        }
        let counted = |(at, (item, name)): (usize, &(Item, &str))| {
            let before = items.iter().take(at).filter(|(_, other)| other == name).count();
            let name = if before == 0 { (*name).to_owned() } else { format!("{name} {}", before + 1) };
            (*item, name)
        };
        items.iter().enumerate().map(counted).collect()
    }

    /// Whether there still is such an item.
    pub(crate) fn has(&self, item: Item) -> bool {
        self.items().iter().any(|(one, _)| *one == item)
    }

    fn person(&self, at: usize) -> Option<&PersonRequest> {
        self.set()?.people.get(at)
    }

    fn piece(&self, at: usize) -> Option<&PieceRequest> {
        self.set()?.pieces.get(at)
    }

    fn person_mut(&mut self, at: usize) -> Option<&mut PersonRequest> {
        self.shot.blocking.as_mut()?.people.get_mut(at)
    }

    fn piece_mut(&mut self, at: usize) -> Option<&mut PieceRequest> {
        self.shot.blocking.as_mut()?.pieces.get_mut(at)
    }

    /// Where an item stands, if that is the set's to say.
    pub(crate) fn place(&self, item: Item) -> Option<DVec3> {
        let (x_m, y_m) = match item {
            Item::Subject => (0.0, 0.0),
            Item::Second => return None,
            Item::Person(at) => self.person(at).map(|person| (person.x_m, person.y_m))?,
            Item::Piece(at) => self.piece(at).map(|piece| (piece.x_m, piece.y_m))?,
        };
        Some(DVec3::new(x_m, y_m, 0.0))
    }

    /// Puts somebody or something down elsewhere; the subject is where the plan begins, and stays.
    pub(crate) fn put(&mut self, item: Item, place: DVec3) {
        let farthest = DVec3::splat(FARTHEST_PLACE_M);
        let place = place.clamp(-farthest, farthest);
        match item {
            Item::Subject | Item::Second => {}
            Item::Person(at) => {
                if let Some(person) = self.person_mut(at) {
                    (person.x_m, person.y_m) = (place.x, place.y);
                }
            }
            Item::Piece(at) => {
                if let Some(piece) = self.piece_mut(at) {
                    (piece.x_m, piece.y_m) = (place.x, place.y);
                }
            }
        }
    }

    /// The direction that an item faces, clockwise from the plan's top, if that is the set's to say.
    pub(crate) fn faces_deg(&self, item: Item) -> Option<f64> {
        let bearing = self.phone_bearing_deg;
        match item {
            // Two face each other as their shot has it.
            Item::Subject => (!self.is_of_two()).then_some(self.subject_faces_deg()),
            Item::Second => None,
            Item::Person(at) => self.person(at).map(|person| person.facing_deg.unwrap_or(bearing)),
            Item::Piece(at) => self.piece(at).map(|piece| piece.facing_deg.unwrap_or(bearing)),
        }
    }

    /// Turns an item to a direction, clockwise from the plan's top.
    pub(crate) fn face(&mut self, item: Item, degrees: f64) {
        let facing = Some(full_turn(degrees));
        match item {
            Item::Subject => self.facing_deg = half_turn(degrees - self.phone_bearing_deg),
            Item::Second => {}
            Item::Person(at) => {
                if let Some(person) = self.person_mut(at) {
                    person.facing_deg = facing;
                }
            }
            Item::Piece(at) => {
                if let Some(piece) = self.piece_mut(at) {
                    piece.facing_deg = facing;
                }
            }
        }
    }

    fn is_of_two(&self) -> bool {
        self.shot.subject.as_ref().is_some_and(|subject| subject.second_person.is_some())
    }

    /// What somebody does; none for things, and for those of the shot who sit, which is the shot's to say.
    pub(crate) fn pose(&self, item: Item) -> Option<Pose> {
        let pose = |posture: Option<PostureRequest>, walking: Option<bool>| match (posture, walking) {
            (Some(PostureRequest::Seated), _) => Pose::Seated,
            (_, Some(true)) => Pose::Walking,
            (_, Some(false) | None) => Pose::Standing,
        };
        let subject = self.shot.subject.as_ref();
        let set = self.set();
        let of_the_shot = match item {
            Item::Person(at) => {
                return self.person(at).map(|person| pose(person.posture, person.walking));
            }
            Item::Piece(_) => return None,
            Item::Subject => pose(subject?.posture, set.and_then(|set| set.walking)),
            Item::Second => {
                pose(subject?.second_person.as_ref()?.posture, set.and_then(|set| set.second_walking))
            }
        };
        (of_the_shot != Pose::Seated).then_some(of_the_shot)
    }

    /// Has somebody stand, sit or walk.
    pub(crate) fn set_pose(&mut self, item: Item, pose: Pose) {
        let walking = (pose == Pose::Walking).then_some(true);
        match item {
            Item::Subject => self.set_mut().walking = walking,
            Item::Second => self.set_mut().second_walking = walking,
            Item::Person(at) => {
                if let Some(person) = self.person_mut(at) {
                    person.walking = walking;
                    person.posture = (pose == Pose::Seated).then_some(PostureRequest::Seated);
                }
            }
            Item::Piece(_) => {}
        }
    }

    /// Takes somebody or something off the set.
    pub(crate) fn remove(&mut self, item: Item) {
        let Some(set) = &mut self.shot.blocking else { return };
        match item {
            Item::Subject | Item::Second => {}
            Item::Person(at) => {
                if at < set.people.len() {
                    set.people.remove(at);
                }
                if at < self.other_names.len() {
                    self.other_names.remove(at);
                }
            }
            Item::Piece(at) => {
                if at < set.pieces.len() {
                    set.pieces.remove(at);
                }
            }
        }
    }

    /// Takes everything off the set but what those of the shot wear and do.
    pub(crate) fn clear_set(&mut self) {
        if let Some(set) = &mut self.shot.blocking {
            set.pieces.clear();
            set.people.clear();
            set.foreground = None;
            set.light = None;
        }
        self.other_names.clear();
    }

    /// The light; the usual sun if nothing is said.
    pub(crate) fn light(&self) -> LightRequest {
        let usual = match Light::USUAL {
            Light::Sun { azimuth, elevation } => LightRequest::Sun(SunRequest {
                azimuth_deg: azimuth.to_deg(),
                elevation_deg: elevation.to_deg(),
            }),
            Light::Overcast => LightRequest::Overcast,
            Light::Dusk => LightRequest::Dusk,
        };
        self.set().and_then(|set| set.light).unwrap_or(usual)
    }
}

/// What somebody is called; `otherwise` where nobody says it.
fn named<'name>(names: &'name [String], at: usize, otherwise: &'name str) -> &'name str {
    names.get(at).filter(|name| !name.is_empty()).map_or(otherwise, String::as_str)
}

/// Somebody of usual stature.
fn somebody(place: DVec3, facing_deg: f64, age: AgeRequest, pose: Pose, tape: usize) -> PersonRequest {
    let is_child = age == AgeRequest::Child;
    PersonRequest {
        x_m: place.x,
        y_m: place.y,
        facing_deg: Some(full_turn(facing_deg)),
        stature_m: is_child.then_some(CHILD_M),
        posture: (pose == Pose::Seated).then_some(PostureRequest::Seated),
        age: is_child.then_some(age),
        walking: (pose == Pose::Walking).then_some(true),
        step_share: None,
        clothes: TAPES.get(tape).map(|(_, bytes)| ColourRequest(*bytes)),
    }
}

/// A piece of its usual size.
fn usual_piece(kind: PieceWord, place: DVec3, facing_deg: f64) -> PieceRequest {
    PieceRequest {
        kind,
        x_m: place.x,
        y_m: place.y,
        facing_deg: Some(full_turn(facing_deg)),
        width_m: None,
        depth_m: None,
        height_m: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phone_that_goes_round_leaves_the_subject_facing_as_before() {
        let mut plan = Plan { phone_bearing_deg: 180.0, facing_deg: 20.0, ..Plan::first() };
        for bearing in [270.0, 10.0, 359.0, 720.5, -30.0] {
            plan.turn_phone(bearing);
            let faces = plan.faces_deg(Item::Subject).expect("one person");
            assert!(half_turn(faces - 200.0).abs() < 1e-9, "{bearing}: {plan:?}");
            assert!((0.0..360.0).contains(&plan.phone_bearing_deg), "{plan:?}");
            assert!(plan.facing_deg.abs() <= 180.0, "{plan:?}");
        }
    }

    #[test]
    fn those_of_one_name_are_counted() {
        let mut plan = Plan::first();
        let tree = usual_piece(PieceWord::Tree, DVec3::X, 0.0);
        plan.set_mut().pieces = vec![tree.clone(), usual_piece(PieceWord::Wall, DVec3::Y, 0.0), tree];
        let names: Vec<String> = plan.items().into_iter().map(|(_, name)| name).collect();
        assert_eq!(names, ["subject", "tree", "wall", "tree 2"]);
    }

    #[test]
    fn those_of_a_film_are_called_by_their_names_and_newcomers_are_not() {
        let mut plan = Plan::first();
        let at = |x: f64| somebody(DVec3::new(x, 2.0, 0.0), 0.0, AgeRequest::Adult, Pose::Standing, 2);
        plan.set_mut().people = vec![at(0.0), at(1.0), at(2.0)];
        plan.own_names = vec!["Ida".to_owned()];
        plan.other_names = vec!["Tom".to_owned(), String::new()];
        let names = |plan: &Plan| plan.items().into_iter().map(|(_, name)| name).collect::<Vec<_>>();
        assert_eq!(names(&plan), ["Ida", "Tom", "somebody", "somebody 2"]);
        plan.remove(Item::Person(0));
        assert_eq!(names(&plan), ["Ida", "somebody", "somebody 2"]);
    }

    #[test]
    fn a_cleared_set_keeps_what_the_subject_wears() {
        let mut plan = Plan::first();
        plan.set_tape(Item::Subject, 3);
        plan.set_mut().pieces.push(usual_piece(PieceWord::Tree, DVec3::X, 0.0));
        plan.clear_set();
        assert_eq!(plan.tape(Item::Subject), Some(3));
        assert!(!plan.is_dressed(), "{plan:?}");
    }

    #[test]
    fn a_direction_is_the_same_in_both_turns() {
        for degrees in [-540.0, -180.0, -1.0, 0.0, 179.0, 180.0, 181.0, 359.0, 725.0] {
            let (full, half) = (full_turn(degrees), half_turn(degrees));
            assert!((0.0..360.0).contains(&full) && (-180.0..=180.0).contains(&half), "{full} {half}");
            assert!((full - half).rem_euclid(360.0).abs() < 1e-9, "{degrees}: {full} {half}");
        }
    }
}
