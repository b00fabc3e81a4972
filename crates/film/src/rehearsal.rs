//! A shot of a film walked through: resolved on one of the kit's lenses, among the people of its scene.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DVec2, DVec3};
use optics::{Adapter, ExposureTime, exposure_time, view_tangents};
use staging::{
    Blocking, Camera, Landmark, Moment, Object, Person, PhoneHeight, Sharpness, ShotSize, Stage, Stand,
    Subject, Take, along, azimuth,
};
use units::{Angle, FrameRate, Length};

use crate::comparison::{Care, Comparison, ShotResult, sort_by_care};
use crate::film::{CastMember, Film, FilmFacts};
use crate::findings::{Circumstances, Taking};
use crate::id::{PersonId, ShotId};
use crate::kit::{AdapterFit, Kit, KitLens, KitRecording};
use crate::scene::{Scene, SceneFacts};
use crate::scene_blocking::{SceneBlocking, Standing};
use crate::shot::{LensChoice, Shot, ShotOf};

/// A shot of a film walked through.
///
/// `staging` has the subject of a shot at the floor's origin: `origin` is where that is on the scene's floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Rehearsal {
    /// The lens, zoom and adapter that the shot is made on, and the shot resolved on them.
    pub on: Comparison,
    /// What surrounds it, seen from its own origin.
    pub blocking: Blocking,
    /// How it is taken.
    pub take: Take,
    /// How long each frame is exposed.
    pub exposure: ExposureTime,
    /// Where its own origin is on the scene's floor.
    pub origin: DVec2,
    /// Who is in focus, if it is a person.
    pub subject: Option<Standing>,
    /// When it starts, seconds into the scene.
    pub starts_s: f64,
    /// Seconds of the scene that pass in one of the shot: less than one in slow motion.
    pub time_scale: f64,
    /// Those of the shot itself, in `staging`'s order.
    pub own: Vec<PersonId>,
    /// The others, in the order of `blocking.people`.
    pub others: Vec<PersonId>,
}

/// Why a shot cannot be walked through at all.
#[non_exhaustive]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoRehearsal {
    /// The kit has no lens or no recording mode.
    EmptyKit,
    /// The lens that the shot is fixed to is not in the kit.
    LensGone,
    /// The adapter that the shot is made with is not in the kit.
    AdapterGone,
    /// Somebody whom the shot is of has no mark in the scene.
    NotInScene(PersonId),
}

/// Rehearsals that were made, and what each was made from: one that would be the same again is not made again.
#[derive(Debug, Default)]
pub struct Rehearsals(BTreeMap<ShotId, Made>);

#[derive(Debug)]
struct Made {
    shot: Arc<Shot>,
    facts: Arc<FilmFacts>,
    kit: Arc<Kit>,
    cast: Arc<[CastMember]>,
    scene: Arc<SceneFacts>,
    blocking: Arc<SceneBlocking>,
    outcome: Arc<Result<Rehearsal, NoRehearsal>>,
}

/// The nearest that a phone stands for somebody's eyes to whom they see: chosen, as faces that near touch.
const NEAREST_POINT_OF_VIEW_M: f64 = 0.1;

impl Rehearsals {
    /// The shot walked through, made anew only if something that it depends on is another.
    pub fn of(
        &mut self,
        film: &Film,
        scene: &Scene,
        shot: &Arc<Shot>,
    ) -> Arc<Result<Rehearsal, NoRehearsal>> {
        let is_same = |made: &&Made| {
            Arc::ptr_eq(&made.shot, shot)
                && Arc::ptr_eq(&made.blocking, &scene.blocking)
                && Arc::ptr_eq(&made.scene, &scene.facts)
                && Arc::ptr_eq(&made.kit, &film.kit)
                && Arc::ptr_eq(&made.cast, &film.cast)
                && (Arc::ptr_eq(&made.facts, &film.facts) || made.facts.shoots_as(&film.facts))
        };
        if let Some(made) = self.0.get(&shot.id).filter(is_same) {
            return Arc::clone(&made.outcome);
        }
        let outcome = Arc::new(Rehearsal::of(film, scene, shot));
        let made = Made {
            shot: Arc::clone(shot),
            facts: Arc::clone(&film.facts),
            kit: Arc::clone(&film.kit),
            cast: Arc::clone(&film.cast),
            scene: Arc::clone(&scene.facts),
            blocking: Arc::clone(&scene.blocking),
            outcome: Arc::clone(&outcome),
        };
        self.0.insert(shot.id, made);
        outcome
    }

    /// Forgets what is not in the film any more.
    pub fn keep_only(&mut self, film: &Film) {
        let mut ids: Vec<ShotId> =
            film.scenes.iter().flat_map(|scene| scene.shots.iter().map(|shot| shot.id)).collect();
        ids.sort_unstable();
        self.0.retain(|id, _| ids.binary_search(id).is_ok());
    }
}

impl Film {
    /// The recording mode that the film is shot in.
    pub fn recording(&self) -> Option<&KitRecording> {
        let named = self.kit.recordings.iter().find(|mode| mode.name == self.facts.recording);
        named.or_else(|| self.kit.recordings.first())
    }
}

impl Shot {
    /// Frames a second at which it is captured in `film`.
    pub fn frame_rate(&self, film: &Film) -> FrameRate {
        self.capture_rate.unwrap_or(film.facts.frame_rate)
    }
}

impl Rehearsal {
    /// Walks through a shot of a scene.
    ///
    /// A lens that is not fixed is chosen among those that will do: for sizes down to the waist the one with the largest
    /// sensor, which needs the least light and is softest behind; for tighter ones the one that stretches a face least.
    /// Common practice.
    ///
    /// # Errors
    /// Says what the film lacks for it. A framing that cannot be had is not an error: it is a finding of the result.
    pub fn of(film: &Film, scene: &Scene, shot: &Shot) -> Result<Self, NoRehearsal> {
        let recording = film.recording().ok_or(NoRehearsal::EmptyKit)?;
        let adapter = shot
            .adapter
            .as_ref()
            .map(|name| film.kit.adapters.iter().position(|one| one.name == *name))
            .map(|at| at.ok_or(NoRehearsal::AdapterGone))
            .transpose()?;
        let starts_s = scene.blocking.starts_s(shot.beat);
        let people = scene.blocking.people_at(&film.cast, starts_s);
        let placed = Placed::of(shot, &people)?;
        let room = scene.facts.room;
        let fixed = match &shot.lens {
            LensChoice::Auto => None,
            LensChoice::Fixed { name, in_sensor_zoom } => Some((name, *in_sensor_zoom)),
        };
        let zoom = fixed.map_or(1.0, |(_, zoom)| zoom);
        let lenses = film.kit.lenses.iter().enumerate();
        let lenses = lenses.filter(|(_, lens)| fixed.is_none_or(|(name, _)| *name == lens.name));
        let tries = lenses.filter_map(|(at, lens)| {
            placed.on(&OnLens { film, shot, recording, at, lens, zoom, adapter, room })
        });
        let on = choose(tries.collect(), shot).ok_or(if film.kit.lenses.is_empty() {
            NoRehearsal::EmptyKit
        } else {
            NoRehearsal::LensGone
        })?;
        let own: Vec<PersonId> = placed.own.iter().map(|one| one.who).collect();
        let is_other = |one: &&Standing| !own.contains(&one.who) && Some(one.who) != placed.unseen;
        let others: Vec<Standing> = people.iter().filter(is_other).copied().collect();
        let blocking = placed.blocking(shot, &scene.blocking, &on, &others);
        let mut take = shot.take();
        if let (Some(pull), Ok(setup)) = (&mut take.pull, &on.result.outcome) {
            // A pull starts from where the setup has its focus, on whichever lens that is.
            pull.from = setup.focus;
        }
        Ok(Self {
            blocking,
            take,
            exposure: exposure_time(film.facts.shutter, shot.frame_rate(film)),
            origin: placed.origin,
            subject: placed.own.first().copied(),
            starts_s,
            time_scale: film.facts.frame_rate.to_fps() / shot.frame_rate(film).to_fps(),
            own,
            others: others.iter().map(|one| one.who).collect(),
            on,
        })
    }

    /// The shot resolved, with its figures and findings.
    pub const fn result(&self) -> &ShotResult {
        &self.on.result
    }

    /// The lens that it is made on; none if it is not one of the film's kit.
    pub fn lens<'film>(&self, film: &'film Film) -> Option<&'film KitLens> {
        film.kit.lenses.get(self.on.lens)
    }

    /// How its shot is taken, for checking the take.
    pub fn taking(&self, film: &Film, shot: &Shot) -> Taking<'_> {
        Taking {
            blocking: &self.blocking,
            take: &self.take,
            rate: shot.frame_rate(film),
            exposure: self.exposure,
        }
    }

    /// The second of the scene, so many seconds into the shot as it plays.
    pub fn scene_s(&self, at_s: f64) -> f64 {
        self.starts_s + at_s * self.time_scale
    }

    /// Where the phone is on the scene's floor, and how high, when the shot starts.
    pub fn phone(&self) -> Option<DVec3> {
        let setup = self.result().outcome.as_ref().ok()?;
        let floor = self.origin + along(self.blocking.phone_bearing) * setup.distance.to_m();
        Some(floor.extend(setup.phone_height.to_m()))
    }

    /// The phone on the scene's floor when the shot starts.
    ///
    /// Back along its bearing lies the subject; the aim is off it by what puts the subject in its column.
    pub fn camera(&self) -> Option<Camera> {
        let setup = self.result().outcome.as_ref().ok()?;
        let azimuth = self.blocking.phone_bearing + Angle::from_deg(180.0) - setup.subject_right;
        Some(Camera::new(self.phone()?, azimuth, setup.tilt))
    }

    /// A phone of one of its stages, on the scene's floor.
    pub(crate) fn camera_on_floor(&self, camera: &Camera) -> Camera {
        let place = camera.position() + self.origin.extend(0.0);
        Camera::from_directions(place, camera.right(), camera.up(), camera.forward())
    }

    /// Somebody of one of its stages, on the scene's floor; none who is not on it.
    pub(crate) fn on_floor(&self, stage: &Stage, who: PersonId) -> Option<Person> {
        let at = self.own.iter().chain(&self.others).position(|one| *one == who)?;
        let person = stage.people.get(at)?;
        Some(Person { place: person.place + self.origin, ..*person })
    }

    /// One frame of it, so many seconds into it: everybody where the scene's ways have them then.
    ///
    /// A phone that goes along with its subject takes them along, as it does in `staging`.
    pub fn stage(&self, scene: &Scene, cast: &[CastMember], at_s: f64) -> Option<Stage> {
        let setup = self.result().outcome.as_ref().ok()?;
        let moment = Moment { at_s: at_s * self.time_scale, exposure_s: self.exposure.to_s() };
        let mut stage = Stage::of(&self.result().shot, setup, &self.blocking, &self.take, moment);
        let follows = matches!(self.take.movement, Some(staging::Movement::Follow { .. }));
        let people = scene.blocking.people_at(cast, self.scene_s(at_s));
        let moved = |who: PersonId| people.iter().find(|one| one.who == who);
        let order = self.own.iter().chain(&self.others).enumerate();
        for (at, who) in order {
            if follows && at < self.own.len() {
                continue;
            }
            if let (Some(person), Some(now)) = (stage.people.get_mut(at), moved(*who)) {
                *person = Person { place: now.person.place - self.origin, ..now.person };
            }
        }
        Some(stage)
    }
}

/// Where those of a shot are, and where its own floor begins.
struct Placed {
    subject: Subject,
    own: Vec<Standing>,
    /// Whose eyes the phone stands for: they are not seen.
    unseen: Option<PersonId>,
    origin: DVec2,
    bearing: Angle,
    /// A distance and a height that a point of view has from its owner.
    seen_from: Option<(Length, Length)>,
}

/// A shot on one of the kit's lenses.
#[derive(Clone, Copy)]
struct OnLens<'film> {
    film: &'film Film,
    shot: &'film Shot,
    recording: &'film KitRecording,
    at: usize,
    lens: &'film KitLens,
    zoom: f64,
    adapter: Option<usize>,
    room: Option<Length>,
}

impl Placed {
    fn of(shot: &Shot, people: &[Standing]) -> Result<Self, NoRehearsal> {
        let find = |who: PersonId| {
            people.iter().find(|one| one.who == who).copied().ok_or(NoRehearsal::NotInScene(who))
        };
        let alone = |subject, own: Vec<Standing>, origin| Self {
            subject,
            own,
            unseen: None,
            origin,
            bearing: shot.side,
            seen_from: None,
        };
        Ok(match &shot.of {
            ShotOf::One(who) => {
                let one = find(*who)?;
                alone(Subject::Person(one.person.body), vec![one], one.person.place)
            }
            ShotOf::Two(first, second) => {
                let (first, second) = (find(*first)?, find(*second)?);
                let (from, to) = (first.person.place, second.person.place);
                // How far apart they are across the frame, as the phone sees them, and towards it.
                let (way, to_phone) = (to - from, along(shot.side));
                let subject = Subject::Pair {
                    first: first.person.body,
                    second: second.person.body,
                    apart: Length::from_m(way.perp_dot(to_phone).abs()),
                    nearer: Length::from_m(way.dot(to_phone)),
                };
                alone(subject, vec![first, second], (from + to) / 2.0)
            }
            ShotOf::OverShoulder { facing, near } => {
                let (facing, near) = (find(*facing)?, find(*near)?);
                let subject = Subject::OverShoulder {
                    facing: facing.person.body,
                    near: near.person.body,
                    apart: Length::from_m(facing.person.place.distance(near.person.place)),
                };
                alone(subject, vec![facing, near], facing.person.place)
            }
            ShotOf::PointOfView { of, seen } => {
                let (of, seen) = (find(*of)?, find(*seen)?);
                let way = of.person.place - seen.person.place;
                let distance = way.length().max(NEAREST_POINT_OF_VIEW_M);
                Self {
                    unseen: Some(of.who),
                    bearing: azimuth(way),
                    seen_from: Some((Length::from_m(distance), of.person.body.height_of(Landmark::Eyes))),
                    ..alone(Subject::Person(seen.person.body), vec![seen], seen.person.place)
                }
            }
            ShotOf::Object { size, place, support, .. } => {
                alone(Subject::Object(Object { size: *size, support: *support }), Vec::new(), *place)
            }
        })
    }

    /// The shot on one lens, still to be resolved; none where the zoom is not one.
    fn on(&self, on: &OnLens<'_>) -> Option<Try> {
        let OnLens { film, shot, recording, at, lens, zoom, adapter, room } = *on;
        let mode = film.kit.recording_of(recording, lens).zoomed(zoom).ok()?;
        let kit_adapter = adapter.and_then(|at| film.kit.adapters.get(at));
        let around = Circumstances {
            room,
            adapter_fit: kit_adapter
                .map_or(AdapterFit::Fits, |adapter| adapter.fit_in(&lens.name, &recording.name, zoom)),
            protect: None,
        };
        let mounted: Option<Adapter> = kit_adapter.map(|adapter| adapter.before(&mode));
        let (stand, height) = match self.seen_from {
            Some((distance, eyes)) => (Stand::At(distance), PhoneHeight::Fixed(eyes)),
            None => (shot.stand, shot.height),
        };
        let unresolved = staging::Shot {
            lens: lens.lens,
            recording: mode,
            adapter: mounted,
            aspect: film.facts.aspect,
            crop_shift: shot.crop_shift,
            subject: self.subject,
            size: shot.size,
            headroom: shot.headroom,
            phone_height: height,
            look: shot.look,
            stand,
            across: shot.across,
            background_behind: shot.background_behind,
            focus: shot.focus,
            sharpness: Sharpness::Usual,
        };
        Some(Try { lens: at, in_sensor_zoom: zoom, adapter, shot: unresolved, around })
    }

    /// What surrounds the shot, seen from its own origin.
    fn blocking(&self, shot: &Shot, scene: &SceneBlocking, on: &Comparison, others: &[Standing]) -> Blocking {
        let here = |person: &Person| Person { place: person.place - self.origin, ..*person };
        let own = |at: usize| self.own.get(at).map(|one| here(&one.person));
        let mut blocking = Blocking::bare(&on.result.shot, self.bearing);
        if let Some(first) = own(0) {
            blocking.facing = first.facing;
            blocking.stances[0] = first.stance;
            blocking.clothes[0] = first.clothes;
            if first.velocity != DVec2::ZERO {
                blocking.pace = Length::from_m(first.velocity.length());
            }
        }
        if let (Some(first), Some(second)) = (own(0), own(1)) {
            blocking.stances[1] = second.stance;
            blocking.clothes[1] = second.clothes;
            blocking.marks = Some([first, second].map(|person| (person.place, person.facing)));
        }
        blocking.people = others.iter().map(|one| here(&one.person)).collect();
        blocking.pieces.clone_from(&scene.pieces);
        for piece in &mut blocking.pieces {
            piece.place -= self.origin;
        }
        blocking.foreground = shot.foreground;
        blocking.light = scene.light;
        blocking
    }
}

/// A lens to try a shot on.
#[derive(Clone, Copy)]
struct Try {
    lens: usize,
    in_sensor_zoom: f64,
    adapter: Option<usize>,
    shot: staging::Shot,
    around: Circumstances,
}

impl Try {
    fn resolved(&self) -> Comparison {
        let Self { lens, in_sensor_zoom, adapter, shot, around } = *self;
        Comparison { lens, in_sensor_zoom, adapter, result: ShotResult::of(shot, &around) }
    }

    /// How large its sensor is, in square millimetres.
    fn area_mm2(&self) -> f64 {
        let size = self.shot.lens.sensor.value;
        size.width.to_mm() * size.height.to_mm()
    }

    /// How high it sees, focused far away: the less, the farther the phone stands for a size.
    fn height_seen(&self) -> f64 {
        view_tangents(&self.shot.frame(), self.shot.lens.image_distance(None)).height()
    }
}

/// The row that a shot is made on: see [`Rehearsal::of`].
///
/// Lenses are tried from the best on, and only until one will do: resolving is most of the work of walking through a film.
fn choose(mut tries: Vec<Try>, shot: &Shot) -> Option<Comparison> {
    let is_tight = shot.size >= ShotSize::ChestUp && shot.size != ShotSize::Insert;
    let sees_least = |one: &Try, other: &Try| one.height_seen().total_cmp(&other.height_seen());
    if !is_tight {
        tries.sort_by(|one, other| other.area_mm2().total_cmp(&one.area_mm2()));
    } else if tries.iter().all(|one| one.shot.stand == Stand::ForSize) {
        // The lens that sees least stands farthest and stretches a face least.
        tries.sort_by(sees_least);
    } else {
        // A place of the user's own is the same for all lenses, so that the stretch itself has to tell.
        let mut rows: Vec<Comparison> = tries.iter().map(Try::resolved).collect();
        sort_by_care(&mut rows, Care::NaturalFace);
        return rows.into_iter().next();
    }
    let mut rows = Vec::new();
    for one in &tries {
        let row = one.resolved();
        if row.result.will_do() {
            return Some(row);
        }
        rows.push(row);
    }
    if is_tight {
        sort_by_care(&mut rows, Care::NaturalFace);
    }
    rows.into_iter().next()
}

#[cfg(test)]
mod tests;
