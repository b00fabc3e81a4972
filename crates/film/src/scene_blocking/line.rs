//! The line of a beat, and on which side of it something is.

use glam::DVec2;
use staging::{Person, along, azimuth};
use units::Angle;

use super::{LineWish, SceneBlocking, Standing, looks_along, pairs};
use crate::film::CastMember;
use crate::id::{BeatId, PersonId};

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

/// Within this of the line, as an angle at its nearer end, the phone is on it: common practice has such a shot face the
/// action head on; the figure is chosen.
const ON_THE_LINE: Angle = Angle::from_deg(10.0);
/// Points of a line nearer to each other than this make none, metres: chosen, as people stand no nearer.
pub(super) const SHORTEST_LINE_M: f64 = 0.05;

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

impl SceneBlocking {
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
    let pairs = pairs(people).map(|(one, other)| (&one.person, &other.person));
    let mut looking = pairs.filter(|(one, other)| looks_at(one, other) || looks_at(other, one));
    looking.next().and_then(|(one, other)| Line::through(one.place, other.place))
}
