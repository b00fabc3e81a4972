//! Where everybody and everything of a scene is on its floor, when they walk, and where the line is.
//!
//! Places are in metres on the scene's own floor, x east and y north. Seconds are the scene's own: beats say when they
//! start, and a shot starts with its beat.

mod footprint;
mod line;
mod span;
mod way;

use glam::DVec2;
use staging::{Body, Light, Person, Posture, SetPiece, Stance, azimuth};
use units::Angle;

use crate::film::CastMember;
use crate::id::{BeatId, PersonId};

pub(crate) use footprint::{HALF_OPENING_M, half_footprint, seen_from, through, walked_through_s};
pub use line::{Line, LineSide};
pub(crate) use span::{Span, limited};
pub(crate) use way::Leg;
pub use way::Way;

use line::SHORTEST_LINE_M;
use way::Walked;

/// Where everybody and everything of a scene is.
#[derive(Debug, Clone, PartialEq)]
pub struct SceneBlocking {
    /// Who is in the scene, and where.
    pub marks: Vec<Mark>,
    /// What the place is made of.
    pub pieces: Vec<SetPiece>,
    /// Where the light comes from.
    pub light: Light,
    /// Where the earth's north is on this floor, clockwise from the floor's own.
    pub north: Angle,
    /// What happens when, in order; a scene without beats is one beat.
    pub beats: Vec<Beat>,
}

/// Where somebody is in a scene.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Who.
    pub who: PersonId,
    /// Where they are when the scene starts.
    pub place: DVec2,
    /// Where they look while they do not walk.
    pub faces: Faces,
    /// How they hold themselves.
    pub posture: Posture,
    /// Where they walk, if they do.
    pub way: Option<Way>,
}

/// Where somebody looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Faces {
    /// That way, clockwise from north.
    Towards(Angle),
    /// Somebody.
    At(PersonId),
}

/// A beat: something happens.
#[derive(Debug, Clone, PartialEq)]
pub struct Beat {
    /// Known by this.
    pub id: BeatId,
    /// What happens.
    pub what: String,
    /// When it starts, seconds into the scene.
    pub starts_s: f64,
    /// Where its line is.
    pub line: LineWish,
}

/// Where a beat's line is to be.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum LineWish {
    /// Where the blocking has it: along whoever walks, else between two who look at each other.
    #[default]
    Auto,
    /// Between two people.
    Between(PersonId, PersonId),
    /// The way somebody walks.
    Along(PersonId),
    /// Through two points of the floor.
    ByHand(DVec2, DVec2),
    /// Nowhere: the phone may stand where it likes.
    None,
}

/// Somebody at one time of a scene.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Who.
    pub who: PersonId,
    /// As the picture shows them.
    pub person: Person,
}

/// Within this of somebody, a look is at them: chosen because eyes turn so far without the head.
const LOOKS_AT: Angle = Angle::from_deg(35.0);
impl Default for SceneBlocking {
    fn default() -> Self {
        Self {
            marks: Vec::new(),
            pieces: Vec::new(),
            light: Light::USUAL,
            north: Angle::ZERO,
            beats: Vec::new(),
        }
    }
}

/// How far two directions are apart, 0 to 180 degrees.
pub(crate) fn apart(one: Angle, other: Angle) -> Angle {
    let off = one - other;
    Angle::from_components(off.sin(), off.cos()).abs()
}

/// Whether somebody looks that way, as far as eyes turn without the head.
pub(crate) fn looks_along(person: &Person, way: Angle) -> bool {
    apart(way, person.facing) <= LOOKS_AT
}

/// Whether two look at each other.
pub(crate) fn face_each_other(one: &Person, other: &Person) -> bool {
    let way = azimuth(other.place - one.place);
    looks_along(one, way) && looks_along(other, way + Angle::from_deg(180.0))
}

impl SceneBlocking {
    /// Where somebody is in the scene.
    pub fn mark(&self, who: PersonId) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.who == who)
    }

    /// Everybody whom the blocking names, some more than once.
    pub fn people(&self) -> impl Iterator<Item = PersonId> {
        let marks = self.marks.iter().flat_map(|mark| {
            let looked_at = match mark.faces {
                Faces::At(other) => Some(other),
                Faces::Towards(_) => None,
            };
            std::iter::once(mark.who).chain(looked_at)
        });
        let lines = self.beats.iter().flat_map(|beat| match beat.line {
            LineWish::Between(one, other) => [Some(one), Some(other)],
            LineWish::Along(who) => [Some(who), None],
            LineWish::Auto | LineWish::ByHand(..) | LineWish::None => [None, None],
        });
        marks.chain(lines.flatten())
    }

    /// The beat of that id, else the first one.
    pub fn beat(&self, id: Option<BeatId>) -> Option<&Beat> {
        let named = id.and_then(|id| self.beats.iter().find(|beat| beat.id == id));
        named.or_else(|| self.beats.first())
    }

    /// When the beat of that id starts, seconds into the scene.
    pub fn starts_s(&self, beat: Option<BeatId>) -> f64 {
        self.beat(beat).map_or(0.0, |beat| beat.starts_s)
    }

    /// Where somebody is on the floor at that second of the scene.
    pub fn place_at(&self, who: PersonId, seconds: f64) -> Option<DVec2> {
        let mark = self.mark(who)?;
        Some(mark.way.as_ref().map_or(mark.place, |way| way.at(mark.place, seconds).place))
    }

    /// Everybody at that second of the scene, with the bodies and clothes of `cast`, in the order of their marks.
    pub fn people_at(&self, cast: &[CastMember], seconds: f64) -> Vec<Standing> {
        let people = self.marks.iter().filter_map(|mark| {
            let member = cast.iter().find(|member| member.id == mark.who)?;
            Some(Standing { who: mark.who, person: self.person_at(mark, member, seconds) })
        });
        people.collect()
    }

    /// Somebody at that second of the scene.
    pub fn person_of(&self, cast: &[CastMember], who: PersonId, seconds: f64) -> Option<Person> {
        let member = cast.iter().find(|member| member.id == who)?;
        Some(self.person_at(self.mark(who)?, member, seconds))
    }

    /// The blocking without somebody: those who looked at them look on the way that they did at that second of the scene,
    /// and lines through them find themselves.
    #[must_use]
    pub fn without(&self, cast: &[CastMember], who: PersonId, seconds: f64) -> Self {
        let mut left = self.clone();
        left.marks.retain(|mark| mark.who != who);
        for mark in left.marks.iter_mut().filter(|mark| mark.faces == Faces::At(who)) {
            let facing = self.person_of(cast, mark.who, seconds).map_or(Angle::ZERO, |person| person.facing);
            mark.faces = Faces::Towards(Angle::from_deg(facing.to_deg().rem_euclid(360.0)));
        }
        for beat in &mut left.beats {
            let needs_them = match beat.line {
                LineWish::Between(one, other) => one == who || other == who,
                LineWish::Along(walker) => walker == who,
                LineWish::Auto | LineWish::ByHand(..) | LineWish::None => false,
            };
            if needs_them {
                beat.line = LineWish::Auto;
            }
        }
        left
    }

    fn person_at(&self, mark: &Mark, member: &CastMember, seconds: f64) -> Person {
        let still = Walked { place: mark.place, velocity: DVec2::ZERO, metres: 0.0, last_way: None };
        let walked = mark.way.as_ref().map_or(still, |way| way.at(mark.place, seconds));
        let walks = walked.velocity != DVec2::ZERO;
        let looks = || match mark.faces {
            Faces::Towards(angle) => angle,
            Faces::At(other) => self
                .place_at(other, seconds)
                .filter(|other| other.distance(walked.place) > SHORTEST_LINE_M)
                .map_or(Angle::ZERO, |other| azimuth(other - walked.place)),
        };
        let facing = match walked.last_way {
            Some(way) if walks || matches!(mark.faces, Faces::Towards(_)) => azimuth(way),
            Some(_) | None => looks(),
        };
        let posture = if walks { Posture::Standing } else { mark.posture };
        let body = Body { stature: member.stature, posture, age: member.age };
        let stance = if walks {
            Stance::Walking((walked.metres / body.double_step().to_m()).rem_euclid(1.0))
        } else {
            Stance::Still
        };
        Person {
            body,
            stance,
            place: walked.place,
            facing,
            clothes: member.clothes,
            velocity: walked.velocity,
        }
    }
}

/// Every two of several people.
pub(crate) fn pairs(people: &[Standing]) -> impl Iterator<Item = (&Standing, &Standing)> {
    let each = people.iter().enumerate();
    each.flat_map(|(at, one)| people.iter().skip(at + 1).map(move |other| (one, other)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unknown::Unknown;
    use staging::{Age, Colour};
    use units::Length;

    fn id(number: u64) -> PersonId {
        PersonId::new(number).expect("small")
    }

    fn member(number: u64) -> CastMember {
        CastMember {
            id: id(number),
            name: format!("person {number}"),
            stature: Length::from_m(1.7),
            age: Age::Adult,
            clothes: Colour([0.5; 3]),
            hours: None,
            consent: false,
            unknown: Unknown::default(),
        }
    }

    fn mark(number: u64, place: DVec2, faces: Faces) -> Mark {
        Mark { who: id(number), place, faces, posture: Posture::Standing, way: None }
    }

    fn walker() -> SceneBlocking {
        let way = Way {
            corners: vec![DVec2::new(0.0, 10.0), DVec2::new(10.0, 10.0)],
            pace: Length::from_m(2.0),
            starts_s: 1.0,
        };
        let mark = Mark { way: Some(way), ..mark(1, DVec2::ZERO, Faces::Towards(Angle::ZERO)) };
        SceneBlocking { marks: vec![mark], ..SceneBlocking::default() }
    }

    #[test]
    fn a_walker_waits_walks_turns_and_stops() {
        let blocking = walker();
        let at = |seconds: f64| blocking.people_at(&[member(1)], seconds)[0].person;
        assert_eq!(at(0.5).place, DVec2::ZERO);
        assert_eq!(at(0.5).stance, Stance::Still);
        assert!((at(3.0).place - DVec2::new(0.0, 4.0)).length() < 1e-12, "{:?}", at(3.0));
        assert!((at(3.0).velocity - DVec2::new(0.0, 2.0)).length() < 1e-12, "{:?}", at(3.0));
        assert!((at(7.0).place - DVec2::new(2.0, 10.0)).length() < 1e-12, "{:?}", at(7.0));
        assert!((at(7.0).facing.to_deg() - 90.0).abs() < 1e-9, "{:?}", at(7.0));
        assert!((at(60.0).place - DVec2::new(10.0, 10.0)).length() < 1e-12, "{:?}", at(60.0));
        assert_eq!(at(60.0).stance, Stance::Still);
    }

    #[test]
    fn a_turn_is_seen_only_while_it_happens() {
        let blocking = walker();
        let mark = &blocking.marks[0];
        let way = mark.way.as_ref().expect("walks");
        assert!(way.turns_between(mark.place, 5.0, 7.0), "the corner is at 6 s");
        assert!(!way.turns_between(mark.place, 0.0, 5.9), "not yet");
        assert!(!way.turns_between(mark.place, 6.1, 30.0), "not any more");
    }

    #[test]
    fn the_line_runs_between_two_who_look_at_each_other() {
        let marks = vec![
            mark(1, DVec2::ZERO, Faces::At(id(2))),
            mark(2, DVec2::new(2.0, 0.0), Faces::Towards(Angle::from_deg(270.0))),
        ];
        let blocking = SceneBlocking { marks, ..SceneBlocking::default() };
        let line = blocking.line(&[member(1), member(2)], None).expect("a line");
        assert_eq!((line.from(), line.to()), (DVec2::ZERO, DVec2::new(2.0, 0.0)));
        assert_eq!(line.side_of(DVec2::new(1.0, 3.0)), LineSide::Left);
        assert_eq!(line.side_of(DVec2::new(1.0, -3.0)), LineSide::Right);
        assert_eq!(line.side_of(DVec2::new(8.0, 0.5)), LineSide::On);
        let mirrored = line.mirrored(DVec2::new(1.5, -3.0));
        assert!((mirrored - DVec2::new(1.5, 3.0)).length() < 1e-12, "{mirrored}");
    }

    #[test]
    fn whoever_looked_at_somebody_who_leaves_looks_on_that_way() {
        let way = Way { corners: vec![DVec2::new(0.0, 2.0)], pace: Length::from_m(2.0), starts_s: 1.0 };
        let marks = vec![
            mark(1, DVec2::ZERO, Faces::At(id(2))),
            Mark { way: Some(way), ..mark(2, DVec2::new(-2.0, 0.0), Faces::At(id(1))) },
        ];
        let beat = |number: u64, line: LineWish| Beat {
            id: BeatId::new(number).expect("small"),
            what: String::new(),
            starts_s: 0.0,
            line,
        };
        let beats = vec![beat(1, LineWish::Between(id(1), id(2))), beat(2, LineWish::Along(id(2)))];
        let blocking = SceneBlocking { marks, beats, ..SceneBlocking::default() };
        for (seconds, faces_deg) in [(0.0, 270.0), (9.0, 0.0)] {
            let left = blocking.without(&[member(1), member(2)], id(2), seconds);
            let [Mark { faces: Faces::Towards(way), .. }] = &left.marks[..] else { panic!("{left:?}") };
            assert!((way.to_deg() - faces_deg).abs() < 1e-9, "{way:?} at {seconds}");
            assert!(left.people().all(|who| who == id(1)), "{left:?}");
        }
    }

    #[test]
    fn two_who_look_away_make_no_line() {
        let marks = vec![
            mark(1, DVec2::ZERO, Faces::Towards(Angle::ZERO)),
            mark(2, DVec2::new(2.0, 0.0), Faces::Towards(Angle::ZERO)),
        ];
        let blocking = SceneBlocking { marks, ..SceneBlocking::default() };
        assert_eq!(blocking.line(&[member(1), member(2)], None), None);
    }
}
