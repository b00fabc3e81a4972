//! Films of any kind, within what files allow, with values at the ends of their ranges.

use std::sync::Arc;

#[path = "adapters.rs"]
mod adapters;
#[path = "places.rs"]
mod places;

use film::{
    ActionKind, Beat, BeatId, CastMember, ChangeTimes, DayId, Entry, EntryId, Faces, Film, FilmFacts, Hours,
    Kept, KeptAt, LARGEST_ID, Lamps, LensChoice, LineWish, LoggedTake, Mark, PersonId, Pinned, PlaceId,
    Priority, Scene, SceneBlocking, SceneFacts, SceneId, SceneLight, Setting, ShootingDay, Shot, ShotId,
    ShotOf, Sound, Stretch, SunWish, TakeId, TimeOfDay, Unknown, Verdict, Want, Way, WhiteBalance, WorkTimes,
};
use glam::DVec2;
use jiff::Timestamp;
use jiff::civil::date;
use optics::{Aspect, CropShift, ExposureValue, MainsFrequency, ShutterAngle, Weather};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use staging::{
    Age, Colour, FocusOn, FocusPull, Foreground, Landmark, Light, Look, Movement, PhoneHeight, PieceKind,
    PieceSize, Posture, SetPiece, ShotSize, Stand, Support,
};
use units::{Angle, FrameRate, Length, Stops};

use adapters::kit;
use places::places;

/// A number of a range, its ends and what lies next to them as often as all between.
fn within(min: f64, max: f64) -> BoxedStrategy<f64> {
    prop_oneof![
        min..max,
        select(vec![min, max, min.next_up().min(max), max.next_down(), f64::midpoint(min, max)])
    ]
    .boxed()
}

fn metres(min: f64, max: f64) -> BoxedStrategy<Length> {
    within(min, max).prop_map(Length::from_m).boxed()
}

fn degrees(min: f64, max: f64) -> BoxedStrategy<Angle> {
    within(min, max).prop_map(Angle::from_deg).boxed()
}

fn point() -> BoxedStrategy<DVec2> {
    (within(-1000.0, 1000.0), within(-1000.0, 1000.0)).prop_map(|(x, y)| DVec2::new(x, y)).boxed()
}

fn text() -> BoxedStrategy<String> {
    prop_oneof![Just(String::new()), "[a-zäö \"\\\\\n\u{1}]{0,12}"].boxed()
}

fn colour() -> BoxedStrategy<Colour> {
    any::<[u8; 3]>().prop_map(Colour::from_srgb8).boxed()
}

/// The number that stands for the `index`th thing of a kind: some small, some next to the largest.
fn number(index: usize) -> u64 {
    let index = index as u64;
    if index % 3 == 2 { LARGEST_ID - index } else { index + 1 }
}

pub(crate) fn person(index: usize) -> PersonId {
    PersonId::new(number(index)).expect("an id")
}

pub(crate) fn place_id(index: usize) -> PlaceId {
    PlaceId::new(number(index)).expect("an id")
}

pub(crate) fn shot_id(index: usize) -> ShotId {
    ShotId::new(number(index)).expect("an id")
}

pub(crate) fn take_id(index: usize) -> TakeId {
    TakeId::new(number(index)).expect("an id")
}

pub(crate) fn entry_id(index: usize) -> EntryId {
    EntryId::new(number(index)).expect("an id")
}

pub(crate) fn scene_id(index: usize) -> SceneId {
    SceneId::new(number(index)).expect("an id")
}

fn beat_id(index: usize) -> BeatId {
    BeatId::new(number(index)).expect("an id")
}

/// So many people are in every film's cast.
pub(crate) const CAST: usize = 4;
/// So many places every film has.
pub(crate) const PLACES: usize = 2;

fn anybody() -> BoxedStrategy<PersonId> {
    (0..CAST).prop_map(person).boxed()
}

fn hours() -> BoxedStrategy<Hours> {
    (0_u16..1440, 1_u16..=1440)
        .prop_map(|(from, lasts)| Hours::new(from, from + lasts).expect("it ends after it starts"))
        .boxed()
}

fn member(index: usize) -> BoxedStrategy<CastMember> {
    let age = select(vec![Age::Adult, Age::Child]);
    (text(), metres(0.4, 2.8), age, colour(), option::of(hours()), any::<bool>())
        .prop_map(move |(name, stature, age, clothes, hours, consent)| CastMember {
            id: person(index),
            name,
            stature,
            age,
            clothes,
            hours,
            consent,
            unknown: Unknown::default(),
        })
        .boxed()
}

pub(crate) fn cast() -> BoxedStrategy<Arc<[CastMember]>> {
    (0..CAST).map(member).collect::<Vec<_>>().prop_map(Arc::from).boxed()
}

pub(crate) fn facts() -> BoxedStrategy<FilmFacts> {
    let light = (within(-5.0, 5.0), option::of(within(15.0, 500.0)));
    (text(), text(), within(0.2, 5.0), within(1.0, 1000.0), within(1.0, 360.0), text(), light)
        .prop_map(|(title, line, aspect, fps, shutter, recording, (bias, mains))| FilmFacts {
            title,
            line,
            aspect: Aspect::new(aspect).expect("in range"),
            frame_rate: FrameRate::checked_from_fps(fps).expect("in range"),
            shutter: ShutterAngle::from_deg(shutter).expect("in range"),
            recording,
            bias: Stops::new(bias),
            mains: mains.map(|hertz| MainsFrequency::from_hz(hertz).expect("in range")),
            unknown: Unknown::default(),
        })
        .boxed()
}

pub(crate) fn scene_facts() -> BoxedStrategy<SceneFacts> {
    let wants = vec((anybody(), text()).prop_map(|(who, what)| Want { who, what }), 0..3);
    let setting = select(vec![Setting::Inside, Setting::Outside]);
    let texts = [text(), text(), text(), text(), text()];
    let place = option::of((0..PLACES).prop_map(place_id));
    let read = within(-10.0, 25.0).prop_map(|value| ExposureValue::of_scene(value).expect("in range"));
    let light = prop_oneof![Just(SceneLight::ByHour), read.prop_map(SceneLight::Read)];
    let white =
        within(1500.0, 15_000.0).prop_map(|kelvin| WhiteBalance::from_kelvin(kelvin).expect("in range"));
    let lamps = select(vec![Lamps::BySetting, Lamps::On, Lamps::Off]);
    let lit = (light, lamps, option::of(white));
    let where_and_when = (place, setting, select(TimeOfDay::ALL.to_vec()));
    (texts, where_and_when, wants, option::of(metres(0.1, 100_000.0)), lit)
        .prop_map(|([title, mood, obstacle, happens, changes], (place, setting, time), wants, room, lit)| {
            let (light, lamps, white_balance) = lit;
            SceneFacts {
                title,
                place,
                setting,
                time,
                mood,
                wants,
                obstacle,
                happens,
                changes,
                room,
                light,
                lamps,
                white_balance,
                unknown: Unknown::default(),
            }
        })
        .boxed()
}

fn way() -> BoxedStrategy<Way> {
    (vec(point(), 1..4), metres(0.05, 10.0), within(0.0, 36_000.0))
        .prop_map(|(corners, pace, starts_s)| Way { corners, pace, starts_s })
        .boxed()
}

fn mark(index: usize) -> BoxedStrategy<Mark> {
    let faces = prop_oneof![degrees(-360.0, 360.0).prop_map(Faces::Towards), anybody().prop_map(Faces::At)];
    (point(), faces, select(vec![Posture::Standing, Posture::Seated]), option::of(way()))
        .prop_map(move |(place, faces, posture, way)| Mark { who: person(index), place, faces, posture, way })
        .boxed()
}

fn piece() -> BoxedStrategy<SetPiece> {
    let side = || metres(0.02, 200.0);
    let kind = select(PieceKind::ALL.to_vec());
    (kind, point(), degrees(-360.0, 360.0), option::of((side(), side(), side())))
        .prop_map(|(kind, place, facing, size)| SetPiece {
            kind,
            place,
            facing,
            size: size.map_or(kind.usual_size(), |(width, depth, height)| PieceSize { width, depth, height }),
        })
        .boxed()
}

fn beat(index: usize) -> BoxedStrategy<Beat> {
    let line = prop_oneof![
        Just(LineWish::Auto),
        Just(LineWish::None),
        (anybody(), anybody()).prop_map(|(one, other)| LineWish::Between(one, other)),
        anybody().prop_map(LineWish::Along),
        (point(), point()).prop_map(|(from, to)| LineWish::ByHand(from, to)),
    ];
    (text(), within(0.0, 36_000.0), line)
        .prop_map(move |(what, starts_s, line)| Beat { id: beat_id(index), what, starts_s, line })
        .boxed()
}

/// So many beats every scene has.
const BEATS: usize = 2;

pub(crate) fn blocking() -> BoxedStrategy<SceneBlocking> {
    let light = prop_oneof![
        Just(Light::USUAL),
        Just(Light::Overcast),
        Just(Light::Dusk),
        (degrees(-360.0, 360.0), degrees(0.0, 90.0))
            .prop_map(|(azimuth, elevation)| Light::Sun { azimuth, elevation }),
    ];
    let marks = (0..CAST).map(mark).collect::<Vec<_>>();
    let beats = (0..BEATS).map(beat).collect::<Vec<_>>();
    (marks, 0..=CAST, vec(piece(), 0..4), light, degrees(-360.0, 360.0), beats)
        .prop_map(|(mut marks, count, pieces, light, north, beats)| {
            marks.truncate(count);
            SceneBlocking { marks, pieces, light, north, beats }
        })
        .boxed()
}

fn support() -> BoxedStrategy<Support> {
    option::of(metres(0.0, 50.0)).prop_map(Support::from_height).boxed()
}

fn shot_of() -> BoxedStrategy<ShotOf> {
    let hands = subsequence((0..CAST).map(person).collect::<Vec<_>>(), 0..=CAST);
    prop_oneof![
        anybody().prop_map(ShotOf::One),
        (anybody(), anybody()).prop_map(|(first, second)| ShotOf::Two(first, second)),
        (anybody(), anybody()).prop_map(|(facing, near)| ShotOf::OverShoulder { facing, near }),
        (anybody(), anybody()).prop_map(|(of, seen)| ShotOf::PointOfView { of, seen }),
        (text(), metres(0.005, 20.0), point(), support(), hands).prop_map(
            |(name, size, place, support, hands)| ShotOf::Object { name, size, place, support, hands }
        ),
    ]
    .boxed()
}

/// How a shot is framed, apart from whom it is of.
fn framed(shot: Shot) -> BoxedStrategy<Shot> {
    let height = prop_oneof![
        select(vec![PhoneHeight::BySize, PhoneHeight::Ground, PhoneHeight::Overhead]),
        select(Landmark::ALL.to_vec()).prop_map(PhoneHeight::At),
        metres(0.0, 50.0).prop_map(PhoneHeight::Fixed),
    ];
    let look = prop_oneof![Just(Look::Aimed), degrees(-89.0, 89.0).prop_map(Look::Tilt)];
    let stand = prop_oneof![Just(Stand::ForSize), metres(0.02, 10_000.0).prop_map(Stand::At)];
    let shift = (within(-1.0, 1.0), within(-1.0, 1.0)).prop_map(|(up, right)| CropShift { up, right });
    let shares = (option::of(within(-2.0, 0.8)), within(0.05, 0.95), option::of(shift));
    (
        select(ShotSize::ALL.to_vec()),
        height,
        look,
        stand,
        shares,
        degrees(-360.0, 360.0),
        metres(0.0, 100_000.0),
    )
        .prop_map(
            move |(size, height, look, stand, (headroom, across, crop_shift), side, background_behind)| {
                Shot {
                    size,
                    height,
                    look,
                    stand,
                    headroom,
                    across,
                    crop_shift,
                    side,
                    background_behind,
                    ..shot.clone()
                }
            },
        )
        .boxed()
}

/// How a shot is taken.
fn taken(shot: Shot) -> BoxedStrategy<Shot> {
    let movement = prop_oneof![
        metres(-10.0, 10.0).prop_map(|per_second| Movement::Push { per_second }),
        metres(0.0, 10.0).prop_map(|per_second| Movement::Follow { per_second }),
        degrees(-360.0, 360.0).prop_map(|per_second| Movement::Pan { per_second }),
        degrees(-360.0, 360.0).prop_map(|per_second| Movement::Tilt { per_second }),
    ];
    let pull = (metres(0.02, 100_000.0), metres(0.02, 100_000.0), within(0.0, 600.0), within(0.0, 600.0))
        .prop_map(|(from, to, starts_s, lasts_s)| FocusPull { from, to, starts_s, lasts_s });
    let focus = prop_oneof![Just(FocusOn::Subject), metres(0.02, 100_000.0).prop_map(FocusOn::At)];
    let near = (select(PieceKind::ALL.to_vec()), metres(0.05, 1000.0), metres(-1000.0, 1000.0))
        .prop_map(|(kind, ahead, right)| Foreground { kind, ahead, right });
    let lens = prop_oneof![
        Just(LensChoice::Auto),
        ("[a-z]{1,5}", within(1.0, 20.0))
            .prop_map(|(name, in_sensor_zoom)| LensChoice::Fixed { name, in_sensor_zoom }),
    ];
    let rate = within(1.0, 1000.0).prop_map(|fps| FrameRate::checked_from_fps(fps).expect("in range"));
    let moves = (option::of(movement), option::of(pull), focus, option::of(near));
    (moves, lens, option::of(text()), option::of(rate), within(0.1, 600.0))
        .prop_map(move |((movement, pull, focus, foreground), lens, adapter, capture_rate, planned_s)| Shot {
            movement,
            pull,
            focus,
            foreground,
            lens,
            adapter,
            capture_rate,
            planned_s,
            ..shot.clone()
        })
        .boxed()
}

/// A shot of one of the scene's beats; its id is given when it is in a scene.
pub(crate) fn shot() -> BoxedStrategy<Shot> {
    let beat = option::of((0..BEATS).prop_map(beat_id));
    let priority = select(vec![Priority::MustHave, Priority::NiceToHave]);
    let heard = (select(Sound::ALL.to_vec()), option::of(metres(0.01, 1000.0)));
    let kinds = select(vec![ActionKind::Repeatable, ActionKind::OneChance]);
    let planned = (select(SunWish::ALL.to_vec()), kinds, option::of(within(0.1, 600.0)));
    (shot_of(), beat, priority, heard, [text(), text(), text()], planned)
        .prop_map(|(of, beat, priority, (sound, recorder_away), [action, notes, continuity], planned)| Shot {
            sun: planned.0,
            action_kind: planned.1,
            on_set_min: planned.2,
            beat,
            priority,
            sound,
            recorder_away,
            action,
            notes,
            continuity,
            ..Shot::of(shot_id(0), of, ShotSize::Medium, Angle::ZERO)
        })
        .prop_flat_map(framed)
        .prop_flat_map(taken)
        .boxed()
}

fn stretch() -> BoxedStrategy<Option<Stretch>> {
    option::of((within(0.0, 599.0), within(0.0, 600.0)))
        .prop_map(|ends| Stretch::new(ends?.0, ends?.1))
        .boxed()
}

/// A scene, with ids of shots from the `first`th on.
pub(crate) fn scene(index: usize, first: usize) -> BoxedStrategy<Scene> {
    let cut = vec((any::<prop::sample::Index>(), stretch()), 0..6);
    let dropped = any::<[bool; 4]>();
    (scene_facts(), blocking(), vec(shot(), 0..4), cut, vec((0..3_usize, text()), 0..3), dropped)
        .prop_map(move |(facts, blocking, shots, cut, kept, dropped)| {
            let shots: Vec<Arc<Shot>> = shots
                .iter()
                .enumerate()
                .map(|(at, shot)| Arc::new(shot.known_by(shot_id(first + at))))
                .collect();
            let cut: Vec<Entry> = if shots.is_empty() { Vec::new() } else { cut }
                .into_iter()
                .enumerate()
                .map(|(at, (of, stretch))| Entry { id: entry_id(at), shot: of.get(&shots).id, stretch })
                .collect();
            let is_in_cut = |shot: &Shot| cut.iter().any(|entry| entry.shot == shot.id);
            let shots = shots.into_iter().zip(dropped);
            let shots: Vec<Arc<Shot>> = shots
                .map(|(shot, dropped)| {
                    Arc::new(Shot { is_dropped: dropped && !is_in_cut(&shot), ..Shot::clone(&shot) })
                })
                .collect();
            let kept = kept.into_iter().map(|(kind, reason)| Kept {
                rule: "some_rule".to_owned(),
                at: match (kind, shots.first(), cut.as_slice()) {
                    (1, Some(shot), _) => KeptAt::Shot(shot.id),
                    (2, _, [one, next, ..]) => KeptAt::Cut(one.id, next.id),
                    _ => KeptAt::Scene,
                },
                reason,
            });
            Scene {
                id: scene_id(index),
                facts: Arc::new(facts),
                blocking: Arc::new(blocking),
                kept: kept.collect(),
                shots,
                cut,
            }
        })
        .boxed()
}

/// A day before it is known which shots there are.
#[derive(Debug, Clone)]
pub(crate) struct DayWish {
    day: ShootingDay,
    listed: Option<u64>,
    done: u64,
    pinned: Vec<(prop::sample::Index, u32)>,
}

impl DayWish {
    /// The day, of some of these shots.
    pub(crate) fn of(&self, index: usize, shots: &[ShotId]) -> ShootingDay {
        let some = |mask: u64| {
            shots.iter().enumerate().filter(|(at, _)| mask >> at & 1 == 1).map(|(_, shot)| *shot).collect()
        };
        let mut pinned: Vec<Pinned> = Vec::new();
        for (shot, at) in if shots.is_empty() { &[][..] } else { &self.pinned } {
            let shot = *shot.get(shots);
            if pinned.iter().all(|other| other.shot != shot) {
                pinned.push(Pinned { shot, at: *at as usize });
            }
        }
        let id = DayId::new(number(index)).expect("an id");
        ShootingDay { id, shots: self.listed.map(some), done: some(self.done), pinned, ..self.day.clone() }
    }
}

fn minutes() -> BoxedStrategy<f64> {
    within(0.0, 600.0)
}

fn work() -> BoxedStrategy<WorkTimes> {
    let changes = prop::array::uniform9(minutes()).prop_map(
        |[
            setting_up_min,
            lens_min,
            filters_min,
            adapter_min,
            gimbal_min,
            spot_min,
            turn_min,
            scene_min,
            place_min,
        ]| ChangeTimes {
            setting_up_min,
            lens_min,
            filters_min,
            adapter_min,
            gimbal_min,
            spot_min,
            turn_min,
            scene_min,
            place_min,
        },
    );
    (minutes(), within(1.0, 100.0), minutes(), changes)
        .prop_map(|(rehearsal_min, takes, reset_min, changes)| WorkTimes {
            rehearsal_min,
            takes,
            reset_min,
            changes,
        })
        .boxed()
}

/// A day of shooting.
pub(crate) fn day_wish() -> BoxedStrategy<DayWish> {
    let date = (1900_i16..=2100, 1_i8..=12, 1_i8..=28).prop_map(|(year, month, day)| date(year, month, day));
    let weather = select(vec![Weather::Clear, Weather::Overcast, Weather::Fog, Weather::Rain]);
    let plan = (hours(), vec(hours(), 0..3), weather, work(), option::of(0_u16..=Hours::LATEST_MIN));
    let shots =
        (option::of(any::<u64>()), any::<u64>(), vec((any::<prop::sample::Index>(), any::<u32>()), 0..4));
    (text(), option::of(date), plan, shots, text())
        .prop_map(
            |(title, date, (hours, breaks, weather, work, resumes_min), (listed, done, pinned), notes)| {
                let usual = ShootingDay::usual(DayId::new(0).expect("an id"));
                let day =
                    ShootingDay { title, date, hours, breaks, weather, work, resumes_min, notes, ..usual };
                DayWish { day, listed, done, pinned }
            },
        )
        .boxed()
}

/// A take; its id and its shot are given when it is in a film.
pub(crate) fn take() -> BoxedStrategy<LoggedTake> {
    let verdict = select(vec![Verdict::Unsaid, Verdict::Good, Verdict::NotGood]);
    let at = option::of(
        (-1_000_000_000_i64..5_000_000_000)
            .prop_map(|second| Timestamp::from_second(second).expect("a moment")),
    );
    (1_u32..=9999, verdict, [text(), text(), text()], at)
        .prop_map(|(number, verdict, [why, clip, focus], at)| LoggedTake {
            verdict,
            why,
            clip,
            at,
            focus,
            ..LoggedTake::new(take_id(0), shot_id(0), number)
        })
        .boxed()
}

/// A film of up to three scenes.
pub(crate) fn film() -> BoxedStrategy<Film> {
    let scenes = (0..3).map(|index| scene(index, index * 10)).collect::<Vec<_>>();
    let takes = vec((any::<prop::sample::Index>(), take()), 0..4);
    (facts(), kit(), cast(), places(), scenes, 0..=3_usize, vec(day_wish(), 0..3), takes)
        .prop_map(|(facts, kit, cast, places, mut scenes, count, days, takes)| {
            scenes.truncate(count);
            let scenes: Vec<_> = scenes.into_iter().map(Arc::new).collect();
            let shots: Vec<ShotId> =
                scenes.iter().flat_map(|scene| scene.shots.iter().map(|shot| shot.id)).collect();
            let days = days.iter().enumerate().map(|(index, wish)| wish.of(index, &shots)).collect();
            let takes = takes.into_iter().enumerate().map(|(index, (of, take))| {
                // A shot that has gone from the film keeps its takes.
                let shot = if shots.is_empty() { shot_id(99) } else { *of.get(&shots) };
                Arc::new(LoggedTake { id: take_id(index), shot, ..take })
            });
            let takes = takes.collect();
            Film { facts: Arc::new(facts), kit, cast, places, days, scenes, takes }
        })
        .boxed()
}
