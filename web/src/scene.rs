//! What stands where around one setup: the stage that the picture shows, and what the lines over it and the floor plan
//! need beside it.
//!
//! The plan's own directions: x to its right, y up the page, metres; the subject stands at its origin.

use film::ShotResult;
use glam::DVec3;
use leptos::prelude::{Get as _, With as _};
use optics::{ExposureTime, SharpZone, ViewTangents};
use requests::{BadRequest, SetupRequest};
use staging::{Blocking, Camera, Moment, Movement, Person, SetPiece, Setup, Shot, Stage, Subject, Take};
use units::Angle;

use crate::dressing::{Item, full_turn};
use crate::session::{Plan, Session};

/// What stands where around one setup.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Scene {
    /// Everything in its place, as the delivered frame sees it when the take starts.
    pub(crate) stage: Stage,
    /// The phone.
    pub(crate) camera: Camera,
    /// The lens's place on the floor plan, metres; z is its height.
    pub(crate) phone: DVec3,
    /// The direction that the phone looks along the floor, clockwise from the plan's top.
    pub(crate) azimuth: Angle,
    /// What the delivered frame sees.
    pub(crate) view: ViewTangents,
    /// What the whole recorded image sees.
    pub(crate) whole_view: ViewTangents,
    /// The delivered frame's width over its height.
    pub(crate) aspect: f64,
    /// The recorded image's width over its height, desqueezed.
    pub(crate) whole_aspect: f64,
    /// A piece near the lens.
    pub(crate) foreground: Option<DVec3>,
    /// How many of the people are the shot's own; the others are the set's.
    pub(crate) cast: usize,
    /// How many of these the frame holds: both of two, but not the one whose shoulder is in it.
    pub(crate) framed: usize,
    /// The middle of the background, on the floor.
    pub(crate) background: DVec3,
    /// The direction along the background to its right, as the phone sees it, of length 1.
    pub(crate) background_right: DVec3,
    /// What is sharp; none if it cannot be told.
    pub(crate) sharp: Option<SharpZone>,
    /// Where the phone is after each second of the take, on the floor; empty where it stays.
    pub(crate) way: Vec<DVec3>,
    /// Where the subject is then, if it walks along.
    pub(crate) walk: Vec<DVec3>,
}

/// Seconds of a take whose way is marked on the floor plan, at the most: chosen because more arrows are a hedge.
const MOST_MARKED_S: u32 = 60;

/// The unit vector along the floor in direction `azimuth`, clockwise from the plan's top.
pub(crate) fn along(azimuth: Angle) -> DVec3 {
    DVec3::new(azimuth.sin(), azimuth.cos(), 0.0)
}

impl Session {
    /// The chosen setup, if its framing can be had.
    pub(crate) fn setup(self) -> Option<Setup> {
        self.chosen.with(|row| row.as_ref()?.result.outcome.ok())
    }
}

impl Scene {
    /// The scene of the chosen setup.
    pub(crate) fn chosen(session: Session) -> Option<Self> {
        let row = session.chosen.get()?;
        session.plan.with(|plan| Self::of(plan, &row.result))
    }

    /// The scene of a shot that has a setup.
    pub(crate) fn of(plan: &Plan, result: &ShotResult) -> Option<Self> {
        let (shot, setup) = (&result.shot, &result.outcome.ok()?);
        let (phone, azimuth) = plan.phone(setup);
        let camera = Camera::new(phone, azimuth, setup.tilt);
        let whole = optics::deliver(
            shot.recording.area(&shot.lens),
            shot.adapter.as_ref(),
            // The desqueezed image's own shape keeps all of it; every recorded shape is within range.
            optics::Aspect::new(setup.frame.desqueezed_px.0 / setup.frame.desqueezed_px.1)
                .unwrap_or(shot.aspect),
            optics::CropShift::default(),
        );
        let ahead = along(azimuth);
        let background_ahead = setup.ahead.to_m() + shot.background_behind.to_m();
        let blocking = plan.blocking(shot);
        let stage = plan.stage(shot, setup, &blocking);
        let (way, walk) = plan.ways(shot, setup, &blocking);
        Some(Self {
            way,
            walk,
            camera,
            phone,
            azimuth,
            view: setup.view,
            whole_view: shot.view(&whole, setup.focus),
            aspect: setup.frame.aspect(),
            whole_aspect: whole.aspect(),
            // The stage has it last.
            foreground: blocking.foreground.and(stage.pieces.last()).map(|piece| piece.place.extend(0.0)),
            cast: stage.people.len() - blocking.people.len(),
            framed: if matches!(shot.subject, Subject::Pair { .. }) { 2 } else { 1 },
            background: phone.with_z(0.0) + ahead * background_ahead,
            background_right: camera.right(),
            sharp: result.figures.as_ref().and_then(|figures| figures.sharp),
            stage,
        })
    }

    /// What the whole recorded image sees at another moment of the take.
    ///
    /// Tangents go as one over the image distance, of the whole image as of the delivered frame.
    pub(crate) fn whole_view_of(&self, stage: &Stage) -> ViewTangents {
        let ViewTangents { left, right, up, down } = self.whole_view;
        let breathed = stage.view.width() / self.view.width();
        ViewTangents {
            left: left * breathed,
            right: right * breathed,
            up: up * breathed,
            down: down * breathed,
        }
    }

    /// The pieces of the set, without the one near the lens.
    pub(crate) fn set_pieces(&self) -> &[SetPiece] {
        let near_the_lens = usize::from(self.foreground.is_some());
        self.stage.pieces.get(..self.stage.pieces.len() - near_the_lens).unwrap_or_default()
    }

    /// People, the one in focus first.
    pub(crate) fn people(&self) -> &[Person] {
        &self.stage.people
    }

    /// Who stands at that place among the people.
    pub(crate) fn item_of_person(&self, at: usize) -> Item {
        match at.checked_sub(self.cast) {
            Some(at) => Item::Person(at),
            None if at == 0 => Item::Subject,
            None => Item::Second,
        }
    }
}

impl Plan {
    /// Where the phone is when the take starts, and the direction in which it looks along the floor.
    fn phone(&self, setup: &Setup) -> (DVec3, Angle) {
        let bearing = Angle::from_deg(self.phone_bearing_deg);
        let phone = along(bearing) * setup.distance.to_m() + DVec3::Z * setup.phone_height.to_m();
        // Back along the bearing lies the subject; the aim is off it by what puts the subject in its column.
        (phone, bearing + Angle::from_deg(180.0) - setup.subject_right)
    }

    /// The stage of the setup's frame when the take starts.
    pub(crate) fn stage(&self, shot: &Shot, setup: &Setup, blocking: &Blocking) -> Stage {
        self.stage_at(shot, setup, blocking, 0.0)
    }

    /// The stage of the setup's frame, so many seconds into its take.
    pub(crate) fn stage_at(&self, shot: &Shot, setup: &Setup, blocking: &Blocking, at_s: f64) -> Stage {
        let exposure_s = self.shot.exposure().map_or(0.0, ExposureTime::to_s);
        let stage = Stage::of(shot, setup, blocking, &self.take(setup), Moment { at_s, exposure_s });
        let behind = self.behind.as_ref().filter(|_| !self.hides_behind);
        let backdrop = behind.and_then(|behind| {
            let (phone, azimuth) = self.phone(setup);
            behind.seen_from(&Camera::new(phone, azimuth, setup.tilt))
        });
        Stage { backdrop, ..stage }
    }

    /// How the take goes. A pull starts from where the setup has its focus, on whichever lens that is.
    pub(crate) fn take(&self, setup: &Setup) -> Take {
        let mut take = self.shot.to_take().unwrap_or_default();
        if let Some(pull) = &mut take.pull {
            pull.from = setup.focus;
        }
        take
    }

    /// Where phone and subject are after each second of the take, as far as they go along the floor.
    fn ways(&self, shot: &Shot, setup: &Setup, blocking: &Blocking) -> (Vec<DVec3>, Vec<DVec3>) {
        let take = self.take(setup);
        let walks = matches!(take.movement, Some(Movement::Follow { .. }));
        if !walks && !matches!(take.movement, Some(Movement::Push { .. })) {
            return Default::default();
        }
        let seconds = (1..=MOST_MARKED_S).map(f64::from).take_while(|second| *second < take.duration_s);
        let stages = std::iter::once(0.0).chain(seconds).chain([take.duration_s]);
        let stages =
            stages.map(|at_s| Stage::of(shot, setup, blocking, &take, Moment { at_s, exposure_s: 0.0 }));
        let (mut way, mut walk) = (Vec::new(), Vec::new());
        for stage in stages {
            way.push(stage.opens.position().with_z(0.0));
            walk.extend(stage.people.first().filter(|_| walks).map(|person| person.place.extend(0.0)));
        }
        (way, walk)
    }

    /// What surrounds the shot: what was placed on the floor plan, and what the plan itself says of phone and subject.
    pub(crate) fn blocking(&self, shot: &Shot) -> Blocking {
        let placed = |request: &SetupRequest| -> Result<Blocking, BadRequest> {
            let mut surroundings = request.blocking.clone().unwrap_or_default();
            surroundings.phone_bearing_deg = Some(self.phone_bearing_deg);
            let walks = self.shot.take.is_some_and(|take| take.follow_m_per_s.is_some());
            if walks || matches!(shot.subject, Subject::Person(_)) {
                // Two people face each other as their shot has it, unless the phone goes along with them.
                surroundings.facing_deg = Some(full_turn(self.subject_faces_deg()));
            }
            surroundings.to_blocking(shot)
        };
        // What was kept by another version of the page may be out of range; the shot is shown without it.
        placed(&self.shot).unwrap_or_else(|_| Blocking::bare(shot, Angle::from_deg(self.phone_bearing_deg)))
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use requests::{ForegroundRequest, PieceWord};

    use super::*;
    use crate::session::first_kit;

    /// A plan's shot on the lens that it names of the first kit.
    pub(crate) fn result_of(plan: &Plan) -> ShotResult {
        let kit = first_kit().to_kit().expect("a preset");
        let rows = plan.compare(&kit);
        plan.choose(&kit, &rows).expect("a row").result.clone()
    }

    /// A plan's scene with the first kit.
    pub(crate) fn scene_of(plan: &Plan) -> Scene {
        Scene::of(plan, &result_of(plan)).expect("a setup")
    }

    #[test]
    fn the_picture_is_taken_from_where_the_plan_has_the_phone() {
        let scene = scene_of(&Plan { phone_bearing_deg: 215.0, ..Plan::first() });
        let off = scene.stage.opens.position() - scene.phone;
        assert!(off.length() < 1e-9, "{off}");
        let turned = scene.stage.opens.forward() - scene.camera.forward();
        assert!(turned.length() < 1e-9, "{turned}");
        assert_eq!(scene.stage.view, scene.view);
    }

    #[test]
    fn a_person_faces_as_the_plan_says_counted_from_the_phone() {
        let scene = scene_of(&Plan { phone_bearing_deg: 350.0, facing_deg: 30.0, ..Plan::first() });
        let facing = along(scene.people()[0].facing);
        assert!((facing - along(Angle::from_deg(20.0))).length() < 1e-9, "{facing}");
    }

    #[test]
    fn a_plant_near_the_lens_is_where_the_plan_has_it() {
        let mut plan = Plan { phone_bearing_deg: 180.0, ..Plan::first() };
        let plant = ForegroundRequest { kind: PieceWord::Plant, ahead_m: 0.5, right_m: 0.35 };
        plan.set_mut().foreground = Some(plant);
        let scene = scene_of(&plan);
        let expected = DVec3::new(0.35, scene.phone.y + 0.5, 0.0);
        let place = scene.foreground.expect("a plant");
        assert!((place - expected).length() < 1e-9, "{place} {expected}");
    }
}
