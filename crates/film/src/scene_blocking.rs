//! Where everybody and everything of a scene is on its floor, when they walk, and where the line is.
//!
//! Places are in metres on the scene's own floor, x east and y north. Seconds are the scene's own: beats say when they
//! start, and a shot starts with its beat.

use glam::DVec2;
use staging::{Body, Light, Person, Posture, SetPiece, Stance, along, azimuth};
use units::{Angle, Length};

use crate::film::CastMember;
use crate::id::{BeatId, PersonId};

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

/// Where somebody walks.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The corners of it after their mark, the last one where they stop.
    pub corners: Vec<DVec2>,
    /// How far they get in a second; positive.
    pub pace: Length,
    /// When they set off, seconds into the scene.
    pub starts_s: f64,
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

/// The line (axis of action): the phone stays on one side of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    from: DVec2,
    to: DVec2,
}

/// On which side of the line something is, looking from its start to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineSide {
    /// To the left.
    Left,
    /// So near it that both sides look alike.
    On,
    /// To the right.
    Right,
}

/// Somebody at one time of a scene.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Who.
    pub who: PersonId,
    /// As the picture shows them.
    pub person: Person,
}

/// Within this of the line, as an angle at its nearer end, the phone is on it: common practice has such a shot face the
/// action head on; the figure is chosen.
const ON_THE_LINE: Angle = Angle::from_deg(10.0);
/// Within this of somebody, a look is at them: chosen because eyes turn so far without the head.
const LOOKS_AT: Angle = Angle::from_deg(35.0);
/// Points of a line nearer to each other than this make none, metres: chosen, as people stand no nearer.
const SHORTEST_LINE_M: f64 = 0.05;

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

impl Line {
    /// The line through two points; none if they are one.
    pub fn through(from: DVec2, to: DVec2) -> Option<Self> {
        (from.distance(to) >= SHORTEST_LINE_M).then_some(Self { from, to })
    }

    /// Where it starts.
    pub const fn from(&self) -> DVec2 {
        self.from
    }

    /// Where it ends.
    pub const fn to(&self) -> DVec2 {
        self.to
    }

    /// On which side a point of the floor is.
    ///
    /// ```text
    /// sin φ = n · (p − q) / |p − q|
    /// ```
    /// `n` the normal to the line's left; `q` its end that is nearer to the point `p`; `φ` the angle off the line there.
    pub fn side_of(&self, point: DVec2) -> LineSide {
        let way = (self.to - self.from).normalize();
        let near_end = if point.distance(self.from) <= point.distance(self.to) { self.from } else { self.to };
        let off = point - near_end;
        let sin = way.perp_dot(off) / off.length().max(SHORTEST_LINE_M);
        if sin.abs() <= ON_THE_LINE.sin() {
            LineSide::On
        } else if sin > 0.0 {
            LineSide::Left
        } else {
            LineSide::Right
        }
    }

    /// The point as far on the other side.
    pub fn mirrored(&self, point: DVec2) -> DVec2 {
        let way = (self.to - self.from).normalize();
        let off = point - self.from;
        self.from + way * (2.0 * off.dot(way)) - off
    }

    /// The same line, as far as sides go: whether the other one runs the same way within half a right angle. None if it
    /// runs across.
    pub fn runs_with(&self, other: &Self) -> Option<bool> {
        let (way, other) = ((self.to - self.from).normalize(), (other.to - other.from).normalize());
        let along = way.dot(other);
        (along.abs() > core::f64::consts::FRAC_1_SQRT_2).then_some(along > 0.0)
    }
}

impl LineSide {
    /// The same side of the line that runs the other way.
    #[must_use]
    pub const fn reversed(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::On => Self::On,
            Self::Right => Self::Left,
        }
    }
}

impl Way {
    /// How long the walk takes from `mark`, seconds.
    pub fn lasts_s(&self, mark: DVec2) -> f64 {
        self.legs(mark).map(|(from, to)| from.distance(to)).sum::<f64>() / self.pace.to_m()
    }

    /// The straight parts of the way.
    pub(crate) fn legs(&self, mark: DVec2) -> impl Iterator<Item = (DVec2, DVec2)> {
        let starts = std::iter::once(mark).chain(self.corners.iter().copied());
        starts.zip(self.corners.iter().copied())
    }

    /// Where somebody is at that second of the scene, how far they have walked, and how they go on; standing still, their
    /// velocity is nothing.
    fn at(&self, mark: DVec2, seconds: f64) -> Walked {
        let mut left = ((seconds - self.starts_s) * self.pace.to_m()).max(0.0);
        let walked = left;
        let mut last = Walked { place: mark, velocity: DVec2::ZERO, metres: 0.0, last_way: None };
        if seconds < self.starts_s {
            return last;
        }
        for (from, to) in self.legs(mark) {
            let length = from.distance(to);
            if length <= 0.0 {
                continue;
            }
            let way = (to - from) / length;
            if left < length {
                return Walked {
                    place: from + way * left,
                    velocity: way * self.pace.to_m(),
                    metres: walked,
                    last_way: Some(way),
                };
            }
            left -= length;
            last = Walked {
                place: to,
                velocity: DVec2::ZERO,
                metres: last.metres + length,
                last_way: Some(way),
            };
        }
        last
    }

    /// Whether they turn by more than a right angle's half between two seconds of the scene.
    pub fn turns_between(&self, mark: DVec2, from_s: f64, to_s: f64) -> bool {
        let mut at_s = self.starts_s;
        let mut before: Option<DVec2> = None;
        for (from, to) in self.legs(mark) {
            let length = from.distance(to);
            if length <= 0.0 {
                continue;
            }
            let way = (to - from) / length;
            let turned = before.is_some_and(|before| before.dot(way) < core::f64::consts::FRAC_1_SQRT_2);
            if turned && (from_s..=to_s).contains(&at_s) {
                return true;
            }
            at_s += length / self.pace.to_m();
            before = Some(way);
        }
        false
    }
}

/// How far somebody is on their way.
struct Walked {
    place: DVec2,
    velocity: DVec2,
    metres: f64,
    /// The direction of the leg they walk or walked last.
    last_way: Option<DVec2>,
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

    /// The line of a beat; none where nothing makes one.
    pub fn line(&self, cast: &[CastMember], beat: Option<BeatId>) -> Option<Line> {
        let beat = self.beat(beat);
        let seconds = beat.map_or(0.0, |beat| beat.starts_s);
        let people = self.people_at(cast, seconds);
        let of = |who: PersonId| people.iter().find(|one| one.who == who).map(|one| one.person);
        match beat.map(|beat| beat.line).unwrap_or_default() {
            LineWish::Auto => walked_line(&people).or_else(|| eyeline(&people)),
            LineWish::Between(one, other) => Line::through(of(one)?.place, of(other)?.place),
            LineWish::Along(who) => along_line(&of(who)?),
            LineWish::ByHand(from, to) => Line::through(from, to),
            LineWish::None => None,
        }
    }
}

/// The line of the first who walks.
fn walked_line(people: &[Standing]) -> Option<Line> {
    people.iter().map(|one| &one.person).find(|person| person.velocity != DVec2::ZERO).and_then(along_line)
}

/// The line ahead of somebody: the way they walk, or look.
fn along_line(person: &Person) -> Option<Line> {
    Line::through(person.place, person.place + along(person.facing))
}

/// The line between the first two of whom one looks at the other.
fn eyeline(people: &[Standing]) -> Option<Line> {
    let looks_at = |one: &Person, other: &Person| {
        let way = other.place - one.place;
        way.length() > SHORTEST_LINE_M && looks_along(one, azimuth(way))
    };
    let pairs = people
        .iter()
        .enumerate()
        .flat_map(|(at, one)| people.iter().skip(at + 1).map(move |other| (&one.person, &other.person)));
    let mut looking = pairs.filter(|(one, other)| looks_at(one, other) || looks_at(other, one));
    looking.next().and_then(|(one, other)| Line::through(one.place, other.place))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unknown::Unknown;
    use staging::{Age, Colour};

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
    fn two_who_look_away_make_no_line() {
        let marks = vec![
            mark(1, DVec2::ZERO, Faces::Towards(Angle::ZERO)),
            mark(2, DVec2::new(2.0, 0.0), Faces::Towards(Angle::ZERO)),
        ];
        let blocking = SceneBlocking { marks, ..SceneBlocking::default() };
        assert_eq!(blocking.line(&[member(1), member(2)], None), None);
    }
}
