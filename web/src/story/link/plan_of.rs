//! The plan of a film's shot: what Set-up shows of it.

use film::{Film, PhotoBehind, Rehearsal, Scene, Shot};
use glam::DVec2;
use language::say;
use optics::ShutterAngle;
use requests::{
    AgeRequest, ArrangementRequest, AspectRequest, BlockingRequest, ColourRequest, DeliveryRequest, FILM_FPS,
    PersonRequest, PhoneHeightRequest, PieceRequest, PostureRequest, PullRequest, SecondMarkRequest,
    SecondPersonRequest, SetupRequest, ShotSizeRequest, ShutterRequest, SubjectRequest, TakeRequest,
    USUAL_STATURE_M,
};
use staging::{
    Age, Blocking, Body, FocusOn, Look, Movement, Object, Person, PhoneHeight, Posture, ShotSize, Stance,
    Stand, Subject, Take, USUAL_PACE,
};
use units::{Angle, Length};

use super::Linked;
use super::alike::same;
use crate::behind::Behind;
use crate::dressing::{full_turn, half_turn};
use crate::session::{OfShot, Plan};
use crate::story::words::numbered;

/// Places and directions are given to a billionth of a metre or degree: what turning them round adds is gone then.
const FINEST: f64 = 1.0e9;
/// The range of frame rates that requests take.
const RATES_FPS: (f64, f64) = (23.976, 240.0);
/// The least that requests let two people be apart, metres.
const LEAST_APART_M: f64 = 0.1;

/// The plan of a shot as `rehearsal` has it.
///
/// A plan shows people as they are when the shot starts; others walk on straight and at the usual pace.
pub(crate) fn plan_of(film: &Film, scene: &Scene, shot: &Shot, rehearsal: &Rehearsal) -> Plan {
    let linked = Linked { film, scene, shot, rehearsal };
    let blocking = &rehearsal.blocking;
    let bearing_deg = full_turn(degrees(blocking.phone_bearing));
    let lens = film.kit.lenses.get(rehearsal.on.lens);
    Plan {
        shot: request(linked),
        lens: lens.map_or_else(String::new, |lens| lens.name.clone()),
        zoom: rehearsal.on.in_sensor_zoom,
        recording: film.recording().map_or_else(String::new, |mode| mode.name.clone()),
        adapter: shot.adapter.clone(),
        facing_deg: half_turn(degrees(blocking.facing) - bearing_deg),
        phone_bearing_deg: bearing_deg,
        of: Some(of_shot(film, shot)),
        behind: behind(linked),
        own_names: rehearsal.own.iter().map(|who| film.name_of(*who).to_owned()).collect(),
        other_names: linked.shown_people().map(|(who, _)| film.name_of(who).to_owned()).collect(),
        ..Plan::first()
    }
}

/// The photo of the place that stands behind the shot.
fn behind(Linked { film, scene, rehearsal, .. }: Linked<'_>) -> Option<Behind> {
    let PhotoBehind { photo, covers, off, backdrop } = rehearsal.photo_behind(film, scene)?;
    let name = if photo.name.is_empty() { say!("a photo") } else { &photo.name };
    let words = say!(
        "Behind: {name}, taken {:.1} m from the phone. It covers {:.0} % of the frame.",
        off.to_m(),
        covers * 100.0
    );
    Some(Behind::of(&backdrop, false, words))
}

/// Which shot that is, in words too.
fn of_shot(film: &Film, shot: &Shot) -> OfShot {
    let number = film.number_of(shot.id).unwrap_or_default();
    OfShot { film: film.facts.title.clone(), shot: shot.id.number(), words: numbered(film, number, shot) }
}

impl Plan {
    /// The same plan with what somebody wishes of Set-up itself, whatever shot is in it.
    pub(crate) fn with_wishes_of(mut self, other: &Self) -> Self {
        self.sort = other.sort;
        self.hides_behind = other.hides_behind;
        self.larger_f_number = other.larger_f_number;
        self.shot.delivery.protect_aspect = other.shot.delivery.protect_aspect;
        self
    }
}

/// A direction in degrees.
fn degrees(angle: Angle) -> f64 {
    libm::round(angle.to_deg() * FINEST) / FINEST
}

/// A place on the floor in metres.
fn metres(place: DVec2) -> (f64, f64) {
    let fine = |metres: f64| libm::round(metres * FINEST) / FINEST;
    (fine(place.x), fine(place.y))
}

fn request(linked: Linked<'_>) -> SetupRequest {
    let Linked { film, scene, shot, rehearsal } = linked;
    let resolved = &rehearsal.result().shot;
    // A thing of any size is an insert; an insert of somebody is of something as large as their head.
    let thing = match resolved.subject {
        Subject::Object(object) => Some(object),
        Subject::Person(body)
        | Subject::Pair { first: body, .. }
        | Subject::OverShoulder { facing: body, .. } => {
            (shot.size == ShotSize::Insert).then(|| Object::on_table(body.head_length()))
        }
    };
    let size = if thing.is_some() { ShotSize::Insert } else { shot.size };
    let is_as_framed = resolved.subject.body().is_none() || thing.is_none();
    let camera_height = PhoneHeightRequest::of(resolved.phone_height).filter(|_| is_as_framed);
    let is_by_size = resolved.phone_height == PhoneHeight::BySize && is_as_framed;
    let camera_height_m = (camera_height.is_none() && !is_by_size)
        .then(|| resolved.subject.phone_height(resolved.size, resolved.phone_height).to_m());
    SetupRequest {
        lens: None,
        recording: None,
        adapter: None,
        delivery: DeliveryRequest {
            aspect: AspectRequest(film.facts.aspect),
            headroom_share: shot.headroom,
            protect_aspect: None,
            crop_up_share: shot.crop_shift.map(|shift| shift.up),
            crop_right_share: shot.crop_shift.map(|shift| shift.right),
        },
        subject: Some(subject(linked, &resolved.subject)),
        shot_size: ShotSizeRequest::from(size),
        insert_size_m: thing.map(|thing| thing.size.to_m()),
        insert_above_floor_m: thing.and_then(|thing| thing.support.to_height()).map(Length::to_m),
        camera_height_m,
        camera_height,
        look_tilt_deg: match shot.look {
            Look::Aimed => None,
            Look::Tilt(tilt) => Some(degrees(tilt)),
        },
        stand_at_m: match resolved.stand {
            Stand::ForSize => None,
            Stand::At(distance) => Some(distance.to_m()),
        },
        across_share: Some(shot.across).filter(|share| (share - 0.5).abs() > f64::EPSILON),
        background_behind_subject_m: shot.background_behind.to_m(),
        room_m: scene.facts.room.map(Length::to_m),
        focus_at_m: match shot.focus {
            FocusOn::Subject => None,
            FocusOn::At(distance) => Some(distance.to_m()),
        },
        shutter: shutter(film, shot),
        take: take(&rehearsal.take),
        blocking: Some(surroundings(linked)),
    }
}

fn shutter(film: &Film, shot: &Shot) -> Option<ShutterRequest> {
    let rate = shot.frame_rate(film).to_fps().clamp(RATES_FPS.0, RATES_FPS.1);
    let angle = film.facts.shutter;
    let shutter = ShutterRequest {
        frame_rate_fps: Some(rate).filter(|rate| (rate - FILM_FPS).abs() > f64::EPSILON),
        angle_deg: Some(angle.to_deg()).filter(|_| angle != ShutterAngle::HALF),
    };
    Some(shutter).filter(|shutter| *shutter != ShutterRequest::USUAL)
}

/// A take as a request has it; none where nothing happens in it, however long it is.
fn take(take: &Take) -> Option<TakeRequest> {
    if take.movement.is_none() && take.pull.is_none() {
        return None;
    }
    let mut request = TakeRequest {
        duration_s: Some(take.duration_s.clamp(0.1, film::LONGEST_SHOT_S)),
        push_m_per_s: None,
        follow_m_per_s: None,
        pan_deg_per_s: None,
        tilt_deg_per_s: None,
        pull: take.pull.map(PullRequest::from),
    };
    match take.movement {
        None => {}
        Some(Movement::Push { per_second }) => request.push_m_per_s = Some(per_second.to_m()),
        Some(Movement::Follow { per_second }) => request.follow_m_per_s = Some(per_second.to_m()),
        Some(Movement::Pan { per_second }) => request.pan_deg_per_s = Some(degrees(per_second)),
        Some(Movement::Tilt { per_second }) => request.tilt_deg_per_s = Some(degrees(per_second)),
    }
    Some(request)
}

/// The words for a body's posture and age, where they are not the usual ones.
fn build(body: &Body) -> (Option<PostureRequest>, Option<AgeRequest>) {
    let posture = (body.posture != Posture::Standing).then(|| body.posture.into());
    (posture, (body.age != Age::Adult).then(|| body.age.into()))
}

fn subject(linked: Linked<'_>, subject: &Subject) -> SubjectRequest {
    let of = |body: &Body, second_person: Option<SecondPersonRequest>| {
        let (posture, age) = build(body);
        SubjectRequest { stature_m: body.stature.to_m(), posture, age, second_person }
    };
    let second = |body: &Body, arrangement: ArrangementRequest, apart: Length| {
        let (posture, age) = build(body);
        SecondPersonRequest {
            stature_m: Some(body.stature.to_m()),
            posture,
            age,
            arrangement: Some(arrangement),
            apart_m: Some(apart.to_m().max(LEAST_APART_M)),
            nearer_m: None,
        }
    };
    match subject {
        Subject::Person(body) => of(body, None),
        Subject::Pair { first, second: other, apart, nearer } => {
            let nearer_m = Some(nearer.to_m()).filter(|nearer_m| !same(*nearer_m, 0.0));
            let beside = second(other, ArrangementRequest::Beside, *apart);
            of(first, Some(SecondPersonRequest { nearer_m, ..beside }))
        }
        Subject::OverShoulder { facing, near, apart } => {
            of(facing, Some(second(near, ArrangementRequest::OverShoulder, *apart)))
        }
        // Whoever would be in the shot if it were of somebody.
        Subject::Object { .. } => {
            let nearest = linked.nearest_person(&[]).map(|standing| standing.person.body);
            of(&nearest.unwrap_or(Body::standing(Length::from_m(USUAL_STATURE_M))), None)
        }
    }
}

impl Linked<'_> {
    /// Whoever is nearest to where the shot's own floor begins, when it starts, but for those of `without`.
    pub(super) fn nearest_person(&self, without: &[film::PersonId]) -> Option<film::Standing> {
        let people = self.scene.blocking.people_at(&self.film.cast, self.rehearsal.starts_s);
        let away = |one: &film::Standing| one.person.place.distance(self.rehearsal.origin);
        let others = people.into_iter().filter(|one| !without.contains(&one.who));
        others.min_by(|one, other| away(one).total_cmp(&away(other)))
    }
}

/// Whether somebody walks, and how much of a double step is done.
fn stance(stance: Stance) -> (Option<bool>, Option<f64>) {
    match stance {
        Stance::Still => (None, None),
        Stance::Walking(share) => (Some(true), Some(share).filter(|share| *share > 0.0)),
    }
}

fn surroundings(linked: Linked<'_>) -> BlockingRequest {
    let Linked { film, scene, shot, rehearsal } = linked;
    let Blocking { facing, stances, marks, clothes, .. } = &rehearsal.blocking;
    // A plan has one pace for both of a shot of two.
    let paces = rehearsal.own.iter().filter_map(|who| {
        let person = scene.blocking.person_of(&film.cast, *who, rehearsal.starts_s)?;
        Some(Length::from_m(person.velocity.length())).filter(|pace| *pace > Length::ZERO)
    });
    let pace = { paces }.next().unwrap_or(USUAL_PACE);
    let (walking, step_share) = stance(stances[0]);
    let worn = |at: usize| rehearsal.own.get(at).and(clothes.get(at)).copied().map(ColourRequest::of);
    let pieces = linked.shown_pieces().filter_map(|at| rehearsal.blocking.pieces.get(at));
    BlockingRequest {
        phone_bearing_deg: None,
        // Of one person the plan itself says it.
        facing_deg: marks.map(|_| full_turn(degrees(*facing))),
        walking,
        step_share,
        second_walking: stance(stances[1]).0,
        pace_m_per_s: (!same(pace.to_m(), USUAL_PACE.to_m())).then(|| pace.to_m()),
        second: marks.map(|[(first, _), (second, faces)]| {
            let (x_m, y_m) = metres(second - first);
            SecondMarkRequest { x_m, y_m, facing_deg: full_turn(degrees(faces)) }
        }),
        clothes: worn(0),
        second_clothes: worn(1),
        people: linked.shown_people().map(|(_, person)| somebody(person)).collect(),
        pieces: pieces
            .map(|piece| {
                let (x_m, y_m) = metres(piece.place);
                PieceRequest {
                    x_m,
                    y_m,
                    facing_deg: Some(full_turn(degrees(piece.facing))),
                    ..PieceRequest::from(piece)
                }
            })
            .collect(),
        foreground: shot.foreground.map(Into::into),
        light: Some(scene.blocking.light.into()),
    }
}

fn somebody(person: &Person) -> PersonRequest {
    let (posture, age) = build(&person.body);
    let (walking, step_share) = stance(person.stance);
    let (x_m, y_m) = metres(person.place);
    PersonRequest {
        x_m,
        y_m,
        facing_deg: Some(full_turn(degrees(person.facing))),
        stature_m: Some(person.body.stature.to_m()).filter(|metres| !same(*metres, USUAL_STATURE_M)),
        posture,
        age,
        walking,
        step_share,
        clothes: Some(ColourRequest::of(person.clothes)),
    }
}
