//! A day of a film planned: its setups, when each has its light and its people, and the order of work.

mod filters_as_shot;
mod under_one_sun;

use std::collections::BTreeMap;
use std::sync::Arc;

use optics::{Illuminance, Weather};
use staging::{Landmark, azimuth};

use crate::day::ShootingDay;
use crate::daylight::{DaySpan, Daylight};
use crate::film::Film;
use crate::findings::SetupFinding;
use crate::id::{PersonId, PlaceId, ShotId};
use crate::light::{CrewShadow, LightFinding, LightOnScene, ShotLight};
use crate::light_of_day::{light_on_scene, wanted_light};
use crate::order::{Job, Order, OrderProblem, Placed, Rig};
use crate::rehearsal::{NoRehearsal, Rehearsal, Rehearsals};
use crate::scene::{Scene, Setting};
use crate::shot::{ActionKind, Shot};
use crate::sun_on_shot::{SunOnSetup, SunOnShot, SunSide};

/// The light of a day at each of a film's places, where it is known.
pub type Daylights = BTreeMap<PlaceId, Daylight>;

/// A day of a film planned.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// The day's setups that can be made, in story order.
    pub setups: Vec<DaySetup>,
    /// The day's shots that cannot be made as they are.
    pub unmade: Vec<Unmade>,
    /// What is still to be put in order.
    pub problem: OrderProblem,
    /// Which setup each job of the problem is.
    pub jobs: Vec<usize>,
    /// The order of work.
    pub order: Order,
    /// What would come of shooting the same in story order.
    pub story_order: Order,
}

/// A setup of a day.
#[derive(Debug, Clone, PartialEq)]
pub struct DaySetup {
    /// Its scene.
    pub scene: Arc<Scene>,
    /// The shot.
    pub shot: Arc<Shot>,
    /// The shot walked through, which can be made.
    pub rehearsal: Arc<Result<Rehearsal, NoRehearsal>>,
    /// Who is seen in it.
    pub people: Vec<PersonId>,
    /// When it has the light that it wants; none if any time will do.
    pub wanted: Option<Vec<DaySpan>>,
    /// Whether it is in the can.
    pub is_done: bool,
}

/// A shot that cannot be made as it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Unmade {
    /// The shot.
    pub shot: ShotId,
    /// Why.
    pub why: WhyUnmade,
}

/// Why a shot cannot be made as it is.
#[derive(Debug, Clone, PartialEq)]
pub enum WhyUnmade {
    /// The film lacks something for it.
    Lacks(NoRehearsal),
    /// Its framing cannot be had; what was found on it.
    CannotBeHad(Vec<SetupFinding>),
}

impl DayPlan {
    /// Plans a day: what is not in the can yet, from the call or from where it is resumed.
    ///
    /// Setups that are cut against each other wait for a stretch in which the sun matches, if there is one and it costs little
    /// (`under_one_sun`); the order may then cost more than the story's.
    ///
    /// A setup has the filters that it needs when it is shot (`filters_as_shot`). The order is first looked for with those that
    /// it needs in the middle of its light, or of the day if any time will do.
    pub fn of(film: &Film, day: &ShootingDay, daylights: &Daylights, rehearsals: &mut Rehearsals) -> Self {
        let (mut setups, mut unmade) = (Vec::new(), Vec::new());
        for (scene, shot) in day.shots_of(film) {
            let rehearsal = rehearsals.of(film, scene, shot);
            let why = match rehearsal.as_ref() {
                Ok(made) if made.result().outcome.is_ok() => None,
                Ok(made) => Some(WhyUnmade::CannotBeHad(made.result().findings.clone())),
                Err(lacks) => Some(WhyUnmade::Lacks(*lacks)),
            };
            match why {
                Some(why) => unmade.push(Unmade { shot: shot.id, why }),
                None => setups.push(DaySetup::of(film, day, daylights, scene, shot, rehearsal)),
            }
        }
        let jobs =
            setups.iter().enumerate().filter_map(|(story, setup)| setup.job(film, day, daylights, story));
        let breaks = day.breaks.iter().map(|hours| DaySpan::from(*hours));
        let whole = OrderProblem {
            jobs: jobs.collect(),
            call_min: f64::from(day.hours.from_min()),
            wrap_min: f64::from(day.hours.to_min()),
            breaks: breaks.collect(),
            changes: day.work.changes,
            before: None,
        };
        let is_of = |shot: &ShotId| setups.iter().position(|setup| setup.shot.id == *shot);
        let done: Vec<usize> = day.done.iter().filter_map(is_of).collect();
        let rest = whole.rest(&done, now_min(day, &whole, &done));
        let order = rest.problem.order();
        let story_order = rest.problem.in_story_order();
        let plan = Self { setups, unmade, problem: rest.problem, jobs: rest.jobs, order, story_order };
        plan.under_one_sun(film, day, daylights).with_filters_as_shot(film, day, daylights)
    }

    /// The setup of a job of the order.
    pub fn setup(&self, job: usize) -> Option<&DaySetup> {
        self.setups.get(*self.jobs.get(job)?)
    }

    /// The setup of a shot, if it is of the day and can be made.
    pub fn setup_of(&self, shot: ShotId) -> Option<&DaySetup> {
        self.setups.iter().find(|setup| setup.shot.id == shot)
    }

    /// Where the order has a shot.
    pub fn placed(&self, shot: ShotId) -> Option<&Placed> {
        let job = self.job_of(shot)?;
        self.order.placed.iter().find(|placed| placed.job == job)
    }

    /// The shots in the order of work.
    pub fn shots_in_order(&self) -> impl Iterator<Item = ShotId> {
        self.order.placed.iter().filter_map(|placed| Some(self.setup(placed.job)?.shot.id))
    }

    /// The job of a shot that is still to be made.
    pub fn job_of(&self, shot: ShotId) -> Option<usize> {
        (0..self.jobs.len()).find(|job| self.setup(*job).is_some_and(|setup| setup.shot.id == shot))
    }
}

/// From when on the rest of a day is planned: from where it is resumed, or from where what is done would have ended.
fn now_min(day: &ShootingDay, whole: &OrderProblem, done: &[usize]) -> f64 {
    match day.resumes_min {
        Some(minute) => f64::from(minute),
        None if done.is_empty() => whole.call_min,
        None => {
            // What is pinned and still to come is at no place of what is done.
            let jobs = whole.jobs.iter().map(|job| Job { pinned: None, ..job.clone() }).collect();
            OrderProblem { jobs, ..whole.clone() }.evaluate(done).ends_min
        }
    }
}

impl DaySetup {
    fn of(
        film: &Film,
        day: &ShootingDay,
        daylights: &Daylights,
        scene: &Arc<Scene>,
        shot: &Arc<Shot>,
        rehearsal: Arc<Result<Rehearsal, NoRehearsal>>,
    ) -> Self {
        let daylight = daylight_of(scene, daylights);
        let made = rehearsal.as_ref().as_ref().ok();
        Self {
            people: made.map_or_else(Vec::new, |made| seen(film, scene, shot, made)),
            wanted: made.and_then(|made| wanted_light(scene, shot, made, daylight, day.weather)),
            is_done: day.done.contains(&shot.id),
            scene: Arc::clone(scene),
            shot: Arc::clone(shot),
            rehearsal,
        }
    }

    /// The shot walked through.
    pub fn made(&self) -> Option<&Rehearsal> {
        self.rehearsal.as_ref().as_ref().ok()
    }

    /// The light on its scene at a minute of the day.
    pub fn light_on_scene(&self, day: &ShootingDay, daylights: &Daylights, minute: f64) -> LightOnScene {
        light_on_scene(&self.scene.facts, daylight_of(&self.scene, daylights), minute, day.weather)
    }

    /// What the camera is set to and which filters are on, if it is shot at a minute of the day. With the sun behind whoever is
    /// filmed, it is set for what is seen of their face; with the sun behind the phone, its holder's shadow is looked for.
    pub fn light_at(
        &self,
        film: &Film,
        day: &ShootingDay,
        daylights: &Daylights,
        minute: f64,
    ) -> Option<ShotLight> {
        let mut light = self.exposed_at(film, day, daylights, minute)?;
        let sun = self.lit_by_sun(day, daylights, minute);
        let shadow = sun.and_then(|sun| CrewShadow::of(film, &self.scene, &self.shot, self.made()?, &sun.on));
        light.findings.extend(shadow.map(LightFinding::CrewShadow));
        Some(light)
    }

    /// The same without the shadow of whoever holds the phone, which changes no setting.
    fn exposed_at(
        &self,
        film: &Film,
        day: &ShootingDay,
        daylights: &Daylights,
        minute: f64,
    ) -> Option<ShotLight> {
        let light = self.light_on_scene(day, daylights, minute);
        let light = match self.shade_of_back_light(day, daylights, minute) {
            Some(shade) => light.on_back_lit(&self.shot, shade),
            None => light,
        };
        ShotLight::of(film, &self.scene, &self.shot, self.made()?, light)
    }

    /// The names of the filters that are then on.
    fn filters_at(&self, film: &Film, day: &ShootingDay, daylights: &Daylights, minute: f64) -> Vec<String> {
        self.exposed_at(film, day, daylights, minute).map_or_else(Vec::new, |light| light.filters.names())
    }

    /// The sun on it at a minute of the day; none inside, and while the sun does not shine on the place.
    pub fn sun_at(&self, daylights: &Daylights, minute: f64) -> Option<SunOnShot> {
        let is_outside = matches!(self.scene.facts.setting, Setting::Outside);
        let sun = daylight_of(&self.scene, daylights).filter(|_| is_outside)?.sun_at(minute);
        let on = || SunOnShot::on(&self.scene, self.made()?, &self.shot, sun.azimuth, sun.apparent_elevation);
        if sun.shines { on() } else { None }
    }

    /// The sun that lights it at a minute of the day; none under cloud, where nothing is lit from the sun's side.
    pub fn lit_by_sun(&self, day: &ShootingDay, daylights: &Daylights, minute: f64) -> Option<SunOnSetup> {
        let on = self.sun_at(daylights, minute).filter(|_| day.weather == Weather::Clear)?;
        let sun = daylight_of(&self.scene, daylights)?.sun_at(minute);
        Some(SunOnSetup { on, elevation: sun.apparent_elevation })
    }

    /// The light in the shade while the sun is behind whoever is filmed.
    fn shade_of_back_light(
        &self,
        day: &ShootingDay,
        daylights: &Daylights,
        minute: f64,
    ) -> Option<Illuminance> {
        let sun = self.lit_by_sun(day, daylights, minute)?;
        let daylight = daylight_of(&self.scene, daylights)?;
        (sun.on.side == SunSide::Back).then(|| daylight.light_at(minute, day.weather).in_shade)
    }

    /// A minute of the day that stands for all at which it may be shot: the middle of its light within the day's hours, or of
    /// the day.
    pub fn usual_minute(&self, day: &ShootingDay) -> f64 {
        let hours = DaySpan::from(day.hours);
        let within = self.wanted.iter().flatten().map(|span| DaySpan {
            from_min: span.from_min.max(hours.from_min),
            to_min: span.to_min.min(hours.to_min),
        });
        let mut within = within.filter(|span| span.from_min < span.to_min);
        let span = within.next().or_else(|| self.wanted.as_ref()?.first().copied()).unwrap_or(hours);
        f64::midpoint(span.from_min, span.to_min)
    }

    fn job(&self, film: &Film, day: &ShootingDay, daylights: &Daylights, story: usize) -> Option<Job> {
        let made = self.made()?;
        let setup = made.result().outcome.as_ref().ok()?;
        let hours = self.people.iter().filter_map(|who| Some((*who, film.person(*who)?.hours?)));
        let hours = hours.flat_map(|(who, hours)| day.presence(hours).map(move |span| (who, span)));
        let pinned = day.pinned.iter().find(|pinned| pinned.shot == self.shot.id);
        Some(Job {
            shot: self.shot.id,
            rig: Rig {
                place: self.scene.facts.place,
                scene: self.scene.id,
                direction: azimuth(made.camera()?.forward().truncate()),
                lens: made.lens(film)?.name.clone(),
                adapter: self.shot.adapter.clone(),
                filters: self.filters_at(film, day, daylights, self.usual_minute(day)),
                gimbal: self.shot.is_carried(),
            },
            people: self.people.clone(),
            wideness_m: setup.view.height() * setup.subject_depth.to_m(),
            takes_min: day.work.on_set_min(&self.shot),
            light: self.wanted.clone(),
            one_sun: None,
            hours: hours.collect(),
            must_have: self.shot.is_must_have(),
            last: self.shot.action_kind == ActionKind::OneChance,
            story,
            pinned: pinned.map(|pinned| pinned.at),
        })
    }
}

/// The light of the day where a scene plays.
fn daylight_of<'day>(scene: &Scene, daylights: &'day Daylights) -> Option<&'day Daylight> {
    daylights.get(&scene.facts.place?)
}

/// Who is needed for a shot: whom it is of, whose hands are seen, and whoever else has their eyes in the frame as it starts.
fn seen(film: &Film, scene: &Scene, shot: &Shot, made: &Rehearsal) -> Vec<PersonId> {
    let hands = shot.of.hands();
    let own = made.own.iter().chain(hands).copied();
    let Some(stage) = made.stage(scene, &film.cast, 0.0) else { return own.collect() };
    let is_in_frame = |person: &staging::Person| {
        stage.opens.see(person.at(Landmark::Eyes)).is_some_and(|seen| {
            let view = &stage.view;
            (-view.left..=view.right).contains(&seen.right) && (-view.down..=view.up).contains(&seen.up)
        })
    };
    let others = made.others.iter().zip(stage.people.iter().skip(made.own.len()));
    let others = others.filter(|(who, person)| !hands.contains(who) && is_in_frame(person));
    own.chain(others.map(|(who, _)| *who)).collect()
}
