//! What the entries of a cut show, as far as cutting them together is concerned: from geometry, not from labels.

mod in_frame;

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DVec2, DVec3};
use language::say;
use staging::{Camera, Landmark, Person};
use units::{Angle, Length};

use crate::film::Film;
use crate::id::{BeatId, EntryId, PersonId, ShotId};
use crate::rehearsal::{NoRehearsal, Rehearsal, Rehearsals};
use crate::scene::{Entry, Scene};
use crate::scene_blocking::{Leg, Line, LineSide};
use crate::shot::{Shot, ShotOf};

use in_frame::{gaps, in_frame, parts, walk};

/// What one entry of a cut shows.
#[derive(Debug, Clone, PartialEq)]
pub struct EntryView {
    /// The entry.
    pub entry: EntryId,
    /// The shot that it is a stretch of.
    pub shot: Arc<Shot>,
    /// The shot walked through.
    pub rehearsal: Arc<Result<Rehearsal, NoRehearsal>>,
    /// Who is in focus, if it is a person.
    pub subject: Option<PersonId>,
    /// When it starts and ends, in seconds of its shot.
    pub stretch_s: (f64, f64),
    /// The line of its beat.
    pub line: Option<Line>,
    /// What is seen as it starts and as it ends; none where the framing cannot be had.
    pub seen: Option<[SeenAt; 2]>,
    /// When whoever is in focus is in the frame while the shot is taken: from one second of the shot to another, in order.
    /// All of it for a thing, and for who stays if the phone does not turn.
    pub in_frame_s: Vec<(f64, f64)>,
    /// Whether whoever is in focus walks while the shot is taken.
    pub walks: bool,
    /// Which way a walker in focus goes across the frame when first seen in it, and when last; none if nobody is seen
    /// walking.
    pub goes: [Option<ScreenDirection>; 2],
    /// Whether a walker in focus is seen to turn in it.
    pub turns: bool,
    /// Whether they turn while it lasts, but outside the frame.
    pub turns_unseen: bool,
}

/// What is seen at one moment of an entry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenAt {
    /// The phone on the scene's floor, and how high.
    pub camera: Camera,
    /// The direction from what is in focus to the phone, of length 1: from the eyes, if it has any.
    pub from_subject: DVec3,
    /// How far from the lens that is.
    pub away: Length,
    /// The subject's stature as a share of the frame's height, whether the frame holds all of it or not; none for things.
    pub figure_share: Option<f64>,
    /// The side of its beat's line that the phone is on; on the line too where a walker comes straight on along it. None
    /// once whoever is in focus has come past the phone.
    pub side: Option<LineSide>,
    /// Which way a walker in focus goes across the frame; none if nobody walks, or if they have come past the phone.
    pub goes: Option<ScreenDirection>,
    /// Which way the one in focus looks across the frame.
    pub looks: Option<ScreenDirection>,
}

/// How an entry shows whoever is in focus from its start to its end.
struct Course {
    seen: Option<[SeenAt; 2]>,
    in_frame_s: Vec<(f64, f64)>,
    walks: bool,
    goes: [Option<ScreenDirection>; 2],
    turns: bool,
    turns_unseen: bool,
}

/// A direction across the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ScreenDirection {
    /// To its left.
    Left,
    /// To the phone or away from it.
    Neutral,
    /// To its right.
    Right,
}

/// Within this of the line of sight somebody goes or looks at the phone or away from it: chosen, as common practice has
/// such a shot between two directions without a figure.
pub(crate) const NEUTRAL: Angle = Angle::from_deg(15.0);
/// Whoever is out of the frame for more than this share of the time is missed: chosen, as a shot is of whom it shows most.
const MOST_OUT: f64 = 0.5;
/// So long after somebody turns, seconds, they go on the new way: chosen, as no frame is as short.
const JUST_AFTER_S: f64 = 0.001;

impl ScreenDirection {
    /// How a way along the floor runs across the frame of a phone that sees its start along `ahead`.
    fn of(way: DVec2, ahead: DVec2) -> Self {
        let (way, ahead) = (way.normalize_or_zero(), ahead.normalize_or_zero());
        // Right of `ahead` on the floor is (y, −x) of it.
        let across = -ahead.perp_dot(way);
        if across.abs() <= NEUTRAL.sin() {
            Self::Neutral
        } else if across > 0.0 {
            Self::Right
        } else {
            Self::Left
        }
    }

    /// Whether this and another way are opposite.
    pub const fn is_opposite(self, other: Self) -> bool {
        matches!((self, other), (Self::Left, Self::Right) | (Self::Right, Self::Left))
    }

    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Left => say!(in "where a look or a walk goes", "left"),
            Self::Neutral => say!(in "where a look or a walk goes", "straight on"),
            Self::Right => say!(in "where a look or a walk goes", "right"),
        }
    }
}

impl EntryView {
    /// Views of all entries of a scene's cut, in order.
    pub fn of_cut(film: &Film, scene: &Scene, rehearsals: &mut Rehearsals) -> Vec<Self> {
        let shots: BTreeMap<ShotId, &Arc<Shot>> = scene.shots.iter().map(|shot| (shot.id, shot)).collect();
        let mut lines: BTreeMap<Option<BeatId>, Option<Line>> = BTreeMap::new();
        let views = scene.cut.iter().filter_map(|entry| {
            let shot = *shots.get(&entry.shot)?;
            let beat = scene.blocking.beat(shot.beat).map(|beat| beat.id);
            let line = *lines.entry(beat).or_insert_with(|| scene.blocking.line(&film.cast, beat));
            let rehearsal = rehearsals.of(film, scene, shot);
            Some(Self::of(film, scene, entry, shot, rehearsal, line))
        });
        views.collect()
    }

    /// The view of one entry, a stretch of `shot`, whose beat has that line.
    pub fn of(
        film: &Film,
        scene: &Scene,
        entry: &Entry,
        shot: &Arc<Shot>,
        rehearsal: Arc<Result<Rehearsal, NoRehearsal>>,
        line: Option<Line>,
    ) -> Self {
        let stretch_s = entry.stretch_of(shot);
        let course = rehearsal.as_ref().as_ref().map_or_else(
            |_| Course::unknown(shot),
            |rehearsal| Course::of(film, scene, shot, rehearsal, line, stretch_s),
        );
        let Course { seen, in_frame_s, walks, goes, turns, turns_unseen } = course;
        let (shot, subject) = (Arc::clone(shot), shot.of.subject());
        Self {
            entry: entry.id,
            shot,
            rehearsal,
            subject,
            stretch_s,
            line,
            seen,
            in_frame_s,
            walks,
            goes,
            turns,
            turns_unseen,
        }
    }

    /// When whoever is in focus first leaves the frame of the shot as planned, seconds into it.
    pub(crate) fn leaves_s(&self) -> Option<f64> {
        gaps(&self.in_frame_s, (0.0, self.shot.planned_s)).next().map(|gap| gap.0)
    }

    /// How long they are outside it from one second of the shot to another.
    pub(crate) fn out_s(&self, within: (f64, f64)) -> f64 {
        gaps(&self.in_frame_s, within).map(|(from_s, to_s)| to_s - from_s).sum()
    }

    /// Whether they are missed: most of the time that the shot is planned, most of what this entry shows of it, or while
    /// they turn.
    pub(crate) fn misses_subject(&self) -> bool {
        let is_mostly_out = |within: (f64, f64)| self.out_s(within) > (within.1 - within.0) * MOST_OUT;
        self.turns_unseen || is_mostly_out((0.0, self.shot.planned_s)) || is_mostly_out(self.stretch_s)
    }

    /// Whether it is of one person, alone or past another's shoulder.
    pub(crate) fn is_single(&self) -> bool {
        matches!(self.shot.of, ShotOf::One(_) | ShotOf::OverShoulder { .. }) && !self.is_insert()
    }

    /// Whether it is of a thing, or so near that no person is told apart: such an entry cuts with any other.
    pub fn is_insert(&self) -> bool {
        self.shot.is_insert()
    }
}

impl Course {
    /// Of a shot that cannot be walked through.
    fn unknown(shot: &Shot) -> Self {
        let in_frame_s = vec![(0.0, shot.planned_s)];
        Self { seen: None, in_frame_s, walks: false, goes: [None; 2], turns: false, turns_unseen: false }
    }

    /// Of a stretch of a shot.
    fn of(
        film: &Film,
        scene: &Scene,
        shot: &Shot,
        rehearsal: &Rehearsal,
        line: Option<Line>,
        stretch_s: (f64, f64),
    ) -> Self {
        let at = |seconds: f64| SeenAt::of(film, scene, shot, rehearsal, line, seconds);
        let seen = at(stretch_s.0).and_then(|start| Some([start, at(stretch_s.1)?]));
        let in_frame_s = in_frame(film, scene, shot, rehearsal);
        let mark = shot.of.subject().and_then(|who| scene.blocking.mark(who));
        let walker = mark.and_then(|mark| Some((mark, mark.way.as_ref()?)));
        let turns = |(from_s, to_s): (f64, f64)| {
            walker.is_some_and(|(mark, way)| {
                way.turns_between(mark.place, rehearsal.scene_s(from_s), rehearsal.scene_s(to_s))
            })
        };
        let legs = walker.map(|(mark, way)| walk(mark, way, rehearsal, shot.planned_s));
        let legs: &[Leg] = legs.as_deref().unwrap_or_default();
        let goes_at = &|seconds: f64| at(seconds)?.goes;
        let goes = seen.map_or([None; 2], |[start, end]| {
            // They may go another way as they come into the frame, after they turn in it, and where it ends.
            let mut ways = parts(&in_frame_s, stretch_s).flat_map(move |(from_s, to_s)| {
                let comes = if from_s > stretch_s.0 { goes_at(from_s) } else { start.goes };
                let is_here = move |leg: &&Leg| leg.walks() && from_s < leg.from_s && leg.from_s < to_s;
                let turned = legs.iter().filter(is_here).map(move |leg| goes_at(leg.from_s + JUST_AFTER_S));
                let at_end = if to_s < stretch_s.1 { None } else { end.goes };
                std::iter::once(comes).chain(turned).chain(std::iter::once(at_end))
            });
            let first = ways.next().flatten();
            [first, ways.flatten().last().or(first)]
        });
        let is_seen_turning = parts(&in_frame_s, stretch_s).any(turns);
        let turns_unseen = gaps(&in_frame_s, stretch_s).any(turns);
        Self {
            seen,
            walks: legs.iter().any(Leg::walks),
            goes,
            turns: is_seen_turning,
            turns_unseen,
            in_frame_s,
        }
    }
}

impl SeenAt {
    /// How high the phone is above what is in focus: above the eyes, if it has any; negative below.
    pub fn above_subject(&self) -> Length {
        self.away * self.from_subject.z
    }

    /// What is seen `at_s` seconds into a shot whose beat has that line; none where the framing cannot be had.
    pub(crate) fn of(
        film: &Film,
        scene: &Scene,
        shot: &Shot,
        rehearsal: &Rehearsal,
        line: Option<Line>,
        at_s: f64,
    ) -> Option<Self> {
        let setup = rehearsal.result().outcome.as_ref().ok()?;
        // A phone that stays needs no stage to say where it is.
        let (camera, view, subject) = if shot.movement.is_some() {
            let stage = rehearsal.stage(scene, &film.cast, at_s)?;
            let subject = shot.of.subject().and_then(|who| rehearsal.on_floor(&stage, who));
            (rehearsal.camera_on_floor(&stage.opens), stage.view, subject)
        } else {
            let subject = shot
                .of
                .subject()
                .and_then(|who| scene.blocking.person_of(&film.cast, who, rehearsal.scene_s(at_s)));
            (rehearsal.camera()?, setup.view, subject)
        };
        let aimed_at = match (&subject, &shot.of) {
            (Some(person), _) => person.at(Landmark::Eyes),
            (None, _) => rehearsal.origin.extend(setup.phone_height.to_m()),
        };
        let to_phone = camera.position() - aimed_at;
        let ahead = -to_phone.truncate();
        let depth_m = camera.to_own(aimed_at).z;
        let figure_share =
            |person: &Person| (depth_m > 0.0).then(|| person.body.stature.to_m() / (depth_m * view.height()));
        // Whoever has come past the phone is seen no more.
        let in_view = subject.as_ref().filter(|_| depth_m > 0.0);
        let walker = in_view.filter(|person| person.velocity != DVec2::ZERO);
        let goes = walker.map(|person| ScreenDirection::of(person.velocity, ahead));
        // A line along a walk has no end at which to be beside it: whoever comes straight on along it shows neither side.
        let along_it = |line: &Line| {
            let way = walker.and_then(|person| Line::through(person.place, person.place + person.velocity));
            goes == Some(ScreenDirection::Neutral) && way.is_some_and(|way| way.runs_with(line).is_some())
        };
        let side_of = |line: Line| {
            if along_it(&line) { LineSide::On } else { line.side_of(camera.position().truncate()) }
        };
        Some(Self {
            camera,
            from_subject: to_phone.normalize_or_zero(),
            away: Length::from_m(to_phone.length()),
            figure_share: subject.as_ref().and_then(figure_share),
            side: line.filter(|_| subject.is_none() || in_view.is_some()).map(side_of),
            goes,
            looks: in_view.map(|person| ScreenDirection::of(staging::along(person.facing), ahead)),
        })
    }
}

/// How many times as large the larger of two figures is.
pub(crate) fn times_apart(one: f64, other: f64) -> f64 {
    (one / other).max(other / one)
}

/// How far the direction from the subject to the phone turns from one view to another.
pub fn turn_between(one: &SeenAt, other: &SeenAt) -> Angle {
    let (from, to) = (one.from_subject, other.from_subject);
    Angle::from_components(from.cross(to).length(), from.dot(to))
}
