//! Films of chance, and what must hold of them and their plans.

mod changes;
mod echoes;
mod pictures;

use std::sync::Arc;

use film::{
    CastMember, Command, Faces, Film, FreshIds, LensChoice, Mark, PersonId, Rehearsal, Scene, SceneBlocking,
    Shot, ShotOf, Unknown, Way,
};
use glam::DVec2;
use optics::CropShift;
use requests::ColourRequest;
use staging::{
    Age, FocusOn, FocusPull, Foreground, Landmark, Light, Look, Movement, PhoneHeight, PieceKind, PieceSize,
    Posture, SetPiece, ShotSize, Stand, Support, USUAL_PACE,
};
use units::{Angle, FrameRate, Length};

use super::Linked;
use super::carry::carried;
use crate::dressing::TAPES;
use crate::session::{Plan, first_kit};

/// Numbers of chance, the same ones every time.
struct Chance(u64);

impl Chance {
    const fn of(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5851_f42d_4c95_7f2d)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 >> 11
    }

    fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(count).expect("few")).expect("few")
    }

    /// Whether it is so, once in `times`.
    fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// A number of that range, to the thousandth.
    fn within(&mut self, from: f64, to: f64) -> f64 {
        let steps = u32::try_from(self.next() % 1001).expect("few");
        from + (to - from) * f64::from(steps) / 1000.0
    }

    fn one<Item: Copy>(&mut self, of: &[Item]) -> Item {
        of[self.below(of.len())]
    }

    fn place(&mut self) -> DVec2 {
        DVec2::new(self.within(-6.0, 6.0), self.within(-6.0, 6.0))
    }

    fn angle(&mut self) -> Angle {
        Angle::from_deg(self.within(0.0, 359.0))
    }
}

/// A film with one scene and one shot.
struct Sample {
    film: Film,
}

impl Sample {
    fn scene(&self) -> &Scene {
        &self.film.scenes[0]
    }

    fn shot(&self) -> &Shot {
        &self.scene().shots[0]
    }

    /// Walked through, if it can be framed.
    fn rehearsal(&self) -> Option<Rehearsal> {
        let rehearsal = Rehearsal::of(&self.film, self.scene(), self.shot()).expect("nothing is missing");
        rehearsal.result().outcome.is_ok().then_some(rehearsal)
    }

    fn linked<'film>(&'film self, rehearsal: &'film Rehearsal) -> Linked<'film> {
        Linked { film: &self.film, scene: self.scene(), shot: self.shot(), rehearsal }
    }
}

fn person(ids: &mut FreshIds, chance: &mut Chance, at: usize) -> CastMember {
    let age = if chance.once_in(4) { Age::Child } else { Age::Adult };
    CastMember {
        id: ids.fresh(),
        name: format!("Person {at}"),
        stature: Length::from_m(if age == Age::Child { 1.2 } else { chance.within(1.5, 1.95) }),
        age,
        clothes: ColourRequest(chance.one(&TAPES).1).to_colour(),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    }
}

fn piece(chance: &mut Chance) -> SetPiece {
    let kind = chance.one(&PieceKind::ALL);
    let size = kind.usual_size();
    let width = if chance.once_in(2) { size.width } else { Length::from_m(chance.within(0.3, 5.0)) };
    SetPiece { kind, place: chance.place(), facing: chance.angle(), size: PieceSize { width, ..size } }
}

fn shot_of(chance: &mut Chance, cast: &[CastMember]) -> ShotOf {
    let (one, other) = (cast[0].id, cast[1].id);
    match chance.below(6) {
        0 => ShotOf::Two(one, other),
        1 => ShotOf::OverShoulder { facing: one, near: other },
        2 => ShotOf::PointOfView { of: other, seen: one },
        3 => ShotOf::Object {
            name: "letter".to_owned(),
            size: Length::from_m(chance.within(0.1, 0.6)),
            place: chance.place(),
            support: chance.one(&[Support::Table, Support::GROUND, Support::At(Length::from_m(1.1))]),
            hands: vec![other],
        },
        _ => ShotOf::One(one),
    }
}

/// A film of chance. Those who walk set off when the shot starts; a pull begins where focus is.
fn sample(seed: u64) -> Sample {
    let mut chance = Chance::of(seed);
    let mut ids = FreshIds::starting_at(100);
    let kit = Arc::new(first_kit().to_kit().expect("a preset"));
    let mut film = Film::empty(kit, film::frame_shapes()[chance.below(5)].1);
    let cast: Vec<CastMember> =
        (0..2 + chance.below(4)).map(|at| person(&mut ids, &mut chance, at)).collect();
    let starts_s = if chance.once_in(2) { 0.0 } else { 3.0 };
    let mark = |chance: &mut Chance, member: &CastMember| {
        let place = chance.place();
        let facing = chance.angle();
        let way = chance.once_in(4).then(|| Way {
            corners: vec![place + staging::along(facing) * 20.0],
            pace: USUAL_PACE,
            starts_s,
        });
        let sits = way.is_none() && chance.once_in(3);
        Mark {
            who: member.id,
            place,
            faces: Faces::Towards(facing),
            posture: if sits { Posture::Seated } else { Posture::Standing },
            way,
        }
    };
    let marks: Vec<Mark> = cast.iter().map(|member| mark(&mut chance, member)).collect();
    let light = match chance.below(3) {
        0 => Light::Overcast,
        1 => Light::Dusk,
        _ => Light::Sun { azimuth: chance.angle(), elevation: Angle::from_deg(chance.within(5.0, 80.0)) },
    };
    let pieces = (0..chance.below(5)).map(|_| piece(&mut chance)).collect();
    let beat = film::Beat { id: ids.fresh(), what: String::new(), starts_s, line: film::LineWish::Auto };
    let blocking = SceneBlocking { marks, pieces, light, beats: vec![beat], ..SceneBlocking::default() };
    let mut scene = Scene::empty(ids.fresh(), blocking);
    let of = shot_of(&mut chance, &cast);
    let is_thing = matches!(of, ShotOf::Object { .. });
    let sizes = [ShotSize::ExtremeWide, ShotSize::Wide, ShotSize::Medium, ShotSize::ChestUp, ShotSize::Tight];
    let size = if is_thing { ShotSize::Insert } else { chance.one(&sizes) };
    let mut shot = Shot::of(ids.fresh(), of, size, chance.angle());
    shot.height = chance.one(&[
        PhoneHeight::BySize,
        PhoneHeight::BySize,
        PhoneHeight::At(Landmark::Eyes),
        PhoneHeight::At(Landmark::Chin),
        PhoneHeight::Fixed(Length::from_m(1.3)),
    ]);
    shot.headroom = chance.once_in(3).then(|| chance.within(0.0, 0.2));
    shot.crop_shift = chance.once_in(4).then(|| CropShift { up: chance.within(-1.0, 1.0), right: 0.0 });
    if chance.once_in(4) {
        shot.look = Look::Tilt(Angle::from_deg(chance.within(-8.0, 8.0)));
    }
    if chance.once_in(3) {
        shot.stand = Stand::At(Length::from_m(chance.within(1.0, 6.0)));
    }
    shot.across = chance.one(&[0.5, 0.5, 1.0 / 3.0, 0.6]);
    shot.background_behind = Length::from_m(chance.within(1.0, 20.0));
    if chance.once_in(4) {
        shot.lens = LensChoice::Fixed { name: "main".to_owned(), in_sensor_zoom: 1.0 };
    }
    if chance.once_in(4) {
        shot.adapter = film.kit.adapters.first().map(|adapter| adapter.name.clone());
    }
    if chance.once_in(4) {
        shot.focus = FocusOn::At(Length::from_m(chance.within(0.5, 8.0)));
    }
    let per_second = Length::from_m(chance.within(0.1, 1.0));
    shot.movement = match chance.below(6) {
        0 => Some(Movement::Push { per_second }),
        1 => Some(Movement::Pan { per_second: Angle::from_deg(chance.within(-9.0, 9.0)) }),
        2 if !is_thing => Some(Movement::Follow { per_second }),
        _ => None,
    };
    shot.foreground = chance.once_in(4).then(|| Foreground {
        kind: PieceKind::Plant,
        ahead: Length::from_m(chance.within(0.3, 1.0)),
        right: Length::from_m(chance.within(-0.6, 0.6)),
    });
    if chance.once_in(4) {
        shot.capture_rate = Some(FrameRate::checked_from_fps(48.0).expect("a rate"));
    }
    shot.planned_s = chance.within(2.0, 9.0);
    film.cast = cast.into();
    scene.facts = Arc::new(film::SceneFacts {
        room: chance.once_in(3).then(|| Length::from_m(chance.within(2.0, 9.0))),
        ..film::SceneFacts::default()
    });
    scene.shots.push(Arc::new(shot));
    film.scenes.push(Arc::new(scene));
    let mut made = Sample { film };
    if chance.once_in(4)
        && let Some(focus) =
            made.rehearsal().and_then(|one| one.result().outcome.ok()).map(|setup| setup.focus)
    {
        let scene = Arc::make_mut(&mut made.film.scenes[0]);
        let shot = Arc::make_mut(&mut scene.shots[0]);
        shot.pull = Some(FocusPull { from: focus, to: focus * 2.0, starts_s: 0.5, lasts_s: 1.0 });
    }
    made
}

/// As many films as each property is tried on.
const SAMPLES: u64 = 120;

/// Each film of chance whose shot can be framed, walked through.
fn each(mut check: impl FnMut(u64, &Sample, &Rehearsal)) {
    let mut framed = 0;
    for seed in 0..SAMPLES {
        let sample = sample(seed);
        if let Some(rehearsal) = sample.rehearsal() {
            framed += 1;
            check(seed, &sample, &rehearsal);
        }
    }
    assert!(framed > SAMPLES / 2, "only {framed} could be framed");
}

/// Numbers for newcomers.
fn newcomers() -> impl FnMut() -> PersonId {
    let mut ids = FreshIds::starting_at(5000);
    move || ids.fresh()
}

/// The film after a change of its shot's plan, and the plan that it gives then; none if nothing was carried.
fn after_change(sample: &Sample, rehearsal: &Rehearsal, after: &Plan) -> Option<(Sample, Plan)> {
    let linked = sample.linked(rehearsal);
    let command: Command = carried(linked, &linked.plan(), after, &mut newcomers())?.command;
    let mut film = sample.film.clone();
    film.apply(command).expect("what is carried can be applied");
    let changed = Sample { film };
    let rehearsal =
        Rehearsal::of(&changed.film, changed.scene(), changed.shot()).expect("nothing is missing");
    let plan = changed.linked(&rehearsal).plan();
    Some((changed, plan))
}
