//! What a beat offers to a draft: who is where, who looks at whom, who walks, and the side that the phone stays on.

use glam::DVec2;
use staging::{Person, along, azimuth};
use units::Angle;

use super::free_floor::freer_side;
use crate::film::Film;
use crate::id::{BeatId, PersonId};
use crate::scene::Scene;
use crate::scene_blocking::{Beat, Faces, Line, LineSide, Standing, looks_along, pairs};

/// A beat as a draft sees it, at its start.
#[derive(Debug)]
pub(super) struct Ground<'film> {
    pub(super) film: &'film Film,
    pub(super) scene: &'film Scene,
    pub(super) beat: Option<&'film Beat>,
    pub(super) people: Vec<Standing>,
    /// The line of the beat, if it has one.
    pub(super) line: Option<Line>,
    /// The side of the line, or of what stands in for it, on which the phone stays.
    pub(super) side: LineSide,
    /// The direction from the line to that side, clockwise from north.
    pub(super) normal: Angle,
}

/// Somebody who walks, or is about to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Walker {
    pub(super) who: PersonId,
    /// The direction of the leg they are on, clockwise from north.
    pub(super) way: Angle,
    /// How far they get in a second, metres.
    pub(super) pace_m: f64,
    /// Whether they walk as the beat starts.
    pub(super) is_on_it: bool,
    /// For how long they go straight on from then, seconds.
    pub(super) straight_s: f64,
    /// Whether they stop where that ends.
    pub(super) is_last_leg: bool,
}

/// Whoever sets off so soon after the beat's start is shown as a walker, seconds: chosen because a shot of them lasts longer.
const ABOUT_TO_WALK_S: f64 = 2.0;

impl<'film> Ground<'film> {
    /// Every beat of a scene in order; a scene without beats is one.
    pub(super) fn of_scene(film: &'film Film, scene: &'film Scene) -> Vec<Self> {
        let beats: Vec<Option<&Beat>> = if scene.blocking.beats.is_empty() {
            vec![None]
        } else {
            scene.blocking.beats.iter().map(Some).collect()
        };
        let mut before: Option<(Line, LineSide)> = None;
        let grounds = beats.into_iter().map(|beat| {
            let ground = Self::of(film, scene, beat, before);
            before = ground.axis().map(|axis| (axis, ground.side)).or(before);
            ground
        });
        grounds.collect()
    }

    /// A beat; `before` is what the beat before it had for a line, and the side of it.
    fn of(
        film: &'film Film,
        scene: &'film Scene,
        beat: Option<&'film Beat>,
        before: Option<(Line, LineSide)>,
    ) -> Self {
        let starts_s = beat.map_or(0.0, |beat| beat.starts_s);
        let people = scene.blocking.people_at(&film.cast, starts_s);
        let line = scene.blocking.line(&film.cast, beat.map(|beat| beat.id));
        let mut ground = Self { film, scene, beat, people, line, side: LineSide::Left, normal: Angle::ZERO };
        let Some(axis) = ground.axis() else { return ground };
        ground.side = match before {
            None => freer_side(&ground, &axis),
            Some((line, side)) => match line.runs_with(&axis) {
                // A phone that stays where it is is then on the other side of a line that runs back.
                Some(false) => side.reversed(),
                // Across, the same hand of whoever walks keeps them going the same way through the frame.
                Some(true) | None => side,
            },
        };
        ground.normal = normal_of(&axis, ground.side);
        ground
    }

    /// The id of the beat, as a shot says it.
    pub(super) fn beat_id(&self) -> Option<BeatId> {
        self.beat.map(|beat| beat.id)
    }

    /// When it starts, seconds into the scene.
    pub(super) fn starts_s(&self) -> f64 {
        self.beat.map_or(0.0, |beat| beat.starts_s)
    }

    /// The line, or what stands in for it: the way of whoever walks, between the first two, or ahead of the one there is.
    pub(super) fn axis(&self) -> Option<Line> {
        let of_walker = || {
            let walker = self.walkers().into_iter().next()?;
            let place = self.person(walker.who)?.place;
            Line::through(place, place + along(walker.way))
        };
        let of_people = || {
            let first = self.people.first()?.person;
            let between = self.people.get(1).and_then(|other| Line::through(first.place, other.person.place));
            between.or_else(|| Line::through(first.place, first.place + along(first.facing)))
        };
        self.line.or_else(of_walker).or_else(of_people)
    }

    /// Somebody of the beat.
    pub(super) fn person(&self, who: PersonId) -> Option<&Person> {
        self.people.iter().find(|one| one.who == who).map(|one| &one.person)
    }

    /// The middle of everybody; of everything if there is nobody.
    pub(super) fn middle(&self) -> DVec2 {
        let mean = |places: &mut dyn Iterator<Item = DVec2>| {
            let (sum, count) =
                places.fold((DVec2::ZERO, 0.0), |(sum, count), place| (sum + place, count + 1.0));
            (count > 0.0).then(|| sum / count)
        };
        let of_people = mean(&mut self.people.iter().map(|one| one.person.place));
        let of_pieces = || mean(&mut self.scene.blocking.pieces.iter().map(|piece| piece.place));
        of_people.or_else(of_pieces).unwrap_or(DVec2::ZERO)
    }

    /// Whether one looks at the other.
    pub(super) fn looks_at(&self, one: PersonId, other: PersonId) -> bool {
        let mark = self.scene.blocking.mark(one);
        if mark.is_some_and(|mark| mark.faces == Faces::At(other)) && !self.walks(one) {
            return true;
        }
        let (Some(one), Some(other)) = (self.person(one), self.person(other)) else { return false };
        let way = other.place - one.place;
        way != DVec2::ZERO && looks_along(one, azimuth(way))
    }

    /// Pairs of whom one looks at the other, those who look at each other first.
    pub(super) fn looking(&self) -> Vec<(PersonId, PersonId)> {
        let pairs = || pairs(&self.people).map(|(one, other)| (one.who, other.who));
        let both = |one, other| self.looks_at(one, other) && self.looks_at(other, one);
        let each_other = pairs().filter(|(one, other)| both(*one, *other));
        let one_way = pairs().filter(|(one, other)| !both(*one, *other)).filter_map(|(one, other)| {
            if self.looks_at(one, other) {
                Some((one, other))
            } else {
                self.looks_at(other, one).then_some((other, one))
            }
        });
        each_other.chain(one_way).collect()
    }

    fn walks(&self, who: PersonId) -> bool {
        self.person(who).is_some_and(|person| person.velocity != DVec2::ZERO)
    }

    /// Who walks in the beat, or is about to.
    pub(super) fn walkers(&self) -> Vec<Walker> {
        self.people.iter().filter_map(|one| self.walker(one)).collect()
    }

    fn walker(&self, one: &Standing) -> Option<Walker> {
        let mark = self.scene.blocking.mark(one.who)?;
        let way = mark.way.as_ref()?;
        let pace_m = way.pace.to_m();
        let now_s = self.starts_s();
        let is_on_it = one.person.velocity != DVec2::ZERO;
        if !is_on_it && !(now_s..now_s + ABOUT_TO_WALK_S).contains(&way.starts_s) {
            return None;
        }
        // The first corner that is still ahead ends the leg they are on.
        let mut walked_m = ((now_s - way.starts_s) * pace_m).max(0.0);
        for (at, (from, corner)) in (1..).zip(way.legs(mark.place)) {
            let length_m = from.distance(corner);
            if walked_m < length_m {
                return Some(Walker {
                    who: one.who,
                    way: azimuth(corner - from),
                    pace_m,
                    is_on_it,
                    straight_s: (length_m - walked_m) / pace_m,
                    is_last_leg: at == way.corners.len(),
                });
            }
            walked_m -= length_m;
        }
        None
    }

    /// A direction turned by that much towards the phone's side of the line.
    pub(super) fn turned(&self, from: Angle, degrees: f64) -> Angle {
        let off = self.normal - from;
        let sign = if off.sin() < 0.0 { -1.0 } else { 1.0 };
        from + Angle::from_deg(sign * degrees)
    }

    /// Whether the phone may stand there: not beyond the line.
    pub(super) fn is_on_side(&self, place: DVec2) -> bool {
        self.line.is_none_or(|line| line.side_of(place) != self.side.reversed())
    }
}

/// The direction from a line to one of its sides.
pub(super) fn normal_of(axis: &Line, side: LineSide) -> Angle {
    let along_it = azimuth(axis.to() - axis.from());
    let quarter = Angle::from_deg(90.0);
    match side {
        LineSide::Left | LineSide::On => along_it - quarter,
        LineSide::Right => along_it + quarter,
    }
}
